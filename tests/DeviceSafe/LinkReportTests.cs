using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>What the panel reads about a run, its frames and the sea agrees with what the release thread knows.</summary>
[TestClass]
public class LinkReportTests
{
    private const long Second = 1_000_000;

    private static void Start(Bench bench, ShotPlan plan, WaveOrder? waves, bool mirror)
    {
        FireOrder order = bench.Link.TryFill()!;
        order.Plan.CopyFrom(plan);
        order.OnWaves = waves != null;
        if (waves != null) order.Waves.CopyFrom(waves);
        order.Camera.MirrorLockUp = mirror;
        bench.Link.Offer();
        Assert.AreEqual(PressRing.Started, bench.Link.Fire(bench.NowUs));
        bench.Link.Presses.Add(PressRing.Down | PressRing.Started, bench.NowUs, false);
    }

    // Every value that a screen or the logbook reads, against its source. In a pass that nothing was reported in, the chance may be 20 ms old.
    private static void Same(Bench bench)
    {
        RunReport report = bench.Link.Report;
        ReleasePlayer player = bench.Desk.Player;
        WaveRun waves = bench.Desk.Waves;
        bool onWaves = bench.Desk.LastRunOnWaves;
        Assert.AreEqual((int)bench.Desk.State, (int)report.State);
        Assert.AreEqual(bench.Desk.Running, report.Running);
        Assert.AreEqual(bench.Desk.Runs, report.Run);
        Assert.AreEqual(onWaves, report.OnWaves);
        Assert.AreEqual(bench.Desk.EndedEarly, report.EndedEarly);
        Assert.AreEqual(player.FramesStarted, report.FramesStarted);
        Assert.AreEqual(player.FrameStartUs, report.FrameStartUs);
        Assert.AreEqual(player.FrameEndUs, report.FrameEndUs);
        Assert.AreEqual(player.NextEdgeUs, report.NextEdgeUs);
        Assert.AreEqual(player.HalfPressClosed, report.HalfPressClosed);
        Assert.AreEqual(player.ShutterClosed, report.ShutterClosed);
        Assert.AreEqual(player.MirrorUp, report.MirrorUp);
        Assert.AreEqual(bench.Lines.HalfPress, report.HalfPressClosed);
        Assert.AreEqual(bench.Lines.Shutter, report.ShutterClosed);
        Assert.AreEqual(bench.Desk.State == RunState.AwaitWave ? waves.TargetUs : player.NextFrameUs, report.NextUs);
        Assert.AreEqual(onWaves ? waves.FramesTaken : 0, report.FramesOnWaves);
        Assert.AreEqual(waves.WavesFired, report.WavesFired);
        Assert.AreEqual(waves.WavesMissed, report.WavesMissed);
        Assert.AreEqual(waves.ChancePercent, report.ChancePercent);
        bool on = onWaves && bench.Desk.Running;
        Assert.AreEqual(on && waves.AsksForHolds, report.AsksForHolds);
        Assert.AreEqual(on && waves.Doubtful, report.Doubtful);
    }

    private static void Follow(Bench bench, long untilUs)
    {
        while (bench.NowUs < untilUs)
        {
            bench.RunTo(bench.NowUs + Bench.TickUs);
            bench.RunTo(bench.NowUs + 2 * Bench.TickUs);
            Same(bench);
        }
    }

    private static void ReadEnd(Bench bench)
    {
        bench.RunTo(bench.NowUs + Second / 2);
        bench.Link.Presses.TryTake(out int code, out long atUs);
        bench.Link.Acknowledge();
        bench.RunTo(bench.NowUs + Bench.TickUs);
        // The release thread has heard of it, too.
        Assert.AreEqual((int)RunState.Ready, (int)bench.Desk.State);
        Assert.AreEqual((int)RunState.Ready, (int)bench.Link.Report.State);
    }

    [TestMethod]
    public void BeforeTheFirstRunNothingIsKnown()
    {
        RunReport report = new RunReport();
        Assert.AreEqual(-1, report.ChancePercent);
        Assert.IsFalse(report.OnWaves || report.EndedEarly || report.HeldDrive || report.HalfPressClosed || report.ShutterClosed
            || report.MirrorUp || report.AsksForHolds || report.Doubtful || report.PressHeldUp || report.Running);
        SeaReport sea = new SeaReport();
        Assert.AreEqual(-1, sea.Recommended);
        Assert.AreEqual(-1, sea.AdvisedMarks);
        Assert.IsTrue(sea.Stale(0));
    }

    /// <summary>Mirror, burst, continuous drive and a run on the waves, one after the other. No bit of a report is left over in the next one.</summary>
    [TestMethod]
    public void TheReportFollowsRunsOfEveryKind()
    {
        Bench bench = new Bench();
        Follow(bench, Second);
        Start(bench, new ShotPlan { BoxTimed = true, ExposureUs = 2 * Second, SettleUs = Second }, null, true);
        Assert.IsFalse(bench.Link.Report.HeldDrive);
        Assert.AreEqual(1, bench.Link.Report.FramesPlanned);
        Follow(bench, 15 * Second);
        ReadEnd(bench);
        bench.StandStill(400_000);
        Start(bench, new ShotPlan { Shape = PlanShape.HeldDrive, ExposureUs = Second / 8, HoldUs = 2 * Second }, null, false);
        Assert.IsTrue(bench.Link.Report.HeldDrive);
        Assert.IsTrue(bench.Link.Report.PressHeldUp);
        Follow(bench, 22 * Second);
        Assert.IsTrue(bench.Link.Report.HeldDrive);
        Assert.IsTrue(bench.Link.Report.PressHeldUp);
        ReadEnd(bench);
        Start(bench, new ShotPlan { Shape = PlanShape.Burst, Frames = 3, ExposureUs = Second / 2, BoxTimed = true }, null, false);
        Assert.IsFalse(bench.Link.Report.HeldDrive);
        Assert.IsFalse(bench.Link.Report.PressHeldUp);
        Assert.AreEqual(3, bench.Link.Report.FramesPlanned);
        Follow(bench, 24 * Second);
        bench.Link.EndBetweenFrames();
        Follow(bench, 26 * Second);
        Assert.IsTrue(bench.Link.Report.EndedEarly);
        ReadEnd(bench);
        Start(bench, new ShotPlan { ExposureUs = Second / 2, BoxTimed = true }, new WaveOrder { Way = FiringWay.OnMark, Waves = 3 }, false);
        for (int i = 0; i < 3; i++)
        {
            Follow(bench, bench.NowUs + 9 * Second);
            bench.Mark();
            Follow(bench, bench.NowUs + Second);
        }
        Follow(bench, bench.NowUs + 2 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Link.State);
        Assert.AreEqual(3, bench.Link.Report.FramesOnWaves);
        ReadEnd(bench);
        Start(bench, new ShotPlan { ExposureUs = Second / 2, BoxTimed = true }, new WaveOrder { Way = FiringWay.OnArrival }, false);
        Follow(bench, bench.NowUs + Second);
        Assert.IsTrue(bench.Link.Report.AsksForHolds);
        for (int i = 0; i < 6; i++)
        {
            bench.HoldMark(3 * Second);
            Follow(bench, bench.NowUs + 7 * Second);
        }
        Assert.IsFalse(bench.Link.Report.AsksForHolds);
        bench.Link.Stop(bench.NowUs);
        Same(bench);
        ReadEnd(bench);
        Start(bench, new ShotPlan { BoxTimed = true, ExposureUs = Second }, null, false);
        Follow(bench, bench.NowUs + 3 * Second);
    }

    /// <summary>Two marks a wave, at its arrival and at its turn, contradict a backwash of 3.6 s: a run on the rhythm says so, and stops saying so at its end.</summary>
    [TestMethod]
    public void AForecastOnMarksThatContradictEachOtherIsReportedAsDoubtful()
    {
        Bench bench = new Bench();
        for (int wave = 1; wave <= 12; wave++)
        {
            bench.RunTo(wave * 8 * Second);
            bench.HoldMark(Second / 5);
            bench.RunTo(wave * 8 * Second + 3_500_000);
            bench.HoldMark(3_600_000);
        }
        Assert.IsTrue(bench.Desk.Waves.Rhythm.Doubtful);
        Assert.IsTrue(bench.Link.Sea.Doubtful);
        Start(bench, new ShotPlan { ExposureUs = Second / 2, BoxTimed = true }, new WaveOrder { Way = FiringWay.OnRhythm }, false);
        bench.RunTo(bench.NowUs + Second);
        Assert.AreEqual((int)RunState.AwaitWave, (int)bench.Link.Report.State);
        Assert.IsTrue(bench.Link.Report.Doubtful);
        Assert.AreEqual(bench.Desk.Waves.TargetUs, bench.Link.Report.NextUs);
        // Without marks it asks for one, and is still a run.
        bench.RunTo(bench.NowUs + 60 * Second);
        Assert.AreEqual((int)RunState.AskMark, (int)bench.Link.Report.State);
        Assert.IsTrue(bench.Link.Report.Running);
        bench.Link.Stop(bench.NowUs);
        Assert.IsFalse(bench.Link.Report.Doubtful);
    }

    /// <summary>In the last moment before an edge a pass only plays it, and the edge is reported at once.</summary>
    [TestMethod]
    public void AnEdgeOfTheLastMomentIsReportedAtOnce()
    {
        Bench bench = new Bench();
        Start(bench, new ShotPlan { BoxTimed = true, ExposureUs = 2 * Second, SettleUs = Second }, null, false);
        bench.RunTo(900_000);
        Assert.AreEqual(Second, bench.Link.NextEdgeUs);
        bench.Link.PlayDue(Second - 1);
        Assert.AreEqual(0, bench.Link.Report.FramesStarted);
        bench.Link.PlayDue(Second);
        Assert.AreEqual(1, bench.Link.Report.FramesStarted);
        Assert.IsTrue(bench.Link.Report.ShutterClosed);
    }

    private static bool SameForecast(Bench bench, long nowUs, int ahead)
    {
        bool ours = bench.Link.Sea.TryForecast(nowUs, ahead, out long turn, out double spread);
        bool theirs = bench.Desk.Waves.Rhythm.TryForecast(nowUs, ahead, out long turn2, out double spread2);
        return ours == theirs && turn == turn2 && spread == spread2;
    }

    /// <summary>After every mark and every hold, and at every moment around the third missing wave.</summary>
    [TestMethod]
    public void TheSeaIsReportedAsTheRhythmKnowsIt()
    {
        Bench bench = new Bench();
        WaveRhythm rhythm = bench.Desk.Waves.Rhythm;
        SeaReport sea = bench.Link.Sea;
        for (int i = 0; i < 8; i++)
        {
            bench.RunTo((5 + 10 * i) * Second);
            bench.HoldMark((3 + i % 3) * Second);
            Assert.AreEqual(rhythm.MarkCount, sea.MarkCount);
            Assert.AreEqual(rhythm.LastMarkUs, sea.LastMarkUs);
            Assert.AreEqual(rhythm.Ready, sea.Ready);
            Assert.AreEqual(rhythm.SteadinessIndex, sea.SteadinessIndex);
            Assert.AreEqual(rhythm.Lengths.Ready, sea.Timed);
            Assert.IsTrue(rhythm.BackwashSeconds == sea.BackwashSeconds && rhythm.PeriodSeconds == sea.PeriodSeconds && rhythm.PeriodSpreadSeconds == sea.SpreadSeconds);
            for (int seconds = 0; seconds < 40; seconds += 5)
            {
                long now = rhythm.LastMarkUs + seconds * Second;
                for (int off = -1; off <= 1; off++) Assert.AreEqual(rhythm.Stale(now + off), sea.Stale(now + off));
                Assert.IsTrue(SameForecast(bench, now, 1));
                Assert.IsTrue(SameForecast(bench, now, 3));
            }
        }
        long limit = sea.LastMarkUs + (long)(3e6 * sea.PeriodSeconds);
        Assert.IsFalse(sea.Stale(limit));
        Assert.IsTrue(sea.Stale(limit + 1));
    }

    /// <summary>The advice that is asked for equals one that is worked out separately. It is begun again after a mark and its hold, and every 5 s.</summary>
    [TestMethod]
    public void TheAdviceIsWorkedOutWhenItIsWantedAndAgainAfterAMarkAndAHold()
    {
        Bench bench = new Bench();
        for (int i = 0; i < 10; i++)
        {
            bench.RunTo((1 + 10 * i) * Second);
            bench.HoldMark(4 * Second + i % 3 * Second / 4);
        }
        bench.RunTo(100 * Second);
        SeaReport sea = bench.Link.Sea;
        Assert.AreEqual(-1, sea.AdvisedMarks);
        bench.Link.WantAdvice(1.5, 0.06);
        long begun = bench.NowUs + Bench.TickUs;
        // Half-way through, nothing of it is told.
        bench.RunTo(begun + 8 * Bench.TickUs);
        Assert.AreEqual(-1, sea.AdvisedMarks);
        Assert.AreEqual(-1, sea.Recommended);
        bench.RunTo(102 * Second);
        FiringAdvice own = new FiringAdvice();
        own.Begin(bench.Desk.Waves.Rhythm, bench.Desk.Waves.Delay, begun, 1.5, 0.06);
        while (!own.Done) own.Step();
        Assert.AreEqual(10, sea.AdvisedMarks);
        Assert.AreEqual(own.Recommended, sea.Recommended);
        for (int way = 0; way < FiringAdvice.Count; way++) Assert.AreEqual(own.Percent(way), sea.Percent(way));
        Assert.IsTrue(sea.Percent(0) > 0);
        Assert.IsTrue(own.LongestSeconds == sea.LongestSeconds && own.DelayAfterMarkSeconds == sea.BestDelaySeconds && sea.AdvisedSeconds == 1.5);
        // Both between two passes, soon after.
        bench.Link.Mark(102 * Second, 102 * Second);
        bench.Link.MarkReleased(4 * Second);
        bench.RunTo(103 * Second);
        Assert.AreEqual(11, sea.AdvisedMarks);
        // A mark that is still held.
        bench.RunTo(110 * Second);
        bench.Mark();
        bench.RunTo(111 * Second);
        Assert.AreEqual(12, sea.AdvisedMarks);
        // No longer wanted: a mark changes nothing.
        bench.Link.WantAdvice(0, 0.06);
        bench.RunTo(122 * Second);
        bench.Mark();
        bench.RunTo(130 * Second);
        Assert.AreEqual(12, sea.AdvisedMarks);
    }

    [TestMethod]
    public void FramesThatAreOffAreCountedFromTheStepOnAndTheFirstWorstIsKept()
    {
        FrameRing ring = new FrameRing();
        ring.BeginRun();
        ring.Add(0, Second, FrameRing.LateStepUs - 1, 0, false, false);
        Assert.AreEqual(0, ring.Off);
        ring.Add(0, Second, FrameRing.LateStepUs, FrameRing.LateStepUs, false, false);
        Assert.AreEqual(1, ring.Off);
        Assert.IsFalse(ring.WorstWasLong);
        ring.Add(0, Second, 0, FrameRing.LateStepUs, true, true);
        Assert.AreEqual(2, ring.Off);
        Assert.IsFalse(ring.WorstWasLong);
        ring.Add(0, Second, 0, FrameRing.LateStepUs + 1, false, false);
        Assert.IsTrue(ring.WorstWasLong);
        Assert.AreEqual(FrameRing.LateStepUs + 1L, ring.WorstOffUs);
        Assert.AreEqual(1, ring.InDoubt);
        Assert.AreEqual(Second, ring.CutUs);
        ring.BeginRun();
        Assert.AreEqual(0, ring.Off);
        Assert.AreEqual(0L, ring.WorstOffUs);
        Assert.AreEqual(0, ring.InDoubt);
        Assert.AreEqual(0L, ring.CutUs);
        Assert.AreEqual(4, ring.Total);
    }
}
