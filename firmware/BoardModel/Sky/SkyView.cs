using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>
/// What of a light reaches the light sensor's chip, and what of it the foreground sends to the camera. Both stand under the same sky, and what each
/// gets of it is summed over the directions. The two differ, as they do outdoors: a part of the foreground stands upright and faces the camera.
/// </summary>
/// <remarks>
/// The foreground is matt: level ground and upright faces that are turned to the camera, 7 parts to 3 (invented). Wet sand and water, which mirror
/// a part of the sky, are not in it.
/// </remarks>
public sealed class SkyView
{
    private const double LevelShare = 0.7;
    private const double UprightShare = 0.3;
    private const double Reflectance = 0.18;
    // The shares of the sky's light are summed at these altitudes of the sun: 0, 2, ... 10 degrees.
    private const int Altitudes = 6;
    private const double AltitudeStep = 2;

    private readonly SensorWindow _window;
    private readonly double _ahead, _aside;
    private readonly double[][] _atBox = new double[Altitudes][], _ofScene = new double[Altitudes][];

    /// <summary>How the box and the camera stand to the sun.</summary>
    /// <param name="asideDegrees">How far the sun stands from where the camera looks, 0 to 180 degrees: 0 is straight ahead.</param>
    /// <param name="window">The pane of the sensor.</param>
    public SkyView(double asideDegrees, SensorWindow window)
    {
        AsideDegrees = asideDegrees;
        _window = window;
        Elementary.SinCos(asideDegrees * Elementary.RadiansPerDegree, out _aside, out _ahead);
        for (int i = 0; i < Altitudes; i++)
        {
            _atBox[i] = SkyDome.Shares(i * AltitudeStep, (toward, aside, up) => _window.Response(toward * _ahead + aside * _aside, up));
            _ofScene[i] = SkyDome.Shares(i * AltitudeStep, (toward, aside, up) => Lit(toward * _ahead + aside * _aside, up));
        }
    }

    /// <summary>How far the sun stands from where the camera looks, degrees.</summary>
    public double AsideDegrees { get; }

    /// <summary>Illuminance on the chip below its pane, lux.</summary>
    /// <param name="sky">Of each third of the sky: what its light on level ground would be if the whole sky were like it, lux.</param>
    /// <param name="beam">The sun's beam on a surface that faces it, lux.</param>
    /// <param name="altitude">Altitude of the sun's centre, degrees.</param>
    public double AtBox(double[] sky, double beam, double altitude)
    {
        Elementary.SinCos(altitude * Elementary.RadiansPerDegree, out double up, out double level);
        return (Whole(_atBox, sky, altitude) + beam * _window.Response(level * _ahead, up)) * SensorWindow.ChipShare;
    }

    /// <summary>Luminance of the foreground as the camera sees it, cd/m²: what falls on it, sent back evenly.</summary>
    /// <param name="sky">As in <see cref="AtBox"/>.</param>
    /// <param name="beam">The sun's beam on a surface that faces it, lux.</param>
    /// <param name="altitude">Altitude of the sun's centre, degrees.</param>
    public double OfScene(double[] sky, double beam, double altitude)
    {
        Elementary.SinCos(altitude * Elementary.RadiansPerDegree, out double up, out double level);
        return (Whole(_ofScene, sky, altitude) + beam * Lit(level * _ahead, up)) * Reflectance / Elementary.Pi;
    }

    // What falls on the foreground from a direction: on level ground, and on upright faces that are turned to the camera.
    private static double Lit(double forward, double up) => LevelShare * Elementary.Max(0, up) + UprightShare * Elementary.Max(0, -forward);

    private static double Whole(double[][] shares, double[] sky, double altitude)
    {
        double at = Elementary.Clamp(altitude / AltitudeStep, 0, Altitudes - 1), whole = 0;
        int row = Math.Min((int)at, Altitudes - 2);
        for (int i = 0; i < SkyDome.Thirds; i++) whole += sky[i] * (shares[row][i] + (shares[row + 1][i] - shares[row][i]) * (at - row));
        return whole;
    }
}
