using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>The pane of the light sensor: how much comes through of the light from a direction.</summary>
/// <remarks>
/// The pane lies on the slanting top of a collar, so that it is level when the box hangs on a leg of <see cref="LevelLegDegrees"/>, and it
/// stands higher than the lid: it sees the sky all round. Its edges stand free. In front and at the sides a rim keeps them from light below the
/// horizon, and they take in what the face of the pane reflects of a low sun. The edge at the back, where the photographer stands, has no rim: it
/// takes in light from behind the camera as upright ground does that faces the camera, a quarter as much as level ground counts. How much comes
/// through was computed photon by photon for a block of opal acrylic; tests/Host/Sky/PaneTests.cs repeats the sum with the figures of
/// hardware/box.csv. No pane was measured. The photographer's own body, which may shade that edge, is not in it.
/// </remarks>
/// <param name="LegDegrees">How far the leg leans on which the box hangs, degrees.</param>
public sealed record SensorWindow(double LegDegrees = SensorWindow.LevelLegDegrees)
{
    /// <summary>The pane is level on a leg that leans so much; the legs of tripods lean 20 to 30 degrees (common practice, no source).</summary>
    public const double LevelLegDegrees = 25;

    /// <summary>What of the light on a level pane reaches the chip: three tenths come through the pane into the bore, and over a third of that gets down to the chip (hardware/README.md).</summary>
    public const double ChipShare = 1.0 / 9;

    // The plate behind the edge at the back reaches so far, in heights of that edge: it hides the edge from light farther below.
    private const double PlateHeights = 3;

    /// <summary>Heights of a light over the plane of the pane, degrees.</summary>
    public static IReadOnlyList<double> Heights { get; } = [0, 2, 3, 5, 8, 15, 30, 60, 90];

    /// <summary>From where the light comes, degrees round the pane: 0 is from behind the camera, 180 from where it looks.</summary>
    public static IReadOnlyList<double> Turns { get; } = [0, 45, 90, 135, 180];

    /// <summary>What comes through from these turns at these heights, against light from straight above.</summary>
    public static IReadOnlyList<IReadOnlyList<double>> Through { get; } =
    [
        [0.282, 0.287, 0.297, 0.315, 0.353, 0.459, 0.680, 0.971, 1],
        [0.189, 0.207, 0.225, 0.262, 0.318, 0.424, 0.658, 0.953, 1],
        [0, 0.021, 0.035, 0.074, 0.144, 0.269, 0.518, 0.889, 1],
        [0, 0.036, 0.060, 0.119, 0.192, 0.303, 0.552, 0.902, 1],
        [0, 0.022, 0.037, 0.075, 0.148, 0.274, 0.522, 0.889, 1],
    ];

    private static readonly double[] s_sines = [.. Heights.Select(Sine)], s_cosines = [.. Turns.Select(Cosine)];

    /// <summary>What comes through of light from a direction, against light from straight above the pane.</summary>
    /// <param name="forward">The direction's part towards where the camera looks; its three parts have the length 1 together.</param>
    /// <param name="up">Its part towards the zenith.</param>
    public double Response(double forward, double up)
    {
        Elementary.SinCos((LegDegrees - LevelLegDegrees) * Elementary.RadiansPerDegree, out double ahead, out double above);
        double sine = Elementary.Clamp(forward * ahead + up * above, -1, 1);
        double level = Elementary.Sqrt(1 - sine * sine);
        // divisor: not zero, since a light straight over the pane is left out.
        double back = level < 1e-9 ? 0 : Elementary.Clamp((up * ahead - forward * above) / level, -1, 1);
        double plate = sine >= 0 ? 1 : Elementary.Max(0, 1 + PlateHeights * sine / Elementary.Max(level, 1e-9));
        double height = Elementary.Asin(Elementary.Max(sine, 0)) / Elementary.RadiansPerDegree;
        int turn = 1;
        while (turn < Turns.Count - 1 && back < s_cosines[turn]) turn++;
        // Between two turns the part of the cosine is drawn out evenly: what meets an edge grows as it does.
        double from = s_cosines[turn - 1], part = (back - from) / (s_cosines[turn] - from);
        double one = At(Through[turn - 1], height), other = At(Through[turn], height);
        return plate * (one + (other - one) * part);
    }

    private static double At(IReadOnlyList<double> through, double height)
    {
        int row = 1;
        while (row < Heights.Count - 1 && height > Heights[row]) row++;
        // Between two heights the part of the sine is drawn out evenly.
        double from = s_sines[row - 1], part = (Sine(height) - from) / (s_sines[row] - from);
        return through[row - 1] + (through[row] - through[row - 1]) * part;
    }

    private static double Sine(double degrees) => Elementary.Sin(degrees * Elementary.RadiansPerDegree);

    private static double Cosine(double degrees) => Elementary.Cos(degrees * Elementary.RadiansPerDegree);
}
