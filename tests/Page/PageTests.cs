using Intervalometer.VirtualBoard.Pins;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

[TestClass]
public class PageTests
{
    [TestMethod]
    [DataRow(1280, 1f)]
    [DataRow(390, 3f)]
    public async Task TheScreenShowsEveryPixelOfTheDisplay(int width, float ratio)
    {
        await using LivePage live = await LivePage.Open(width, 844, ratio: ratio);
        await live.Speed(0);
        await live.Page.WaitForFunctionAsync("() => state.paused");
        await live.Page.WaitForTimeoutAsync(200);
        byte[] rows = live.Server.Session.Use(board => board.Display.Rows());
        int lit = await live.Page.EvaluateAsync<int>(
            """
            rows => {
              const canvas = document.getElementById("screen"), scale = Number(canvas.dataset.scale);
              if (canvas.width !== 128 * scale || canvas.height !== 64 * scale) return -1;
              const shown = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
              let lit = 0;
              for (let y = 0; y < canvas.height; y++) for (let x = 0; x < canvas.width; x++) {
                const px = Math.floor(x / scale), py = Math.floor(y / scale);
                const want = (rows[(py * 128 + px) >> 3] & (0x80 >> (px & 7))) !== 0;
                if ((shown[(y * canvas.width + x) * 4] > 60) !== want) return -2 - y * canvas.width - x;
                if (want) lit++;
              }
              return lit / scale / scale;
            }
            """, rows.Select(b => (int)b).ToArray());
        Assert.IsTrue(lit > 200, $"{lit}");
        double drawn = await live.Page.EvaluateAsync<double>("() => byId('screen').width / byId('screen').getBoundingClientRect().width");
        Assert.AreEqual(ratio, drawn, 0.01);
    }

    [TestMethod]
    public async Task KeysWorkFromTheKeyboardAndSpaceStopsARun()
    {
        await using LivePage live = await LivePage.Open();
        await live.Page.Keyboard.PressAsync("ArrowDown");
        await LivePage.Until(() => live.Screen == "GLASS", "Down did not reach the next card");
        await live.Page.Keyboard.PressAsync("Escape");
        await LivePage.Until(() => live.Screen == "LIGHT", "Esc did not go back");
        await live.Page.Keyboard.PressAsync("m");
        await live.Page.Keyboard.PressAsync("Space");
        await LivePage.Until(() => live.Screen == "RUN", "Space did not fire");
        await live.Page.Keyboard.PressAsync("Space");
        await LivePage.Until(() => live.Server.Session.Use(b => !b.Lines[Line.HalfPress] && !b.Lines[Line.Shutter]), "Space did not stop the run");
        Assert.IsTrue(live.Server.Session.Use(b => b.Lines.Changes.Any(c => c.Line == Line.Mark && c.On)));
    }

    [TestMethod]
    public async Task AHoldIsAHoldAndATapStaysATapAtAnySpeed()
    {
        await using LivePage live = await LivePage.Open();
        await live.Speed(60);
        await live.Key("up");
        await live.Page.Locator("[data-button=select]").HoverAsync();
        await live.Page.Mouse.DownAsync();
        await live.Page.WaitForFunctionAsync("() => state.pace === 1");
        await live.Page.WaitForTimeoutAsync(900);
        await live.Page.Mouse.UpAsync();
        await live.Page.WaitForFunctionAsync("() => state.pace === 60");
        LineChange[] changes = live.Server.Session.Use(b => b.Lines.Changes.ToArray());
        double Length(Line line) => (changes.Last(c => c.Line == line && !c.On).AtUs - changes.First(c => c.Line == line && c.On).AtUs) / 1e6;
        Assert.IsTrue(Length(Line.Up) < 0.6, $"tap {Length(Line.Up)} s");
        Assert.IsTrue(Length(Line.Select) is > 0.6 and < 2.5, $"hold {Length(Line.Select)} s");
    }

    [TestMethod]
    public async Task QuickTapsAreNotLost()
    {
        await using LivePage live = await LivePage.Open();
        for (int i = 0; i < 3; i++) await live.Page.EvaluateAsync("() => { press('test', 'down'); release('test'); }");
        await LivePage.Until(() => live.Screen == "WAVES", "three quick taps did not move three cards");
    }

    [TestMethod]
    public async Task OnAPhoneEverythingFitsAndTouchWorks()
    {
        await using LivePage live = await LivePage.Open(390, 844, touch: true, ratio: 2);
        int overflow = await live.Page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth");
        Assert.AreEqual(0, overflow);
        foreach (string key in new[] { "up", "down", "back", "select", "mark", "fire" })
        {
            LocatorBoundingBoxResult box = (await live.Page.Locator($"[data-button={key}]").BoundingBoxAsync())!;
            Assert.IsTrue(box.Width >= 56 && box.Height >= 56, $"{key} is {box.Width} x {box.Height}");
            Assert.IsTrue(box.Y + box.Height <= 844, $"{key} is below the fold");
        }
        await live.Page.Locator("[data-button=down]").TapAsync();
        await LivePage.Until(() => live.Screen == "GLASS", "a tap did nothing");
        await live.Picture("phone");
    }

    [TestMethod]
    public async Task RestartBeginsTheSameSeaAgain()
    {
        await using LivePage live = await LivePage.Open();
        await live.Page.Locator("input[name=seed]").FillAsync("42");
        await live.Page.Locator("input[name=period]").FillAsync("11");
        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Restart" }).ClickAsync();
        await LivePage.Until(() => live.Server.Session.Generation == 1, "no restart");
        await live.Page.WaitForFunctionAsync("() => byId('sea-words').textContent.includes('seed 42')");
        StringAssert.Contains((await live.Report()).GetProperty("sea").GetString(), "period 11 s");
        Assert.IsTrue(live.Server.Session.Use(b => b.Time.NowUs) < 20_000_000);
    }

    [TestMethod]
    public async Task ARestartWhileTheClockStandsSwitchesTheDisplayOn()
    {
        await using LivePage live = await LivePage.Open();
        await live.Speed(0);
        await live.Page.WaitForFunctionAsync("() => state.paused");
        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Restart" }).ClickAsync();
        await LivePage.Until(() => live.Server.Session.Generation == 1, "no restart");
        await live.Page.WaitForFunctionAsync("() => !state.paused && state.screen.some(b => b !== 0)");
    }

    [TestMethod]
    public async Task AtSixHundredTheClockKeepsUp()
    {
        await using LivePage live = await LivePage.Open();
        await live.Speed(600);
        double from = live.Server.Session.Use(b => b.Time.NowUs) / 1e6;
        var watch = System.Diagnostics.Stopwatch.StartNew();
        await live.Page.WaitForTimeoutAsync(3000);
        double pace = (live.Server.Session.Use(b => b.Time.NowUs) / 1e6 - from) / watch.Elapsed.TotalSeconds;
        await live.Picture("fast");
        Console.WriteLine($"pace {pace:F0}");
        Assert.IsTrue(pace > 300, $"{pace:F0} virtual seconds a second"); // half, for a PC that is busy with other tests
    }

    [TestMethod]
    public async Task TheLinesCanBeFetchedAndStrangersAreRefused()
    {
        await using LivePage live = await LivePage.Open();
        IAPIResponse vcd = await live.Page.APIRequest.GetAsync(live.Server.Address + "/lines.vcd");
        StringAssert.Contains(await vcd.TextAsync(), "$timescale 1 us $end");
        IAPIResponse stranger = await live.Page.APIRequest.GetAsync(live.Server.Address + "/report",
            new APIRequestContextOptions { Headers = new Dictionary<string, string> { ["Origin"] = "http://example.org" } });
        Assert.AreEqual(403, stranger.Status);
    }
}
