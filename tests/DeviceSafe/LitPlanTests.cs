using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A frame whose end the light brings forward: sooner only, in time, with everything that follows from it.</summary>
[TestClass]
public class LitPlanTests
{
    private const long Second = 1_000_000;

    // One frame of 10 s that may take 20.
    private static Bench Open(bool byLight, bool darkFrame = false)
    {
        Bench bench = new Bench();
        FireOrder order = bench.Link.TryFill()!;
        order.Plan.Shape = PlanShape.Single;
        order.Plan.BoxTimed = true;
        order.Plan.SettleUs = 0;
        order.Plan.ExposureUs = 10 * Second;
        if (byLight) order.Plan.LeaveToLight(20 * Second);
        order.Camera.DarkFrame = darkFrame;
        bench.Link.Offer();
        bench.Link.Fire(bench.NowUs);
        bench.RunTo(bench.NowUs + 2 * Second);
        Assert.IsTrue(bench.Link.Report.ShutterClosed);
        return bench;
    }

    private static double Taken(Bench bench)
    {
        Assert.AreEqual(1, bench.Link.Frames.Total);
        // divisor: a constant
        return bench.Link.Frames.ExposureUs(0) / 1e6;
    }

    /// <summary>With nobody to end it the frame takes the longest time.</summary>
    [TestMethod]
    public void UnsaidItTakesTheLongestTime()
    {
        Bench bench = Open(true);
        Assert.AreEqual(10 * Second, bench.Link.Report.PlannedUs);
        bench.RunTo(bench.NowUs + 30 * Second);
        Check.Near(20, Taken(bench), 0.01, "seconds");
        Assert.IsTrue(bench.Link.State == RunState.Done);
    }

    /// <summary>Said ahead, the contact opens at that moment, both contacts are open after it, and nothing is told as off its plan.</summary>
    [TestMethod]
    public void ItEndsWhenItWasSaid()
    {
        Bench bench = Open(true);
        long start = bench.Link.Report.FrameStartUs;
        bench.Link.EndFrameAt(start + 7 * Second);
        bench.RunTo(bench.NowUs + 100_000);
        Assert.AreEqual(start + 7 * Second, bench.Link.Report.FrameEndUs);
        bench.RunTo(bench.NowUs + 20 * Second);
        Check.Near(7, Taken(bench), 0.01, "seconds");
        Assert.IsFalse(bench.Link.Report.ShutterClosed || bench.Link.Report.HalfPressClosed);
        Assert.AreEqual(0, bench.Link.Frames.Off);
        Assert.IsFalse(bench.Link.Frames.CutShort(0));
        Assert.IsTrue(bench.Link.State == RunState.Done);
    }

    /// <summary>What would put the end off changes nothing, and what comes too late ends it as soon as an edge can be.</summary>
    [TestMethod]
    public void ItIsNeverPutOffAndNeverInThePast()
    {
        Bench bench = Open(true);
        long start = bench.Link.Report.FrameStartUs;
        bench.Link.EndFrameAt(start + 25 * Second);
        bench.RunTo(bench.NowUs + 100_000);
        Assert.AreEqual(start + 20 * Second, bench.Link.Report.FrameEndUs);
        bench = Open(true);
        long now = bench.NowUs;
        bench.Link.EndFrameAt(now - Second);
        bench.RunTo(now + 200_000);
        Assert.AreEqual(1, bench.Link.Frames.Total);
        bench.RunTo(now + Second);
        Assert.IsTrue(bench.Link.State == RunState.Done);
    }

    /// <summary>A plan that is not left to the light, and a frame of a later run, are not touched by it.</summary>
    [TestMethod]
    public void NothingElseIsEndedByIt()
    {
        Bench bench = Open(false);
        bench.Link.EndFrameAt(bench.NowUs + Second);
        bench.RunTo(bench.NowUs + 15 * Second);
        Check.Near(10, Taken(bench), 0.01, "seconds");
        Assert.AreEqual(0L, bench.Link.Report.PlannedUs);
    }

    /// <summary>The camera is ready as much sooner as frame and dark frame are shorter.</summary>
    [TestMethod]
    public void TheCameraIsReadySooner()
    {
        for (int dark = 0; dark < 2; dark++)
        {
            Bench bench = Open(true, dark == 1);
            long ready = bench.Desk.Player.CameraReadyUs;
            bench.Link.EndFrameAt(bench.Link.Report.FrameStartUs + 8 * Second);
            bench.RunTo(bench.NowUs + 100_000);
            Assert.AreEqual(ready - 12 * Second * (1 + dark), bench.Desk.Player.CameraReadyUs);
        }
    }
}
