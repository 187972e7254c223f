namespace Intervalometer.VirtualBoard.Study;

/// <summary>How much of the sea study to play, and where to write the results.</summary>
public sealed record StudyOptions
{
    /// <summary>Seeds that designs and constants were chosen on, and that the bound is fitted on.</summary>
    public IReadOnlyList<int> TrainingSeeds { get; init; } = [1, 2, 3, 4];

    /// <summary>Seeds for the published numbers; nothing was chosen on them.</summary>
    public IReadOnlyList<int> HeldOutSeeds { get; init; } = [901, 902];

    /// <summary>Sea time per seed, seconds; 32768 s are 2,000 to 6,500 waves.</summary>
    public double SecondsPerSeed { get; init; } = 32_768;

    /// <summary>The same for a sea by the shallow-water equations, seconds: a second of it takes some 3 ms to make.</summary>
    public double ShallowSecondsPerSeed { get; init; } = 8_192;

    /// <summary>How many people watch each lap of those seas. They come at different times, so that the luck of one dozen waves counts for less.</summary>
    public int WatchersOfShallowSeas { get; init; } = 3;

    /// <summary>How many people watch each traced shoreline of 17 minutes, each with presses of their own.</summary>
    public int WatchersOfTheRecord { get; init; } = 40;

    /// <summary>Exposure, seconds.</summary>
    public double ExposureSeconds { get; init; } = 1;

    /// <summary>
    /// Other exposures that the ways of <see cref="SeaStudy.Judged"/> are played with, as multiples of that one. A class of announced
    /// chance says something only where chances of that size are to be had: with one second alone, hardly a sea has one of 65 %.
    /// </summary>
    public IReadOnlyList<double> OtherExposures { get; init; } = [0.5, 2, 4];

    /// <summary>The rows to play; null for all of them.</summary>
    public IReadOnlyList<string>? Rows { get; init; }

    /// <summary>Folder for the table, CSV and plots; null for none.</summary>
    public string? Folder { get; init; }
}
