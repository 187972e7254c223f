using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>
/// What of a light the diffuser on the box gets, which stands upright and looks where the camera looks, and what of it the
/// foreground sends to the camera. The two differ, as they do outdoors; shares are invented.
/// </summary>
/// <param name="AsideDegrees">How far the sun stands from where the camera looks, 0 to 180 degrees: 0 is straight ahead.</param>
public sealed record SkyView(double AsideDegrees = 90)
{
    // Level ground and water, and upright faces that are turned to the camera.
    private const double LevelShare = 0.7;
    private const double UprightShare = 0.3;
    private const double Reflectance = 0.18;
    // Before sunrise the sky is brightest over the sun, and the more so the lower the sun is.
    private const double LeanStopsPerDegree = 0.012;
    private const double LowestLean = -12, HighestLean = 6;

    private readonly double _ahead = Elementary.Cos(AsideDegrees * Elementary.RadiansPerDegree);

    /// <summary>Illuminance on the diffuser, lux.</summary>
    /// <param name="sky">The sky's own light on level ground, lux.</param>
    /// <param name="beam">The sun's beam on a surface that faces it, lux.</param>
    /// <param name="altitude">Altitude of the sun's centre, degrees.</param>
    public double AtBox(double sky, double beam, double altitude)
    {
        double lean = -LeanStopsPerDegree * _ahead * (Elementary.Clamp(altitude, LowestLean, HighestLean) - HighestLean);
        return sky * Elementary.Exp2(lean) + beam * Elementary.Cos(altitude * Elementary.RadiansPerDegree) * Elementary.Max(0, _ahead);
    }

    /// <summary>Luminance of the foreground as the camera sees it, cd/m²: what falls on it, sent back evenly.</summary>
    /// <param name="sky">The sky's own light on level ground, lux.</param>
    /// <param name="beam">The sun's beam on a surface that faces it, lux.</param>
    /// <param name="altitude">Altitude of the sun's centre, degrees.</param>
    public double OfScene(double sky, double beam, double altitude)
    {
        Elementary.SinCos(altitude * Elementary.RadiansPerDegree, out double up, out double level);
        double lit = LevelShare * Elementary.Max(0, up) + UprightShare * level * Elementary.Max(0, -_ahead);
        return (sky + beam * lit) * Reflectance / Elementary.Pi;
    }
}
