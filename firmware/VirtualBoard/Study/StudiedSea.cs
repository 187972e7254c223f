using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>A sea of the study.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Training">Laps on which rules are fitted; none where only the box is judged.</param>
/// <param name="HeldOut">Laps on which nothing was chosen.</param>
public sealed record StudiedSea(string Name, IReadOnlyList<IRepeatingSea> Training, IReadOnlyList<IRepeatingSea> HeldOut)
{
    /// <summary>A sea by its recipe.</summary>
    public static StudiedSea Of(SeaRecipe recipe, StudyOptions options) => new(
        recipe.Name,
        [.. options.TrainingSeeds.Select(s => new SpectralSea(recipe, s, options.SecondsPerSeed))],
        [.. options.HeldOutSeeds.Select(s => new SpectralSea(recipe, s, options.SecondsPerSeed))]);

    /// <summary>A sea by the shallow-water equations. No rule is fitted on it.</summary>
    public static StudiedSea Of(ShallowRecipe recipe, StudyOptions options) => new(
        recipe.Name, [], [.. options.HeldOutSeeds.SelectMany(s => ShallowWaterSea.Watched(recipe, s, options.ShallowSecondsPerSeed, options.WatchersOfShallowSeas))]);

    /// <summary>The traced shorelines of a real beach, watched by several people who come at different times.</summary>
    public static StudiedSea Traced(StudyOptions options) => new(
        "traced beach", [],
        [.. from name in BeachRecord.Names from watcher in Enumerable.Range(0, options.WatchersOfTheRecord) select BeachRecord.Read(name, options.HeldOutSeeds[0] + watcher, (double)watcher / options.WatchersOfTheRecord)]);

    /// <summary>Makes a sea of the study. For some seas this takes a while.</summary>
    public delegate StudiedSea Maker();

    /// <summary>Every sea of the study, in the order of its tables.</summary>
    public static IEnumerable<Maker> Makers(StudyOptions options) => [.. ModelMakers(options), () => Traced(options)];

    /// <summary>The same without the real beach.</summary>
    public static IEnumerable<Maker> ModelMakers(StudyOptions options) =>
    [
        .. KnownSeas.All.Select(recipe => (Maker)(() => Of(recipe, options))),
        .. KnownSeas.Shallow.Select(recipe => (Maker)(() => Of(recipe, options))),
    ];
}
