using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>How the box learns the waves from marks.</summary>
[TestClass]
public class SwashTests
{
    [TestMethod]
    public void SteadyMarksGiveTheNextTurns()
    {
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 8; i++) rhythm.Mark(5_000_000L + i * 10_000_000L);
        Assert.IsTrue(rhythm.Ready, "eight marks are enough");
        Assert.AreEqual(8, rhythm.MarkCount);
        Check.Near(10, rhythm.PeriodSeconds, 0.03, "period");
        Assert.IsTrue(rhythm.TryForecast(76_000_000L, 1, out long turn, out double spread), "forecast");
        Check.Near(85, turn / 1e6, 0.05, "next turn, s");
        Assert.IsTrue(spread > 0.3 && spread < 3, "spread shrinks from the prior but not to nothing");
        Assert.IsTrue(rhythm.TryForecast(76_000_000L, 2, out turn, out double wider), "forecast");
        Check.Near(95, turn / 1e6, 0.1, "second turn, s");
        Assert.IsTrue(wider > spread, "the second turn ahead is less certain");
        Assert.IsTrue(rhythm.TryForecast(86_000_000L, 1, out turn, out spread), "forecast");
        Check.Near(95, turn / 1e6, 0.1, "a turn already past is not forecast again, s");
    }

    [TestMethod]
    public void DoublePressesAreIgnoredAndMissedWavesAreSpread()
    {
        WaveRhythm rhythm = new WaveRhythm();
        long[] marks = { 0, 10, 20, 21, 30, 50, 60, 61, 70 };
        for (int i = 0; i < marks.Length; i++) rhythm.Mark(1_000_000L + marks[i] * 1_000_000L);
        Assert.AreEqual(7, rhythm.MarkCount);
        Check.Near(10, rhythm.PeriodSeconds, 0.03, "period");
    }

    [TestMethod]
    public void TooFewMarksForecastNothing()
    {
        WaveRhythm rhythm = new WaveRhythm();
        rhythm.Mark(1_000_000L);
        rhythm.Mark(11_000_000L);
        Assert.IsFalse(rhythm.TryForecast(12_000_000L, 1, out long turn, out double spread), "two marks");
        Assert.AreEqual(0L, turn);
        Check.Near(0, rhythm.ChanceInBackwash(12_000_000L, 21_000_000L, 1), 0, "chance");
        Assert.IsTrue(rhythm.Stale(12_000_000L), "not ready is stale");
    }

    [TestMethod]
    public void NoMarkForThreePeriodsIsStale()
    {
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 6; i++) rhythm.Mark(1_000_000L + i * 8_000_000L);
        Assert.IsFalse(rhythm.Stale(41_000_000L + 23_900_000L), "inside three periods");
        Assert.IsTrue(rhythm.Stale(41_000_000L + 24_100_000L), "after three periods");
    }

    [TestMethod]
    public void ChanceFallsAwayFromTheForecast()
    {
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 20; i++) rhythm.Mark(1_000_000L + i * 10_000_000L);
        for (int i = 0; i < 10; i++) rhythm.LearnBackwash(4);
        double at = rhythm.ChanceInBackwash(192_000_000L, 202_500_000L, 1);
        double early = rhythm.ChanceInBackwash(192_000_000L, 198_000_000L, 1);
        Assert.IsTrue(at > 0.5 && at <= 1, "centred");
        Assert.IsTrue(early < at, "a frame that opens too early has the smaller chance");
        Check.Near(0, rhythm.ChanceInBackwash(192_000_000L, 202_500_000L, 5), 0, "longer than the backwash");
    }

    [TestMethod]
    public void ReleaseComesAfterNowAndAfterTheForecastTurn()
    {
        WaveRhythm rhythm = new WaveRhythm();
        Assert.IsFalse(rhythm.TryRelease(0, 1, 1, out long release, out double chance), "nothing learned");
        for (int i = 0; i < 30; i++) rhythm.Mark(1_000_000L + i * 10_000_000L);
        for (int i = 0; i < 10; i++) rhythm.LearnBackwash(4);
        Assert.IsTrue(rhythm.TryRelease(292_000_000L, 1, 1, out release, out chance), "release");
        Check.Near(302.5, release / 1e6, 1.1, "middle of the room after the turn at 301 s");
        Assert.IsTrue(chance > 0.85 && chance <= 1, "steady waves: nearly sure");
        // After gaps of 7, 7, 11 s the likeliest release is 7 to 8 s after a mark: not once 8.2 s have passed.
        WaveRhythm humps = new WaveRhythm();
        long at = 1_000_000L;
        for (int i = 0; i < 60; i++)
        {
            humps.Mark(at);
            at += (i % 3 == 0) ? 11_000_000L : 7_000_000L;
        }
        for (int i = 0; i < 10; i++) humps.LearnBackwash(2);
        Assert.IsTrue(humps.TryRelease(humps.LastMarkUs, 1, 1, out release, out chance), "a release is found right after the mark");
        Check.Near(7.5, (release - humps.LastMarkUs) / 1e6, 0.6, "on the first hump");
        Assert.IsTrue(humps.TryRelease(humps.LastMarkUs + 8_200_000L, 1, 1, out release, out chance), "a release is found 8.2 s later");
        Assert.IsTrue(release >= humps.LastMarkUs + 8_200_000L, "the forecast is never in the past");
    }

    [TestMethod]
    public void OneOddFirstGapDoesNotSpoilTheRhythm()
    {
        WaveRhythm rhythm = new WaveRhythm();
        rhythm.Mark(1_000_000L);
        for (int i = 0; i < 6; i++) rhythm.Mark(31_000_000L + i * 10_000_000L);
        // The plain mean of 30, 10, 10, 10, 10, 10 would be 13.3.
        Check.Near(10, rhythm.PeriodSeconds, 0.8, "period");
    }

    [TestMethod]
    public void PauseIsNotAPeriod()
    {
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 10; i++) rhythm.Mark(1_000_000L + i * 10_000_000L);
        double period = rhythm.PeriodSeconds;
        rhythm.Mark(900_000_000L);
        Check.Near(period, rhythm.PeriodSeconds, 0, "kept over a pause");
        Assert.AreEqual(900_000_000L, rhythm.LastMarkUs);
        Assert.IsTrue(rhythm.Stale(901_000_000L), "one mark does not bring the rhythm back");
        rhythm.Mark(910_000_000L);
        Assert.IsTrue(rhythm.Stale(911_000_000L), "one gap does not confirm it either");
        rhythm.Mark(921_000_000L);
        Assert.IsFalse(rhythm.Stale(922_000_000L), "two gaps confirm the rhythm");
    }

    [TestMethod]
    public void AWaveLeftOutAfterAPauseOnlyAsksForMoreMarks()
    {
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 10; i++) rhythm.Mark(1_000_000L + i * 10_000_000L);
        rhythm.Mark(900_000_000L);
        rhythm.Mark(910_000_000L);
        rhythm.Mark(930_000_000L);
        Assert.IsTrue(rhythm.Stale(931_000_000L));
        rhythm.Mark(940_000_000L);
        Assert.IsTrue(rhythm.Stale(941_000_000L));
        rhythm.Mark(950_000_000L);
        Assert.IsFalse(rhythm.Stale(951_000_000L));
        Check.Near(10, rhythm.PeriodSeconds, 0.1, "period");
    }

    [TestMethod]
    public void TwoGapsThatContradictTheRhythmOfBeforeAPauseBeginItAnew()
    {
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 30; i++) rhythm.Mark(1_000_000L + i * 12_000_000L);
        rhythm.Mark(900_000_000L);
        rhythm.Mark(905_000_000L);
        Check.Near(12, rhythm.PeriodSeconds, 0.1, "one gap says little");
        rhythm.Mark(910_000_000L);
        Check.Near(5, rhythm.PeriodSeconds, 0.1, "period of the new sea");
        Assert.AreEqual(WaveRhythm.MarksNeeded, rhythm.MarkCount);
        Assert.IsFalse(rhythm.Stale(911_000_000L));
    }

    [TestMethod]
    public void RaggedMarksWidenTheSpreadAndTheWords()
    {
        WaveRhythm steady = new WaveRhythm();
        WaveRhythm ragged = new WaveRhythm();
        long at = 1_000_000L;
        for (int i = 0; i < 60; i++)
        {
            steady.Mark(1_000_000L + i * 10_000_000L);
            ragged.Mark(at);
            at += (i % 3 == 0) ? 6_000_000L : (i % 3 == 1) ? 14_000_000L : 10_000_000L;
        }
        Assert.AreEqual("very steady", Steadiness.Words(steady.SteadinessIndex));
        Assert.AreEqual("ragged", Steadiness.Words(ragged.SteadinessIndex));
        Assert.AreEqual("not known yet", Steadiness.Words(new WaveRhythm().SteadinessIndex));
        // Spread of 6, 14, 10: sqrt(32/3) = 3.27.
        Check.Near(3.27, ragged.PeriodSpreadSeconds, 0.3, "spread");
    }

    [TestMethod]
    public void NormalMatchesHandbookTable()
    {
        // Abramowitz and Stegun 1964, table 26.1 (from memory).
        Check.Near(0.5, Normal.Below(0), 1e-7, "0");
        Check.Near(0.8413447461, Normal.Below(1), 1e-7, "1");
        Check.Near(0.9772498681, Normal.Below(2), 1e-7, "2");
        Check.Near(0.0013498980, Normal.Below(-3), 1e-7, "-3");
    }

    [TestMethod]
    public void ArrivalReleaseSharesTheRoom()
    {
        BackwashLengths lengths = new BackwashLengths();
        TurnDelay delay = new TurnDelay(lengths);
        Assert.IsFalse(delay.TryRelease(0, 1, out long release, out double chance), "nothing learned");
        for (int i = 0; i < 12; i++)
        {
            delay.Arrival(1_000_000L + i * 12_000_000L);
            delay.Turn(5_000_000L + i * 12_000_000L + (i % 2) * 200_000L);
            lengths.Learn(4.1);
        }
        Assert.IsTrue(delay.TryRelease(200_000_000L, 1, out release, out chance), "release");
        // ((2 + 2) 4.1 - 1)/3 = 5.13 s for a delay of 4.1 s and as long a backwash.
        Check.Near(205.13, release / 1e6, 0.25, "release, s");
        Assert.IsTrue(chance > 0.95, "steady delay: nearly sure");
    }

    // The upper half of a normal distribution in sixteen parts, in its spreads: its table at 33/64, 35/64 and so on, stretched so that their own spread is 1.
    private static readonly double[] Upper =
    {
        0.0400, 0.1201, 0.2010, 0.2832, 0.3673, 0.4540, 0.5441, 0.6386, 0.7390, 0.8471, 0.9657, 1.0991, 1.2545, 1.4462, 1.7095, 2.1970,
    };

    [TestMethod]
    public void TheTwoErrorsOfAHandInATimedLengthAreTakenOffIt()
    {
        // Backwashes of 4 s with 0.8 s of spread, each timed by a press and a release with 0.45 s of spread: the lengths spread by the root of
        // 0.64 + 2 x 0.2025. A frame begins with one press, so that 3 s after it the water is still running back where 4 s with the root of
        // 0.64 + 0.2025, 0.918 s, are longer: P(Z > -1.089) is 0.862 (table of the normal distribution). The spread assumed at first takes 0.007,
        // and thirty-two lengths in place of all of them another 0.004.
        BackwashLengths lengths = new BackwashLengths();
        for (int i = 0; i < BackwashLengths.Kept; i++) lengths.Learn(4 + (i % 2 == 0 ? 1.0223 : -1.0223) * Upper[i / 2]);
        Check.Near(0.862 - 0.007 - 0.004, FiringAdvice.ChanceOnBackwash(lengths, 4, 2.5, 0.5, 0.45), 0.002, "an uneven hand");
        // However uneven a hand is, the backwash lasts as long as it does in the mean.
        Check.Near(0.5, FiringAdvice.ChanceOnBackwash(lengths, 4, 3.5, 0.5, 0.7), 0.002, "a very uneven hand");
    }

    [TestMethod]
    public void BackwashLengthsKeepTheShortOnes()
    {
        BackwashLengths lengths = new BackwashLengths();
        Check.Near(0.5, lengths.ChanceShorter(3, 0.1, 0.1, 3), 1e-6, "nothing timed: a normal prior about the given mean");
        lengths.Learn(0.2);
        lengths.Learn(31);
        Assert.AreEqual(0, lengths.Count);
        // One in four is cut to 1 s. A normal curve through all, 3.25 s with 1.28 s, would have 16 % over after 2 s.
        for (int i = 0; i < 40; i++) lengths.Learn(i % 4 == 3 ? 1 : 4);
        Assert.AreEqual(BackwashLengths.Kept, lengths.Count);
        Check.Near(3.25, lengths.MeanSeconds, 1e-9, "mean");
        // Each length becomes a curve of 0.7 x 1.28 s / 2, 0.45 s; drawn in by 0.922 they stand at 1.18 s and 3.94 s, so that a quarter
        // of P(Z < 1.84) and three quarters of P(Z < -4.34) are over.
        Check.Near(0.242, lengths.ChanceShorter(2, 0.1, 0.1, 3), 0.002, "nearly one in four");
        // A press with 1 s of spread, after lengths that were timed with 0.1 s: the lengths vary by less than all together should,
        // 1.69 s2 of 2.63, so they stay where they are and their curves take the rest.
        Check.Near(0.25 * Normal.Below(1 / 0.9685) + 0.75 * Normal.Below(-2 / 0.9685), lengths.ChanceShorter(2, 1, 0.1, 3), 0.001, "an uneven press");
        lengths.Reset();
        Assert.AreEqual(0, lengths.Count);
    }

    [TestMethod]
    public void OutcomesLowerAChanceThatWasTooHigh()
    {
        // Delays of 2 s and 6 s in turn: a normal about 4 s promises more than comes true.
        TurnDelay two = new TurnDelay(new BackwashLengths());
        TurnDelay one = new TurnDelay(new BackwashLengths());
        for (int i = 0; i < 40; i++)
        {
            long at = 1_000_000L + i * 14_000_000L;
            two.Arrival(at);
            two.Turn(at + ((i % 2) == 0 ? 2_000_000L : 6_000_000L));
            one.Arrival(at);
            one.Turn(at + ((i % 2) == 0 ? 3_800_000L : 4_200_000L));
        }
        Assert.IsTrue(two.TryRelease(0, 1, out long release, out double poor), "release");
        Assert.IsTrue(one.TryRelease(0, 1, out release, out double good), "release");
        Assert.IsTrue(poor < 0.55, "two kinds of wave");
        Assert.IsTrue(good > 0.9, "one kind of wave");
    }

    [TestMethod]
    public void NoTurnYetMakesOneMoreLikelyButStaysWeakEvidence()
    {
        WaveRhythm rhythm = new WaveRhythm();
        long at = 1_000_000L;
        for (int i = 0; i < 60; i++)
        {
            rhythm.Mark(at);
            at += (i % 3 == 0) ? 6_000_000L : (i % 3 == 1) ? 14_000_000L : 10_000_000L;
        }
        for (int i = 0; i < 10; i++) rhythm.LearnBackwash(4);
        long last = rhythm.LastMarkUs;
        double fresh = rhythm.ChanceInBackwash(last, last + 15_000_000L, 1);
        double waited = rhythm.ChanceInBackwash(last + 11_000_000L, last + 15_000_000L, 1);
        double lost = rhythm.ChanceInBackwash(last + 24_000_000L, last + 26_000_000L, 1);
        Assert.IsTrue(waited > 1.2 * fresh, "a third kind is left, the wave of 14 s");
        Assert.IsTrue(waited < 2 * fresh, "half of the turns may have gone by unmarked");
        Check.Near(0.3, lost, 0.15, "(4 - 1)/10: blind luck");
    }

    [TestMethod]
    public void AdviceRanksTheWays()
    {
        WaveRhythm rhythm = new WaveRhythm();
        TurnDelay delay = new TurnDelay(rhythm.Lengths);
        FiringAdvice advice = new FiringAdvice();
        advice.Update(rhythm, delay, 0, 1);
        Assert.AreEqual(-1, advice.Recommended);
        Assert.AreEqual(-1, advice.Percent(FiringAdvice.OnArrival));
        long at = 1_000_000L;
        for (int i = 0; i < 40; i++)
        {
            rhythm.Mark(at);
            at += (i % 3 == 0) ? 6_000_000L : (i % 3 == 1) ? 14_000_000L : 10_000_000L;
        }
        for (int i = 0; i < 12; i++) rhythm.LearnBackwash(3.5 + (i % 3) * 0.5);
        advice.Update(rhythm, delay, rhythm.LastMarkUs, 1);
        Assert.AreEqual(FiringAdvice.AfterMark, advice.Recommended);
        Assert.IsTrue(advice.Percent(FiringAdvice.AfterMark) > 90, "after the mark");
        Assert.IsTrue(advice.Percent(FiringAdvice.OnRhythm) < 80, "ragged rhythm");
        Assert.IsTrue(advice.DelayAfterMarkSeconds > 0 && advice.DelayAfterMarkSeconds < 2.5, "delay inside the room");
    }

    [TestMethod]
    public void WhatCannotFitHasAChanceOfNoughtAndIsNotUnknown()
    {
        WaveRhythm rhythm = new WaveRhythm();
        TurnDelay delay = new TurnDelay(rhythm.Lengths);
        FiringAdvice advice = new FiringAdvice();
        for (int i = 0; i < 10; i++) rhythm.Mark(1_000_000L + i * 10_000_000L);
        for (int i = 0; i < 16; i++) rhythm.LearnBackwash(4);
        advice.Update(rhythm, delay, rhythm.LastMarkUs, 8);
        Assert.AreEqual(0, advice.Percent(FiringAdvice.AtOnce));
        Assert.AreEqual(0, advice.Percent(FiringAdvice.AfterMark));
        Assert.AreEqual(0, advice.Percent(FiringAdvice.OnRhythm));
        Assert.AreEqual(-1, advice.Percent(FiringAdvice.OnArrival));
        Assert.AreEqual(-1, advice.Recommended);
    }

    [TestMethod]
    public void AFrameThatOpensTooSoonAndClosesTooLateIsOneMissAndNotTwo()
    {
        // The frame opens 0.15 s after the turn in the mean, with 0.15 s of spread: after it in 0.8413 (table of the normal distribution).
        // Where it does, it opens later by 0.2876 spreads in the mean (density 0.2420 over 0.8413), so that one of 2.307 s closes
        // 2.5 s after the turn: just between two lengths of 1 s and 4 s. The other half of the waves is long enough: 0.4207.
        // Taken off twice, it would be 0.35.
        WaveRhythm rhythm = new WaveRhythm();
        for (int i = 0; i < 10; i++) rhythm.Mark(1_000_000L + i * 10_000_000L);
        for (int i = 0; i < 32; i++) rhythm.LearnBackwash(i % 2 == 0 ? 1 : 4);
        Check.Near(0.4207, FiringAdvice.ChanceAfterPress(rhythm, 0.05, 2.307), 0.002, "half of 0.8413");
        Check.Near(0, FiringAdvice.ChanceAfterPress(rhythm, 0, 1, -1, 0.15), 0, "a press that always comes a second too soon");
    }

    [TestMethod]
    public void TheLongestExposureThatFitsComesFromTheBackwashesTimed()
    {
        // A table of the normal distribution gives 3.05 s: opened 0.25 s after the turn the begin costs 0.048, so the end may cost
        // 0.052, which is 1.63 spreads. Sixteen equal lengths leave 0.40 s of the thirty per cent that are assumed (2 x 1.44 over 18 is the
        // square), and the press adds 0.14 s: 0.42 s together, so that the frame closes by 3.31 s. The search goes in steps of 0.06 s.
        WaveRhythm rhythm = new WaveRhythm();
        TurnDelay delay = new TurnDelay(rhythm.Lengths);
        FiringAdvice advice = new FiringAdvice();
        for (int i = 0; i < 10; i++) rhythm.Mark(1_000_000L + i * 10_000_000L);
        advice.Update(rhythm, delay, rhythm.LastMarkUs, 1);
        Check.Near(0, advice.LongestSeconds, 0, "nothing was timed");
        Assert.AreEqual(-1, advice.Percent(FiringAdvice.AfterMark), "a guess is not shown as a chance");
        for (int i = 0; i < 16; i++) rhythm.LearnBackwash(4);
        advice.Update(rhythm, delay, rhythm.LastMarkUs, 1);
        Check.Near(3.02, advice.LongestSeconds, 0.032, "longest exposure");
        Assert.IsTrue(advice.Chance(FiringAdvice.AfterMark) > 0.95, "what was timed");
    }

    [TestMethod]
    public void TurnDelayIsLearnedFromPairs()
    {
        TurnDelay delay = new TurnDelay(new BackwashLengths());
        delay.Turn(500_000L);
        for (int i = 0; i < 5; i++)
        {
            delay.Arrival(1_000_000L + i * 10_000_000L);
            delay.Turn(4_000_000L + i * 10_000_000L);
        }
        Assert.AreEqual(5, delay.PairCount);
        Assert.IsTrue(delay.TryForecast(51_000_000L, out long turn, out double spread), "forecast");
        Assert.AreEqual(54_000_000L, turn);
        Assert.IsTrue(spread > 0, "spread");
    }
}
