using Intervalometer.VirtualBoard.Sea;
using MathNet.Numerics;

namespace Intervalometer.Tests.Host;

/// <summary>The shallow-water solver against solutions by others, its seas against a field formula, and the traced record.</summary>
[TestClass]
public class ShallowWaterTests
{
    private const double G = SwashModel.Gravity;

    [TestMethod]
    public void StillWaterStaysStillOnABeach()
    {
        var water = new ShallowWater(ShallowWaterSea.Bed(0.1, 0.2, 2), 0.2, 0);
        water.RunTo(20, _ => 0);
        Assert.IsTrue(water.Flow.All(f => Math.Abs(f) < 1e-9), $"{water.Flow.Max(Math.Abs):E1} m²/s");
    }

    [TestMethod]
    public void WaterIsNeitherMadeNorLostBetweenWalls()
    {
        double[] bed = ShallowWaterSea.Bed(0.1, 0.2, 3);
        var water = new ShallowWater(bed, 0.2, 0.02);
        for (int i = 0; i < 60; i++) water.Depth[i] += 1;
        double before = water.Depth.Sum();
        water.RunTo(30, null);
        Assert.AreEqual(before, water.Depth.Sum(), 1e-6 * before);
    }

    [TestMethod]
    public void ADamBreaksAsRitterSaid()
    {
        // Ritter 1892, on a dry bed: h = (2 c0 - x/t)²/(9 g) between -c0 t and 2 c0 t (textbook form, from memory).
        const int Cells = 800;
        const double Cell = 0.05, Seconds = 2;
        var water = new ShallowWater(new double[Cells], Cell, 0);
        for (int i = 0; i < Cells / 2; i++) water.Depth[i] = 1;
        water.RunTo(Seconds, null);
        double c0 = Math.Sqrt(G), worst = 0;
        for (int i = 0; i < Cells; i++)
        {
            double x = ((i + 0.5) * Cell - Cells * Cell / 2) / Seconds;
            double h = x < -c0 ? 1 : x > 2 * c0 ? 0 : (2 * c0 - x) * (2 * c0 - x) / 9 / G;
            worst = Math.Max(worst, Math.Abs(h - water.Depth[i]));
        }
        Assert.IsTrue(worst < 0.02, $"{worst:F4} m");
    }

    [TestMethod]
    [DataRow(0.100, 12.0, 0.050)]
    [DataRow(0.125, 16.0, 0.150)]
    [DataRow(0.050, 20.0, 0.030)]
    public void StandingWavesRunUpAsCarrierAndGreenspanSaid(double slope, double period, double amplitude)
    {
        // Carrier and Greenspan 1958: nonlinear waves that do not break run up and down as far as linear ones; those, on a plane
        // beach behind a flat bottom, reach 2 a / sqrt(J0² + J1²) at 2 omega L / sqrt(g h) (Keller and Keller 1964; from memory).
        double omega = 2 * Math.PI / period, length = ShallowWaterSea.ToeMetres / slope;
        double argument = 2 * omega * length / Math.Sqrt(G * ShallowWaterSea.ToeMetres);
        double expected = 2 * amplitude / Math.Sqrt(Math.Pow(SpecialFunctions.BesselJ(0, argument), 2) + Math.Pow(SpecialFunctions.BesselJ(1, argument), 2));
        Assert.IsTrue(expected * omega * omega / G / slope / slope < 1, "the wave does not break");
        double cell = 0.01 / slope;
        double[] bed = ShallowWaterSea.Bed(slope, cell, 3 * expected + 1);
        double still = -bed[0] / slope + Enumerable.Range(0, bed.Length).Count(i => bed[i] == bed[0]) * cell;
        var water = new ShallowWater(bed, cell, 0);
        double highest = double.MinValue, lowest = double.MaxValue;
        for (double t = 0; t < 14 * period; t += 0.1)
        {
            water.RunTo(t, s => amplitude * Math.Min(1, s / (4 * period)) * Math.Sin(omega * s));
            if (t < 11 * period) continue;
            double level = (water.EdgeMetres(0.002) - still) * slope;
            highest = Math.Max(highest, level);
            lowest = Math.Min(lowest, level);
        }
        Assert.AreEqual(expected, highest, 0.06 * expected, "run-up");
        Assert.AreEqual(-expected, lowest, 0.06 * expected, "run-down");
    }

    [TestMethod]
    public void RunUpAgreesWithFieldFormula()
    {
        // Stockdon et al. 2006, as in SpectralSeaTests; its own RMS error against ten field experiments is 0.38 m (from memory).
        foreach (var (slope, period) in new[] { (0.125, 8.0), (0.10, 12.0), (1 / 15.0, 12.0) })
        {
            double[] edge = ShallowWaterSea.Edge(new ShallowRecipe("run-up", new JonswapSpectrum(1, period, 3.3), slope), 21, 700);
            var sea = new TracedSea("run-up", 21, edge, 0.1);
            double[] reach = [.. Enumerable.Range(0, sea.Count).Select(i => sea[i].RunUpMetres + edge.Min()).Order()];
            double hl = G * period * period / (2 * Math.PI);
            double expected = 1.1 * (0.35 * slope * Math.Sqrt(hl) + Math.Sqrt(hl * (0.563 * slope * slope + 0.004)) / 2);
            double ours = reach[(int)(0.98 * reach.Length)] * slope / Math.Sqrt(1 + slope * slope);
            Assert.AreEqual(expected, ours, 0.38, $"period {period} s, slope {slope:F3}");
        }
    }

    [TestMethod]
    public void GroupsCarryADepressionWithThem()
    {
        // Longuet-Higgins and Stewart 1962: under high waves the mean level is lower, so that it is linked to the envelope by less than nought.
        const double Peak = 12, Step = 0.25;
        Func<double, double> level = ShallowWaterSea.Incoming(new JonswapSpectrum(1, Peak, 7), 8192, 5);
        var free = new SurfaceRecord(new JonswapSpectrum(1, Peak, 7), 8192, 5);
        double[] bound = [.. Enumerable.Range(0, 32_768).Select(i => level(i * Step) - free.Level[i])];
        double[] square = [.. Enumerable.Range(0, 32_768).Select(i => free.Level[i] * free.Level[i])];
        Assert.AreEqual(0, bound.Average(), 1e-9);
        Assert.IsTrue(bound.Zip(square, (b, s) => b * s).Average() < 0, "lower under the high waves");
        // In shallow water the share tends to 3 g / (4 (g h - cg²)); at 12 s in 4 m, kh = 0.34, it is near it.
        double share = ShallowWaterSea.BoundShare(1 / Peak);
        Assert.IsTrue(share is > 1 and < 3, $"{share:F2} per metre");
    }

    [TestMethod]
    public void FlatBeachesTurnSeldom()
    {
        static double Spacing(double slope)
        {
            TracedSea sea = ShallowWaterSea.Make(new ShallowRecipe("x", new JonswapSpectrum(1, 12, 7), slope), 3, 600);
            return (sea[sea.Count - 1].TurnUs - sea[0].TurnUs) / 1e6 / (sea.Count - 1);
        }

        double steep = Spacing(1 / 10.0), flat = Spacing(1 / 40.0);
        Assert.IsTrue(steep is > 9 and < 15, $"{steep:F1} s on 1:10");
        Assert.IsTrue(flat is > 27 and < 55, $"{flat:F1} s on 1:40: the long waves turn, not the bores");
    }

    [TestMethod]
    public void TheTracedBeachTurnsAsIrregularlyAsItsSourceShows()
    {
        // The spread of the time from turn to turn of these two records is 45 to 52 % of its mean, of the backwash 67 to 91 %; a turn
        // was found there by other rules, so that only their order is compared.
        int turns = 0;
        foreach (string name in BeachRecord.Names)
        {
            TracedSea sea = BeachRecord.Read(name, 1);
            Assert.IsTrue(BeachRecord.Edge(name).Length is > 2000 and < 2100, "17 minutes, two a second");
            double[] gaps = [.. Enumerable.Range(1, sea.Count - 1).Select(i => (sea[i].TurnUs - sea[i - 1].TurnUs) / 1e6)];
            double mean = gaps.Average(), spread = Math.Sqrt(gaps.Average(g => (g - mean) * (g - mean))) / mean;
            Assert.IsTrue(spread is > 0.4 and < 0.65, $"{name}: {spread:F2}");
            Assert.IsTrue(Enumerable.Range(0, sea.Count).All(i => sea[i].ArrivalUs < sea[i].TurnUs && sea[i].TurnUs < sea[i].EndUs));
            turns += sea.Count;
        }
        Assert.AreEqual(118, turns, "129 less 11 after which the trace jumps at once");
    }

    [TestMethod]
    public void ATracedTriangleIsReadBack()
    {
        // Up in 4 s, down in 5 s, one wave lower that is not seen; sampled twice a second.
        double[] edge = [.. Enumerable.Range(0, 180).Select(i => i % 18 <= 8 ? i % 18 : 8 - 0.8 * (i % 18 - 8))];
        var sea = new TracedSea("triangle", 1, edge, 0.5);
        Assert.AreEqual(4.0, (sea[3].TurnUs - sea[3].ArrivalUs) / 1e6, 0.6);
        Assert.AreEqual(9.0, (sea[4].TurnUs - sea[3].TurnUs) / 1e6, 1e-6);
        Assert.AreEqual(sea[2].TurnUs + sea.LapUs, sea[2 + sea.Count].TurnUs);
        Assert.AreEqual(sea[5].TurnUs, sea.LastBefore(sea[5].TurnUs)!.Value.TurnUs);
        Assert.AreEqual(8, sea.EdgeMetres(sea[5].TurnUs), 0.2);
    }
}
