using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>The pane of the light sensor: how much comes through of the light from a direction.</summary>
/// <remarks>
/// The pane lies on the slanting top of a collar, so that it is level when the box hangs on a leg of <see cref="LevelLegDegrees"/>, and it
/// stands higher than the lid: it sees the sky all round. The face of a pane reflects most of the light of a low sun, so its edges stand
/// out and take in the rest, and a rim keeps them from light below the horizon. How much comes through was computed photon by photon
/// for a block of opal acrylic; tests/Host/Sky/PaneTests.cs repeats the sum with the figures of hardware/box.csv. No pane was measured.
/// </remarks>
/// <param name="LegDegrees">How far the leg leans on which the box hangs, degrees.</param>
public sealed record SensorWindow(double LegDegrees = SensorWindow.LevelLegDegrees)
{
    /// <summary>The pane is level on a leg that leans so much; the legs of tripods lean 20 to 30 degrees (common practice, no source).</summary>
    public const double LevelLegDegrees = 25;

    /// <summary>What of the light on a level pane reaches the chip: a third comes through the pane into the bore, and a third of that down to the chip (hardware/README.md).</summary>
    public const double ChipShare = 1.0 / 8;

    /// <summary>Heights of a light over the plane of the pane, degrees.</summary>
    public static IReadOnlyList<double> Heights { get; } = [0, 2, 3, 5, 8, 15, 30, 60, 90];

    /// <summary>What comes through at these heights, against light from straight above; through a perfect one it would be the sine.</summary>
    public static IReadOnlyList<double> Through { get; } = [0, 0.016, 0.028, 0.058, 0.114, 0.233, 0.484, 0.860, 1];

    /// <summary>What comes through of light from a direction, against light from straight above the pane.</summary>
    /// <param name="forward">The direction's part towards where the camera looks; its three parts have the length 1 together.</param>
    /// <param name="up">Its part towards the zenith.</param>
    public double Response(double forward, double up)
    {
        Elementary.SinCos((LegDegrees - LevelLegDegrees) * Elementary.RadiansPerDegree, out double ahead, out double above);
        double height = Elementary.Asin(Elementary.Clamp(forward * ahead + up * above, 0, 1)) / Elementary.RadiansPerDegree;
        int row = 1;
        while (row < Heights.Count - 1 && height > Heights[row]) row++;
        // Between two rows the part of the sine is drawn out evenly.
        double from = Sine(Heights[row - 1]), part = (Sine(height) - from) / (Sine(Heights[row]) - from);
        return Through[row - 1] + (Through[row] - Through[row - 1]) * part;
    }

    private static double Sine(double degrees) => Elementary.Sin(degrees * Elementary.RadiansPerDegree);
}
