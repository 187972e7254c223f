using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>
/// Runs that are fired by the mark of an arrival. Mark goes down as a wave arrives; whoever keeps it down until the wave turns
/// teaches its delay. What a press means never depends on the presses before it.
/// </summary>
[TestClass]
public class WaveArrivalTests
{
    private const long Second = 1_000_000;
    private const long LagUs = 60_000;
    private const long Tap = 150_000;

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs };

    private static Bench Begin(WaveOrder order, ShotPlan plan)
    {
        Bench bench = new Bench();
        order.Way = FiringWay.OnArrival;
        Assert.IsTrue(bench.Desk.StartWaves(order, plan, new CameraProfile(), bench.NowUs));
        bench.RunTo(Bench.TickUs);
        return bench;
    }

    // Asked for at once; then two waves held for 3 s from arrival to turn, the last turn at 23 s.
    private static Bench OnArrival(WaveOrder order, ShotPlan plan)
    {
        Bench bench = Begin(order, plan);
        for (int i = 0; i < BackwashLengths.Needed; i++) bench.Desk.Waves.Rhythm.LearnBackwash(2.7);
        Teach(bench, 10 * Second, 10 * Second, 3 * Second, 2);
        Assert.AreEqual(0, bench.Lines.Count);
        return bench;
    }

    private static void Teach(Bench bench, long firstUs, long periodUs, long delayUs, int waves)
    {
        for (int wave = 0; wave < waves; wave++)
        {
            bench.RunTo(firstUs + wave * periodUs);
            bench.HoldMark(delayUs);
        }
    }

    private static void Taps(Bench bench, long firstUs, long periodUs, int waves)
    {
        for (int wave = 0; wave < waves; wave++)
        {
            bench.RunTo(firstUs + wave * periodUs);
            bench.HoldMark(Tap);
        }
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
    public void TheRunAsksForHoldsUntilTwoWavesHaveTaughtTheirTurn()
    {
        Bench bench = Begin(new WaveOrder { Waves = 1 }, Bulb(Second));
        Assert.IsTrue(bench.Desk.Waves.AsksForHolds);
        bench.RunTo(10 * Second);
        bench.HoldMark(3 * Second);
        Assert.IsTrue(bench.Desk.Waves.AsksForHolds);
        bench.RunTo(20 * Second);
        bench.HoldMark(3 * Second);
        Assert.IsFalse(bench.Desk.Waves.AsksForHolds);
    }

    [TestMethod]
    public void ATapTeachesNoTurnAndAHoldDoes()
    {
        Assert.AreEqual(2, PairsAfterHolding(WaveRun.ShortestRunUpUs - 10_000));
        Assert.AreEqual(3, PairsAfterHolding(WaveRun.ShortestRunUpUs));
        Assert.AreEqual(3, PairsAfterHolding(4 * Second));
        // On a flat beach a wave runs up for half a minute; a minute is a hand that leans on the box.
        Assert.AreEqual(3, PairsAfterHolding(30 * Second));
        Assert.AreEqual(2, PairsAfterHolding(61 * Second));
    }

    private static int PairsAfterHolding(long forUs)
    {
        Bench bench = OnArrival(new WaveOrder { Waves = 3 }, Bulb(Second));
        bench.RunTo(30 * Second);
        bench.HoldMark(forUs);
        Assert.AreEqual(BackwashLengths.Needed, bench.Desk.Waves.Rhythm.Lengths.Count, "a hold on the way up is no backwash");
        return bench.Desk.Waves.Delay.PairCount;
    }

    [TestMethod]
    public void AnArrivalSoonAfterATurnFiresAndTheNextOnesStayRight()
    {
        Bench bench = Begin(new WaveOrder { Waves = 0 }, Bulb(Second));
        Teach(bench, 10 * Second, 8 * Second, 3_500_000, 4);
        Taps(bench, 42 * Second, 8 * Second, 12);
        // The last of them arrives at 130 s and turns at 133.5 s; the next bore arrives 2 s after that turn.
        Taps(bench, 135_500_000, 8 * Second, 39);
        bench.RunTo(bench.NowUs + 8 * Second);
        // The waves held after the first two fire as well.
        Assert.AreEqual(2 + 12 + 39, bench.Desk.Waves.WavesFired);
        for (int i = 0; i < 39; i++)
        {
            double intoUs = bench.Lines.ShutterEdgeUs(2 * (14 + i)) + LagUs - (135_500_000 + i * 8 * Second);
            Assert.IsTrue(intoUs >= 3_500_000 && intoUs < 5_500_000, "frame " + i.ToString() + " opened " + (intoUs / 1e6).ToString("F2") + " s after the arrival");
        }
    }

    [TestMethod]
    public void ArrivalsAloneFireOnEveryWaveAlsoWhenTheyTurnLate()
    {
        Bench bench = Begin(new WaveOrder { Waves = 0 }, Bulb(Second));
        Teach(bench, 10 * Second, 8 * Second, 5_200_000, 3);
        Taps(bench, 34 * Second, 8 * Second, 51);
        bench.RunTo(bench.NowUs + 8 * Second);
        // The third wave that was held fires as well.
        Assert.AreEqual(1 + 51, bench.Desk.Waves.WavesFired);
        Assert.AreEqual(0, bench.Desk.Waves.WavesMissed);
    }

    [TestMethod]
    public void ATurnMissedWhileLearningLeavesTheNextPairsRight()
    {
        Bench bench = Begin(new WaveOrder { Waves = 0 }, Bulb(Second));
        Taps(bench, 10 * Second, 8 * Second, 1);
        Teach(bench, 18 * Second, 8 * Second, 3_500_000, 5);
        Check.Near(3.5, bench.Desk.Waves.Delay.DelaySeconds, 1e-6, "learned delay");
        Taps(bench, 58 * Second, 8 * Second, 36);
        bench.RunTo(bench.NowUs + 8 * Second);
        // The third, fourth and fifth wave that were held fire as well.
        Assert.AreEqual(3 + 36, bench.Desk.Waves.WavesFired);
        int edges = 2 * bench.Desk.Waves.WavesFired;
        double intoUs = bench.Lines.ShutterEdgeUs(edges - 2) + LagUs - (58 + 35 * 8) * Second;
        Assert.IsTrue(intoUs >= 3_500_000 && intoUs < 5_500_000, (intoUs / 1e6).ToString("F2"));
    }

    [TestMethod]
    public void AnArrivalDuringAFrameFiresAfterIt()
    {
        // Turn 3 s after the arrival, opening 1 s later for 4 s: to 38 s. The next wave arrives at 36 s and opens at 40 s.
        Bench bench = OnArrival(new WaveOrder { BestMoment = false, FromTurnMs = 1000, Waves = 2 }, Bulb(4 * Second));
        Taps(bench, 30 * Second, 6 * Second, 2);
        bench.RunTo(50 * Second);
        Assert.AreEqual(34 * Second - LagUs, bench.Lines.ShutterEdgeUs(0));
        Assert.AreEqual(40 * Second - LagUs, bench.Lines.ShutterEdgeUs(2));
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
    }

    [TestMethod]
    public void AWaveThatTurnsWhileTheCameraIsBusyIsCountedAsMissed()
    {
        // The frame of the first wave lasts to 46 s; the wave of 36 s was to open at 40 s.
        Bench bench = OnArrival(new WaveOrder { BestMoment = false, FromTurnMs = 1000, Waves = 2 }, Bulb(12 * Second));
        Taps(bench, 30 * Second, 6 * Second, 2);
        bench.RunTo(60 * Second);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
        Assert.AreEqual(1, bench.Desk.Waves.WavesMissed);
        Assert.AreEqual((int)RunState.AwaitMark, (int)bench.Desk.State);
    }

    [TestMethod]
    public void ADoublePressAtTheArrivalIsOneWave()
    {
        Bench bench = OnArrival(new WaveOrder { Waves = 0 }, Bulb(Second));
        Taps(bench, 30 * Second, 700_000, 2);
        bench.RunTo(45 * Second);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
        Assert.AreEqual(0, bench.Desk.Waves.WavesMissed);
        // The second press may be the one that is held: the delay still counts from the first.
        bench.RunTo(50 * Second);
        bench.HoldMark(Tap);
        bench.RunTo(50_500_000);
        bench.HoldMark(2_500_000);
        Assert.AreEqual(3, bench.Desk.Waves.Delay.PairCount);
        Check.Near(3.0, bench.Desk.Waves.Delay.DelaySeconds, 1e-6, "learned delay");
    }
}
