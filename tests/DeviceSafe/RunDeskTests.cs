using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Which runs the run desk accepts and refuses, and the state of a run that has ended.</summary>
[TestClass]
public class RunDeskTests
{
    private const long Second = 1_000_000;

    private static ShotPlan Bulb() => new ShotPlan { BoxTimed = true, ExposureUs = 4 * Second, SettleUs = 2 * Second };

    private static void Request(Bench bench, ShotPlan plan) => Assert.IsTrue(bench.Desk.StartPlan(plan, new CameraProfile(), bench.NowUs));

    [TestMethod]
    public void OneRunAtATime()
    {
        Bench bench = new Bench();
        Request(bench, Bulb());
        Assert.IsTrue(bench.Desk.Running);
        Assert.IsFalse(bench.Desk.StartPlan(Bulb(), new CameraProfile(), 0));
        Assert.IsFalse(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnRhythm }, Bulb(), new CameraProfile(), bench.NowUs));
        bench.RunTo(3 * Second);
        Assert.IsFalse(bench.Desk.StartPlan(Bulb(), new CameraProfile(), 3 * Second));
        bench.RunTo(60 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());

        // A run that asks for marks is on, and a request for one counts like a plan's.
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnRhythm }, Bulb(), new CameraProfile(), bench.NowUs));
        Assert.IsFalse(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnRhythm }, Bulb(), new CameraProfile(), bench.NowUs));
        bench.RunTo(61 * Second);
        Assert.AreEqual((int)RunState.AskMark, (int)bench.Desk.State);
        Assert.IsTrue(bench.Desk.Running);
        Assert.IsFalse(bench.Desk.StartPlan(Bulb(), new CameraProfile(), 61 * Second));
    }

    [TestMethod]
    public void AnEndedRunStandsUntilItHasBeenRead()
    {
        Bench bench = new Bench();
        Request(bench, Bulb());
        bench.RunTo(Second);
        bench.Desk.Acknowledge();
        bench.RunTo(10 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.IsFalse(bench.Desk.LastRunOnWaves);
        bench.Desk.Acknowledge();
        bench.RunTo(11 * Second);
        Assert.AreEqual((int)RunState.Ready, (int)bench.Desk.State);

        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnRhythm }, Bulb(), new CameraProfile(), bench.NowUs));
        bench.RunTo(12 * Second);
        Assert.IsTrue(bench.Desk.LastRunOnWaves);
        bench.Desk.StopNow(bench.NowUs);
        Assert.AreEqual((int)RunState.Stopped, (int)bench.Desk.State);
        Assert.IsTrue(bench.Desk.LastRunOnWaves);
        bench.Desk.Acknowledge();
        bench.RunTo(13 * Second);
        Assert.AreEqual((int)RunState.Ready, (int)bench.Desk.State);
        Request(bench, Bulb());
        bench.RunTo(14 * Second);
        Assert.IsFalse(bench.Desk.LastRunOnWaves);
    }

    [TestMethod]
    public void APlanIsDoneWhenTheCamerasOwnExposureIs()
    {
        Bench bench = new Bench();
        CameraProfile camera = new CameraProfile();
        Assert.IsTrue(bench.Desk.StartPlan(new ShotPlan { ExposureUs = 4 * Second, SettleUs = 2 * Second }, camera, 0));
        long end = 6 * Second + camera.ShutterLagMs * 1000;
        bench.RunTo(end - 1);
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.AreEqual((int)RunState.Plan, (int)bench.Desk.State);
        bench.RunTo(end);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
    }

    [TestMethod]
    public void AMarkTeachesAtAllTimesAndStartsNothing()
    {
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, 3);
        Assert.AreEqual((int)RunState.Ready, (int)bench.Desk.State);
        Assert.AreEqual(3, bench.Desk.Waves.Rhythm.MarkCount);

        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnMark }, Bulb(), new CameraProfile(), bench.NowUs));
        bench.RunTo(30 * Second);
        Assert.AreEqual((int)RunState.AwaitMark, (int)bench.Desk.State);
        bench.Desk.StopNow(bench.NowUs);
        bench.MarkSteadily(35 * Second, 10 * Second, 2);
        bench.RunTo(60 * Second);
        Assert.AreEqual("H+ H-", bench.Lines.Story());
        Assert.AreEqual((int)RunState.Stopped, (int)bench.Desk.State);
        Assert.AreEqual(5, bench.Desk.Waves.Rhythm.MarkCount);
    }

    [TestMethod]
    public void AskedToEndItEndsBetweenFramesAndOnlyThatRun()
    {
        Bench bench = new Bench();
        ShotPlan series = new ShotPlan { Shape = PlanShape.Series, Frames = 5, BoxTimed = true, ExposureUs = 4 * Second, IntervalUs = 10 * Second, SettleUs = 2 * Second };
        Request(bench, series);
        bench.RunTo(3 * Second);
        Assert.IsFalse(bench.Desk.EndedEarly);
        bench.Desk.EndBetweenFrames();
        bench.RunTo(5 * Second);
        Assert.IsTrue(bench.Lines.Shutter);
        bench.RunTo(7 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(6 * Second, bench.Lines.ShutterEdgeUs(1));
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.IsTrue(bench.Desk.EndedEarly);
        // Reading the end leaves what it was, until the next run begins.
        bench.Desk.Acknowledge();
        bench.RunTo(8 * Second);
        Assert.IsTrue(bench.Desk.EndedEarly);

        // Asked for while nothing runs, it ends nothing later.
        bench.Desk.EndBetweenFrames();
        bench.RunTo(9 * Second);
        Request(bench, Bulb());
        bench.RunTo(30 * Second);
        Assert.AreEqual("H+ S+ S- H- H+ S+ S- H-", bench.Lines.Story());
        Assert.IsFalse(bench.Desk.EndedEarly);
    }

    /// <summary>However long ago the press was: limiter, half-press and settling have their whole time.</summary>
    [TestMethod]
    public void ARunCountsFromWhereItIsTakenUp()
    {
        Bench bench = new Bench();
        ShotPlan plan = new ShotPlan { BoxTimed = true, ExposureUs = Second };
        bench.RunTo(450_000);
        Assert.IsTrue(bench.Desk.StartPlan(plan, new CameraProfile { HalfPressLeadMs = 0 }, bench.NowUs));
        bench.RunTo(5 * Second);
        Assert.AreEqual(450_000 + PlanCompiler.LimiterUs, bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(450_000 + PlanCompiler.LimiterUs + Second, bench.Lines.ShutterEdgeUs(1));
    }

    /// <summary>Nothing of the previous run is taken for a frame of this one.</summary>
    [TestMethod]
    public void AStopInTheMirrorsPulseHoldsTheCameraBackForTheGapAlone()
    {
        Bench bench = new Bench();
        CameraProfile camera = new CameraProfile { MirrorLockUp = true, DarkFrame = true };
        Assert.IsTrue(bench.Desk.StartPlan(Bulb(), camera, 0));
        bench.RunTo(60 * Second);
        bench.Desk.Acknowledge();
        bench.RunTo(3600 * Second);
        Assert.IsTrue(bench.Desk.StartPlan(Bulb(), camera, bench.NowUs));
        while (bench.Lines.ShutterEdgeUs(4) < 0) bench.RunTo(bench.NowUs + Bench.TickUs);
        long stopped = bench.NowUs;
        bench.Desk.StopNow(stopped);
        Assert.AreEqual(stopped + 200_000, bench.Desk.Player.CameraReadyUs);
        Assert.IsTrue(bench.Desk.Player.MirrorUp);
    }

    /// <summary>Fire and Back together are two stops in one pass.</summary>
    [TestMethod]
    public void ASecondStopChangesNothing()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { BoxTimed = true, ExposureUs = 600 * Second, SettleUs = 2 * Second });
        bench.RunTo(10 * Second);
        bench.Desk.StopNow(bench.NowUs);
        bench.Desk.StopNow(bench.NowUs);
        Assert.AreEqual(10 * Second + 260_000, bench.Desk.Player.CameraReadyUs);
        Assert.AreEqual(8 * Second, bench.Link.Frames.CutUs);
        Assert.AreEqual(1, bench.Link.Frames.Total);
    }

    /// <summary>After an error elsewhere has opened the lines, no edge of the plan may close them again, however long the loop goes on.</summary>
    [TestMethod]
    public void AfterAnErrorOutsideNoEdgeOfThePlanComes()
    {
        Bench bench = new Bench();
        // More frames than are planned ahead at any time.
        Request(bench, new ShotPlan { Shape = PlanShape.Burst, Frames = 99, BoxTimed = true, ExposureUs = Second, SettleUs = 2 * Second });
        bench.RunTo(1_900_000);
        Assert.IsTrue(bench.Lines.HalfPress);
        Assert.IsTrue(bench.Desk.NextEdgeUs < long.MaxValue);
        bench.Lines.OpenAll();
        bench.Desk.Fail();
        Assert.AreEqual(long.MaxValue, bench.Desk.NextEdgeUs);
        bench.RunTo(60 * Second);
        Assert.AreEqual((int)RunState.Failed, (int)bench.Desk.State);
        Assert.AreEqual("H+ H-", bench.Lines.Story());
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.AreEqual(0, bench.Desk.Player.FramesStarted);
    }

    /// <summary>A plan that came too late ended its own run, and no other.</summary>
    [TestMethod]
    public void ARunOnTheWavesStartsAfterAPlanThatCameTooLate()
    {
        Bench bench = new Bench();
        Request(bench, Bulb());
        bench.RunTo(1_900_000);
        bench.StandStill(ReleasePlayer.LatestUs + Second);
        Assert.AreEqual((int)RunState.Failed, (int)bench.Desk.State);
        Assert.AreEqual((int)PlayerFailure.TooLate, (int)bench.Desk.Player.Failure);
        bench.Desk.Acknowledge();
        WaveOrder order = new WaveOrder { Way = FiringWay.OnMark, Waves = 1 };
        Assert.IsTrue(bench.Desk.StartWaves(order, Bulb(), new CameraProfile(), bench.NowUs));
        bench.RunTo(10 * Second);
        Assert.AreEqual((int)RunState.AwaitMark, (int)bench.Desk.State);
        bench.Mark();
        bench.RunTo(30 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.AreEqual(1, bench.Desk.Player.FramesStarted);
    }

    private static ShotPlan ByHand()
    {
        ShotPlan plan = new ShotPlan { Shape = PlanShape.ByHand, BoxTimed = true, ExposureUs = 4 * Second, SettleUs = 2 * Second };
        plan.LeaveToHand(30);
        return plan;
    }

    [TestMethod]
    public void AStopIsTheEndOfAFrameThatAPersonEnds()
    {
        Bench bench = new Bench();
        ShotPlan plan = ByHand();
        Assert.AreEqual(4 * Second, plan.AnswerUs);
        Assert.AreEqual(1, plan.FrameCount);
        Request(bench, plan);
        bench.RunTo(9 * Second);
        Assert.IsTrue(bench.Desk.Player.HandEndsFrame);
        bench.Desk.StopNow(bench.NowUs);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(1, bench.Link.Frames.Total);
        Assert.IsFalse(bench.Link.Frames.CutShort(0));
        Assert.AreEqual(0L, bench.Link.Frames.CutUs);
        Assert.IsFalse(bench.Desk.Player.HandEndsFrame);
        bench.RunTo(60 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
    }

    [TestMethod]
    public void WithoutAPressItEndsAtTheLongestExposureAllowed()
    {
        Bench bench = new Bench();
        Request(bench, ByHand());
        bench.RunTo(31 * Second);
        Assert.AreEqual((int)RunState.Plan, (int)bench.Desk.State);
        bench.RunTo(60 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.AreEqual(30 * Second, bench.Link.Frames.ExposureUs(0));
    }

    [TestMethod]
    public void BeforeTheFrameAStopIsAStop()
    {
        Bench bench = new Bench();
        Request(bench, ByHand());
        bench.RunTo(1_500_000);
        bench.Desk.StopNow(bench.NowUs);
        Assert.AreEqual((int)RunState.Stopped, (int)bench.Desk.State);
        Assert.AreEqual(0, bench.Link.Frames.Total);
    }
}
