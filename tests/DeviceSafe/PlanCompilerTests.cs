using Intervalometer.Core.Release;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>When a plan lets the camera go on: after the exposure, the dark frame, the gap and the mirror, and after a stop.</summary>
[TestClass]
public class PlanCompilerTests
{
    private const long Second = 1_000_000;
    private const long Lag = 60_000;
    private const long Gap = 200_000;

    private static CameraProfile Camera(bool mirror, bool darkFrame) => new CameraProfile
    {
        HalfPressLeadMs = 300,
        ShutterLagMs = 60,
        MinimumGapMs = 200,
        PulseMs = 120,
        MirrorLockUp = mirror,
        MirrorSettleMs = 1500,
        DarkFrame = darkFrame,
    };

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs, SettleUs = 2 * Second };

    private static string Story(EdgeQueue queue)
    {
        string story = "";
        for (; queue.Count > 0; queue.Drop())
        {
            string line = queue.NextLine == ReleaseLine.HalfPress ? "H" : "S";
            story += (story.Length > 0 ? " " : "") + line + (queue.NextCloses ? "+" : "-") + (queue.NextUs / 1000).ToString();
        }
        return story;
    }

    [TestMethod]
    public void ANewCompilerHasNothingToGive()
    {
        PlanCompiler compiler = new PlanCompiler();
        Assert.IsTrue(compiler.Finished);
        Assert.IsFalse(compiler.AddFrame(new EdgeQueue()));
    }

    [TestMethod]
    public void AFrameIsGivenWholeOrNotAtAll()
    {
        PlanCompiler compiler = new PlanCompiler();
        EdgeQueue queue = new EdgeQueue();
        compiler.Begin(Bulb(Second), Camera(true, false), 0, false);
        for (int i = 0; i < EdgeQueue.Capacity - PlanCompiler.MostEdgesPerFrame + 1; i++) queue.Add(0, ReleaseLine.HalfPress, false, EdgeStep.None, 0);
        Assert.IsFalse(compiler.AddFrame(queue));
        Assert.AreEqual(0, compiler.FramesGiven);
        queue.Drop();
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual(0, queue.Free);
        Assert.IsTrue(compiler.Finished);
    }

    [TestMethod]
    public void TheNextPlanWaitsForTheCameraAndItsMirror()
    {
        PlanCompiler compiler = new PlanCompiler();
        EdgeQueue queue = new EdgeQueue();
        compiler.Begin(Bulb(4 * Second), Camera(false, true), 0, false);
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("H+1700 S+2000 S-6000 H-6000", Story(queue));
        // 2 s, 4 s, the lag, the dark frame of 4 s, the gap.
        long ready = 10 * Second + Lag + Gap;
        Assert.AreEqual(ready, compiler.CameraReadyUs);

        compiler.BeginAt(Bulb(Second), Camera(false, false), 3 * Second, true, false);
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("S+10260 S-11260 H-11260", Story(queue));

        compiler.BeginAt(Bulb(Second), Camera(true, false), 3 * Second, true, false);
        ready = compiler.CameraReadyUs;
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("S+11520 S-11640 S+13020 S-14020 H-14020", Story(queue));
        Assert.AreEqual(11_520_000L, ready);

        compiler.Begin(Bulb(Second), Camera(false, false), 0, false);
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("H+13980 S+14280 S-15280 H-15280", Story(queue));
    }

    [TestMethod]
    public void AMirrorSettlesAtLeastForItsOwnPulseAndTheGap()
    {
        CameraProfile camera = Camera(true, false);
        camera.MirrorSettleMs = 0;
        Assert.AreEqual(620_000L, PlanCompiler.LeadInUs(camera, false));
        Assert.AreEqual(320_000L, PlanCompiler.LeadInUs(camera, true));
    }

    [TestMethod]
    public void AHeldDriveOccupiesTheCameraForTheLongerOfHoldAndExposure()
    {
        PlanCompiler compiler = new PlanCompiler();
        EdgeQueue queue = new EdgeQueue();
        ShotPlan plan = new ShotPlan { Shape = PlanShape.HeldDrive, HoldUs = 3 * Second, ExposureUs = Second / 4, SettleUs = Second };
        compiler.Begin(plan, Camera(false, false), 0, false);
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("H+700 S+1000 S-4000 H-4000", Story(queue));
        Assert.AreEqual(4 * Second + Lag + Gap, compiler.CameraReadyUs);

        compiler = new PlanCompiler();
        plan.ExposureUs = 8 * Second;
        compiler.Begin(plan, Camera(false, false), 0, false);
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("H+700 S+1000 S-4000 H-4000", Story(queue));
        Assert.AreEqual(9 * Second + Lag + Gap, compiler.CameraReadyUs);
    }

    [TestMethod]
    public void HalfPressStaysClosedOnlyOverAShortWait()
    {
        ShotPlan plan = new ShotPlan { Shape = PlanShape.Series, Frames = 2, BoxTimed = true, ExposureUs = Second, SettleUs = Second, IntervalUs = 1_400_000 };
        PlanCompiler compiler = new PlanCompiler();
        EdgeQueue queue = new EdgeQueue();
        // From the end of the first at 2 s to the half-press of the second: 100 ms are too short to open, 101 ms are not.
        compiler.Begin(plan, Camera(false, false), 0, false);
        while (compiler.AddFrame(queue)) { }
        Assert.AreEqual("H+700 S+1000 S-2000 S+2400 S-3400 H-3400", Story(queue));
        compiler = new PlanCompiler();
        plan.IntervalUs = 1_401_000;
        compiler.Begin(plan, Camera(false, false), 0, false);
        while (compiler.AddFrame(queue)) { }
        Assert.AreEqual("H+700 S+1000 S-2000 H-2000 H+2101 S+2401 S-3401 H-3401", Story(queue));
    }

    [TestMethod]
    public void HalfPressIsLeftClosedOnlyWhenAskedFor()
    {
        PlanCompiler compiler = new PlanCompiler();
        EdgeQueue queue = new EdgeQueue();
        compiler.BeginAt(Bulb(Second), Camera(false, false), 5 * Second + Lag, false, true);
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("H+4700 S+5000 S-6000", Story(queue));
        compiler.BeginAt(Bulb(Second), Camera(false, false), 9 * Second + Lag, true, false);
        Assert.IsTrue(compiler.AddFrame(queue));
        Assert.AreEqual("S+9000 S-10000 H-10000", Story(queue));
    }

    [TestMethod]
    public void APlanTakenBackLeavesTheCameraAsReadyAsItWas()
    {
        PlanCompiler compiler = new PlanCompiler();
        EdgeQueue queue = new EdgeQueue();
        compiler.Begin(Bulb(4 * Second), Camera(false, false), 0, false);
        while (compiler.AddFrame(queue)) { }
        long ready = compiler.CameraReadyUs;
        compiler.Begin(Bulb(100 * Second), Camera(false, false), 20 * Second, false);
        while (compiler.AddFrame(queue)) { }
        Assert.IsTrue(compiler.CameraReadyUs > 120 * Second);
        compiler.TakeBack();
        Assert.AreEqual(ready, compiler.CameraReadyUs);
        Assert.IsTrue(compiler.Finished);
    }

    [TestMethod]
    public void AfterAStopTheCameraIsReadyWhenItsShutterAndItsDarkFrameAreDone()
    {
        // Box-timed and cut after 3 s: the camera ends a lag after the lines open.
        Assert.AreEqual(5 * Second + Lag + Gap, ReadyAfterStop(true, false, 5 * Second, 2 * Second + Lag, 60 * Second, true));
        // The same with a dark frame: as long as what was exposed.
        Assert.AreEqual(8 * Second + Lag + Gap, ReadyAfterStop(true, true, 5 * Second, 2 * Second + Lag, 60 * Second, true));
        // Exactly as long as dark frames begin, and just shorter.
        Assert.AreEqual(4 * Second + Lag + Gap, ReadyAfterStop(true, true, 3 * Second, 2 * Second + Lag, 60 * Second, true));
        Assert.AreEqual(3 * Second - 1 + Lag + Gap, ReadyAfterStop(true, true, 3 * Second - 1, 2 * Second + Lag, 60 * Second, true));
        // Cut before the shutter had opened: no dark frame for less than nothing.
        Assert.AreEqual(2 * Second + Lag + Gap, ReadyAfterStop(true, true, 2 * Second, 7 * Second, 60 * Second, true));
        // The camera's own dial goes on to the end of its exposure, whatever the contact does.
        Assert.AreEqual(62 * Second + Lag + Gap, ReadyAfterStop(false, false, 5 * Second, 2 * Second + Lag, 60 * Second, true));
        Assert.AreEqual(122 * Second + Lag + Gap, ReadyAfterStop(false, true, 5 * Second, 2 * Second + Lag, 60 * Second, true));
        // A box-timed frame that had ended before is not cut.
        Assert.AreEqual(3 * Second + Lag + Gap, ReadyAfterStop(true, false, 3 * Second, 2 * Second + Lag, Second, false));
        // Long after everything, only the gap from now.
        Assert.AreEqual(90 * Second + Gap, ReadyAfterStop(true, false, 90 * Second, 2 * Second + Lag, Second, false));
    }

    private static long ReadyAfterStop(bool boxTimed, bool darkFrame, long nowUs, long startUs, long exposureUs, bool cutShort)
    {
        PlanCompiler compiler = new PlanCompiler();
        ShotPlan plan = Bulb(exposureUs);
        plan.BoxTimed = boxTimed;
        compiler.Begin(plan, Camera(false, darkFrame), 0, false);
        while (compiler.AddFrame(new EdgeQueue())) { }
        compiler.Interrupt(nowUs, startUs, exposureUs, cutShort);
        Assert.IsTrue(compiler.Finished);
        return compiler.CameraReadyUs;
    }
}
