using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>When the battery warns and refuses (thresholds of hardware/power.md), and how a run ends between two frames.</summary>
[TestClass]
public class BatteryTests
{
    private const long Second = 1_000_000;

    private static void Told(BatteryWatch watch, int millivolts, BatteryState expected)
    {
        watch.Take(millivolts);
        Assert.AreEqual((int)expected, (int)watch.State, millivolts.ToString() + " mV");
    }

    [TestMethod]
    public void ItWarnsBelow3600AndRefusesBelow3500Millivolts()
    {
        BatteryWatch watch = new BatteryWatch();
        Told(watch, 4100, BatteryState.Good);
        Told(watch, 3600, BatteryState.Good);
        Told(watch, 3599, BatteryState.Low);
        Told(watch, 3500, BatteryState.Low);
        Assert.IsFalse(watch.Refuses);
        Told(watch, 3499, BatteryState.Empty);
        Assert.IsTrue(watch.Refuses);
        Assert.AreEqual("3.50 V", watch.Volts);
    }

    [TestMethod]
    public void ACellThatSagsAndRecoversByUnder100MillivoltsDoesNotFlap()
    {
        BatteryWatch watch = new BatteryWatch();
        Told(watch, 3590, BatteryState.Low);
        Told(watch, 3699, BatteryState.Low);
        Told(watch, 3700, BatteryState.Good);
        Told(watch, 3610, BatteryState.Good);
        Told(watch, 3490, BatteryState.Empty);
        Told(watch, 3599, BatteryState.Empty);
        Told(watch, 3600, BatteryState.Low);
        Told(watch, 3510, BatteryState.Low);
        Told(watch, 3490, BatteryState.Empty);
        // A charged cell goes in.
        Told(watch, 4000, BatteryState.Good);
    }

    [TestMethod]
    public void WhatNoCellCouldShowIsNoReadingAndBlocksNothing()
    {
        BatteryWatch watch = new BatteryWatch();
        Assert.AreEqual((int)BatteryState.Unread, (int)watch.State);
        Told(watch, 3400, BatteryState.Empty);
        Told(watch, -1, BatteryState.Unread);
        Assert.IsFalse(watch.Refuses);
        Assert.IsFalse(watch.Troubles);
        Assert.AreEqual("", watch.Volts);
        // A gauge that is not wired, with the box on USB power at the bench.
        Told(watch, 284, BatteryState.Unread);
        Told(watch, 2500, BatteryState.Empty);
        // USB power at the cell's terminals.
        Told(watch, 5000, BatteryState.Good);
    }

    private static ShotPlan Series(int frames) => new ShotPlan
    {
        Shape = PlanShape.Series,
        Frames = frames,
        BoxTimed = true,
        ExposureUs = 4 * Second,
        IntervalUs = 10 * Second,
        SettleUs = 2 * Second,
    };

    [TestMethod]
    public void ASeriesEndsAfterTheFrameThatIsUnderWay()
    {
        Bench bench = new Bench();
        Assert.IsTrue(bench.Desk.StartPlan(Series(5), new CameraProfile(), 0));
        bench.RunTo(13 * Second);
        Assert.IsTrue(bench.Lines.Shutter, "the second frame is on");
        bench.Desk.EndBetweenFrames();
        bench.RunTo(15 * Second);
        Assert.IsTrue(bench.Lines.Shutter, "the run goes on");
        bench.RunTo(60 * Second);
        Assert.AreEqual(4 * Second, bench.Lines.ShutterEdgeUs(3) - bench.Lines.ShutterEdgeUs(2));
        Assert.AreEqual(-1L, bench.Lines.ShutterEdgeUs(4));
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.IsTrue(bench.Desk.EndedEarly);
        Assert.IsFalse(bench.Lines.HalfPress);
        Assert.AreEqual(2, bench.Link.Frames.Total);
    }

    [TestMethod]
    public void TheLastFrameOfAPlanIsNoEarlyEndAndTheNextRunStartsAfresh()
    {
        Bench bench = new Bench();
        Assert.IsTrue(bench.Desk.StartPlan(Series(1), new CameraProfile(), 0));
        bench.RunTo(3 * Second);
        bench.Desk.EndBetweenFrames();
        bench.RunTo(20 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.IsFalse(bench.Desk.EndedEarly);
        // An end that is asked for while nothing runs does not affect the next run.
        bench.Desk.EndBetweenFrames();
        bench.Desk.Acknowledge();
        bench.RunTo(21 * Second);
        Assert.IsTrue(bench.Desk.StartPlan(Series(2), new CameraProfile(), bench.NowUs));
        bench.RunTo(60 * Second);
        Assert.AreEqual(3, bench.Link.Frames.Total);
        Assert.IsFalse(bench.Desk.EndedEarly);
    }

    [TestMethod]
    public void ARaisedMirrorIsNotLeftStandingForAFrameThatNeverComes()
    {
        Bench bench = new Bench();
        CameraProfile camera = new CameraProfile { MirrorLockUp = true };
        Assert.IsTrue(bench.Desk.StartPlan(Series(3), camera, 0));
        // The pulse that raises the mirror is over; the frame has not begun.
        while (bench.Lines.ShutterEdgeUs(1) < 0) bench.RunTo(bench.NowUs + Bench.TickUs);
        Assert.AreEqual(0, bench.Link.Frames.Total);
        bench.Desk.EndBetweenFrames();
        bench.RunTo(60 * Second);
        Assert.AreEqual(1, bench.Link.Frames.Total, "the frame that the mirror was raised for");
        Assert.IsTrue(bench.Desk.EndedEarly);
    }

    [TestMethod]
    public void ARunOnTheWavesEndsAfterTheFrameOnTheWaveOrAtOnceBetweenWaves()
    {
        Bench bench = new Bench();
        ShotPlan one = new ShotPlan { Shape = PlanShape.Single, BoxTimed = true, ExposureUs = 2 * Second };
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnMark }, one, new CameraProfile(), bench.NowUs));
        bench.RunTo(4 * Second);
        bench.Mark();
        bench.RunTo(5 * Second);
        Assert.IsTrue(bench.Lines.Shutter);
        bench.Desk.EndBetweenFrames();
        bench.RunTo(20 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(2 * Second, bench.Lines.ShutterEdgeUs(1) - bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
        Assert.IsTrue(bench.Desk.EndedEarly);
        bench.Desk.Acknowledge();
        bench.RunTo(21 * Second);
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnMark }, one, new CameraProfile(), bench.NowUs));
        bench.RunTo(25 * Second);
        bench.Desk.EndBetweenFrames();
        bench.RunTo(25 * Second + Bench.TickUs);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.IsFalse(bench.Lines.HalfPress);
    }
}
