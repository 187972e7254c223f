using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>Light of a cloudless sky by the altitude of the sun, parted into the sky's own and the sun's beam.</summary>
/// <remarks>
/// All of it together, on level ground, is D. Vallado, Fundamentals of Astrodynamics and Applications, table 5-1, after US Naval
/// Observatory Circular 171. The beam is A. and M. Meinel, Applied Solar Energy (1976): 1353 W/m² times 0.7^(m^0.678), the air mass m
/// by F. Kasten and A. Young, Applied Optics 28 (1989); 95 lumen a watt (common practice, no source). What is left is the sky's.
/// </remarks>
public static class ClearSky
{
    private const double BeamLux = 1353 * 95;
    private const double MostOfBeam = 0.85;
    private const double SunRadius = 0.2666;

    // Lowest altitude of a piece, degrees, and log10 of lux as a cubic of altitude / 90.
    private static readonly double[][] Table =
    [
        [20, 3.74, 3.97, -4.07, 1.47],
        [5, 3.05, 13.28, -45.98, 64.33],
        [-0.8, 2.88, 22.26, -207.64, 1034.30],
        [-5, 2.88, 21.81, -258.11, -858.36],
        [-12, 2.70, 12.17, -431.69, -1899.83],
        [-18, 13.84, 262.72, 1447.42, 2797.93],
    ];

    /// <summary>Sun and sky on level ground, lux; below -18 degrees what is left there.</summary>
    /// <param name="altitude">Altitude of the sun's centre, degrees.</param>
    /// <param name="haze">How much steeper than the table the light grows with the sun, as a part of it; 0 for the table.</param>
    public static double Lux(double altitude, double haze = 0)
    {
        double log10 = Log10(altitude);
        return Elementary.Exp2((log10 + haze * (log10 - Log10(0))) / Elementary.Log10Of2);
    }

    /// <summary>The sun's beam on a surface that faces it, lux, with the whole disc above the horizon.</summary>
    /// <param name="altitude">Altitude of the sun's centre, degrees.</param>
    /// <param name="haze">As in <see cref="Lux"/>.</param>
    public static double Beam(double altitude, double haze = 0)
    {
        if (altitude < -1.5) return 0;
        double seen = Elementary.Max(altitude, -0.57);
        double mass = 1 / (Elementary.Sin(seen * Elementary.RadiansPerDegree) + 0.50572 * Elementary.Pow(seen + 6.07995, -1.6364));
        double beam = BeamLux * Elementary.Pow(0.7, Elementary.Pow(mass, 0.678));
        double up = Elementary.Sin(altitude * Elementary.RadiansPerDegree);
        double most = up > 0.01 ? MostOfBeam * Lux(altitude, haze) / up : beam;
        return Elementary.Min(beam, most);
    }

    /// <summary>How much of the sun's disc stands over an edge, 0 to 1.</summary>
    /// <param name="altitude">Altitude of the centre without refraction, degrees.</param>
    /// <param name="edge">Altitude of the edge as it is seen, degrees; 0 for the sea's horizon.</param>
    public static double DiscShare(double altitude, double edge)
    {
        double x = Elementary.Clamp((Seen(altitude) - edge) / SunRadius, -1, 1);
        return 0.5 + (x * Elementary.Sqrt(1 - x * x) + Elementary.Asin(x)) / Elementary.Pi;
    }

    // With refraction: T. Saemundsson, Sky and Telescope 72 (1986), as in Meeus, chapter 16.
    private static double Seen(double altitude)
    {
        if (altitude < -2) return altitude;
        double angle = (altitude + 10.3 / (altitude + 5.11)) * Elementary.RadiansPerDegree;
        return altitude + 1.02 * Elementary.Cos(angle) / Elementary.Sin(angle) / 60;
    }

    private static double Log10(double altitude)
    {
        double a = Elementary.Clamp(altitude, -18, 90), x = a / 90;
        double[] piece = Array.Find(Table, p => a >= p[0])!;
        return piece[1] + x * (piece[2] + x * (piece[3] + x * piece[4]));
    }
}
