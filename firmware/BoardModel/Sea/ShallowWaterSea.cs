using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Intervalometer.VirtualBoard.Sea;

/// <summary>What a shallow-water sea is made of.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Spectrum">The waves at the toe of the beach.</param>
/// <param name="Slope">tan of the plane beach, 0.02 to 0.15.</param>
public sealed record ShallowRecipe(string Name, WaveSpectrum Spectrum, double Slope);

/// <summary>
/// Seas by another physics than <see cref="SwashModel"/>, with which they share only the spectrum. Random waves and the long waves bound to
/// their groups run over a flat bottom on to a plane beach, break as bores, meet the backwash and run up.
/// </summary>
public static class ShallowWaterSea
{
    /// <summary>Depth at the toe of the beach, metres.</summary>
    public const double ToeMetres = 4;

    /// <summary>Water at least this deep is seen as the edge, metres; thinner films are left by every backwash.</summary>
    public const double SeenMetres = 0.01;

    private const double FlatMetres = 20;
    private const double Friction = 0.02;
    private const double StepSeconds = 0.1;

    // Nothing is kept until the first waves have come and gone, seconds.
    private const double WarmUpSeconds = 120;

    /// <summary>Makes one lap.</summary>
    /// <param name="recipe">What to make.</param>
    /// <param name="seed">The same number gives the same waves.</param>
    /// <param name="seconds">Length of the lap, seconds.</param>
    public static TracedSea Make(ShallowRecipe recipe, int seed, double seconds) => Watched(recipe, seed, seconds, 1).First();

    /// <summary>Makes one lap for several people who come at different times, each with presses of their own.</summary>
    public static IEnumerable<TracedSea> Watched(ShallowRecipe recipe, int seed, double seconds, int watchers)
    {
        double[] edge = Edge(recipe, seed, seconds);
        for (int w = 0; w < watchers; w++)
        {
            int first = w * edge.Length / watchers;
            yield return new(recipe.Name, seed + 1000 * w, [.. edge[first..], .. edge[..first]], StepSeconds);
        }
    }

    /// <summary>Place of the edge along the face from the still waterline, metres, every tenth of a second.</summary>
    public static double[] Edge(ShallowRecipe recipe, int seed, double seconds)
    {
        double cell = Math.Clamp(0.02 / recipe.Slope, 0.15, 0.5);
        double[] bed = Bed(recipe.Slope, cell, 2 * recipe.Spectrum.SignificantHeight + 1);
        double shore = FlatMetres + ToeMetres / recipe.Slope;
        Func<double, double> incoming = Incoming(recipe.Spectrum, seconds + WarmUpSeconds, seed);
        var water = new ShallowWater(bed, cell, Friction);
        water.RunTo(WarmUpSeconds, incoming);
        double along = Math.Sqrt(1 + recipe.Slope * recipe.Slope);
        var edge = new double[(int)(seconds / StepSeconds)];
        for (int i = 0; i < edge.Length; i++)
        {
            water.RunTo(WarmUpSeconds + i * StepSeconds, incoming);
            edge[i] = (water.EdgeMetres(SeenMetres) - shore) * along;
        }
        return edge;
    }

    /// <summary>A flat bottom and a plane beach, metres above still water.</summary>
    public static double[] Bed(double slope, double cell, double highestMetres)
    {
        int cells = (int)((FlatMetres + (ToeMetres + highestMetres) / slope) / cell);
        return [.. Enumerable.Range(0, cells).Select(i => -ToeMetres + slope * Math.Max(0, (i + 0.5) * cell - FlatMetres))];
    }

    /// <summary>The incoming surface at the toe: the waves of a spectrum and the long waves bound to their groups.</summary>
    /// <remarks>Bound long waves after Longuet-Higgins and Stewart 1962, with the group speed of the peak; the envelope by the analytic signal.</remarks>
    public static Func<double, double> Incoming(WaveSpectrum spectrum, double seconds, int seed)
    {
        var surface = new SurfaceRecord(spectrum, seconds, seed);
        double[] level = surface.Level;
        var bins = level.Select(l => new Complex(l, 0)).ToArray();
        Fourier.Forward(bins, FourierOptions.AsymmetricScaling);
        for (int k = 1; k < bins.Length / 2; k++) bins[k] *= 2;
        for (int k = bins.Length / 2 + 1; k < bins.Length; k++) bins[k] = 0;
        Fourier.Inverse(bins, FourierOptions.AsymmetricScaling);
        double share = BoundShare(spectrum.PeakHz);
        double[] bound = [.. bins.Select(b => -share * b.Magnitude * b.Magnitude)];
        double mean = bound.Average();
        for (int i = 0; i < level.Length; i++) level[i] += bound[i] - mean;
        return surface.At;
    }

    /// <summary>Depression under a group over the square of its amplitude, 1/metres, at the toe: (2n - 1/2) g / 2 / (g h - cg²).</summary>
    public static double BoundShare(double hz)
    {
        double omega = 2 * Math.PI * hz, k = omega * omega / SwashModel.Gravity;
        for (int i = 0; i < 100; i++) k = 0.5 * (k + omega * omega / SwashModel.Gravity / Math.Tanh(k * ToeMetres));
        double n = 0.5 * (1 + 2 * k * ToeMetres / Math.Sinh(2 * k * ToeMetres)), group = n * omega / k;
        return (2 * n - 0.5) * SwashModel.Gravity / 2 / (SwashModel.Gravity * ToeMetres - group * group);
    }
}
