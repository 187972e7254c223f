using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>What a press of Fire does in the thread that samples it, and what each thread sees of the other.</summary>
[TestClass]
public class RunLinkTests
{
    private const long Second = 1_000_000;
    private const int FireDown = PressRing.Down | 5;
    private const int Other = PressRing.Down;

    private static void Offer(Bench bench, long exposureUs)
    {
        FireOrder? order = bench.Link.TryFill();
        Assert.IsTrue(order != null);
        order!.Plan.CopyFrom(new ShotPlan { BoxTimed = true, ExposureUs = exposureUs, SettleUs = 2 * Second });
        bench.Link.Offer();
    }

    private static int Fire(Bench bench)
    {
        int done = bench.Link.Fire(bench.NowUs);
        bench.Link.Presses.Add(FireDown | done, bench.NowUs, false);
        return done;
    }

    private static void TakeAll(Bench bench)
    {
        while (bench.Link.Presses.TryTake(out int code, out long atUs)) { }
    }

    [TestMethod]
    public void FireStartsWhatIsOfferedWithoutThePanel()
    {
        Bench bench = new Bench();
        Offer(bench, 4 * Second);
        bench.RunTo(Second);
        Assert.AreEqual(PressRing.Started, Fire(bench));
        Assert.IsTrue(bench.Desk.Running);
        Assert.IsTrue(bench.Link.Report.Running);
        bench.RunTo(20 * Second);
        Assert.AreEqual(3 * Second, bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(7 * Second, bench.Lines.ShutterEdgeUs(1));
    }

    [TestMethod]
    public void ASecondPressStopsBeforeTheFirstEdgeAndAfterIt()
    {
        for (int i = 0; i < 2; i++)
        {
            Bench bench = new Bench();
            Offer(bench, 8 * Second);
            Fire(bench);
            bench.RunTo(i == 0 ? 300_000 : 5 * Second);
            Assert.AreEqual(i == 1, bench.Lines.Shutter);
            Assert.AreEqual(PressRing.Spent, Fire(bench));
            Assert.IsFalse(bench.Lines.Shutter);
            Assert.AreEqual((int)RunState.Stopped, (int)bench.Link.State);
            bench.RunTo(60 * Second);
            Assert.AreEqual(i * 2, bench.Lines.ShutterEdgeUs(0) < 0 ? 0 : 2);
            // What was offered for that run starts no other.
            Assert.AreEqual(0, Fire(bench));
            bench.RunTo(70 * Second);
            Assert.IsFalse(bench.Desk.Running);
        }
    }

    [TestMethod]
    public void AfterAPressThatThePanelHasNotSeenFireWaitsForIt()
    {
        Bench bench = new Bench();
        Offer(bench, 4 * Second);
        bench.Link.Presses.Add(Other, 0, true);
        Assert.AreEqual(0, Fire(bench));
        Assert.IsTrue(bench.Link.Busy);
        bench.RunTo(Second);
        Assert.IsFalse(bench.Desk.Running);
        // It has seen the press before, but not Fire itself.
        Assert.IsTrue(bench.Link.Presses.TryTake(out int code, out long atUs));
        Assert.IsFalse(bench.Link.WaitsForLast);
        Assert.IsTrue(bench.Link.Presses.TryTake(out code, out atUs));
        Assert.IsTrue(bench.Link.WaitsForLast);
        Offer(bench, 6 * Second);
        bench.RunTo(Second + Bench.TickUs);
        Assert.IsTrue(bench.Desk.Running);
        bench.RunTo(20 * Second);
        Assert.AreEqual(6 * Second, bench.Lines.ShutterEdgeUs(1) - bench.Lines.ShutterEdgeUs(0));
    }

    [TestMethod]
    public void APressThatWaitsIsCalledOffDeclinedOrForgotten()
    {
        for (int way = 0; way < 3; way++)
        {
            Bench bench = new Bench();
            bench.Link.Presses.Add(Other, 0, true);
            Assert.AreEqual(0, Fire(bench));
            if (way == 0) Assert.AreEqual(PressRing.Spent, Fire(bench));
            TakeAll(bench);
            if (way == 1) bench.Link.Decline();
            bench.RunTo(way == 2 ? RunLink.WaitUs + Second : Second);
            Assert.IsFalse(bench.Link.Busy);
            Offer(bench, Second);
            bench.RunTo(10 * Second);
            Assert.IsFalse(bench.Desk.Running);
            Assert.AreEqual(0, bench.Lines.Count);
        }
    }

    [TestMethod]
    public void WithNothingOfferedFireIsThePanelsAffair()
    {
        Bench bench = new Bench();
        Offer(bench, Second);
        bench.Link.Withhold();
        Assert.AreEqual(0, Fire(bench));
        TakeAll(bench);
        bench.Link.Withhold();
        bench.RunTo(Second);
        Assert.IsFalse(bench.Desk.Running);
        Assert.IsFalse(bench.Link.Busy);
    }

    /// <summary>An order is not offered while it is filled in, and not filled in while it plays.</summary>
    [TestMethod]
    public void AnOrderIsEitherFilledInOrPlayed()
    {
        Bench bench = new Bench();
        Offer(bench, Second);
        // Fire comes while the order is being filled in again: it waits for the offer.
        Assert.IsTrue(bench.Link.TryFill() != null);
        Assert.AreEqual(0, Fire(bench));
        TakeAll(bench);
        bench.Link.Offer();
        bench.RunTo(2 * Bench.TickUs);
        Assert.IsTrue(bench.Desk.Running);
        Assert.IsTrue(bench.Link.TryFill() == null);
        // An offer all the same counts for no other run.
        bench.Link.Offer();
        bench.RunTo(10 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Link.State);
        Assert.IsTrue(bench.Link.TryFill() == null);
        bench.Link.Offer();
        Assert.AreEqual(0, Fire(bench));
    }

    /// <summary>That the end of a run was read is not a request, which could be lost between two threads, but the number of the run that was read.</summary>
    [TestMethod]
    public void TheEndOfARunIsReadOnceAndForItsOwnRun()
    {
        Bench bench = new Bench();
        Offer(bench, Second);
        Fire(bench);
        bench.RunTo(Second);
        // Not at its end yet.
        bench.Link.Acknowledge();
        bench.RunTo(10 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Link.State);
        TakeAll(bench);
        bench.Link.Acknowledge();
        Assert.AreEqual((int)RunState.Ready, (int)bench.Link.State);
        // Offered and fired before the release thread has heard that the end was read.
        Offer(bench, 2 * Second);
        Assert.AreEqual(PressRing.Started, Fire(bench));
        bench.RunTo(30 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Link.State);
        Assert.AreEqual(2, bench.Link.Report.Run);
    }

    [TestMethod]
    public void ARunThatIsAskedToEndIsThePresentOne()
    {
        Bench bench = new Bench();
        bench.Link.EndBetweenFrames();
        Offer(bench, Second);
        Fire(bench);
        bench.RunTo(Second);
        Assert.IsTrue(bench.Desk.Running);
        bench.Link.EndBetweenFrames();
        bench.RunTo(Second + 2 * Bench.TickUs);
        Assert.AreEqual((int)RunState.Done, (int)bench.Link.State);
        Assert.IsTrue(bench.Link.Report.EndedEarly);
    }

    /// <summary>A frame that began late has its whole length, and one whose end came late is reported with its real length; the box reports both.</summary>
    [TestMethod]
    public void ABoardThatStoodStillTellsWhatTheContactsDid()
    {
        Bench bench = new Bench();
        Offer(bench, 4 * Second);
        Fire(bench);
        bench.RunTo(1_900_000);
        bench.StandStill(300_000);
        bench.RunTo(20 * Second);
        Assert.AreEqual(2_200_000L, bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(6_200_000L, bench.Lines.ShutterEdgeUs(1));
        Assert.AreEqual(1, bench.Link.Frames.Off);
        Assert.AreEqual(200_000L, bench.Link.Frames.WorstOffUs);
        Assert.IsFalse(bench.Link.Frames.WorstWasLong);
        Assert.AreEqual(4, bench.Link.Frames.Late(0));

        bench = new Bench();
        Offer(bench, 4 * Second);
        Fire(bench);
        bench.RunTo(5_900_000);
        bench.StandStill(300_000);
        bench.RunTo(20 * Second);
        Assert.AreEqual(6_200_000L, bench.Lines.ShutterEdgeUs(1));
        Assert.AreEqual(4_200_000L, bench.Link.Frames.ExposureUs(0));
        Assert.AreEqual(200_000L, bench.Link.Frames.WorstOffUs);
        Assert.IsTrue(bench.Link.Frames.WorstWasLong);
        Assert.AreEqual(0, bench.Link.Frames.InDoubt);
    }

    /// <summary>Longer than the limiter surely holds: nothing closes before it is charged again, and half-press has its lead again.</summary>
    [TestMethod]
    public void AfterALongStandstillTheLimiterIsChargedFirst()
    {
        Bench bench = new Bench();
        Offer(bench, 4 * Second);
        Fire(bench);
        bench.RunTo(1_800_000);
        Assert.IsTrue(bench.Lines.HalfPress);
        bench.StandStill(900_000);
        bench.RunTo(20 * Second);
        Assert.AreEqual(2_700_000 + PlanCompiler.LimiterUs - 10_000 + 300_000, bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(4 * Second, bench.Lines.ShutterEdgeUs(1) - bench.Lines.ShutterEdgeUs(0));

        // The shutter contact was closed: whether it stayed so is not known.
        bench = new Bench();
        Offer(bench, 4 * Second);
        Fire(bench);
        bench.RunTo(3 * Second);
        bench.StandStill(900_000);
        bench.RunTo(20 * Second);
        Assert.AreEqual(4 * Second, bench.Lines.ShutterEdgeUs(1) - bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(1, bench.Link.Frames.InDoubt);
        Assert.AreEqual(FrameRing.Doubt, bench.Link.Frames.Late(0));
    }

    // Ten steady waves with a backwash each; then another is held, and let go this many passes after the advice was begun again.
    private static Bench Advised(int passes, bool throughout)
    {
        Bench bench = new Bench();
        for (int i = 0; i < 10; i++)
        {
            bench.RunTo((1 + 10 * i) * Second);
            bench.HoldMark(4 * Second + i % 3 * Second / 4);
        }
        bench.RunTo(110 * Second);
        bench.Mark();
        if (throughout) bench.Link.WantAdvice(1.5, 0.06);
        bench.RunTo(bench.NowUs + 9 * Second + passes * Bench.TickUs);
        bench.Link.WantAdvice(1.5, 0.06);
        bench.Link.MarkReleased(9 * Second);
        bench.RunTo(bench.NowUs + Second);
        return bench;
    }

    /// <summary>
    /// When a wave is learned while the advice is being worked out, at any of its steps, the advice is begun again. So it is always the advice for the waves as they
    /// are now, and never partly for earlier ones.
    /// </summary>
    [TestMethod]
    public void TheAdviceRestsOnOneStateOfTheSea()
    {
        for (int passes = 60; passes < 140; passes++)
        {
            SeaReport fresh = Advised(passes, false).Link.Sea;
            SeaReport disturbed = Advised(passes, true).Link.Sea;
            Assert.IsTrue(fresh.Recommended >= 0);
            Assert.AreEqual(fresh.Recommended, disturbed.Recommended);
            for (int way = 0; way < 4; way++) Assert.AreEqual(fresh.Percent(way), disturbed.Percent(way));
            Check.Near(fresh.LongestSeconds, disturbed.LongestSeconds, 1e-9, "longest");
            Check.Near(fresh.BestDelaySeconds, disturbed.BestDelaySeconds, 1e-9, "delay");
        }
    }
}
