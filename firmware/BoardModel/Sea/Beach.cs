namespace Intervalometer.VirtualBoard.Sea;

/// <summary>A beach whose face steepens from the low-water to the high-water line, as most do.</summary>
/// <param name="LowSlope">tan of the face at the low-water line, about 0.02 to 0.10.</param>
/// <param name="HighSlope">tan of the face at the high-water line, about 0.05 to 0.15.</param>
/// <param name="LowMetres">Level of the low-water line, metres above mean sea level.</param>
/// <param name="HighMetres">Level of the high-water line, metres above mean sea level.</param>
public readonly record struct Beach(double LowSlope, double HighSlope, double LowMetres = -2, double HighMetres = 2)
{
    /// <summary>The same slope at every level.</summary>
    public static Beach Plane(double slope) => new(slope, slope);

    /// <summary>tan of the face where the still water meets it.</summary>
    public double SlopeAt(double levelMetres) =>
        LowSlope + (HighSlope - LowSlope) * Math.Clamp((levelMetres - LowMetres) / (HighMetres - LowMetres), 0, 1);
}
