using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Screens;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>
/// A series of three days on the whole board, across midnights, a leap day, the end of a month, and the moments at which a time that is cut to
/// 32 bits would wrap. The 64-bit microsecond clock itself wraps after 292 thousand years, which no run reaches.
/// </summary>
[TestClass]
public class SeriesTests
{
    private const long Second = 1_000_000;
    private const long Hour = 3600 * Second;
    private const long ExposureUs = 2 * Second;
    private const long HeapSlackAnHour = 1_300;

    public TestContext TestContext { get; set; } = null!;

    /// <summary>The board's clock passes 2^31 ms in the middle of the run, and a multiple of 2^32 µs every 71.6 minutes.</summary>
    [TestMethod]
    public void ThreeDaysOfASeriesAreTakenFrameByFrame()
    {
        List<long> heap = Series((1L << 31) * 1000 - 36 * Hour, new DateTime(2032, 2, 27, 20, 0, 0, DateTimeKind.Utc), 72 * EnduranceScale.Factor, 60);
        long grown = GrowthInMostHours(heap);
        TestContext.WriteLine($"heap {heap[0]} bytes after the first hour, {heap[^1]} after the last, {grown} more in the median hour");
        Assert.IsTrue(grown < HeapSlackAnHour, $"the heap grows by {grown} bytes in the median hour");
    }

    /// <summary>From 2^53 µs on a double no longer holds every whole number; 285 years of being on.</summary>
    [TestMethod]
    public void AClockPastWhatADoubleHoldsTakesTheSameFrames() =>
        Series((1L << 53) - Hour, new DateTime(2032, 2, 28, 23, 0, 0, DateTimeKind.Utc), 2, 15);

    /// <summary>From power-on over 2^31 and 2^32 µs, and over 2^32 ms, 49.7 days.</summary>
    [TestMethod]
    [DataRow(0L)]
    [DataRow((1L << 32) * 1000 - Hour)]
    public void AClockThatPassesThirtyTwoBitsTakesTheSameFrames(long startUs) =>
        Series(startUs, new DateTime(2032, 12, 31, 23, 0, 0, DateTimeKind.Utc), 2, 15);

    // Takes the series, checks each frame, and returns the size of the heap after each hour, in bytes.
    private List<long> Series(long startUs, DateTime startUtc, int hours, int everySeconds)
    {
        using var board = new Board(new BoardOptions { Camera = new CameraOptions { Dial = CameraDial.Bulb } });
        board.PowerOff();
        board.Time.AdvanceTo(startUs);
        board.ClockChip.SetRunning(Planner.FromDateTime(startUtc));
        board.PowerOn();
        BoxSettings settings = board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(3), 0));
        settings.Plan.Shape = PlanShape.Series;
        settings.Plan.IntervalUs = everySeconds * Second;
        int perHour = 3600 / everySeconds;
        settings.Plan.Frames = Math.Min(hours * perHour, ShotPlan.MostSeries);
        int frames = settings.Plan.Frames;
        board.Press(Button.Fire, startUs + 3 * Second, 120_000);

        long opened = -1;
        var heap = new List<long>();
        int taken = 0;
        for (int hour = 1; hour <= hours; hour++)
        {
            // Ten seconds past the hour no frame is open: the settling takes 2 s from the press at 3 s.
            board.RunUntil(startUs + hour * Hour + 15 * Second - 2 * Second);
            foreach (Intervalometer.VirtualBoard.Camera.Frame frame in board.Camera.Frames)
            {
                Assert.AreEqual(ExposureUs, frame.CloseUs - frame.OpenUs, 1000, $"frame {taken} is exposed as long as planned");
                if (opened >= 0) Assert.AreEqual(everySeconds * Second, frame.OpenUs - opened, 1500, $"frame {taken} after the one before");
                opened = frame.OpenUs;
                taken++;
            }
            Assert.AreEqual(0, board.Camera.Missed.Count);
            Assert.AreEqual(0, board.Bus.Violations.Count);
            NoLineOnTooLong(board);
            BoardRecords.Forget(board);
            heap.Add(HeapNow());
        }
        TestContext.WriteLine($"{taken} frames in {hours} h from {startUs} µs on, {board.Passes} passes; {EnduranceScale.Hint}");
        board.RunUntil(board.Time.NowUs + 30 * Second);
        taken += board.Camera.Frames.Count;
        Assert.AreEqual(frames, taken);
        Assert.AreEqual(0, board.LimiterTrips);
        Assert.AreEqual(0, board.PinFaults.Count, string.Join("; ", board.PinFaults));
        Assert.AreEqual(RunState.Done, board.Box.Desk!.State);
        Assert.IsFalse(board.Lines[Line.HalfPress] || board.Lines[Line.Shutter]);
        TheLogbookHoldsTheLast(board, frames);
        TheDateIsShown(board, startUs, startUtc);
        return heap;
    }

    private static void NoLineOnTooLong(Board board)
    {
        long on = -1;
        foreach (LineChange change in board.Lines.Changes.Where(c => c.Line == Line.Shutter))
        {
            if (!change.On && on >= 0) Assert.IsTrue(change.AtUs - on <= ExposureUs + 1000, $"shutter line on for {change.AtUs - on} µs");
            on = change.On ? change.AtUs : -1;
        }
        Assert.AreEqual(-1, on, "the shutter line is on between two frames");
    }

    // The heap is that of the whole test process: once or twice in a run something that is not of this box adds 100 kB in one step. What the
    // box keeps of each frame grows in every hour, so the median of the hours shows it and a single step does not.
    private static long GrowthInMostHours(List<long> heap)
    {
        var growths = new List<long>();
        for (int hour = 1; hour < heap.Count; hour++) growths.Add(heap[hour] - heap[hour - 1]);
        growths.Sort();
        return growths[growths.Count / 2];
    }

    private static long HeapNow() => GC.GetTotalMemory(true);

    private static void TheLogbookHoldsTheLast(Board board, int frames)
    {
        board.RunUntil(board.Time.NowUs + 60 * Second);
        Assert.IsTrue(board.Box!.Keeper!.Settled);
        Logbook log = board.Box.Keeper.Logbook;
        int pages = board.Memory.Wear.Skip(StoreMap.LogFirstPage).Sum();
        Assert.IsTrue(pages > 2 * StoreMap.LogPages, $"the ring went round: {pages} pages were written");
        Assert.IsTrue(log.Count >= StoreMap.LogPages, $"{log.Count}");
        var entry = new LogEntry();
        for (int i = 0; i < log.Count; i++)
        {
            Assert.IsTrue(log.Read(i, entry), $"frame {i} of the logbook");
            Assert.AreEqual(ExposureUs, entry.ExposureUs, 4);
            Assert.IsFalse(entry.CutShort);
        }
        Assert.AreEqual(0, board.Box.Keeper.FramesLost, $"of {frames}");
        // Another box reads the same ring.
        int count = log.Count;
        board.PowerOff(CutKind.Old);
        board.PowerOn();
        Assert.AreEqual(count, board.Box.Keeper!.Logbook.Count);
    }

    private static void TheDateIsShown(Board board, long startUs, DateTime startUtc)
    {
        board.RunUntil(board.Time.NowUs + 2 * Second);
        DateTime now = startUtc.AddMicroseconds(board.Time.NowUs - startUs);
        Assert.AreEqual(0, (now - Planner.ToDateTime(board.Box!.Shore.Now)).TotalSeconds, 1.5, "the time of day");
        // Back to the shore's ring, Up to PLACE.
        foreach (Button button in new[] { Button.Back, Button.Up })
        {
            board.Press(button, board.Time.NowUs + 1, 100_000);
            board.RunUntil(board.Time.NowUs + Second);
        }
        Assert.AreEqual("PLACE", board.Box.Panel!.ScreenName);
        now = startUtc.AddMicroseconds(board.Time.NowUs - startUs);
        CivilTime local = board.Box.Shore.Settings.Offset.ToLocal(board.Box.Shore.Now);
        Assert.AreEqual(now.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture), $"{local.Year}-{local.Month:00}-{local.Day:00} {local.Hour:00}:{local.Minute:00}");
        var frame = new Intervalometer.Screens.Frame();
        frame.Text(0, 46, TimeText.ShortDate(local) + " " + TimeText.HourMinute(local), Font.Small);
        int end = Intervalometer.Screens.Frame.Width - Font.Small.WidthOf("UTC+00:00") - 1;
        for (int y = 46; y < 53; y++)
            for (int x = 0; x < end; x++) Assert.AreEqual(frame.Pixel(x, y), board.Display.Model.Pixel(x, y), $"the date on the display, at {x}, {y}");
    }
}
