using System.Globalization;
using Intervalometer.Core.Run;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>
/// The main jobs of a morning by presses with gloves on the whole box, from power-on, with the settings of a new box.
/// None takes more than eight presses. A held press counts as one. Marks are counted separately, because the waves ask for them and not the box.
/// </summary>
[TestClass]
public class ColdHandsTests
{
    public const int Most = 8;
    private const long Second = 1_000_000;

    public required TestContext TestContext { get; set; }

    private sealed class Walk : IDisposable
    {
        private readonly List<string> _said = [];
        private readonly string _job;

        public Walk(string job, BoardOptions options)
        {
            _job = job;
            Board = new Board(options);
            Board.RunUntil(Second);
            Assert.AreEqual("START CHECK", Panel.ScreenName, "cold from power-on");
        }

        public Board Board { get; }

        public FrontPanel Panel => Board.Box!.Panel!;

        public BoxSettings Settings => Board.Box!.Settings;

        public int Presses { get; private set; }

        public int Marks { get; private set; }

        public Walk Press(Button button, string why, double seconds = 0.12)
        {
            if (button == Button.Mark) Marks++;
            else Presses++;
            long at = Board.Time.NowUs;
            Board.Press(button, at, (long)(seconds * 1e6));
            Board.RunUntil(at + (long)(seconds * 1e6) + 400_000);
            _said.Add((seconds >= 0.4 ? button + " (held)" : button.ToString()) + ": " + why + " -> " + Panel.ScreenName);
            return this;
        }

        /// <summary>Holds a button until the setting is reached, as a user does who watches the display.</summary>
        public Walk HoldUntil(Button button, string why, Func<bool> there)
        {
            Presses++;
            Board.Down(button);
            long until = Board.Time.NowUs + 20 * Second;
            while (!there() && Board.Time.NowUs < until) Board.RunUntil(Board.Time.NowUs + 10_000);
            Board.Up(button);
            Assert.IsTrue(there(), why);
            Board.RunUntil(Board.Time.NowUs + 400_000);
            Assert.IsTrue(there(), why + ", and it stays");
            _said.Add(button + " (held): " + why + " -> " + Panel.ScreenName);
            return this;
        }

        public Walk Wait(double seconds)
        {
            Board.RunUntil(Board.Time.NowUs + (long)(seconds * 1e6));
            return this;
        }

        public void Tell(TestContext context, int most = Most)
        {
            context.WriteLine($"{_job}: {Presses} presses" + (Marks > 0 ? $" and {Marks} marks" : ""));
            foreach (string line in _said) context.WriteLine("  " + line);
            Assert.IsTrue(Presses <= most, $"{_job}: {Presses} presses\n{string.Join('\n', _said)}");
            Assert.AreEqual(0, Board.Bus.Violations.Count);
            Assert.AreEqual(0, Board.PinFaults.Count);
        }

        public void Dispose() => Board.Dispose();
    }

    private static BoardOptions At(string utc) =>
        new() { StartUtc = DateTime.Parse(utc, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal) };

    [TestMethod]
    public void MeterOneFilterAndFire()
    {
        using var walk = new Walk("Meter, one filter, fire", new BoardOptions());
        walk.Press(Button.Select, "the metered time")
            .HoldUntil(Button.Up, "three stops longer, 1/60 to 1/8", () => walk.Settings.Base.Shutter.Label == "1/8")
            .Press(Button.Select, "on to the filters", 0.8)
            .Press(Button.Down, "past ND 0.9")
            .Press(Button.Down, "to ND 3.0")
            .Press(Button.Select, "on the lens")
            .Press(Button.Fire, "the exposure");
        Assert.AreEqual("ND 3.0", walk.Settings.Kit[2].Name);
        Assert.IsTrue(walk.Settings.Kit[2].On);
        Assert.AreEqual(RunState.Plan, walk.Board.Box!.Desk!.State);
        walk.Wait(140);
        // 2^-3 s through a density of 3.0, a thousandfold (the definition of density).
        Assert.AreEqual(125.0, Open(walk), 1.0);
        walk.Tell(TestContext);
    }

    [TestMethod]
    public void LearnTheWavesAndFireOneSecondOnTheBackwash()
    {
        using var walk = new Walk("One second on the backwash", new BoardOptions { Camera = new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 1 } });
        walk.Press(Button.Select, "from the light to the filters", 0.8)
            .Press(Button.Down, "to ND 1.8")
            .Press(Button.Select, "on the lens: 1/60 becomes 1 s")
            .Press(Button.Back, "out of the list")
            .Press(Button.Down, "FRAMES")
            .Press(Button.Down, "WAVES");
        Assert.AreEqual("1", walk.Settings.Answer.Dial.Label);
        for (int i = 0; i < 4; i++) walk.Wait(9.5).Press(Button.Mark, "it rolls back");
        Assert.AreEqual(Core.Swash.FiringWay.AfterMark, walk.Settings.Waves.Way);
        walk.Press(Button.Fire, "start on the waves").Wait(2)
            .Press(Button.Mark, "it rolls back, and the box fires").Wait(6);
        Assert.AreEqual("RUN", walk.Panel.ScreenName);
        Assert.AreEqual(1, walk.Board.Box!.Desk!.Waves.WavesFired);
        Assert.AreEqual(1.0, Open(walk), 0.01);
        walk.Tell(TestContext);
    }

    [TestMethod]
    public void ALongExposureIntoTheDawn()
    {
        using var walk = new Walk("A long exposure into the dawn", At("2031-03-14T06:05:00Z"));
        walk.Press(Button.Select, "the metered time")
            .HoldUntil(Button.Up, "1/4", () => walk.Settings.Base.Shutter.Label == "1/4")
            .Press(Button.Select, "to the dawn's correction")
            .Press(Button.Up, "on")
            .Press(Button.Select, "on to the filters", 0.8)
            .HoldUntil(Button.Down, "to ND 3.0, the third", () => TheThird(walk))
            .Press(Button.Select, "on the lens")
            .Wait(3)
            .Press(Button.Fire, "the exposure");
        Assert.IsTrue(walk.Settings.Kit[2].On);
        ShoreDesk shore = walk.Board.Box!.Shore;
        Assert.IsTrue(shore.Settings.DawnOn);
        Assert.IsTrue(shore.Dawn.Applies);
        double corrected = shore.Dawn.Seconds;
        Assert.IsTrue(corrected < walk.Settings.Answer.Seconds - 20, $"{corrected} s");
        walk.Wait(walk.Settings.Answer.Seconds);
        Assert.AreEqual(corrected, Open(walk), 0.5);
        walk.Tell(TestContext);
    }

    // The cursor inverts its whole row, the left edge too.
    private static bool TheThird(Walk walk) => walk.Board.Display.Model.Pixel(1, 11 + 2 * 13 + 1);

    private static double Open(Walk walk)
    {
        var frame = walk.Board.Camera.Frames.Single();
        return (frame.CloseUs - frame.OpenUs) / 1e6;
    }

    [TestMethod]
    public void TimeLeftAndTheAlarm()
    {
        using var walk = new Walk("Time left, and the alarm on", At("2031-03-19T07:40:00Z"));
        walk.Wait(3)
            .Press(Button.Back, "to the shore")
            .Press(Button.Down, "PATH: the time left").Wait(1);
        Assert.AreEqual("PATH, alarm off", walk.Panel.ScreenName);
        Assert.IsTrue(walk.Board.Box!.Shore.WayReady);
        walk.Press(Button.Select, "is the date right?")
            .Press(Button.Up, "yes: on");
        Assert.IsTrue(walk.Board.Box.Shore.AlarmOn);
        walk.Tell(TestContext, 4);
    }

    [TestMethod]
    public void TheBestComingMorning()
    {
        using var walk = new Walk("The best coming morning", At("2031-03-14T05:30:00Z"));
        walk.Press(Button.Back, "to the shore")
            .Press(Button.Up, "PLACE")
            .Press(Button.Up, "MORNINGS")
            .Wait(90);
        Coast.Place.Mornings search = walk.Board.Box!.Shore.Search!;
        Assert.IsTrue(search.Done);
        StringAssert.StartsWith(walk.Panel.ScreenName, "MORNINGS 1/");
        string reason = search[0].Reason(walk.Board.Box.Shore.Place.Offset);
        StringAssert.Contains(reason, "tide falls");
        StringAssert.Contains(reason, "sunrise");
        walk.Tell(TestContext, 3);
    }

    [TestMethod]
    public void FireAtTheMeteredTime()
    {
        using var walk = new Walk("Fire at the metered time", new BoardOptions { Camera = new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 0.5 } });
        walk.Press(Button.Select, "the metered time")
            .HoldUntil(Button.Up, "1/2", () => walk.Settings.Base.Shutter.Seconds == 0.5)
            .Press(Button.Fire, "the exposure").Wait(5);
        Assert.AreEqual(0.5, Open(walk), 0.01);
        walk.Tell(TestContext, 3);
    }

    [TestMethod]
    public void AWantedTimeIsReachedFromTheKitAndFired()
    {
        using var walk = new Walk("Four minutes from the kit", new BoardOptions());
        walk.Press(Button.Select, "the metered time")
            .HoldUntil(Button.Up, "1/4", () => walk.Settings.Base.Shutter.Label == "1/4")
            .HoldUntil(Button.Back, "home", () => walk.Panel.Field < 0)
            .HoldUntil(Button.Up, "TIME WANTED", () => walk.Panel.ScreenName == "TIME WANTED")
            .Press(Button.Select, "the time")
            .Press(Button.Up, "to four minutes", 2.79).Wait(2)
            .Press(Button.Select, "the best way is taken", 0.8)
            .Press(Button.Fire, "the exposure").Wait(270);
        // 2^-2 s through a density of 3.0 at f/8, a thousandfold (the definition of density); 256 s were wanted.
        Assert.AreEqual(250.0, Open(walk), 0.5);
        walk.Tell(TestContext, 8);
    }

    [TestMethod]
    public void ThreeFiltersAndFire()
    {
        using var walk = new Walk("Ten stops, the 0.9 hard grad and the polariser", new BoardOptions());
        walk.Press(Button.Select, "to the filters", 0.8)
            .HoldUntil(Button.Down, "to ND 3.0, the third", () => TheThird(walk))
            .Press(Button.Select, "on the lens")
            .Press(Button.Down, "to GRAD 0.9H")
            .Press(Button.Select, "on the lens")
            .Press(Button.Down, "held, to the last, the polariser", 2.5)
            .Press(Button.Select, "on the lens")
            .Press(Button.Fire, "the exposure");
        Assert.AreEqual("ND 3.0+GRAD 0.9H+POL", walk.Settings.Kit.NamesOf(walk.Settings.Kit.FiltersOn));
        Assert.AreEqual(RunState.Plan, walk.Board.Box!.Desk!.State);
        walk.Wait(80);
        // 2^-6 s, a thousandfold, and two stops of the polariser.
        Assert.AreEqual(62.5, Open(walk), 0.5);
        walk.Tell(TestContext, 8);
    }

    /// <summary>From the end of a frame: one stop more in two presses, and the frame read on the box in three from home.</summary>
    [TestMethod]
    public void AgainWithOneStopMoreAndTheLastFrameRead()
    {
        using var walk = new Walk("Again, one stop more", new BoardOptions());
        walk.Settings.AlwaysBulb = true;
        walk.Settings.StepShutter(24);
        walk.Wait(1).Press(Button.Fire, "4 s").Wait(10);
        int first = walk.Presses;
        walk.Press(Button.Up, "one stop longer").Press(Button.Fire, "the exposure").Wait(15);
        Assert.AreEqual(2, walk.Presses - first);
        double[] open = [.. walk.Board.Camera.Frames.Select(f => (f.CloseUs - f.OpenUs) / 1e6)];
        Assert.HasCount(2, open);
        Assert.AreEqual(4.0, open[0], 0.01);
        Assert.AreEqual(8.0, open[1], 0.01);
        walk.Press(Button.Back, "home");
        int home = walk.Presses;
        walk.Press(Button.Down, "GLASS").Press(Button.Down, "FRAMES").Press(Button.Select, "the last frames", 0.8);
        Assert.AreEqual("TAKEN 1/2", walk.Panel.ScreenName);
        Assert.AreEqual(3, walk.Presses - home);
        walk.Tell(TestContext, 7);
    }
}
