using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>What a run on the waves does in the exact microsecond at which its decision changes. The test finds these moments with a rhythm that has the same marks.</summary>
[TestClass]
public class WaveEdgeTests
{
    private const long Second = 1_000_000;

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs };

    // Marks at 5, 15, 25 and 35 s, and one more when it is not 0.
    private static WaveRhythm Marked(long lastUs)
    {
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 4; i++) rhythm.Mark((5 + 10 * i) * Second);
        if (lastUs != 0) rhythm.Mark(lastUs);
        return rhythm;
    }

    private static Bench Run(long askedUs, WaveOrder order) => Run(askedUs, order, new CameraProfile(), 1);

    private static Bench Run(long askedUs, WaveOrder order, CameraProfile camera, int seconds)
    {
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, 4);
        bench.RunTo(askedUs);
        Assert.IsTrue(bench.Desk.StartWaves(order, Bulb(seconds * Second), camera, bench.NowUs));
        return bench;
    }

    /// <summary>Three periods after the last mark a rhythm may still be fired on, a microsecond later it may not; the report says the same.</summary>
    [TestMethod]
    public void ThreePeriodsAreNotYetTooOld()
    {
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, 4);
        WaveRhythm rhythm = bench.Desk.Waves.Rhythm;
        SeaReport sea = bench.Link.Sea;
        long last = rhythm.LastMarkUs + (long)(3e6 * rhythm.PeriodSeconds);
        Assert.IsFalse(rhythm.Stale(last) || sea.Stale(last));
        Assert.IsTrue(rhythm.Stale(last + 1) && sea.Stale(last + 1));
    }

    /// <summary>A mark that is off the forecast by 35 % of the period is another wave; by a microsecond less it is the awaited one.</summary>
    [TestMethod]
    public void AMarkAtTheLimitIsAnotherWave()
    {
        WaveOrder order = new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 2000, Waves = 1 };
        Bench bench = Run(36 * Second, order);
        long aimed = bench.Desk.Waves.TargetUs - 2 * Second;
        long at = aimed - (long)(0.35e7);
        for (int i = 0; i < 2_000; i++)
        {
            long over = aimed - at - (long)(0.35 * Marked(at).PeriodSeconds * 1e6);
            if (over == 0) break;
            at += over > 20 || over < -20 ? over / 2 : over > 0 ? 1 : -1;
        }
        Assert.AreEqual(aimed - at, (long)(0.35 * Marked(at).PeriodSeconds * 1e6));
        bench.RunTo(at);
        bench.Mark();
        Assert.IsTrue(Marked(at).TryForecast(at, 1, out long next, out double spread));
        Assert.AreEqual(next + 2 * Second, bench.Desk.Waves.TargetUs);
        Bench inside = Run(36 * Second, order);
        inside.RunTo(at + 2);
        inside.Mark();
        Assert.AreEqual(at + 2 + 2 * Second, inside.Desk.Waves.TargetUs);
    }

    /// <summary>On every second wave the next one comes a period and a half after the last at the soonest: at that very microsecond it counts.</summary>
    [TestMethod]
    public void AWaveAPeriodAndAHalfOnCounts()
    {
        WaveOrder order = new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 0, Waves = 3, EveryWave = 2 };
        Bench bench = Run(36 * Second, order);
        long fired = bench.Desk.Waves.TargetUs;
        long at = fired + 5 * Second;
        long turn = 0;
        for (int i = 0; i < 2_000; i++)
        {
            WaveRhythm rhythm = Marked(at);
            Assert.IsTrue(rhythm.TryForecast(at, 1, out turn, out double spread));
            long over = fired + (long)(1.5 * rhythm.PeriodSeconds * 1e6) - turn;
            if (over == 0) break;
            at += over > 20 || over < -20 ? over / 2 : over > 0 ? 1 : -1;
        }
        Assert.AreEqual(turn, fired + (long)(1.5 * Marked(at).PeriodSeconds * 1e6));
        bench.RunTo(at);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
        bench.Mark();
        Assert.AreEqual((int)RunState.AwaitWave, (int)bench.Desk.State);
        Assert.AreEqual(turn, bench.Desk.Waves.TargetUs);
    }

    /// <summary>The best moment may be the soonest at which limiter, half-press and lag let the shutter open.</summary>
    [TestMethod]
    public void ABestMomentThatCanJustBeHadIsTaken()
    {
        // The limiter is charged first, half-press comes 3 s before the shutter, and the camera lags by 60 ms.
        CameraProfile camera = new CameraProfile { HalfPressLeadMs = 3_000 };
        long soonest = PlanCompiler.LimiterUs + 3_000_000 + 60_000;
        long asked = 42 * Second;
        ReleaseSearch search = new ReleaseSearch();
        for (int i = 0; i < 200; i++)
        {
            Assert.IsTrue(search.Begin(Marked(0), asked, 1, 3));
            while (!search.Step()) { }
            if (search.ReleaseUs == asked + soonest) break;
            asked = search.ReleaseUs - soonest;
        }
        Assert.AreEqual(asked + soonest, search.ReleaseUs);
        for (int late = 0; late < 2; late++)
        {
            Bench bench = Run(asked + late, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = true, Waves = 1 }, camera, 3);
            for (int i = 0; i < 400; i++) bench.Link.Pass(asked + late);
            Assert.AreEqual((int)RunState.AwaitWave, (int)bench.Desk.State);
            if (late == 0) Assert.AreEqual(asked + soonest, bench.Desk.Waves.TargetUs);
            else Assert.IsTrue(bench.Desk.Waves.TargetUs > asked + soonest + 5 * Second);
        }
    }
}
