using Intervalometer.Core.Release;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>When the limiter counts as sound, as failed on or as failed off, and when it is tested.</summary>
[TestClass]
public class LimiterWatchTests
{
    private const long Second = 1_000_000;
    private const long LongestHoldUs = ReleaseLimits.HeartbeatHoldLongestUs;

    private static LimiterWatch Begun(long atUs)
    {
        LimiterWatch watch = new LimiterWatch();
        watch.Begin(atUs);
        Assert.IsTrue(watch.WantsBeats);
        return watch;
    }

    private static void Is(LimiterTrouble trouble, LimiterWatch watch) => Assert.AreEqual((int)trouble, (int)watch.Trouble);

    // Beats from one time to another, every 10 ms, with the last look at the end.
    private static void Beat(LimiterWatch watch, long fromUs, long untilUs, bool up)
    {
        for (long us = fromUs; us < untilUs; us += 10_000) watch.Look(us, true, up);
        watch.Look(untilUs, true, up);
    }

    [TestMethod]
    public void AtPowerOnTheLimiterIsTestedUntilItHadTimeToComeUp()
    {
        LimiterWatch watch = Begun(3 * Second);
        Beat(watch, 3 * Second, 3 * Second + PlanCompiler.LimiterUs - 1, false);
        Assert.IsTrue(watch.WantsBeats);
        Is(LimiterTrouble.None, watch);
        watch.Look(3 * Second + PlanCompiler.LimiterUs, true, true);
        Assert.IsFalse(watch.WantsBeats);
        Is(LimiterTrouble.None, watch);
    }

    [TestMethod]
    public void ALimiterThatDoesNotComeUpInTimeOrFallsDuringARunHasFailedOff()
    {
        LimiterWatch watch = Begun(3 * Second);
        Beat(watch, 3 * Second, 3 * Second + PlanCompiler.LimiterUs, false);
        Is(LimiterTrouble.StaysOff, watch);
        Assert.IsFalse(watch.WantsBeats);

        watch = Begun(3 * Second);
        Beat(watch, 3 * Second, 20 * Second, true);
        Is(LimiterTrouble.None, watch);
        // The heartbeat stood still, so the limiter gets its full time again.
        watch.StoodStill(20 * Second);
        Beat(watch, 20 * Second, 20 * Second + PlanCompiler.LimiterUs - 1, false);
        Is(LimiterTrouble.None, watch);
        watch.Look(20 * Second + PlanCompiler.LimiterUs, true, false);
        Is(LimiterTrouble.StaysOff, watch);
    }

    /// <summary>In each run the limiter gets its full time from the first beat of that run.</summary>
    [TestMethod]
    public void TheNextRunCountsFromItsOwnFirstBeat()
    {
        LimiterWatch watch = Begun(0);
        Beat(watch, 0, 2 * Second, true);
        watch.Look(3 * Second, false, false);
        Beat(watch, 60 * Second, 60 * Second + PlanCompiler.LimiterUs - 1, false);
        Is(LimiterTrouble.None, watch);
    }

    [TestMethod]
    public void ALimiterThatStaysUpWithoutAHeartbeatForTooLongHasFailedOn()
    {
        // It may still be up from before a restart.
        LimiterWatch watch = Begun(3 * Second);
        watch.Look(3 * Second + LongestHoldUs - 1, false, true);
        Is(LimiterTrouble.None, watch);
        watch.Look(3 * Second + LongestHoldUs, false, true);
        Is(LimiterTrouble.StaysOn, watch);

        watch = Begun(3 * Second);
        Beat(watch, 10 * Second, 20 * Second, true);
        watch.Look(20 * Second + LongestHoldUs - 1, false, true);
        Is(LimiterTrouble.None, watch);
        watch.Look(20 * Second + LongestHoldUs, false, true);
        Is(LimiterTrouble.StaysOn, watch);
    }

    [TestMethod]
    public void TheLimiterIsTestedAgainAfterADayAtRestAndNotOnceItHasFailed()
    {
        LimiterWatch watch = Begun(3 * Second);
        Beat(watch, 3 * Second, 5 * Second, true);
        watch.Look(3 * Second + LimiterWatch.AgainUs - 1, false, false);
        Assert.IsFalse(watch.WantsBeats);
        watch.Look(3 * Second + LimiterWatch.AgainUs, false, false);
        Assert.IsTrue(watch.WantsBeats);
        // The next day counts from this try.
        Beat(watch, 4 * Second + LimiterWatch.AgainUs, 6 * Second + LimiterWatch.AgainUs, true);
        watch.Look(10 * Second + LimiterWatch.AgainUs, false, false);
        Assert.IsFalse(watch.WantsBeats);

        watch = Begun(0);
        Beat(watch, 0, 2 * Second, false);
        Is(LimiterTrouble.StaysOff, watch);
        watch.Look(2 * LimiterWatch.AgainUs, false, false);
        Assert.IsFalse(watch.WantsBeats);
    }
}
