using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Battery;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Report;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>The whole box on a cell that runs down.</summary>
[TestClass]
public class BatteryTests
{
    private const long Second = 1_000_000;

    private static Board On(double millivolts, double perHour = 0, bool gauge = true)
    {
        var board = new Board(new BoardOptions
        {
            Camera = new CameraOptions { Dial = CameraDial.Bulb },
            Battery = new BatteryOptions { Millivolts = millivolts, PerHour = perHour, GaugeFitted = gauge },
        });
        BoxSettings settings = board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.Plan.Shape = PlanShape.Single;
        // 30 s on the dial, truly 32 s, and one stop of trim by hand: 64 s.
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(15), 3));
        Assert.AreEqual(64, settings.Answer.Seconds);
        return board;
    }

    private static void Tap(Board board, Button button, double atSeconds) => board.Press(button, (long)(atSeconds * Second), 120_000);

    private static void To(Board board, double seconds) => board.RunUntil((long)(seconds * Second));

    private static void Quiet(Board board)
    {
        SessionReport report = ReportBuilder.Of(board, "battery");
        Assert.AreEqual(0, report.BusViolations.Count);
        Assert.AreEqual(0, report.PinFaults.Count, string.Join("; ", report.PinFaults));
        Assert.AreEqual(0, board.LimiterTrips);
    }

    [TestMethod]
    public void ACellThatRunsEmptyInABulbExposureFinishesItToPlanAndThenRefuses()
    {
        // 3.54 V at the start, under 3.50 V after 36 s: in the middle of the exposure, which begins at about 5 s.
        using Board board = On(3540, -4000);
        BatteryWatch battery = board.Box!.Panel!.Health.Battery;
        Assert.AreEqual(BatteryState.Low, battery.State);
        Tap(board, Button.Fire, 3);
        To(board, 60);
        Assert.AreEqual(BatteryState.Empty, battery.State);
        Assert.IsTrue(board.Lines[Line.SensorOpen], "the frame is still open");
        To(board, 75);
        FrameReport frame = ReportBuilder.Of(board, "battery").Frames.Single();
        Assert.AreEqual(64, frame.Exposure, 0.002);
        Assert.IsFalse(frame.CutShort);
        Assert.AreEqual(RunState.Done, board.Box.Desk!.State);
        Assert.IsFalse(board.Box.Desk.EndedEarly, "nothing of the plan was left out");
        // Its frame and the settings are kept without a press.
        To(board, 78);
        Assert.IsTrue(board.Box.Keeper!.Settled);
        Assert.AreEqual(1, LogbookCsv.Text(board.Memory.Snapshot()).Split('\n', StringSplitOptions.RemoveEmptyEntries).Length - 1, "frames in the memory");
        Tap(board, Button.Fire, 80);
        Tap(board, Button.Fire, 82);
        To(board, 120);
        Assert.AreEqual("NOTICE", board.Box.Panel.ScreenName);
        Assert.AreEqual(1, board.Camera.Frames.Count, "nothing new started");
        Assert.IsFalse(board.Lines[Line.HalfPress]);
        Quiet(board);
    }

    [TestMethod]
    public void ASeriesEndsAfterTheFrameThatWasOnAndSaysSo()
    {
        using Board board = On(3540, -4000);
        board.Box!.Settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(9), 0));
        board.Box.Settings.Plan.Shape = PlanShape.Series;
        board.Box.Settings.Plan.Frames = 20;
        board.Box.Settings.Plan.IntervalUs = 12 * Second;
        Tap(board, Button.Fire, 3);
        To(board, 150);
        Assert.AreEqual(RunState.Done, board.Box.Desk!.State);
        Assert.IsTrue(board.Box.Desk.EndedEarly);
        SessionReport report = ReportBuilder.Of(board, "battery");
        Assert.IsTrue(report.Frames.Count is >= 3 and <= 6, $"{report.Frames.Count} frames");
        foreach (FrameReport frame in report.Frames)
        {
            Assert.AreEqual(8, frame.Exposure, 0.002);
            Assert.IsFalse(frame.CutShort);
        }
        Quiet(board);
    }

    [TestMethod]
    public void ARunOnTheWavesEndsBetweenWaves()
    {
        using Board board = On(3700);
        BoxSettings settings = board.Box!.Settings;
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(0), 0));
        settings.Waves.Way = FiringWay.OnMark;
        settings.Waves.Waves = 0;
        for (int i = 0; i < 3; i++) Tap(board, Button.Down, 1 + 0.4 * i);
        Tap(board, Button.Fire, 4);
        Tap(board, Button.Mark, 8);
        Tap(board, Button.Mark, 18);
        To(board, 15);
        Assert.AreEqual(RunState.AwaitMark, board.Box.Desk!.State);
        board.Battery.Millivolts = 3300;
        To(board, 60);
        Assert.AreEqual(RunState.Done, board.Box.Desk.State);
        Assert.IsTrue(board.Box.Desk.EndedEarly);
        Assert.AreEqual(2, board.Box.Desk.Waves.WavesFired);
        Assert.IsFalse(board.Lines[Line.HalfPress], "half-press is let go");
        Assert.AreEqual(2, board.Camera.Frames.Count);
        Quiet(board);
    }

    [TestMethod]
    public void ItWarnsOnceBelow3600MillivoltsAndStillFires()
    {
        using Board board = On(3650);
        To(board, 5);
        Assert.AreEqual("LIGHT", board.Box!.Panel!.ScreenName);
        board.Battery.Millivolts = 3580;
        To(board, 40);
        Assert.AreEqual("NOTICE", board.Box.Panel.ScreenName);
        Assert.IsTrue(board.Box.Panel.Health.Any);
        // The press that closes the notice starts the run as well.
        Tap(board, Button.Fire, 41);
        To(board, 45);
        Assert.AreEqual(RunState.Plan, board.Box.Desk!.State);
        To(board, 120);
        Assert.AreEqual(RunState.Done, board.Box.Desk.State);
        Tap(board, Button.Back, 121);
        // When the voltage falls and rises again by less than the hysteresis, the box reports nothing again.
        board.Battery.Millivolts = 3640;
        To(board, 160);
        board.Battery.Millivolts = 3560;
        To(board, 200);
        Assert.AreEqual("LIGHT", board.Box.Panel.ScreenName);
        Assert.AreEqual(BatteryState.Low, board.Box.Panel.Health.Battery.State);
        Assert.AreEqual(64, ReportBuilder.Of(board, "battery").Frames.Single().Exposure, 0.002);
    }

    [TestMethod]
    [DataRow(4100.0, false)]
    [DataRow(0.0, true)]
    public void WithoutAReadingNothingIsBlocked(double millivolts, bool gauge)
    {
        using Board board = On(millivolts, 0, gauge);
        To(board, 3);
        Assert.AreEqual(BatteryState.Unread, board.Box!.Panel!.Health.Battery.State);
        Assert.AreEqual("LIGHT", board.Box.Panel.ScreenName);
        Assert.IsFalse(board.Box.Panel.Health.Any);
        Tap(board, Button.Fire, 4);
        To(board, 80);
        Assert.AreEqual(1, board.Camera.Frames.Count);
    }

    [TestMethod]
    public void AGaugeThatFallsSilentWhileEmptyUnblocks()
    {
        using Board board = On(3400);
        Assert.IsTrue(board.Box!.Panel!.Health.Battery.Refuses);
        board.Battery.Answers = false;
        To(board, 40);
        Assert.AreEqual(BatteryState.Unread, board.Box.Panel.Health.Battery.State);
    }

    [TestMethod]
    public void OneDisturbedReadingChangesNothing()
    {
        using Board board = On(4000);
        To(board, 9.9);
        board.Battery.Millivolts = 3000;
        To(board, 10.5);
        board.Battery.Millivolts = 4000;
        To(board, 12);
        Assert.AreEqual(4, board.Battery.ReadsUs.Count, "three at the start and one at 10 s");
        Assert.AreEqual(BatteryState.Good, board.Box!.Panel!.Health.Battery.State);
        To(board, 60);
        Assert.AreEqual(BatteryState.Good, board.Box.Panel.Health.Battery.State);
        Assert.AreEqual(4000, board.Box.Panel.Health.Battery.Millivolts, 4);
    }

    /// <summary>Frames of a quarter of a second, two a second, for 200 s: an edge every 0.25 s at the most.</summary>
    [TestMethod]
    public void TheBatteryIsReadAboutEveryTenSecondsAndNeverNearAnEdge()
    {
        using Board board = On(4000);
        BoxSettings settings = board.Box!.Settings;
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(-6), 0));
        settings.Plan.Shape = PlanShape.Series;
        settings.Plan.Frames = 300;
        settings.Plan.IntervalUs = 700_000;
        Tap(board, Button.Fire, 3);
        To(board, 213);
        Assert.IsTrue(board.Edges.Count > 800, $"{board.Edges.Count} edges");
        long nearest = long.MaxValue, longest = 0;
        long last = 0;
        foreach (long read in board.Battery.ReadsUs)
        {
            foreach (LineEdge edge in board.Edges) nearest = Math.Min(nearest, Math.Abs(edge.AtUs - read));
            longest = Math.Max(longest, read - last);
            last = read;
        }
        Console.WriteLine($"{board.Battery.ReadsUs.Count} readings, the nearest {nearest / 1000} ms from an edge, the longest wait {longest / 1e6:F1} s");
        Assert.IsTrue(nearest >= Drivers.Composition.Box.QuietBusUs, $"{nearest} µs from an edge");
        Assert.IsTrue(board.Battery.ReadsUs.Count >= 20, $"{board.Battery.ReadsUs.Count} readings");
        Assert.IsTrue(longest < 11 * Second, $"{longest} µs between two readings");
    }

    [TestMethod]
    public void AnEmptyCellAtPowerOnIsReportedByTheStartCheckAndFireIsRefused()
    {
        using Board board = On(3420);
        To(board, 30);
        Assert.AreEqual("START CHECK", board.Box!.Panel!.ScreenName);
        Tap(board, Button.Fire, 31);
        To(board, 33);
        Assert.AreEqual("NOTICE", board.Box.Panel.ScreenName);
        Assert.AreEqual(RunState.Ready, board.Box.Desk!.State);
        Tap(board, Button.Down, 34);
        To(board, 36);
        Assert.AreEqual("LIGHT", board.Box.Panel.ScreenName, "the press closes the refusal, and the box says nothing a second time");
    }
}
