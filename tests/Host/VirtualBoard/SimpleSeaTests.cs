using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.Tests.Host.VirtualBoard;

[TestClass]
public class SimpleSeaTests
{
    private static Swash[] First(ISea sea, int count)
    {
        var waves = new List<Swash>();
        long at = -1;
        while (waves.Count < count)
        {
            waves.Add(sea.NextAfter(at));
            at = waves[^1].ArrivalUs;
        }
        return [.. waves];
    }

    [TestMethod]
    public void TheSameSeedGivesTheSameWavesInWhateverOrderTheyAreAskedFor()
    {
        var a = new SimpleSea(3);
        var b = new SimpleSea(3);
        b.EdgeMetres(500_000_000);
        b.LastBefore(100_000_000);
        CollectionAssert.AreEqual(First(a, 100), First(b, 100));
        CollectionAssert.AreNotEqual(First(a, 100), First(new SimpleSea(4), 100));
    }

    [TestMethod]
    public void PeriodAndSpreadAreAsAsked()
    {
        Swash[] waves = First(new SimpleSea(8, 10, 0.08), 5001);
        double[] periods = [.. waves.Zip(waves.Skip(1), (a, b) => (b.ArrivalUs - a.ArrivalUs) / 1e6)];
        double mean = periods.Average();
        Assert.AreEqual(10, mean, 0.05);
        Assert.AreEqual(0.8, Math.Sqrt(periods.Average(p => (p - mean) * (p - mean))), 0.03);
    }

    /// <summary>Shen and Meyer 1963 (from memory): a swash of initial speed u0 lasts 2 u0 / (g sin b) and reaches u0² / (2 g sin b).</summary>
    [TestMethod]
    public void TheSwashIsBallistic()
    {
        var sea = new SimpleSea(1, periodSeconds: 20, spread: 0, runUpMetres: 4, beachSlope: 0.1);
        Swash wave = sea.NextAfter(-1);
        double pull = 9.81 * 0.1;
        double u0 = Math.Sqrt(2 * pull * 4);
        Assert.AreEqual(2 * u0 / pull, (wave.EndUs - wave.ArrivalUs) / 1e6, 1e-5);
        Assert.AreEqual(u0 / pull, (wave.TurnUs - wave.ArrivalUs) / 1e6, 1e-5);
        Assert.AreEqual(4, sea.EdgeMetres(wave.TurnUs), 1e-9);
        foreach (double t in new[] { 0.5, 1, 2, 4 })
        {
            Assert.AreEqual(u0 * t - pull * t * t / 2, sea.EdgeMetres(wave.ArrivalUs + (long)(t * 1e6)), 1e-9);
        }
        Assert.AreEqual(0, sea.EdgeMetres(wave.EndUs + 1_000_000), 0);
    }

    [TestMethod]
    public void ABackwashEndsWhenTheNextBoreOverrunsIt()
    {
        Swash[] waves = First(new SimpleSea(2, periodSeconds: 4, spread: 0, runUpMetres: 4), 5);
        for (int i = 0; i < 4; i++) Assert.AreEqual(waves[i + 1].ArrivalUs, waves[i].EndUs);
    }

    [TestMethod]
    public void TurnsAreTheHighestPoints()
    {
        var sea = new SimpleSea(6);
        foreach (Swash wave in First(sea, 50))
        {
            double top = sea.EdgeMetres(wave.TurnUs);
            Assert.AreEqual(wave.RunUpMetres, top, 1e-6);
            Assert.IsTrue(sea.EdgeMetres(wave.TurnUs - 100_000) < top && sea.EdgeMetres(wave.TurnUs + 100_000) < top);
        }
    }

    [TestMethod]
    public void SharesAndTurnsAreMeasuredAgainstTheWaves()
    {
        var sea = new SimpleSea(1, periodSeconds: 20, spread: 0);
        Swash wave = sea.NextAfter(-1);
        Assert.AreEqual(1, Waves.BackwashShare(sea, wave.TurnUs, wave.EndUs), 1e-9);
        Assert.AreEqual(0.5, Waves.BackwashShare(sea, wave.TurnUs - 1_000_000, wave.TurnUs + 1_000_000), 1e-9);
        Assert.AreEqual(0, Waves.BackwashShare(sea, wave.ArrivalUs, wave.TurnUs), 1e-9);
        Assert.AreEqual(300_000L, Waves.FromNearestTurn(sea, wave.TurnUs + 300_000));
        Assert.AreEqual(-200_000L, Waves.FromNearestTurn(sea, wave.TurnUs - 200_000));
    }
}
