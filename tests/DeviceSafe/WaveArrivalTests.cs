using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Runs that are fired by the mark of an arrival: when the frame comes, and which marks are taken as turns.</summary>
[TestClass]
public class WaveArrivalTests
{
    private const long Second = 1_000_000;
    private const long LagUs = 60_000;

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs };

    // Asked for at once; then two pairs of 3 s from arrival to turn, the last turn at 23 s.
    private static Bench OnArrival(WaveOrder order, ShotPlan plan)
    {
        Bench bench = new Bench();
        order.Way = FiringWay.OnArrival;
        Assert.IsTrue(bench.Desk.RequestWaves(order, plan, new CameraProfile()));
        for (int wave = 0; wave < 2; wave++)
        {
            bench.RunTo((10 + 10 * wave) * Second);
            bench.Mark();
            Assert.IsTrue(bench.Desk.Waves.TurnMarkDue);
            bench.RunTo((13 + 10 * wave) * Second);
            bench.Mark();
            Assert.IsFalse(bench.Desk.Waves.TurnMarkDue);
        }
        Assert.AreEqual(0, bench.Lines.Count);
        return bench;
    }

    [TestMethod]
    public void OnArrivalTheFrameComesASetTimeFromTheTurnOrAtTheBestMoment()
    {
        Bench bench = OnArrival(new WaveOrder { BestMoment = false, FromTurnMs = 1500, Waves = 1 }, Bulb(Second));
        bench.RunTo(30 * Second);
        bench.Mark();
        Assert.AreEqual(34_500_000L, bench.Desk.Waves.TargetUs);
        Assert.AreEqual(-1, bench.Desk.Waves.ChancePercent);

        bench = OnArrival(new WaveOrder { FromTurnMs = 1500, Waves = 1 }, Bulb(Second));
        bench.RunTo(30 * Second);
        Assert.IsTrue(bench.Desk.Waves.Delay.TryRelease(30 * Second, 1.0, out long best, out double chance));
        bench.Mark();
        Assert.AreEqual(best, bench.Desk.Waves.TargetUs);
        Assert.AreEqual(FiringAdvice.WholePercent(chance), bench.Desk.Waves.ChancePercent);
        Assert.IsTrue(chance > 0.3);
        bench.RunTo(40 * Second);
        Assert.AreEqual(best - LagUs, bench.Lines.ShutterEdgeUs(0));
    }

    [TestMethod]
    public void AMarkAboutWhenTheWaveIsDueToTurnTeachesItsTurn()
    {
        // Arrival at 30 s, turn due at 33 s; the window is 0.6 of the delay, 1.8 s, to both sides.
        Assert.AreEqual(2, PairsAfterMarkAt(31_100_000));
        Assert.AreEqual(3, PairsAfterMarkAt(31_300_000));
        Assert.AreEqual(3, PairsAfterMarkAt(34_700_000));
        Assert.AreEqual(2, PairsAfterMarkAt(34_900_000));
    }

    private static int PairsAfterMarkAt(long us)
    {
        Bench bench = OnArrival(new WaveOrder { Waves = 3 }, Bulb(Second));
        bench.RunTo(30 * Second);
        bench.Mark();
        bench.RunTo(us);
        bench.Mark();
        return bench.Desk.Waves.Delay.PairCount;
    }
}
