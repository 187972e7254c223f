using Intervalometer.Core.Swash;
using Intervalometer.VirtualBoard.Sea;
using MathNet.Numerics;
using MathNet.Numerics.Statistics;

namespace Intervalometer.Tests.Host;

/// <summary>The random surface against wave theory.</summary>
[TestClass]
public class SurfaceTests
{
    private const double Long = 131_072;

    private static (double Variation, double LinkOne) PeriodStatistics(IEnumerable<SurfaceWave> waves)
    {
        double[] t = [.. waves.Select(w => w.PeriodSeconds)];
        double mean = t.Mean(), variance = t.PopulationVariance();
        double link = t.Zip(t.Skip(1), (a, b) => (a - mean) * (b - mean)).Average() / variance;
        return (Math.Sqrt(variance) / mean, link);
    }

    [TestMethod]
    [DataRow(1.0)]
    [DataRow(3.3)]
    [DataRow(7.0)]
    public void JonswapHasItsHeightAndItsPeak(double gamma)
    {
        var spectrum = new JonswapSpectrum(1.7, 11, gamma);
        Assert.AreEqual(1.7, spectrum.SignificantHeight, 1e-9);
        double peak = Enumerable.Range(1, 2000).Select(i => i * 0.0002).MaxBy(spectrum.Density);
        Assert.AreEqual(1 / 11.0, peak, 0.0002);
        // Hasselmann et al. 1973: gamma is the peak over the Pierson-Moskowitz peak, so the ratio between two shapes at
        // the peak, with equal tails, is gamma.
        var plain = new JonswapSpectrum(1.7, 11, 1);
        double tail = spectrum.Density(0.4) / plain.Density(0.4);
        Assert.AreEqual(gamma, spectrum.Density(1 / 11.0) / plain.Density(1 / 11.0) / tail, 1e-3);
    }

    [TestMethod]
    public void RecordHasTheVarianceOfItsSpectrum()
    {
        var record = new SurfaceRecord(new JonswapSpectrum(2, 10, 3.3), Long, 11);
        Assert.AreEqual(2, 4 * record.Level.PopulationStandardDeviation(), 0.03, "Hs = 4 sqrt(m0)");
        Assert.AreEqual(0, record.Level.Skewness(), 0.02, "a linear sum is normal");
    }

    [TestMethod]
    public void NarrowSwellHeightsAreRayleigh()
    {
        // Longuet-Higgins 1952: P(H > Hs) = exp(-2), mean H = sqrt(2 pi m0).
        var spectrum = new NarrowSwellSpectrum(2, 10, 0.05);
        double[] heights = [.. new SurfaceRecord(spectrum, Long, 12).Waves().Select(w => w.HeightMetres)];
        Assert.AreEqual(Math.Exp(-2), heights.Count(h => h > 2) / (double)heights.Length, 0.012);
        Assert.AreEqual(Math.Sqrt(2 * Math.PI) * 0.5, heights.Mean(), 0.03);
    }

    [TestMethod]
    public void NarrowSwellPeriodsSpreadAsLonguetHigginsSays()
    {
        // Longuet-Higgins 1975: interquartile range of T over its mean is 2 nu / sqrt(3); given the envelope rho the spread
        // is nu / rho, hence for H > Hs/2 (rho > 1) it is nu sqrt(E1(1/2) exp(1/2) / 2). The 1983 paper corrects at order nu.
        var spectrum = new NarrowSwellSpectrum(2, 10, 0.05);
        double nu = Math.Sqrt(spectrum.Moment(0) * spectrum.Moment(2) / Math.Pow(spectrum.Moment(1), 2) - 1);
        List<SurfaceWave> waves = new SurfaceRecord(spectrum, Long, 13).Waves();
        double[] periods = [.. waves.Select(w => w.PeriodSeconds)];
        Assert.AreEqual(2 * nu / Math.Sqrt(3), periods.InterquartileRange() / periods.Mean(), 0.05 * nu);
        double expected = nu * Math.Sqrt(0.5 * SpecialFunctions.ExponentialIntegral(0.5, 1) * Math.Exp(0.5));
        Assert.AreEqual(expected, PeriodStatistics(waves.Where(w => w.HeightMetres > 1)).Variation, 0.08 * expected);
    }

    [TestMethod]
    [DataRow(1.0, 0.341, 0.21)]
    [DataRow(3.3, 0.316, 0.29)]
    [DataRow(7.0, 0.285, 0.34)]
    public void JonswapPeriodsVaryAsInOtherSimulations(double gamma, double variation, double link)
    {
        // Computed for this project by a separate simulation of 44 to 72 thousand waves.
        var (v, r) = PeriodStatistics(new SurfaceRecord(new JonswapSpectrum(1.5, 10, gamma, 6), Long, 14).Waves());
        Assert.AreEqual(variation, v, 0.012);
        Assert.AreEqual(link, r, 0.03);
    }

    [TestMethod]
    [DataRow(0.10, 0.142, 0.076, 0.34)]
    [DataRow(0.05, 0.081, 0.035, 0.49)]
    public void NarrowSwellPeriodsVaryAsInOtherSimulations(double width, double variation, double variationOfLarge, double link)
    {
        // Computed for this project by a separate simulation of 44 to 72 thousand waves.
        List<SurfaceWave> waves = new SurfaceRecord(new NarrowSwellSpectrum(1.5, 10, width), 4 * Long, 16).Waves();
        var (v, r) = PeriodStatistics(waves);
        Assert.AreEqual(variation, v, 0.006);
        Assert.AreEqual(link, r, 0.04);
        Assert.AreEqual(variationOfLarge, PeriodStatistics(waves.Where(w => w.HeightMetres > 0.75)).Variation, 0.004);
    }

    [TestMethod]
    [DataRow(0.10, 0.148, 0.134)]
    [DataRow(0.05, 0.084, 0.071)]
    [DataRow(0.0, 0.296, 0.268)]
    public void TheBoxForecastsNextCrossingsBetweenTheKnownRules(double width, double lastTen, double autoregressive)
    {
        // The same separate simulation: RMS error of the next zero up-crossing over the mean period, for the mean of the last
        // ten periods and for an autoregressive rule of order five fitted to that sea. Width 0 stands for JONSWAP, gamma 7.
        WaveSpectrum spectrum = width > 0 ? new NarrowSwellSpectrum(1.5, 10, width) : new JonswapSpectrum(1.5, 10, 7, 6);
        List<SurfaceWave> waves = new SurfaceRecord(spectrum, Long, 17).Waves();
        var rhythm = new WaveRhythm();
        double squares = 0;
        int scored = 0;
        foreach (SurfaceWave wave in waves)
        {
            if (scored++ > 0 && rhythm.TryForecast(rhythm.LastMarkUs, 1, out long turn, out _)) squares += Math.Pow(turn / 1e6 - wave.StartSeconds, 2);
            rhythm.Mark((long)(wave.StartSeconds * 1e6));
        }
        double share = Math.Sqrt(squares / scored) / waves.Average(w => w.PeriodSeconds);
        Assert.IsTrue(share < 1.02 * lastTen && share > 0.97 * autoregressive, $"{share:F3} of the mean period");
    }

    [TestMethod]
    public void CrossingSeasAddTheirVariance()
    {
        var crossing = new CrossingSpectrum(new JonswapSpectrum(3, 6, 3.3), new JonswapSpectrum(4, 14, 7));
        Assert.AreEqual(5, crossing.SignificantHeight, 1e-3);
    }

    [TestMethod]
    public void GroupsEmerge()
    {
        // Kimura 1980 (from memory): heights of following waves are linked the more, the narrower the spectrum.
        double Link(WaveSpectrum s)
        {
            double[] h = [.. new SurfaceRecord(s, Long, 15).Waves().Select(w => w.HeightMetres)];
            return Correlation.Pearson(h[..^1], h[1..]);
        }

        double wind = Link(new JonswapSpectrum(1.5, 10, 1)), swell = Link(new NarrowSwellSpectrum(1.5, 10, 0.05));
        Assert.IsTrue(wind is > 0.1 and < 0.5 && swell > 0.7, $"wind sea {wind:F2}, narrow swell {swell:F2}");
    }

    [TestMethod]
    public void SameSeedSameBits()
    {
        SeaRecipe recipe = KnownSeas.All[4];
        SpectralSea a = new(recipe, 5, 4096), b = new(recipe, 5, 4096), c = new(recipe, 6, 4096);
        CollectionAssert.AreEqual(a.Surface.Level, b.Surface.Level);
        Assert.AreEqual(a.Count, b.Count);
        for (int i = 0; i < a.Count; i++) Assert.AreEqual(a[i], b[i]);
        Assert.AreNotEqual(a[0], c[0]);
    }
}
