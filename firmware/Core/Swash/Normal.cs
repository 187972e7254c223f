using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>The standard normal distribution.</summary>
public static class Normal
{
    // 1/sqrt(2 pi)
    private const double Peak = 0.3989422804014327;

    /// <summary>Probability of a standard normal value below z, 0..1. Absolute error below 8e-8.</summary>
    /// <remarks>Abramowitz and Stegun 1964, formula 26.2.17.</remarks>
    /// <param name="z">Standard deviations from the mean, any finite value.</param>
    public static double Below(double z)
    {
        if (z > 8) return 1;
        if (z < -8) return 0;
        double a = z < 0 ? -z : z;
        double t = 1 / (1 + 0.2316419 * a);
        double tail = Peak * Elementary.Exp(-0.5 * a * a)
            * t * (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
        return z < 0 ? tail : 1 - tail;
    }

    /// <summary>Density of the standard normal distribution at z.</summary>
    /// <param name="z">Standard deviations from the mean, -8 to 8.</param>
    public static double Density(double z) => Peak * Elementary.Exp(-0.5 * z * z);
}
