using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Sky;

/// <summary>The light of the sun and a clear sky on level ground, without the moon.</summary>
/// <remarks>
/// log10 of illuminance in lux is a cubic in x = altitude / 90 degrees, in six pieces: D. Vallado, Fundamentals of
/// Astrodynamics and Applications, table 5-1, after P. M. Janiczek and J. A. DeYoung, US Naval Observatory Circular 171
/// (1987). The pieces do not meet exactly: the largest step is 0.014 stop, at -12 degrees. Below -18 degrees the value at -18 is kept.
/// Cloud changes the level by stops. It affects less how fast the level changes, which is what the dawn
/// exposure needs.
/// </remarks>
public static class SkyLight
{
    /// <summary>Base-2 logarithm of the illuminance in lux for an altitude of the sun's centre in degrees.</summary>
    public static double Log2Lux(double altitudeDegrees)
    {
        double a = Elementary.Clamp(altitudeDegrees, -18.0, 90.0);
        double x = a / 90.0;
        double log10;
        if (a >= 20) log10 = Cubic(x, 3.74, 3.97, -4.07, 1.47);
        else if (a >= 5) log10 = Cubic(x, 3.05, 13.28, -45.98, 64.33);
        else if (a >= -0.8) log10 = Cubic(x, 2.88, 22.26, -207.64, 1034.30);
        else if (a >= -5) log10 = Cubic(x, 2.88, 21.81, -258.11, -858.36);
        else if (a >= -12) log10 = Cubic(x, 2.70, 12.17, -431.69, -1899.83);
        else log10 = Cubic(x, 13.84, 262.72, 1447.42, 2797.93);
        return log10 / Elementary.Log10Of2;
    }

    /// <summary>Illuminance in lux.</summary>
    public static double Lux(double altitudeDegrees) => Elementary.Exp2(Log2Lux(altitudeDegrees));

    private static double Cubic(double x, double l0, double l1, double l2, double l3) => ((l3 * x + l2) * x + l1) * x + l0;
}
