using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Plans whose frames get other exposures while they play: which frames, in which limits, and what follows for the frames after them.</summary>
[TestClass]
public class FollowedPlanTests
{
    private const long Second = 1_000_000;

    // Four frames of 2 s, ten seconds apart, which may become up to 5 s long. The time is halfway through the first frame.
    private static Bench Open(PlanShape shape, bool darkFrame = false, long upToUs = 5 * Second)
    {
        Bench bench = new Bench();
        FireOrder order = bench.Link.TryFill()!;
        order.Plan.Shape = shape;
        order.Plan.BoxTimed = true;
        order.Plan.SettleUs = 0;
        order.Plan.Frames = 4;
        order.Plan.IntervalUs = 10 * Second;
        order.Plan.GapUs = Second;
        order.Plan.ExposureUs = 2 * Second;
        order.Plan.FollowsUpToUs = upToUs;
        order.Camera.DarkFrame = darkFrame;
        bench.Link.Offer();
        bench.Link.Fire(bench.NowUs);
        while (!bench.Link.Report.ShutterClosed) bench.RunTo(bench.NowUs + 100_000);
        bench.RunTo(bench.NowUs + Second);
        return bench;
    }

    private static void IsTaken(Bench bench, int frame, double seconds, double from)
    {
        FrameRing frames = bench.Link.Frames;
        // divisor: a constant
        Check.Near(seconds, frames.ExposureUs(frame) / 1e6, 0.001, "seconds of frame " + frame.ToString());
        // divisor: a constant
        Check.Near(from, (frames.StartUs(frame) - frames.StartUs(0)) / 1e6, 0.011, "start of frame " + frame.ToString());
    }

    private static void Ends(Bench bench)
    {
        bench.RunTo(bench.NowUs + 60 * Second);
        Assert.IsTrue(bench.Link.State == RunState.Done);
        Assert.AreEqual(4, bench.Link.Frames.Total);
        Assert.AreEqual(0, bench.Link.Frames.Off);
        Assert.IsFalse(bench.Link.Report.ShutterClosed || bench.Link.Report.HalfPressClosed);
    }

    /// <summary>While the panel says nothing, every frame has the exposure of the plan.</summary>
    [TestMethod]
    public void UnsaidTheyHaveTheExposureOfThePlan()
    {
        Bench bench = Open(PlanShape.Series);
        Assert.AreEqual(5 * Second, bench.Link.Report.FollowsUpToUs);
        Ends(bench);
        for (int i = 0; i < 4; i++) IsTaken(bench, i, 2, 10 * i);
    }

    /// <summary>The open frame stays as it is. The next ones change, again and again until they open, and the interval stays.</summary>
    [TestMethod]
    public void TheFramesToComeChangeUntilTheyOpen()
    {
        Bench bench = Open(PlanShape.Series);
        bench.Link.FollowTo(3 * Second);
        bench.RunTo(bench.NowUs + 5 * Second);
        bench.Link.FollowTo(4 * Second);
        bench.RunTo(bench.NowUs + 5 * Second);
        Assert.AreEqual(2, bench.Link.Report.FramesStarted);
        Assert.AreEqual(4 * Second, bench.Link.Report.FrameEndUs - bench.Link.Report.FrameStartUs);
        bench.Link.FollowTo(Second);
        Ends(bench);
        IsTaken(bench, 0, 2, 0);
        IsTaken(bench, 1, 4, 10);
        IsTaken(bench, 2, 1, 20);
        IsTaken(bench, 3, 1, 30);
    }

    /// <summary>No frame is longer than the plan allows, or shorter than the box can time.</summary>
    [TestMethod]
    public void TheLimitsHold()
    {
        Bench bench = Open(PlanShape.Series);
        bench.Link.FollowTo(100 * Second);
        bench.RunTo(bench.NowUs + 10 * Second);
        bench.Link.FollowTo(1);
        Ends(bench);
        IsTaken(bench, 1, 5, 10);
        IsTaken(bench, 2, 0.1, 20);
    }

    /// <summary>In a burst the gap stays, with the dark frame of the camera too: it is as long as the exposure is now.</summary>
    [TestMethod]
    public void TheGapOfABurstStays()
    {
        Bench bench = Open(PlanShape.Burst);
        bench.Link.FollowTo(3 * Second);
        Ends(bench);
        IsTaken(bench, 1, 3, 3);
        IsTaken(bench, 2, 3, 7);
        bench = Open(PlanShape.Burst, true);
        bench.Link.FollowTo(4 * Second);
        Ends(bench);
        // 2 s, the dark frame, and the least gap of 0.2 s; then 4 s twice and the gap. The shutter's lag passes in each.
        IsTaken(bench, 1, 4, 4.26);
        IsTaken(bench, 2, 4, 4.26 + 8.26);
        bench = Open(PlanShape.Burst, true);
        bench.Link.FollowTo(Second / 2);
        Ends(bench);
        IsTaken(bench, 2, 0.5, 4.26 + 1.5);
    }

    /// <summary>A plan that does not follow takes no notice, an exposure that was said for an earlier run has no effect, and close to an edge nothing moves.</summary>
    [TestMethod]
    public void OtherPlansAndMomentsAreLeftAlone()
    {
        Bench bench = Open(PlanShape.Series, false, 0);
        bench.Link.FollowTo(3 * Second);
        Ends(bench);
        for (int i = 0; i < 4; i++) IsTaken(bench, i, 2, 10 * i);
        bench = Open(PlanShape.Series);
        bench.RunTo(bench.Link.NextEdgeUs - 15_000);
        bench.Link.FollowTo(3 * Second);
        Ends(bench);
        IsTaken(bench, 0, 2, 0);
        IsTaken(bench, 1, 2, 10);
    }

    /// <summary>The longest exposure that keeps an interval: lag, gap, dark frame, mirror and the lead of half-press are taken off.</summary>
    [TestMethod]
    public void TheLongestExposureThatKeepsTheInterval()
    {
        ShotPlan plan = new ShotPlan { Shape = PlanShape.Series, IntervalUs = 10 * Second, ExposureUs = Second };
        CameraProfile camera = new CameraProfile { HalfPressLeadMs = 0, ShutterLagMs = 60, MinimumGapMs = 200 };
        Assert.AreEqual(9_740_000, PlanCompiler.LongestInIntervalUs(plan, camera));
        camera.HalfPressLeadMs = 1000;
        Assert.AreEqual(8_900_000, PlanCompiler.LongestInIntervalUs(plan, camera));
        camera.DarkFrame = true;
        Assert.AreEqual(4_870_000, PlanCompiler.LongestInIntervalUs(plan, camera));
        camera.MirrorLockUp = true;
        Assert.AreEqual(3_870_000, PlanCompiler.LongestInIntervalUs(plan, camera));
        plan.IntervalUs = 4 * Second;
        Assert.AreEqual(Second, PlanCompiler.LongestInIntervalUs(plan, camera));
        camera.MirrorLockUp = false;
        camera.HalfPressLeadMs = 0;
        plan.ExposureUs = 500_000;
        plan.IntervalUs = 2 * Second;
        Assert.AreEqual(999_999, PlanCompiler.LongestInIntervalUs(plan, camera));
        plan.ExposureUs = 3 * Second;
        Assert.AreEqual(3 * Second, PlanCompiler.LongestInIntervalUs(plan, camera));
    }
}
