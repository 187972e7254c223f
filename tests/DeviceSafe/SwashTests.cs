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
        Check.Near(10, rhythm.PeriodSeconds, 1e-9, "period");
        Assert.IsTrue(rhythm.TryForecast(76_000_000L, 1, out long turn, out double spread), "forecast");
        Assert.AreEqual(85_000_000L, turn);
        Assert.IsTrue(spread > 0.5 && spread < 3, "spread shrinks from the prior but not to nothing");
        Assert.IsTrue(rhythm.TryForecast(76_000_000L, 2, out turn, out double wider), "forecast");
        Assert.AreEqual(95_000_000L, turn);
        Assert.IsTrue(wider > spread, "two ahead is less certain");
        Assert.IsTrue(rhythm.TryForecast(86_000_000L, 1, out turn, out spread), "forecast");
        Assert.AreEqual(95_000_000L, turn);
    }

    [TestMethod]
    public void DoublePressesAreIgnoredAndMissedWavesAreSpread()
    {
        WaveRhythm rhythm = new WaveRhythm();
        long[] marks = { 0, 10, 20, 21, 30, 50, 60, 61, 70 };
        for (int i = 0; i < marks.Length; i++) rhythm.Mark(1_000_000L + marks[i] * 1_000_000L);
        Assert.AreEqual(7, rhythm.MarkCount);
        Check.Near(10, rhythm.PeriodSeconds, 1e-9, "period");
    }

    [TestMethod]
    public void TooFewMarksForecastNothing()
    {
        WaveRhythm rhythm = new WaveRhythm();
        rhythm.Mark(1_000_000L);
        rhythm.Mark(11_000_000L);
        Assert.IsFalse(rhythm.TryForecast(12_000_000L, 1, out long turn, out double spread), "two marks");
        Assert.AreEqual(0L, turn);
        Check.Near(0, rhythm.ChanceInBackwash(21_000_000L, 1, 3), 0, "chance");
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
        double at = rhythm.ChanceInBackwash(202_500_000L, 1, 4);
        double early = rhythm.ChanceInBackwash(198_000_000L, 1, 4);
        Assert.IsTrue(at > 0.5 && at <= 1, "centred");
        Assert.IsTrue(early < at, "early");
        Check.Near(0, rhythm.ChanceInBackwash(202_500_000L, 5, 4), 0, "longer than the backwash");
    }

    [TestMethod]
    public void TurnDelayIsLearnedFromPairs()
    {
        TurnDelay delay = new TurnDelay();
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
