using Intervalometer.Core.Exposure;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>
/// One transfer hangs at some moment of a run, for runs of every shape. The camera model knows what was taken, and the box must report the
/// same for each frame.
/// </summary>
[TestClass]
public class HungRunTests
{
    private const long Ms = 1_000;
    private const long Second = 1_000_000;
    private const long PressUs = 3 * Second;
    private const long SameUs = 20 * Ms;

    private static readonly string[] Shapes =
    [
        "single bulb", "single dial", "burst bulb", "burst dial", "held drive", "series bulb", "series dial", "bracket",
        "mirror bulb", "mirror dial", "dark bulb", "quick burst", "on marks",
    ];

    private static readonly long[] Hangs = [60 * Ms, 200 * Ms, 350 * Ms, 600 * Ms, Second];

    public TestContext TestContext { get; set; } = null!;

    private sealed class Count
    {
        public int Runs, Hung, Done, Failed, Late, Long, Doubt, Wrong;

        public List<string> Words { get; } = [];
    }

    [TestMethod]
    public void WhatIsReportedIsWhatTheCameraTook()
    {
        var count = new Count();
        foreach (string shape in Shapes)
            foreach (long hang in Hangs)
                for (int i = 0; i < 32; i++) Play(shape, hang, PressUs + 50 * Ms + i * 310 * Ms, new BoardOptions().LimiterHoldUs, count);
        Tell(count);
        Assert.AreEqual(0, count.Wrong, $"of {count.Runs}\n{string.Join("\n", count.Words.Take(40))}");
        Assert.AreEqual(count.Runs, count.Done, "no hang of a second ends a run");
        Assert.IsTrue(count.Runs >= 2000 && count.Hung > count.Runs * 8 / 10 && count.Late > 100 && count.Long > 20, $"{count.Runs} runs, {count.Hung} hung");
    }

    /// <summary>The limiter opens the contacts as early as it may. The box reports a frame that it may have cut short as in doubt.</summary>
    [TestMethod]
    public void WhatTheLimiterMayHaveCutIsInDoubt()
    {
        var count = new Count();
        foreach (string shape in Shapes)
            foreach (long hang in new[] { 350 * Ms, 600 * Ms, Second })
                for (int i = 0; i < 12; i++) Play(shape, hang, PressUs + 50 * Ms + i * 790 * Ms, ReleaseLimits.HeartbeatHoldShortestUs, count);
        Tell(count);
        Assert.AreEqual(0, count.Wrong, $"of {count.Runs}\n{string.Join("\n", count.Words.Take(40))}");
        Assert.IsTrue(count.Doubt > 20, $"{count.Doubt} in doubt");
    }

    private void Tell(Count c) => TestContext.WriteLine($"{c.Runs} runs, {c.Hung} met the hang: {c.Done} done, {c.Failed} ended by the box, {c.Late} told of a late frame, {c.Long} of one too long, {c.Doubt} of a length in doubt; told and taken differ in {c.Wrong}");

    private static void Play(string shape, long hangUs, long atUs, long holdUs, Count count)
    {
        bool bulb = shape is not ("single dial" or "burst dial" or "held drive" or "series dial" or "mirror dial");
        bool mirror = shape.StartsWith("mirror", StringComparison.Ordinal);
        double seconds = shape is "quick burst" ? 0.25 : bulb ? 2 : 0.5;
        using var board = new Board(new BoardOptions
        {
            LimiterHoldUs = holdUs,
            Camera = new CameraOptions { Dial = bulb ? CameraDial.Bulb : CameraDial.Timed, DialSeconds = seconds, MirrorLockUp = mirror, DarkFrame = shape == "dark bulb", Continuous = shape == "held drive", BufferFrames = 99 },
        });
        Set(board.Box!.Settings, shape, bulb, mirror, seconds);
        if (shape == "on marks")
        {
            for (int i = 0; i < 3; i++) board.Press(Button.Down, 200 * Ms + i * 300 * Ms, 80 * Ms);
            for (int i = 0; i < 3; i++) board.Press(Button.Mark, PressUs + 1500 * Ms + i * 3500 * Ms, 80 * Ms);
        }
        board.Press(Button.Fire, PressUs, 80 * Ms);
        OneHang.At(board, atUs, hangUs);
        board.RunUntil(PressUs + 40 * Second);
        count.Runs++;
        if (board.Bus.Trouble.Hits > 0) count.Hung++;
        RunReport run = board.Box.Link!.Report;
        if (run.State == RunState.Done) count.Done++;
        if (run.State == RunState.Failed) count.Failed++;
        FrameRing told = board.Box.Link.Frames;
        if (told.Off > 0 && !told.WorstWasLong) count.Late++;
        if (told.Off > 0 && told.WorstWasLong) count.Long++;
        if (told.InDoubt > 0) count.Doubt++;
        string? wrong = Differs(board, run, shape, seconds);
        if (wrong is null) return;
        count.Wrong++;
        count.Words.Add($"{shape}, hang of {hangUs / Ms} ms at {(atUs - PressUs) / Ms} ms: {wrong}");
    }

    internal static void Set(BoxSettings settings, string shape, bool bulb, bool mirror, double seconds)
    {
        ShotPlan plan = settings.Plan;
        settings.AlwaysBulb = bulb;
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting((int)Math.Round(3 * Math.Log2(seconds))), 0));
        settings.Camera.MirrorLockUp = mirror;
        settings.Camera.MirrorSettleMs = 800;
        settings.Camera.DarkFrame = shape == "dark bulb";
        plan.SettleUs = 500 * Ms;
        plan.GapUs = 500 * Ms;
        plan.IntervalUs = 3 * Second;
        plan.HoldUs = 4 * Second;
        plan.Frames = shape == "bracket" ? 3 : shape == "quick burst" ? 8 : 4;
        plan.BracketThirds = 2;
        plan.Shape = shape switch
        {
            "single bulb" or "single dial" => PlanShape.Single,
            "held drive" => PlanShape.HeldDrive,
            "series bulb" or "series dial" => PlanShape.Series,
            "bracket" => PlanShape.Bracket,
            _ => PlanShape.Burst,
        };
        settings.Waves.Way = FiringWay.OnMark;
        settings.Waves.Waves = 3;
    }

    // The difference between what the box reported and what the camera took; null when they agree.
    internal static string? Differs(Board board, RunReport run, string shape, double seconds)
    {
        FrameRing told = board.Box!.Link!.Frames;
        IReadOnlyList<Frame> taken = board.Camera.Frames;
        if (run.Running) return $"still {run.State}";
        if (board.Camera.OpenSinceUs is not null || board.Lines[Line.Shutter]) return "the shutter is open";
        if (shape == "held drive") return Held(board, told, run);
        if (told.InDoubt > 0 && board.LimiterTrips > 0) return null;
        if (board.Camera.Missed.Count > 0) return $"a press was missed: {board.Camera.Missed[0].Why}";
        if (told.Total != taken.Count) return $"{told.Total} told, {taken.Count} taken, {run.State}";
        for (int i = 0; i < taken.Count; i++)
        {
            long length = taken[i].CloseUs - taken[i].OpenUs;
            if (Math.Abs(told.StartUs(i) - taken[i].OpenUs) > SameUs) return $"frame {i + 1} told at {told.StartUs(i)}, opened at {taken[i].OpenUs}";
            if (Math.Abs(told.ExposureUs(i) - length) > SameUs) return $"frame {i + 1} told of {told.ExposureUs(i)} us, was {length}";
            double planned = shape == "bracket" ? seconds * Math.Pow(2, new[] { 0, -2, 2 }[i] / 3.0) : seconds;
            if (Math.Abs(length / 1e6 - planned) >= 0.06 && told.Off == 0 && told.InDoubt == 0) return $"frame {i + 1} was {length} us and nothing is told of it";
        }
        if (run.OnWaves) return run.State == RunState.Done && run.WavesFired == taken.Count ? null : $"{run.State} with {run.WavesFired} waves, {taken.Count} taken";
        if (run.State == RunState.Done && taken.Count != run.FramesPlanned) return $"DONE with {taken.Count} of {run.FramesPlanned}";
        return run.FramesStarted == taken.Count ? null : $"{run.FramesStarted} on the screen, {taken.Count} taken";
    }

    // The camera decides how many frames a held contact gives; the box decides how long the contact is held.
    private static string? Held(Board board, FrameRing told, RunReport run)
    {
        if (run.State != RunState.Done) return $"{run.State}";
        LineEdge[] edges = [.. board.Edges.Where(e => e.Line == Line.Shutter)];
        if (edges.Length != 2 || told.Total != 1) return $"{edges.Length} edges, {told.Total} told";
        long held = edges[1].AtUs - edges[0].AtUs - 4 * Second;
        return held >= 60 * Ms && told.Off == 0 && told.InDoubt == 0 ? $"held for {held} us too long and nothing is told of it" : null;
    }
}
