namespace Intervalometer.VirtualBoard.Sea;

/// <summary>Invented seas that differ in what matters for the rhythm: period, steadiness and beach.</summary>
public static class KnownSeas
{
    /// <summary>All of them, from the most ragged to the steadiest.</summary>
    public static IReadOnlyList<SeaRecipe> All { get; } =
    [
        new("wind sea 6 s", new JonswapSpectrum(1.0, 6, 1), Beach.Plane(0.10)),
        new("wind sea 8 s", new JonswapSpectrum(1.5, 8, 3.3), Beach.Plane(0.10)),
        new("crossing seas", new CrossingSpectrum(new JonswapSpectrum(0.7, 6, 3.3), new JonswapSpectrum(1.0, 13, 7)), Beach.Plane(0.10)),
        new("swell 8 s", new JonswapSpectrum(1.2, 8, 7), Beach.Plane(0.10)),
        new("swell 12 s", new JonswapSpectrum(1.2, 12, 7), Beach.Plane(0.10)),
        new("swell 16 s", new JonswapSpectrum(1.2, 16, 7), Beach.Plane(0.10)),
        new("narrow swell 14 s", new NarrowSwellSpectrum(1.2, 14, 0.06), Beach.Plane(0.10)),
    ];

    /// <summary>Seas by the shallow-water equations, from the steepest beach to the flattest.</summary>
    public static IReadOnlyList<ShallowRecipe> Shallow { get; } =
    [
        new("surf 8 s, 1:8", new JonswapSpectrum(1.0, 8, 7), 1 / 8.0),
        new("surf 6 s, 1:10", new JonswapSpectrum(0.8, 6, 3.3), 1 / 10.0),
        new("surf 12 s, 1:10", new JonswapSpectrum(1.0, 12, 7), 1 / 10.0),
        new("surf 12 s, 1:15", new JonswapSpectrum(1.0, 12, 7), 1 / 15.0),
        new("surf 12 s, 1:40", new JonswapSpectrum(1.0, 12, 7), 1 / 40.0),
    ];
}
