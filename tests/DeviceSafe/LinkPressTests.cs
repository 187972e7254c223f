using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The exact moments at which a press, a hold, a standstill or a wait changes its meaning.</summary>
[TestClass]
public class LinkPressTests
{
    private const long Second = 1_000_000;

    private static void Offer(Bench bench)
    {
        FireOrder? order = bench.Link.TryFill();
        Assert.IsTrue(order != null);
        order!.Plan.CopyFrom(new ShotPlan { BoxTimed = true, ExposureUs = 20 * Second, SettleUs = 2 * Second });
        bench.Link.Offer();
    }

    private static int Fire(Bench bench)
    {
        int done = bench.Link.Fire(bench.NowUs);
        bench.Link.Presses.Add(PressRing.Down | 5 | done, bench.NowUs, false);
        return done;
    }

    private static void TakeAll(Bench bench)
    {
        while (bench.Link.Presses.TryTake(out int code, out long atUs)) { }
    }

    // A run that is on at the given time.
    private static Bench Running(long atUs)
    {
        Bench bench = new Bench();
        bench.RunTo(Second);
        Offer(bench);
        Assert.AreEqual(PressRing.Started, Fire(bench));
        bench.RunTo(atUs);
        Assert.IsTrue(bench.Desk.Running);
        return bench;
    }

    [TestMethod]
    public void BackStopsARunWhenItIsHeldForASecondAndNotBefore()
    {
        Bench bench = Running(5 * Second);
        Assert.IsFalse(bench.Link.Back(bench.NowUs));
        bench.RunTo(6 * Second - 1);
        Assert.IsTrue(bench.Desk.Running);
        bench.RunTo(6 * Second);
        Assert.AreEqual((int)RunState.Stopped, (int)bench.Link.Report.State);
        Assert.IsFalse(bench.Lines.Shutter);
    }

    [TestMethod]
    public void BackThatComesUpSoonerOrIsLockedStopsNothing()
    {
        Bench bench = Running(5 * Second);
        bench.Link.Back(bench.NowUs);
        bench.RunTo(5 * Second + 900_000);
        bench.Link.BackReleased();
        bench.RunTo(8 * Second);
        Assert.IsTrue(bench.Lines.Shutter);
        bench.Link.Locked = true;
        Assert.IsFalse(bench.Link.Back(bench.NowUs));
        bench.RunTo(12 * Second);
        Assert.IsTrue(bench.Lines.Shutter);
    }

    /// <summary>A Back that went down before a run began does not stop that run. A Back at rest cancels a waiting press of Fire.</summary>
    [TestMethod]
    public void BackAtRestCallsOffWhatWaits()
    {
        Bench bench = new Bench();
        bench.RunTo(Second);
        Assert.IsFalse(bench.Link.Back(bench.NowUs));
        bench.Link.Presses.Add(PressRing.Down, bench.NowUs, true);
        Assert.AreEqual(0, Fire(bench));
        Assert.IsTrue(bench.Link.Back(bench.NowUs));
        Assert.IsFalse(bench.Link.Busy);
    }

    [TestMethod]
    public void APressWithin300MillisecondsOfAStopIsTheSameStop()
    {
        Bench bench = Running(5 * Second);
        Assert.AreEqual(PressRing.Spent, Fire(bench));
        bench.RunTo(5 * Second + 299_999);
        Assert.AreEqual(PressRing.Spent, Fire(bench));
        bench.RunTo(5 * Second + 300_000);
        Assert.AreEqual(0, Fire(bench));
    }

    /// <summary>Whether a second press may have been lost depends on how long the board stood still and how long ago.</summary>
    [TestMethod]
    public void APressAfterAStandstillIsReportedAsHeldUp()
    {
        for (int i = 0; i < 4; i++)
        {
            Bench bench = new Bench();
            bench.RunTo(Second);
            bench.StandStill(i == 0 ? 149_999 : 150_000);
            bench.RunTo(bench.NowUs + (i == 2 ? 100_001 : i == 3 ? 0 : 100_000));
            Offer(bench);
            Assert.AreEqual(PressRing.Started, Fire(bench));
            Assert.AreEqual(i == 1 || i == 3, bench.Link.Report.PressHeldUp);
            Assert.IsFalse(bench.Link.Report.HeldDrive);
        }
    }

    [TestMethod]
    public void AWaitingPressIsStartedUpToThreeSecondsLaterAndThenForgotten()
    {
        for (int i = 0; i < 2; i++)
        {
            Bench bench = new Bench();
            bench.RunTo(2 * Second);
            bench.Link.Presses.Add(PressRing.Down, bench.NowUs, true);
            Assert.AreEqual(0, Fire(bench));
            bench.RunTo(2 * Second + RunLink.WaitUs - Bench.TickUs);
            TakeAll(bench);
            if (i == 1) bench.RunTo(2 * Second + RunLink.WaitUs + 1);
            Offer(bench);
            bench.RunTo(2 * Second + RunLink.WaitUs + i * Bench.TickUs);
            Assert.AreEqual(i == 0, bench.Desk.Running);
        }
    }

    /// <summary>The panel must have seen the waiting press itself, and not only the presses before it.</summary>
    [TestMethod]
    public void AnOfferFromBeforeTheWaitingPressWasSeenStartsNothing()
    {
        Bench bench = new Bench();
        bench.Link.Presses.Add(PressRing.Down, 0, true);
        Assert.AreEqual(0, Fire(bench));
        Assert.IsTrue(bench.Link.Presses.TryTake(out int code, out long atUs));
        Offer(bench);
        bench.RunTo(Second);
        Assert.IsFalse(bench.Desk.Running);
        Assert.IsTrue(bench.Link.Busy);
        TakeAll(bench);
        bench.Link.Offer();
        bench.RunTo(Second + Bench.TickUs);
        Assert.IsTrue(bench.Desk.Running);
    }

    /// <summary>An order that was declined is no longer offered, although it is still filled in.</summary>
    [TestMethod]
    public void AfterADeclinedPressTheNextOneStartsNothing()
    {
        Bench bench = new Bench();
        Offer(bench);
        bench.Link.Withhold();
        Assert.AreEqual(0, Fire(bench));
        // The press that found nothing on offer keeps no order from being filled in.
        Assert.IsTrue(bench.Link.TryFill() != null);
        TakeAll(bench);
        bench.Link.Decline();
        bench.RunTo(Second);
        Assert.AreEqual(0, Fire(bench));
        Assert.IsFalse(bench.Desk.Running);
    }

    [TestMethod]
    public void AFailedLimiterStartsNothingAndEndsARunWhoseContactsStayOpen()
    {
        Bench bench = Running(5 * Second);
        bench.Link.NoteLimiter(LimiterTrouble.StaysOn, bench.NowUs);
        Assert.IsTrue(bench.Link.Report.Running);
        bench.Link.NoteLimiter(LimiterTrouble.StaysOff, bench.NowUs);
        Assert.AreEqual((int)RunState.Failed, (int)bench.Link.Report.State);
        Assert.AreEqual((int)PlayerFailure.LimiterOff, (int)bench.Link.Report.Failure);
        Assert.IsFalse(bench.Lines.Shutter);

        bench = new Bench();
        Offer(bench);
        bench.Link.NoteLimiter(LimiterTrouble.StaysOff, 0);
        Assert.AreEqual((int)RunState.Ready, (int)bench.Link.Report.State);
        Assert.AreEqual((int)LimiterTrouble.StaysOff, (int)bench.Link.Limiter);
        Assert.AreEqual(0, Fire(bench));
        Assert.IsFalse(bench.Desk.Running);
    }

    [TestMethod]
    public void AnErrorOutsideEndsTheRunAndForgetsWhatWaits()
    {
        Bench bench = Running(5 * Second);
        bench.Link.Fail();
        Assert.AreEqual((int)RunState.Failed, (int)bench.Link.Report.State);
        Assert.IsFalse(bench.Desk.Running);

        bench = new Bench();
        bench.Link.Presses.Add(PressRing.Down, 0, true);
        Assert.AreEqual(0, Fire(bench));
        bench.Link.Fail();
        Assert.IsFalse(bench.Link.Busy);
    }

    [TestMethod]
    public void AFullRingKeepsThe32OldestEventsInTheirOrder()
    {
        PressRing ring = new PressRing();
        int first = 0;
        for (int round = 0; round < 3; round++)
        {
            for (int i = 0; i < 33; i++) ring.Add(round + i % 8, 100 * round + i, i == 32);
            Assert.AreEqual(first, ring.Taken);
            Assert.AreEqual(first + 32, ring.Put);
            Assert.AreEqual(0, ring.Asked);
            for (int i = 0; i < 32; i++)
            {
                Assert.IsTrue(ring.TryTake(out int code, out long atUs));
                Assert.AreEqual(round + i % 8, code);
                Assert.AreEqual(100L * round + i, atUs);
            }
            Assert.IsFalse(ring.TryTake(out int none, out long never));
            first += 32;
        }
    }
}
