namespace Intervalometer.VirtualBoard.Sea;

/// <summary>Which sea to make. Period and spread count for the steady sea only.</summary>
/// <param name="Kind">One of <see cref="Kinds"/>.</param>
/// <param name="Seed">The same number gives the same sea.</param>
/// <param name="PeriodSeconds">Mean period, 2 to 60 s.</param>
/// <param name="Spread">Spread of the period as a fraction of it, 0 to 0.25.</param>
public sealed record SeaChoice(string Kind = SeaChoice.Steady, int Seed = 1, double PeriodSeconds = 9, double Spread = 0.06)
{
    /// <summary>The steady sea's name.</summary>
    public const string Steady = "steady";

    /// <summary>Every kind by name.</summary>
    public static IReadOnlyList<string> Kinds { get; } = [Steady, .. KnownSeas.All.Select(sea => sea.Name)];

    /// <summary>Makes a new sea.</summary>
    public ISea Make() => Kind == Steady
        ? new SimpleSea((ulong)Seed, PeriodSeconds, Spread)
        : new SpectralSea(KnownSeas.All.First(sea => sea.Name == Kind), Seed);
}
