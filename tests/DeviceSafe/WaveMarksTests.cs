using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>What presses of Mark mean: taps and holds of different hands, and marks that contradict each other.</summary>
[TestClass]
public class WaveMarksTests
{
    private const long Second = 1_000_000;
    private const long Glove = 600_000;
    private const long Tap = 150_000;

    private static ShotPlan Bulb() => new ShotPlan { BoxTimed = true, ExposureUs = Second };

    private static int Timed(Bench bench) => bench.Desk.Waves.Rhythm.Lengths.Count;

    // Turns every ten seconds, Mark held for a while at each.
    private static void Hold(Bench bench, long forUs, int times)
    {
        for (int i = 0; i < times; i++)
        {
            bench.RunTo(bench.NowUs / (10 * Second) * 10 * Second + 10 * Second);
            bench.HoldMark(forUs);
        }
    }

    private static void Start(Bench bench, WaveOrder order)
    {
        Assert.IsTrue(bench.Desk.StartWaves(order, Bulb(), new CameraProfile(), bench.NowUs));
        bench.RunTo(bench.NowUs + Bench.TickUs);
    }

    [TestMethod]
    public void PressesWithGlovesAreNoBackwashes()
    {
        Bench bench = new Bench();
        Hold(bench, Glove, 16);
        Assert.AreEqual(0, Timed(bench), "sixteen turns tapped with gloves");
        Hold(bench, 3 * Second, 6);
        Hold(bench, Glove, 10);
        Assert.AreEqual(6, Timed(bench), "six backwashes timed, then taps again");
        Check.Near(3.0, bench.Desk.Waves.Rhythm.BackwashSeconds, 1e-6, "backwash");
    }

    [TestMethod]
    public void AShortHoldBetweenLongOnesIsAShortBackwash()
    {
        Bench bench = new Bench();
        Hold(bench, 3 * Second, 4);
        Hold(bench, Glove, 1);
        Hold(bench, 3 * Second, 1);
        Assert.AreEqual(6, Timed(bench));
        Check.Near(15.6 / 6, bench.Desk.Waves.Rhythm.BackwashSeconds, 1e-6, "mean of five long ones and the short one");
        // Two short ones in a row are not clear; once this hand has tapped twice much shorter than that, they are.
        Hold(bench, Glove, 2);
        Hold(bench, 3 * Second, 1);
        Assert.AreEqual(7, Timed(bench));
        Hold(bench, Tap, 2);
        Assert.AreEqual(9, Timed(bench));
        Hold(bench, Glove, 1);
        Assert.AreEqual(10, Timed(bench), "from now on holding for 0.6 s counts as a backwash");
    }

    [TestMethod]
    public void ABackwashThatOutlastsThePeriodIsQuestionedAndHalvesTheChance()
    {
        // Waves every 8 s; the arrival is tapped, and 3.5 s later the turn is held for as long as the backwash lasts.
        Bench bench = new Bench();
        for (int wave = 1; wave <= 12; wave++)
        {
            bench.RunTo(wave * 8 * Second);
            bench.HoldMark(Tap);
            bench.RunTo(wave * 8 * Second + 3_500_000);
            bench.HoldMark(3_600_000);
        }
        Assert.IsTrue(bench.Desk.Waves.Rhythm.PeriodSeconds < 4.5, "two marks a wave make half the period");
        Assert.IsTrue(bench.Desk.Waves.Rhythm.Doubtful, "3.6 s of backwash every 4 s");
        Start(bench, new WaveOrder { Way = FiringWay.OnRhythm });
        bench.RunTo(bench.NowUs + 20 * Bench.TickUs);
        Assert.IsTrue(bench.Desk.Waves.Doubtful);
        Assert.IsTrue(bench.Desk.Waves.ChancePercent >= 0 && bench.Desk.Waves.ChancePercent <= 50, "at the most one frame in two");
    }

    [TestMethod]
    public void LongAndShortGapsInTurnAreQuestionedAndRegularOnesAreNot()
    {
        WaveRhythm two = new WaveRhythm();
        WaveRhythm one = new WaveRhythm();
        long at = Second;
        for (int i = 0; i < 60; i++)
        {
            two.Mark(at + (i % 2) * 3_000_000L);
            one.Mark(at);
            at += i % 2 == 1 ? 8 * Second : 0;
            at += i % 2 == 1 ? i * 7919 % 5 * 100_000 : 0;
        }
        Assert.IsTrue(two.Doubtful, "3 s and 5 s in turn");
        Assert.IsFalse(one.Doubtful, "8 s and a little more");
        WaveRhythm few = new WaveRhythm();
        for (int i = 0; i < 16; i++) few.Mark(Second + i * 4 * Second + i % 2 * Second);
        Assert.IsFalse(few.Doubtful, "a dozen gaps between waves are too few to prove anything");
    }

    [TestMethod]
    public void TurnsTappedInARunOnArrivalsAreNoticed()
    {
        Bench bench = new Bench();
        Hold(bench, 3 * Second, 4);
        Start(bench, new WaveOrder { Way = FiringWay.OnArrival, Waves = 0 });
        long from = bench.NowUs / (8 * Second) * 8 * Second + 8 * Second;
        for (int wave = 0; wave < 6; wave++)
        {
            bench.RunTo(from + wave * 8 * Second);
            bench.HoldMark(3_500_000);
        }
        bench.RunTo(from + 48 * Second);
        bench.HoldMark(Tap);
        Assert.IsFalse(bench.Desk.Waves.Doubtful);
        int sure = bench.Desk.Waves.ChancePercent;
        for (int wave = 7; wave < 11; wave++)
        {
            bench.RunTo(from + wave * 8 * Second);
            bench.HoldMark(Tap);
            bench.RunTo(from + wave * 8 * Second + 3_500_000);
            bench.HoldMark(Tap);
        }
        Assert.IsTrue(bench.Desk.Waves.Doubtful, "every second press falls on the turn of the wave before");
        bench.RunTo(from + 96 * Second);
        bench.HoldMark(Tap);
        Assert.IsTrue(bench.Desk.Waves.ChancePercent <= (sure + 1) / 2, "the chance is halved");
    }

    [TestMethod]
    public void ArrivalsAloneAreNeverTakenForTappedTurns()
    {
        // The period is 1.5 delays, then one delay: presses fall near the expected turn again and again, but never every other one alone.
        foreach (long period in new long[] { 5_200_000, 3_500_000, 8_000_000 })
        {
            Bench bench = new Bench();
            Start(bench, new WaveOrder { Way = FiringWay.OnArrival, Waves = 0 });
            for (int wave = 1; wave <= 4; wave++)
            {
                bench.RunTo(wave * 8 * Second);
                bench.HoldMark(3_500_000);
            }
            for (int wave = 0; wave < 40; wave++)
            {
                bench.RunTo(40 * Second + wave * period);
                bench.HoldMark(Tap);
                Assert.IsFalse(bench.Desk.Waves.Doubtful);
            }
        }
    }

    [TestMethod]
    public void TheRunCountsFramesAndNotWaves()
    {
        Bench bench = new Bench();
        ShotPlan burst = new ShotPlan { Shape = PlanShape.Burst, Frames = 5, BoxTimed = true, ExposureUs = Second, GapUs = 300_000 };
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnMark, FramesPerWave = 5, Waves = 2 }, burst, new CameraProfile(), bench.NowUs));
        bench.RunTo(2 * Second);
        Assert.AreEqual(0, bench.Desk.Waves.FramesTaken);
        bench.Mark();
        bench.RunTo(4 * Second);
        Assert.AreEqual(2, bench.Desk.Waves.FramesTaken, "the second of five");
        bench.RunTo(10 * Second);
        Assert.AreEqual(5, bench.Desk.Waves.FramesTaken);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
    }

    [TestMethod]
    public void TheChanceOfAForecastFallsWhileNoMarkComes()
    {
        Bench bench = new Bench();
        for (int i = 0; i < 40; i++)
        {
            bench.RunTo(bench.NowUs + (2 + i * 7919 % 9) * Second);
            bench.HoldMark(4 * Second);
        }
        long last = bench.Desk.Waves.Rhythm.LastMarkUs;
        Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 1500 });
        bench.RunTo(last + 7 * Second);
        int early = bench.Desk.Waves.ChancePercent;
        bench.RunTo(bench.Desk.Waves.TargetUs - 700_000);
        Assert.IsTrue(bench.Desk.Waves.ChancePercent < early - 5, "whoever marks every turn would have marked this one");
    }

    [TestMethod]
    public void ANewBoxFiresALittleAfterTheMark()
    {
        Assert.IsTrue(new WaveOrder().Way == FiringWay.AfterMark);
        FiringAdvice advice = new FiringAdvice();
        WaveRhythm rhythm = new WaveRhythm();
        advice.Update(rhythm, new TurnDelay(rhythm.Lengths), 0, 1);
        Check.Near(0.3, advice.DelayAfterMarkSeconds, 1e-9, "a little, while nothing is learned");
    }
}
