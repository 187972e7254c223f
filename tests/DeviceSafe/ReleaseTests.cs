using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Plans become edges, and the edges reach the contacts on time.</summary>
[TestClass]
public class ReleaseTests
{
    private const long Second = 1_000_000;

    private static CameraProfile Camera() => new CameraProfile
    {
        HalfPressLeadMs = 300,
        ShutterLagMs = 60,
        MinimumGapMs = 200,
        PulseMs = 120,
    };

    private static void Request(Bench bench, ShotPlan plan, CameraProfile camera)
    {
        Assert.IsNull(plan.Fault()!);
        Assert.IsTrue(bench.Desk.StartPlan(plan, camera, bench.NowUs));
    }

    [TestMethod]
    public void ABulbOfSixtyFourSecondsIsSixtyFourSecondsLong()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { BoxTimed = true, ExposureUs = 64 * Second, SettleUs = 2 * Second }, Camera());
        bench.RunTo(70 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(1_700_000L, bench.Lines.AtUs(0));
        Assert.AreEqual(2 * Second, bench.Lines.AtUs(1));
        Assert.AreEqual(66 * Second, bench.Lines.AtUs(2));
        Assert.AreEqual(66 * Second, bench.Lines.AtUs(3));
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
    }

    [TestMethod]
    public void WithoutSettlingTheLimiterAndTheHalfPressStillGetTheirTime()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { ExposureUs = Second }, Camera());
        bench.RunTo(5 * Second);
        Assert.AreEqual(PlanCompiler.LimiterUs, bench.Lines.AtUs(0));
        Assert.AreEqual(PlanCompiler.LimiterUs + 300_000, bench.Lines.AtUs(1));
        Assert.AreEqual(PlanCompiler.LimiterUs + 420_000, bench.Lines.AtUs(2));
    }

    [TestMethod]
    public void ABurstKeepsItsGapFromEndToStart()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { Shape = PlanShape.Burst, Frames = 3, BoxTimed = true, ExposureUs = Second, GapUs = 500_000, SettleUs = Second }, Camera());
        bench.RunTo(20 * Second);
        Assert.AreEqual(1_000_000L, bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(2_000_000L, bench.Lines.ShutterEdgeUs(1));
        Assert.AreEqual(2_500_000L, bench.Lines.ShutterEdgeUs(2));
        Assert.AreEqual(4_000_000L, bench.Lines.ShutterEdgeUs(4));
    }

    [TestMethod]
    public void ADarkFrameHoldsBackTheNextOne()
    {
        Bench bench = new Bench();
        CameraProfile camera = Camera();
        camera.DarkFrame = true;
        Request(bench, new ShotPlan { Shape = PlanShape.Series, Frames = 2, BoxTimed = true, ExposureUs = 8 * Second, IntervalUs = 10 * Second, SettleUs = Second }, camera);
        bench.RunTo(60 * Second);
        // 1 s + lag + 8 s + 8 s dark + least gap.
        Assert.AreEqual(17_260_000L, bench.Lines.ShutterEdgeUs(2));
    }

    [TestMethod]
    public void ASeriesDoesNotDrift()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { Shape = PlanShape.Series, Frames = 40, ExposureUs = Second / 4, IntervalUs = 3_333_333, SettleUs = Second }, Camera());
        bench.RunTo(160 * Second);
        Assert.AreEqual(1_000_000L + 39 * 3_333_333L, bench.Lines.ShutterEdgeUs(78));
        Assert.AreEqual(40, bench.Desk.Player.FramesStarted);
    }

    [TestMethod]
    public void MirrorLockUpPressesTwice()
    {
        Bench bench = new Bench();
        CameraProfile camera = Camera();
        camera.MirrorLockUp = true;
        camera.MirrorSettleMs = 2000;
        Request(bench, new ShotPlan { BoxTimed = true, ExposureUs = 4 * Second, SettleUs = 3 * Second }, camera);
        bench.RunTo(20 * Second);
        Assert.AreEqual("H+ S+ S- S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(1 * Second, bench.Lines.AtUs(1));
        Assert.AreEqual(3 * Second, bench.Lines.AtUs(3));
    }

    [TestMethod]
    public void ABracketGoesUnderAndOverInTrueStops()
    {
        ShotPlan plan = new ShotPlan { Shape = PlanShape.Bracket, Frames = 5, BoxTimed = true, ExposureUs = 8 * Second, BracketThirds = 3 };
        Assert.AreEqual(8 * Second, plan.ExposureOf(0));
        Assert.AreEqual(4 * Second, plan.ExposureOf(1));
        Assert.AreEqual(16 * Second, plan.ExposureOf(2));
        Assert.AreEqual(2 * Second, plan.ExposureOf(3));
        Assert.AreEqual(32 * Second, plan.ExposureOf(4));
    }

    [TestMethod]
    public void AHeldDriveKeepsTheContactClosed()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { Shape = PlanShape.HeldDrive, ExposureUs = Second / 8, HoldUs = 3 * Second, SettleUs = Second }, Camera());
        bench.RunTo(10 * Second);
        Assert.AreEqual(1 * Second, bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(4 * Second, bench.Lines.ShutterEdgeUs(1));
    }

    [TestMethod]
    public void ImpossiblePlansSayWhatToDo()
    {
        Assert.AreEqual("On bulb, set 0.1 s or longer.", new ShotPlan { BoxTimed = true, ExposureUs = 50_000 }.Fault()!);
        Assert.AreEqual("A bracket is timed by the box: set FRAMES to box (bulb) and the camera to B.", new ShotPlan { Shape = PlanShape.Bracket, Frames = 3 }.Fault()!);
        Assert.AreEqual("Set 99 frames or fewer.", new ShotPlan { Shape = PlanShape.Burst, Frames = 100 }.Fault()!);
        Assert.AreEqual("The interval has no length.", new ShotPlan { Shape = PlanShape.Series, Frames = 2, IntervalUs = 0 }.Fault()!);
    }

    [TestMethod]
    public void AStopOpensBothAndTheCameraIsReadyAgainSoon()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { BoxTimed = true, ExposureUs = 600 * Second, SettleUs = Second }, Camera());
        bench.RunTo(30 * Second);
        Assert.IsTrue(bench.Lines.Shutter);
        bench.Desk.StopNow(bench.NowUs);
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.IsFalse(bench.Lines.HalfPress);
        Assert.AreEqual((int)RunState.Stopped, (int)bench.Desk.State);
        Assert.AreEqual(30 * Second + 260_000, bench.Desk.Player.CameraReadyUs);
        bench.RunTo(700 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
    }

    [TestMethod]
    public void AShutterEdgeThatComesFarTooLateIsNotTaken()
    {
        Bench bench = new Bench();
        Request(bench, new ShotPlan { BoxTimed = true, ExposureUs = 2 * Second, SettleUs = Second }, Camera());
        bench.RunTo(Second / 2);
        bench.Desk.Pass(3 * Second);
        Assert.AreEqual((int)RunState.Failed, (int)bench.Desk.State);
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.IsFalse(bench.Lines.HalfPress);
    }
}
