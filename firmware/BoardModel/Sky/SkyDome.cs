using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>How bright a sky is from place to place, and how much light each third of it sends to a receiver.</summary>
/// <remarks>
/// Brightness: CIE standard general sky (CIE S 011, ISO 15469:2004), type 12, the standard clear sky; its constants as in S. Darula and
/// R. Kittler, CIE general sky standard defining luminance distributions, eSim 2002. The standard ends at sunrise: the sky before it is
/// taken as the one of sunrise, with the light that the table gives. The thirds are the one around the sun and one to either side.
/// </remarks>
public static class SkyDome
{
    /// <summary>Parts of the sky that clouds cover by themselves.</summary>
    public const int Thirds = 3;

    private const double A = -1, B = -0.32, C = 10, D = -3, E = 0.45;
    private const double AltitudeStep = 5, AzimuthStep = 10, HalfThird = 60;

    /// <summary>What a receiver gets of a direction, against what it would get from straight ahead of it.</summary>
    /// <param name="towardSun">The direction's level part towards the sun's azimuth; its three parts have the length 1 together.</param>
    /// <param name="aside">Its level part square to that.</param>
    /// <param name="up">Its part towards the zenith.</param>
    public delegate double Receiver(double towardSun, double aside, double up);

    /// <summary>The light that a receiver gets from each third, against what level ground gets from the whole sky.</summary>
    /// <param name="sunAltitude">Altitude of the sun, degrees; 0 before sunrise.</param>
    /// <param name="receiver">The receiver.</param>
    public static double[] Shares(double sunAltitude, Receiver receiver)
    {
        var shares = new double[Thirds];
        double ground = 0;
        Elementary.SinCos(sunAltitude * Elementary.RadiansPerDegree, out double sunUp, out double sunLevel);
        for (double altitude = AltitudeStep / 2; altitude < 90; altitude += AltitudeStep)
        {
            Elementary.SinCos(altitude * Elementary.RadiansPerDegree, out double up, out double level);
            for (double azimuth = AzimuthStep / 2 - 180; azimuth < 180; azimuth += AzimuthStep)
            {
                Elementary.SinCos(azimuth * Elementary.RadiansPerDegree, out double sine, out double cosine);
                double light = Luminance(up, up * sunUp + level * cosine * sunLevel) * level;
                ground += light * up;
                shares[Third(azimuth)] += light * receiver(level * cosine, level * sine, up);
            }
        }
        for (int i = 0; i < Thirds; i++) shares[i] /= ground;
        return shares;
    }

    private static int Third(double azimuth) => Elementary.Abs(azimuth) < HalfThird ? 0 : azimuth < 0 ? 1 : 2;

    private static double Luminance(double up, double towardSun)
    {
        double apart = Elementary.Acos(Elementary.Clamp(towardSun, -1, 1));
        double gradation = 1 + A * Exp(B / up);
        return gradation * (1 + C * (Exp(D * apart) - Exp(D * Elementary.Pi / 2)) + E * towardSun * towardSun);
    }

    private static double Exp(double x) => Elementary.Exp2(x / Elementary.Ln2);
}
