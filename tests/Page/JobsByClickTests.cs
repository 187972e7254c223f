using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>The main jobs of a morning with the mouse, from power-on, as Host's ColdHandsTests does them by contacts. None takes more than eight presses.</summary>
[TestClass]
public class JobsByClickTests
{
    private const int Most = 8;

    private sealed class Hand(LivePage live)
    {
        public int Presses { get; private set; }

        /// <summary>Clicks keys one after the other; a name with a star is held until it means more than a tap.</summary>
        public async Task Press(params string[] keys)
        {
            foreach (string key in keys)
            {
                if (key.EndsWith('*')) await Held(key.TrimEnd('*'), () => Pass(0.9));
                else
                {
                    Presses++;
                    await live.Key(key);
                }
                // The panel has read the press before the next one is made.
                await Pass(0.3);
            }
        }

        /// <summary>Waits by the board's clock, which a busy PC slows.</summary>
        public async Task Pass(double seconds)
        {
            double until = await live.Page.EvaluateAsync<double>("() => state.now") + seconds;
            await live.Page.WaitForFunctionAsync("until => state.now > until", until);
        }

        /// <summary>
        /// Holds Up or Down until the box has come to a state. On a busy PC the release reaches the board late and the box goes on too far. A finger on
        /// the box would not do that, so the taps that go back do not count as presses.
        /// </summary>
        public async Task HeldUntil(string key, Func<Board, bool> there)
        {
            await Held(key, () => LivePage.Until(() => live.Server.Session.Use(there), $"{key} held does not come there", 60));
            await Pass(0.3);
            for (int taps = 0; !live.Server.Session.Use(there); taps++)
            {
                Assert.IsLessThan(40, taps, $"{key} was held too long, and going back does not come there");
                await live.Key(key == "up" ? "down" : "up");
                await Pass(0.3);
            }
        }

        private async Task Held(string key, Func<Task> enough)
        {
            Presses++;
            await live.Page.Locator($"[data-button={key}]").HoverAsync();
            await live.Page.Mouse.DownAsync();
            await enough();
            await live.Page.Mouse.UpAsync();
        }
    }

    private static BoxSettings Settings(Board board) => board.Box!.Settings;

    private static void Done(LivePage live, Hand hand, string job)
    {
        Assert.IsTrue(hand.Presses <= Most, $"{job}: {hand.Presses} presses");
        Assert.AreEqual(0, live.Complaints.Count, string.Join("; ", live.Complaints));
    }

    [TestMethod]
    public async Task MeterOneFilterAndFire()
    {
        await using LivePage live = await LivePage.Open();
        await live.Page.Locator("select[name=dial]").SelectOptionAsync("bulb");
        var hand = new Hand(live);
        await hand.Press("select");
        await hand.HeldUntil("up", b => Settings(b).Base.Shutter.Label == "1/8");
        await hand.Press("select*", "down", "down", "select", "fire");
        await live.Speed(60);
        await live.Page.WaitForFunctionAsync("() => state.frames === 1");
        await live.Picture("job-meter");
        // 2^-3 s through a density of 3.0, a thousandfold (the definition of density).
        Assert.AreEqual(125.0, live.Server.Session.Use(b => (b.Camera.Frames[0].CloseUs - b.Camera.Frames[0].OpenUs) / 1e6), 1.0);
        Done(live, hand, "meter, one filter, fire");
    }

    [TestMethod]
    public async Task OneSecondOnTheBackwash()
    {
        await using LivePage live = await LivePage.Open();
        await live.Page.Locator("select[name=dial]").SelectOptionAsync(new SelectOptionValue { Label = "1 s" });
        var hand = new Hand(live);
        await hand.Press("select*", "down", "select", "back", "down", "down");
        Assert.AreEqual("WAVES", live.Screen);
        for (int wave = 0; wave < 4; wave++) await live.MarkTheTurn();
        await live.Speed(1);
        await hand.Pass(1.5);
        await live.Picture("job-better");
        await hand.Press("fire");
        Assert.AreEqual(Core.Swash.FiringWay.AfterMark, live.Server.Session.Use(b => Settings(b).Waves.Way));
        await live.MarkTheTurn();
        await live.Speed(5);
        await live.Page.WaitForFunctionAsync("() => state.frames === 1");
        await live.Picture("job-backwash");
        Assert.AreEqual(1.0, live.Server.Session.Use(b => (b.Camera.Frames[0].CloseUs - b.Camera.Frames[0].OpenUs) / 1e6), 0.01);
        Done(live, hand, "one second on the backwash");
    }

    [TestMethod]
    public async Task ALongExposureIntoTheDawn()
    {
        await using LivePage live = await LivePage.Open();
        await live.Page.Locator("select[name=dial]").SelectOptionAsync("bulb");
        var hand = new Hand(live);
        await hand.Press("select");
        await hand.HeldUntil("up", b => Settings(b).Base.Shutter.Label == "1/4");
        await hand.Press("select", "up", "select*");
        // The cursor inverts its whole row, the left edge too.
        await hand.HeldUntil("down", b => b.Display.Model.Pixel(1, 11 + 2 * 13 + 1));
        await hand.Press("select");
        await LivePage.Until(() => live.Server.Session.Use(b => b.Box!.Shore.Dawn.Applies), "the dawn's correction does not come", 60);
        double planned = live.Server.Session.Use(b => b.Box!.Shore.Dawn.Seconds);
        await hand.Press("fire");
        await live.Speed(60);
        await live.Page.WaitForFunctionAsync("() => state.frames === 1");
        await live.Picture("job-dawn");
        double product = live.Server.Session.Use(b => Settings(b).Answer.Seconds);
        Assert.IsTrue(planned < product - 20, $"{planned} s against {product} s");
        Assert.AreEqual(planned, live.Server.Session.Use(b => (b.Camera.Frames[0].CloseUs - b.Camera.Frames[0].OpenUs) / 1e6), 1.0);
        Done(live, hand, "a long exposure into the dawn");
    }

    [TestMethod]
    public async Task TimeLeftAndTheAlarm()
    {
        await using LivePage live = await LivePage.Open();
        var hand = new Hand(live);
        await hand.Press("back", "down");
        Assert.AreEqual("PATH, alarm off", live.Screen);
        await hand.Press("select", "up");
        Assert.IsTrue(live.Server.Session.Use(b => b.Box!.Shore.AlarmOn));
        await live.Picture("job-alarm");
        Done(live, hand, "time left and the alarm");
    }

    [TestMethod]
    public async Task TheBestComingMorning()
    {
        await using LivePage live = await LivePage.Open();
        var hand = new Hand(live);
        await hand.Press("back", "up", "up");
        await live.Speed(60);
        await LivePage.Until(() => live.Server.Session.Use(b => b.Box!.Shore.Search is { Done: true }), "the search does not end", 60);
        await LivePage.Until(() => live.Screen.StartsWith("MORNINGS 1/", StringComparison.Ordinal), "the best morning is not shown");
        await live.Picture("job-morning");
        Done(live, hand, "the best coming morning");
    }
}
