namespace Intervalometer.VirtualBoard.Sea;

/// <summary>What a sea is made of.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Spectrum">The waves offshore.</param>
/// <param name="Beach">The beach they meet.</param>
/// <param name="WaterLevelMetres">Still water above mean sea level at seconds from the start; null for mean sea level.</param>
public sealed record SeaRecipe(string Name, WaveSpectrum Spectrum, Beach Beach, Func<double, double>? WaterLevelMetres = null);

/// <summary>A sea made from a spectrum: waves, their bores, and the swash on a beach face. It repeats after <see cref="LapUs"/>.</summary>
public sealed class SpectralSea : IRepeatingSea
{
    private const int EdgesLookedBack = 4;
    private readonly SeenSwash[] _seen;

    /// <param name="recipe">What to make.</param>
    /// <param name="seed">Any number; the same number gives the same bits.</param>
    /// <param name="seconds">Length made, rounded up to a power of two quarter seconds; afterwards it repeats. The default is 9.1 hours.</param>
    public SpectralSea(SeaRecipe recipe, int seed, double seconds = 32_768)
    {
        Recipe = recipe;
        Seed = seed;
        Surface = new SurfaceRecord(recipe.Spectrum, seconds, seed);
        LapUs = (long)(Surface.Seconds * 1e6);
        double height = recipe.Spectrum.SignificantHeight;
        double length = SwashModel.Gravity / (2 * Math.PI * recipe.Spectrum.PeakHz * recipe.Spectrum.PeakHz);
        var longWaves = new SurfaceRecord(
            new NarrowSwellSpectrum(SwashModel.LongWaveShare * Math.Sqrt(height * length), 5 / recipe.Spectrum.PeakHz, 0.25), Surface.Seconds, ~seed, 1);
        double Slope(double t) => recipe.Beach.SlopeAt(recipe.WaterLevelMetres is null ? 0 : recipe.WaterLevelMetres(t));
        double Rise(double t) => (longWaves.At(t + 1) - longWaves.At(t - 1)) / 2;
        Waves = Surface.Waves();
        _seen = [.. SwashModel.Seen(SwashModel.Bores(Waves, Slope, Rise))];
        LongWaves = longWaves;
    }

    public SeaRecipe Recipe { get; }

    public string Name => Recipe.Name;

    public int Seed { get; }

    /// <summary>Time after which everything repeats, µs.</summary>
    public long LapUs { get; }

    /// <summary>The surface offshore.</summary>
    public SurfaceRecord Surface { get; }

    /// <summary>Level of the long waves under the groups, metres of height.</summary>
    public SurfaceRecord LongWaves { get; }

    /// <summary>The waves offshore.</summary>
    public IReadOnlyList<SurfaceWave> Waves { get; }

    /// <summary>Turns in one lap.</summary>
    public int Count => _seen.Length;

    public string Description => $"{Recipe.Name}: {Recipe.Spectrum.Description}, seed {Seed}";

    /// <summary>A turn by number, from 0, through any number of laps.</summary>
    public Swash this[long index]
    {
        get
        {
            long lap = index / _seen.Length;
            SeenSwash s = _seen[index % _seen.Length];
            long offset = lap * LapUs;
            return new Swash(offset + Us(s.Edge.Arrival), offset + Us(s.Edge.Turn), offset + Us(s.End), s.Edge.Reach);
        }
    }

    public double EdgeMetres(long nowUs)
    {
        long index = Laps.IndexBefore(this, nowUs);
        double edge = 0;
        for (long i = index; i >= 0 && i > index - EdgesLookedBack; i--)
            edge = Math.Max(edge, _seen[i % _seen.Length].Edge.At((nowUs - i / _seen.Length * LapUs) / 1e6));
        return edge;
    }

    public Swash? LastBefore(long nowUs) => Laps.LastBefore(this, nowUs);

    public Swash NextAfter(long nowUs) => this[Laps.IndexBefore(this, nowUs) + 1];

    private static long Us(double seconds) => (long)Math.Round(seconds * 1e6);
}
