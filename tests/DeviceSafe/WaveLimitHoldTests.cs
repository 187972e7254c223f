using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>From which length and after how many presses a hold of Mark measures a backwash.</summary>
[TestClass]
public class WaveLimitHoldTests
{
    private const long Second = 1_000_000;

    private static int Lengths(Bench bench) => bench.Desk.Waves.Rhythm.Lengths.Count;

    // Mark held so many times, for so long each.
    private static void Hold(Bench bench, int times, long forUs)
    {
        for (int i = 0; i < times; i++)
        {
            bench.RunTo(bench.NowUs + 10 * Second);
            bench.HoldMark(forUs);
        }
    }

    [TestMethod]
    public void ShortHoldsBeforeAnyLongOneAreKeptUntilTwoTapsTellWhatTheyWere()
    {
        // A single short hold and a long one: only the long one is a backwash.
        Bench bench = new Bench();
        Hold(bench, 1, Second / 2);
        Hold(bench, 1, 2 * Second);
        Assert.AreEqual(1, Lengths(bench));
        // One tap tells nothing yet, the second does; the kept ones count as their mean.
        bench = new Bench();
        Hold(bench, 1, 400_000);
        Hold(bench, 1, 600_000);
        Hold(bench, 1, 200_000);
        Assert.AreEqual(0, Lengths(bench));
        Hold(bench, 1, 200_000);
        Assert.AreEqual(2, Lengths(bench));
        Check.Near(0.5, bench.Desk.Waves.Rhythm.Lengths.MeanSeconds, 1e-6, "mean");
        // Four are kept.
        bench = new Bench();
        Hold(bench, 6, 500_000);
        Hold(bench, 2, 200_000);
        Assert.AreEqual(4, Lengths(bench));
    }

    /// <summary>A hold of exactly 0.3 s is no tap; four taps are remembered, and each longer press that follows takes one off.</summary>
    [TestMethod]
    public void TapsAreRememberedUpToFourAndTakenOffOneByOne()
    {
        Bench bench = new Bench();
        Hold(bench, 2, HeldMarks.TapUs);
        Hold(bench, 2, HeldMarks.TapUs - 1);
        Assert.AreEqual(2, Lengths(bench));
        bench = new Bench();
        Hold(bench, 7, 200_000);
        Hold(bench, 6, 500_000);
        Assert.AreEqual(3, Lengths(bench));
    }
}
