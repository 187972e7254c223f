using Intervalometer.Coast.Sky;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>Which sky to make.</summary>
/// <param name="Kind">One of <see cref="Kinds"/>.</param>
/// <param name="Seed">The same number gives the same sky; a clear or measured one is always the same.</param>
/// <param name="AsideDegrees">How far the sun stands from where the camera looks, 0 to 180 degrees.</param>
/// <param name="LegDegrees">How far the leg of the tripod leans on which the box hangs, degrees; the pane of the light sensor leans with it.</param>
public sealed record SkyChoice(string Kind = SkyChoice.Clear, int Seed = 1, double AsideDegrees = 90, double LegDegrees = SensorWindow.LevelLegDegrees)
{
    /// <summary>The cloudless sky of the table.</summary>
    public const string Clear = "clear";

    /// <summary>The recipes of the drawn skies.</summary>
    public static IReadOnlyList<SkyRecipe> Recipes { get; } =
    [
        new(Clear) { HazeSpread = 0 },
        new("haze") { HazeSpread = 0.06 },
        new("bank on the horizon") { Bank = true },
        new("broken cloud") { CloudSeconds = 150, GapSeconds = 30, FieldSeconds = 3600 },
        new("fields of cloud") { CloudSeconds = 120, GapSeconds = 60, FieldSeconds = 900, OpenSeconds = 700 },
        new("overcast") { LayerStops = 2.0, LayerSpread = 0.3 },
        new("rain") { LayerStops = 3.0, LayerSpread = 0.4, LayerSeconds = 200, ShowerStops = 1.2 },
    ];

    /// <summary>Every kind by name.</summary>
    public static IReadOnlyList<string> Kinds { get; } = [.. Recipes.Select(r => r.Name), .. SkyRecord.Names];

    /// <summary>Makes a new sky.</summary>
    /// <param name="place">Where.</param>
    /// <param name="start">Time 0, UTC.</param>
    public ISky Make(GeoPosition place, DateTime start)
    {
        var view = new SkyView(AsideDegrees, new SensorWindow(LegDegrees));
        SkyRecipe? recipe = Recipes.FirstOrDefault(r => r.Name == Kind);
        return recipe is null ? new MeasuredSky(Kind, place, start, view) : new DrawnSky(recipe, Seed, place, start, view);
    }
}
