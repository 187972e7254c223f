namespace Intervalometer.VirtualBoard.Sky;

/// <summary>
/// What clouds do in a sky. The figures are invented; that an edge takes 5 to 60 s and a field of clouds a quarter of an hour
/// is common practice, no source. A measured dawn is held against them in the tests.
/// </summary>
public sealed record SkyRecipe(string Name)
{
    /// <summary>How far the growth of the light with the sun is from the one of the table, as a share of it: standard deviation.</summary>
    public double HazeSpread { get; init; } = 0.04;

    /// <summary>Mean time that a cloud stands before the sun, seconds; 0 for no clouds.</summary>
    public double CloudSeconds { get; init; }

    /// <summary>Mean time between two clouds of a field, seconds.</summary>
    public double GapSeconds { get; init; }

    /// <summary>Mean time that a field of clouds takes to pass, seconds.</summary>
    public double FieldSeconds { get; init; }

    /// <summary>Mean time between two fields, seconds; 0 where fields follow each other.</summary>
    public double OpenSeconds { get; init; }

    /// <summary>How much light a layer that covers everything takes, stops; 0 for no layer.</summary>
    public double LayerStops { get; init; }

    /// <summary>How much what the layer takes changes: standard deviation, stops.</summary>
    public double LayerSpread { get; init; }

    /// <summary>How long such a change takes, seconds.</summary>
    public double LayerSeconds { get; init; } = 400;

    /// <summary>How much more light a shower takes, stops.</summary>
    public double ShowerStops { get; init; }

    /// <summary>True when a bank of cloud lies on the horizon, one to four degrees high, and the sun comes out above it.</summary>
    public bool Bank { get; init; }
}
