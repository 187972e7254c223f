using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>How a late edge, a standstill or a stop changes everything after it, to the microsecond.</summary>
[TestClass]
public class LateEdgeTests
{
    private const long Second = 1_000_000;
    private const long LateUs = 300_000;
    private const long LimiterUs = PlanCompiler.LimiterUs;
    private const long ChargeUs = LimiterUs - 10_000;

    private static Bench Started(ShotPlan plan, CameraProfile camera)
    {
        Bench bench = new Bench();
        Assert.IsTrue(bench.Desk.StartPlan(plan, camera, 0));
        return bench;
    }

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs, SettleUs = 2 * Second };

    private static ShotPlan Burst(int frames, long exposureUs, long gapUs)
    {
        ShotPlan plan = Bulb(exposureUs);
        plan.Shape = PlanShape.Burst;
        plan.Frames = frames;
        plan.GapUs = gapUs;
        return plan;
    }

    private static void PassAt(Bench bench, long us)
    {
        bench.Lines.NowUs = us;
        bench.Link.Pass(us);
    }

    // Stands still from a tenth of a second before a moment to a given time after it.
    private static void LateAt(Bench bench, long momentUs, long lateUs)
    {
        bench.RunTo(momentUs - 50_000);
        bench.StandStill(50_000 + lateUs);
    }

    [TestMethod]
    public void EveryFrameAfterALateOneKeepsItsLengthAndItsGap()
    {
        Bench bench = Started(Burst(9, Second, Second / 2), new CameraProfile());
        LateAt(bench, 2 * Second, LateUs);
        bench.RunTo(30 * Second);
        for (int i = 0; i < 9; i++)
        {
            long start = 2 * Second + LateUs + i * (Second + Second / 2);
            Assert.AreEqual(start, bench.Lines.ShutterEdgeUs(2 * i));
            Assert.AreEqual(start + Second, bench.Lines.ShutterEdgeUs(2 * i + 1));
        }
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        // Only the first began late, and the next run tells of its own frames.
        Assert.AreEqual(1, bench.Link.Frames.Off);
        Assert.IsTrue(bench.Desk.StartPlan(Bulb(Second), new CameraProfile(), bench.NowUs));
        Assert.AreEqual(0, bench.Link.Frames.Off);
    }

    /// <summary>An edge that is up to 3 ms late counts as on time, and the edges after it do not move.</summary>
    [TestMethod]
    public void ThreeMillisecondsOfLatenessMoveNothing()
    {
        for (int over = 0; over < 2; over++)
        {
            Bench bench = Started(Bulb(Second), new CameraProfile());
            bench.RunTo(2 * Second - 1000);
            PassAt(bench, 2 * Second + ReleasePlayer.MoveFromUs + over);
            Assert.IsTrue(bench.Lines.Shutter);
            Assert.AreEqual(3 * Second + over * (ReleasePlayer.MoveFromUs + over), bench.Desk.NextEdgeUs);
        }
    }

    [TestMethod]
    public void ASeriesThatCameLateGoesBackToItsInterval()
    {
        ShotPlan plan = Burst(8, Second, 0);
        plan.Shape = PlanShape.Series;
        plan.IntervalUs = 2 * Second;
        Bench bench = Started(plan, new CameraProfile());
        LateAt(bench, 4 * Second, LateUs);
        bench.RunTo(30 * Second);
        // The frames that were planned when it came late follow it; the rest are back on the interval.
        int late = 0;
        for (int i = 0; i < 8; i++)
        {
            long off = bench.Lines.ShutterEdgeUs(2 * i) - (2 + 2 * i) * Second;
            Assert.IsTrue(off == 0 || (off == LateUs && i > 0 && i < 5));
            if (off != 0) late++;
            Assert.AreEqual(Second, bench.Lines.ShutterEdgeUs(2 * i + 1) - bench.Lines.ShutterEdgeUs(2 * i));
        }
        Assert.IsTrue(late >= 1);
        Assert.AreEqual(16L * Second, bench.Lines.ShutterEdgeUs(14));
    }

    /// <summary>Where half-press is opened in between, catching up leaves it open for 0.1 s and gives it its lead, with the mirror or without.</summary>
    [TestMethod]
    public void CatchingUpLeavesHalfPressItsPauseAndItsLead()
    {
        for (int mirror = 0; mirror < 2; mirror++)
        {
            CameraProfile camera = new CameraProfile { MirrorLockUp = mirror == 1 };
            long settle = mirror * 2 * Second;
            long exposure = 4_300_000 - settle;
            ShotPlan plan = Burst(6, exposure, 0);
            plan.Shape = PlanShape.Series;
            plan.IntervalUs = 5 * Second;
            plan.SettleUs = 5 * Second;
            Bench bench = Started(plan, camera);
            int edges = 2 + 2 * mirror;
            // The end of the first frame comes late.
            LateAt(bench, 5 * Second + exposure, 340_000);
            bench.RunTo(60 * Second);
            long before = bench.Lines.ShutterEdgeUs(edges - 1);
            Assert.AreEqual(5 * Second + exposure + 340_000, before);
            int limited = 0;
            for (int i = 1; i < 6; i++)
            {
                long start = bench.Lines.ShutterEdgeUs(edges * i + 2 * mirror);
                long planned = (5 + 5 * i) * Second;
                long soonest = before + 100_000 + 300_000 + settle;
                Assert.IsTrue(start == planned || start == planned + 340_000 || start == soonest);
                if (start == soonest) limited++;
                Assert.IsTrue(start >= soonest);
                before = bench.Lines.ShutterEdgeUs(edges * i + edges - 1);
                Assert.AreEqual(exposure, before - start);
            }
            Assert.IsTrue(limited >= 1);
        }
    }

    /// <summary>With the mirror up before each frame, half-press is not opened for a moment that is shorter than its pause.</summary>
    [TestMethod]
    public void ABurstWithTheMirrorHoldsHalfPressThroughoutAndWaitsForItToSettle()
    {
        Bench bench = Started(Burst(2, Second, Second / 10), new CameraProfile { MirrorLockUp = true });
        bench.RunTo(30 * Second);
        Assert.AreEqual("H+ S+ S- S+ S- S+ S- S+ S- H-", bench.Lines.Story());
        // The camera's lag and gap after the first frame, then the mirror's two seconds.
        Assert.AreEqual(bench.Lines.ShutterEdgeUs(3) + 60_000 + 200_000 + 2 * Second, bench.Lines.ShutterEdgeUs(6));
        ShotPlan series = Burst(2, Second, 0);
        series.Shape = PlanShape.Series;
        series.IntervalUs = Second;
        bench = Started(series, new CameraProfile { MirrorLockUp = true });
        bench.RunTo(30 * Second);
        Assert.AreEqual(bench.Lines.ShutterEdgeUs(3) + 60_000 + 200_000 + 2 * Second, bench.Lines.ShutterEdgeUs(6));
    }

    [TestMethod]
    public void AHoldThatLastedLongerIsReportedByHowMuch()
    {
        ShotPlan plan = new ShotPlan { Shape = PlanShape.HeldDrive, ExposureUs = Second / 8, HoldUs = 2 * Second, SettleUs = 2 * Second };
        Bench bench = Started(plan, new CameraProfile());
        LateAt(bench, 4 * Second, LateUs);
        Assert.AreEqual(LateUs, bench.Link.Frames.WorstOffUs);
        Assert.IsTrue(bench.Link.Frames.WorstWasLong);
        // The camera's lag and its gap after that.
        Assert.AreEqual(4 * Second + LateUs + 260_000, bench.Desk.Player.CameraReadyUs);
    }

    /// <summary>A dark frame is as long as its exposure was: the frame after an end that came late waits for both.</summary>
    [TestMethod]
    public void AfterALongerFrameTheDarkFrameIsLonger()
    {
        Bench bench = Started(Burst(2, 4 * Second, Second / 2), new CameraProfile { DarkFrame = true });
        bench.RunTo(Second);
        LateAt(bench, 6 * Second, LateUs);
        bench.RunTo(40 * Second);
        long end = 6 * Second + LateUs;
        Assert.AreEqual(end, bench.Lines.ShutterEdgeUs(1));
        Assert.AreEqual(end + 60_000 + 4 * Second + LateUs + 200_000, bench.Lines.ShutterEdgeUs(2));
        // Short of a second there is none, however late its end.
        bench = Started(Burst(2, Second / 2, Second / 2), new CameraProfile { DarkFrame = true });
        LateAt(bench, 2 * Second + Second / 2, LateUs);
        bench.RunTo(40 * Second);
        Assert.AreEqual(bench.Lines.ShutterEdgeUs(1) + Second / 2, bench.Lines.ShutterEdgeUs(2));
    }

    /// <summary>After a standstill while the limiter is being charged, it is charged again; after a standstill of up to 0.4 s at a later time it is not.</summary>
    [TestMethod]
    public void TheLimiterIsChargedAnewWhenItWasNotChargedYetOrMayHaveLetGo()
    {
        // Settle 0: half-press is planned for when the limiter is charged.
        ShotPlan plan = new ShotPlan { BoxTimed = true, ExposureUs = Second };
        Bench bench = Started(plan, new CameraProfile());
        bench.RunTo(100_000);
        bench.StandStill(100_000);
        // Nothing is written before it, also when a pass finds the planned edge due and on time.
        PassAt(bench, LimiterUs);
        Assert.AreEqual(0, bench.Lines.Count);
        PassAt(bench, 200_000 + ChargeUs);
        Assert.AreEqual("H+", bench.Lines.Story());
        Assert.AreEqual(200_000 + ChargeUs, bench.Lines.AtUs(0));
        Assert.AreEqual(200_000 + ChargeUs + 300_000, bench.Desk.NextEdgeUs);
        // The same, but no pass came before the limiter was charged: the edge is written in that pass.
        bench = Started(plan, new CameraProfile());
        bench.RunTo(100_000);
        bench.StandStill(100_000);
        PassAt(bench, 200_000 + ChargeUs);
        Assert.AreEqual("H+", bench.Lines.Story());
    }

    [TestMethod]
    public void AStandstillOf400MillisecondsIsNotDoubtedAndOneMoreMicrosecondIs()
    {
        for (int over = 0; over < 2; over++)
        {
            // In the settling time: does the limiter have to be charged again before half-press may close?
            ShotPlan plan = Bulb(4 * Second);
            Bench bench = Started(plan, new CameraProfile());
            bench.RunTo(1_600_000 - over);
            bench.StandStill(400_000 + over);
            bench.RunTo(20 * Second);
            Assert.AreEqual(over == 0 ? 2_300_000 : 2 * Second + ChargeUs + 300_000, bench.Lines.ShutterEdgeUs(0));
            // In the frame: is its length in doubt?
            bench = Started(plan, new CameraProfile());
            bench.RunTo(3 * Second);
            bench.StandStill(400_000 + over);
            bench.RunTo(20 * Second);
            Assert.AreEqual(over, bench.Link.Frames.InDoubt);
        }
    }

    /// <summary>A standstill that begins in the very moment in which the limiter is charged leaves it charged.</summary>
    [TestMethod]
    public void AStandstillThatBeginsWhenTheLimiterIsChargedChangesNothing()
    {
        for (int before = 0; before < 2; before++)
        {
            Bench bench = Started(new ShotPlan { BoxTimed = true, ExposureUs = Second }, new CameraProfile());
            bench.RunTo(ChargeUs - before);
            bench.StandStill(50_000 + before);
            Assert.AreEqual(before == 0, bench.Lines.HalfPress);
        }
    }

    [TestMethod]
    public void WhatWasPutOffIsReportedAtOnce()
    {
        Bench bench = Started(new ShotPlan { BoxTimed = true, ExposureUs = Second }, new CameraProfile());
        Assert.IsFalse(bench.Desk.PlayDue(LimiterUs - 1));
        bench.RunTo(100_000);
        bench.StandStill(100_000);
        bench.Link.PlayDue(LimiterUs);
        Assert.AreEqual(200_000 + ChargeUs, bench.Link.Report.NextEdgeUs);
        Assert.AreEqual(0, bench.Lines.Count);
    }

    [TestMethod]
    public void AtItsEndAPlanHasNoEdgeLeft()
    {
        Bench bench = Started(new ShotPlan { ExposureUs = 8 * Second, SettleUs = 2 * Second }, new CameraProfile());
        bench.Desk.Player.WriteAheadUs = 625;
        bench.RunTo(3 * Second);
        Assert.AreEqual((int)RunState.Plan, (int)bench.Desk.State);
        Assert.AreEqual(2 * Second + 60_000, bench.Desk.Player.FrameStartUs);
        Assert.AreEqual(10 * Second + 60_000, bench.Desk.Player.FrameEndUs);
        Assert.AreEqual(long.MaxValue, bench.Desk.NextEdgeUs);
        bench = Started(Bulb(4 * Second), new CameraProfile());
        bench.RunTo(3 * Second);
        Assert.AreEqual(6 * Second + 60_000, bench.Desk.Player.FrameEndUs);
    }

    /// <summary>A frame on the camera's own dial goes on when it is stopped: the next run waits for it, but may be ended at once.</summary>
    [TestMethod]
    public void AfterAStoppedFrameOnTheDialTheNextRunWaitsForIt()
    {
        for (int end = 0; end < 2; end++)
        {
            Bench bench = Started(new ShotPlan { ExposureUs = 10 * Second, SettleUs = 2 * Second }, new CameraProfile());
            bench.RunTo(3 * Second);
            bench.Desk.StopNow(bench.NowUs);
            Assert.IsTrue(bench.Desk.StartPlan(Bulb(Second), new CameraProfile(), bench.NowUs));
            bench.RunTo(4 * Second);
            if (end == 1)
            {
                bench.Desk.EndBetweenFrames();
                bench.RunTo(4 * Second + Bench.TickUs);
                Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
                continue;
            }
            bench.RunTo(30 * Second);
            Assert.AreEqual(12 * Second + 60_000 + 200_000, bench.Lines.ShutterEdgeUs(2));
        }
    }

    /// <summary>A dark frame after a frame that was cut is as long as that frame was, also when it was cut in the pass that began it.</summary>
    [TestMethod]
    public void AFrameCutAtOnceHoldsTheNextBackForTheGapAlone()
    {
        Bench bench = Started(Bulb(20 * Second), new CameraProfile { DarkFrame = true });
        bench.Desk.Player.WriteAheadUs = 625;
        bench.RunTo(2 * Second);
        Assert.IsTrue(bench.Lines.Shutter);
        bench.Desk.StopNow(bench.NowUs);
        Assert.AreEqual(2 * Second + 60_000 + 200_000, bench.Desk.Player.CameraReadyUs);
    }

    [TestMethod]
    public void AtRestNeitherAStopNorTheLimiterMakesAnEnd()
    {
        Bench bench = new Bench();
        bench.Desk.StopNow(0);
        Assert.AreEqual((int)RunState.Ready, (int)bench.Desk.State);
        bench.Desk.LimiterIsOff(0);
        Assert.AreEqual((int)RunState.Ready, (int)bench.Desk.State);
        Assert.AreEqual((int)PlayerFailure.None, (int)bench.Desk.Player.Failure);
    }

    /// <summary>A full queue moves each of its edges once; a copied camera is the camera in every value.</summary>
    [TestMethod]
    public void AFullQueueAndACopiedCameraAreWhole()
    {
        EdgeQueue queue = new EdgeQueue();
        for (int head = 0; head < 3; head++)
        {
            for (int i = 0; i < EdgeQueue.Capacity; i++) queue.Add(i, ReleaseLine.Shutter, i % 2 == 0, EdgeStep.None, 0);
            queue.Shift(1000);
            for (int i = 0; i < EdgeQueue.Capacity; i++)
            {
                Assert.AreEqual(1000L + i, queue.NextUs);
                queue.Drop();
            }
            queue.Add(0, ReleaseLine.Shutter, true, EdgeStep.None, 0);
            queue.Drop();
        }
        CameraProfile copy = new CameraProfile();
        copy.CopyFrom(new CameraProfile { HalfPressLeadMs = 1, ShutterLagMs = 2, MinimumGapMs = 3, PulseMs = 4, DarkFrame = true, MirrorLockUp = true, MirrorSettleMs = 5 });
        Assert.IsTrue(copy.HalfPressLeadMs == 1 && copy.ShutterLagMs == 2 && copy.MinimumGapMs == 3 && copy.PulseMs == 4 && copy.DarkFrame && copy.MirrorLockUp && copy.MirrorSettleMs == 5);
    }
}
