using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>
/// What of a light reaches the light sensor in the upper wall of the box, and what of it the foreground sends to the camera. The two
/// differ, as they do outdoors. How the sensor's window stands and what its pane lets through is in hardware/README; the shares of the scene are invented.
/// </summary>
/// <param name="AsideDegrees">How far the sun stands from where the camera looks, 0 to 180 degrees: 0 is straight ahead.</param>
/// <param name="LeanDegrees">How far the axis of the window leans from the zenith to where the camera looks, as the leg of the tripod does, degrees.</param>
public sealed record SkyView(double AsideDegrees = 90, double LeanDegrees = SkyView.LegDegrees)
{
    /// <summary>A leg of a tripod leans 20 to 30 degrees.</summary>
    public const double LegDegrees = 25;

    private const double PaneShare = 1.0 / 3;
    // Level ground and water, and upright faces that are turned to the camera.
    private const double LevelShare = 0.7;
    private const double UprightShare = 0.3;
    private const double Reflectance = 0.18;
    // Before sunrise the sky is brightest over the sun, and the more so the lower the sun is: for a window that looks at the horizon, stops a degree.
    private const double TwilightStops = 0.012;
    private const double LowestTwilight = -12, HighestTwilight = 6;

    private readonly double _ahead = Elementary.Cos(AsideDegrees * Elementary.RadiansPerDegree);

    /// <summary>Illuminance on the chip behind the pane, lux.</summary>
    /// <param name="sky">The sky's own light on level ground, lux.</param>
    /// <param name="beam">The sun's beam on a surface that faces it, lux.</param>
    /// <param name="altitude">Altitude of the sun's centre, degrees.</param>
    public double AtBox(double sky, double beam, double altitude)
    {
        Elementary.SinCos(altitude * Elementary.RadiansPerDegree, out double up, out double level);
        Elementary.SinCos(LeanDegrees * Elementary.RadiansPerDegree, out double forward, out double upward);
        double brighter = TwilightStops * forward * _ahead * (HighestTwilight - Elementary.Clamp(altitude, LowestTwilight, HighestTwilight));
        double facing = Elementary.Max(0, upward * up + forward * level * _ahead);
        return (sky * Elementary.Exp2(brighter) + beam * facing) * PaneShare;
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
