using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>
/// Mean longitudes of the moon and the sun at one moment, and the effect that the regression of the moon's node has on the tide.
/// </summary>
/// <remarks>
/// Source: Schureman (1958), Special Publication 98: mean longitudes p. 162 (epoch 1900 January 0.5, Newcomb and Brown),
/// I, nu and xi pp. 156-157, nu' formula 224, nu'' formula 232, Q formula 203, R formula 214, node factors formulas 73 to
/// 78, 149, 207, 215, 227 and 235. The mean longitudes were typed from memory; a test compares them with Meeus to 0.035
/// degree. Universal time is used for terrestrial time: the moon moves by 0.01 degree in 70 s.
/// </remarks>
public sealed class LunarOrbit
{
    // Julian date of 1899-12-31 12:00, the epoch of the series.
    private const double Epoch = 2415020.0;

    private readonly double[] _factors = new double[11];
    private readonly double[] _angles = new double[11];

    /// <summary>Mean longitude of the moon, degrees, not reduced.</summary>
    public double MoonDegrees { get; private set; }

    /// <summary>Mean longitude of the sun, degrees, not reduced.</summary>
    public double SunDegrees { get; private set; }

    /// <summary>Mean longitude of the lunar perigee, degrees, not reduced.</summary>
    public double PerigeeDegrees { get; private set; }

    /// <summary>Longitude of the moon's ascending node, degrees, not reduced.</summary>
    public double NodeDegrees { get; private set; }

    /// <summary>Mean longitude of the solar perigee, degrees, not reduced.</summary>
    public double SolarPerigeeDegrees { get; private set; }

    /// <summary>Node factor of M2, formula 78.</summary>
    public double M2Factor { get; private set; } = 1;

    /// <summary>Node angle u of M2, degrees: 2 xi - 2 nu.</summary>
    public double M2AngleDegrees { get; private set; }

    /// <summary>Node factor of a term; 1 for <see cref="NodeTerm.None"/>.</summary>
    public double Factor(NodeTerm term) => _factors[(int)term];

    /// <summary>Node angle u of a term, degrees; 0 for <see cref="NodeTerm.None"/>.</summary>
    public double AngleDegrees(NodeTerm term) => _angles[(int)term];

    /// <summary>Works out the mean longitudes at a moment and leaves the node factors alone.</summary>
    public void SetLongitudes(UtcInstant time)
    {
        double t = (time.JulianDate - Epoch) / 36525.0;
        MoonDegrees = 270.0 + 26.0 / 60 + 14.72 / 3600 + (1336.0 * 360 + 1108411.20 / 3600) * t + (9.09 / 3600) * t * t;
        SunDegrees = 279.0 + 41.0 / 60 + 48.04 / 3600 + (129602768.13 / 3600) * t + (1.089 / 3600) * t * t;
        PerigeeDegrees = 334.0 + 19.0 / 60 + 40.87 / 3600 + (11.0 * 360 + 392515.94 / 3600) * t - (37.24 / 3600) * t * t;
        NodeDegrees = 259.0 + 10.0 / 60 + 57.12 / 3600 - (5.0 * 360 + 482912.63 / 3600) * t + (7.58 / 3600) * t * t;
        SolarPerigeeDegrees = 281.0 + 13.0 / 60 + 15.0 / 3600 + (6189.03 / 3600) * t + (1.63 / 3600) * t * t;
    }

    /// <summary>Works out the mean longitudes and the node factors and angles at a moment.</summary>
    public void SetAll(UtcInstant time)
    {
        SetLongitudes(time);
        double n = (Elementary.Wrap(NodeDegrees + 180.0, 360.0) - 180.0) * Elementary.RadiansPerDegree;
        double half = n / 2;
        double sinHalf = Elementary.Sin(half);
        double cosHalf = Elementary.Cos(half);
        // N - xi + nu and N - xi - nu, from the two half-angle formulas.
        double upper = 2 * Elementary.Atan2(1.01883 * sinHalf, cosHalf);
        double lower = 2 * Elementary.Atan2(0.64412 * sinHalf, cosHalf);
        double nu = (upper - lower) / 2;
        double xi = n - (upper + lower) / 2;
        double i = Elementary.Acos(0.91370 - 0.03569 * Elementary.Cos(n));
        double sinI = Elementary.Sin(i);
        double cosI = Elementary.Cos(i);
        SetOrbit(nu, xi, sinI, cosI);
        SetPerigee(nu, xi, sinI, cosI);
    }

    // Sets the terms that depend on the plane of the orbit alone.
    private void SetOrbit(double nu, double xi, double sinI, double cosI)
    {
        double sin2I = 2 * sinI * cosI;
        double cosHalfI2 = (1 + cosI) / 2;
        double sinHalfI2 = (1 - cosI) / 2;
        double sinNu = Elementary.Sin(nu);
        double cosNu = Elementary.Cos(nu);
        double sin2Nu = 2 * sinNu * cosNu;
        double cos2Nu = 1 - 2 * sinNu * sinNu;
        double nuPrime = Elementary.Atan2(sin2I * sinNu, sin2I * cosNu + 0.3347);
        double twoNuSecond = Elementary.Atan2(sinI * sinI * sin2Nu, sinI * sinI * cos2Nu + 0.0727);
        double twoXi = 2 * xi;
        M2Factor = cosHalfI2 * cosHalfI2 / 0.9154;
        M2AngleDegrees = (twoXi - 2 * nu) / Elementary.RadiansPerDegree;

        Set(NodeTerm.None, 1, 0);
        Set(NodeTerm.O1, sinI * cosHalfI2 / 0.3800, twoXi - nu);
        Set(NodeTerm.K1, Elementary.Sqrt(0.8965 * sin2I * sin2I + 0.6001 * sin2I * cosNu + 0.1006), -nuPrime);
        Set(NodeTerm.K2, Elementary.Sqrt(19.0444 * sinI * sinI * sinI * sinI + 2.7702 * sinI * sinI * cos2Nu + 0.0981), -twoNuSecond);
        Set(NodeTerm.J1, sin2I / 0.7214, -nu);
        Set(NodeTerm.OO1, sinI * sinHalfI2 / 0.0164, -twoXi - nu);
        Set(NodeTerm.Mm, (2.0 / 3 - sinI * sinI) / 0.5021, 0);
        Set(NodeTerm.Mf, sinI * sinI / 0.1578, -twoXi);
        Set(NodeTerm.M3, cosHalfI2 * cosHalfI2 * cosHalfI2 / 0.8758, 1.5 * (twoXi - 2 * nu));
    }

    // Sets the terms that depend on the perigee as well. It must follow SetOrbit.
    private void SetPerigee(double nu, double xi, double sinI, double cosI)
    {
        double cosHalfI2 = (1 + cosI) / 2;
        double sinHalfI2 = (1 - cosI) / 2;
        // divisor: the orbit is inclined to the equator by 18 to 29 degrees, so its half is far from 90
        double tanHalfI2 = sinHalfI2 / cosHalfI2;
        double p = Elementary.Wrap(PerigeeDegrees, 360.0) * Elementary.RadiansPerDegree - xi;
        double sinP = Elementary.Sin(p);
        double cosP = Elementary.Cos(p);
        double cos2P = 1 - 2 * sinP * sinP;
        // divisor: the orbit is inclined to the equator by 18 to 29 degrees, so the tangent is far from 0
        double r = Elementary.Atan2(2 * sinP * cosP, 1.0 / (6 * tanHalfI2) - cos2P);
        double q = Elementary.Atan2((5 * cosI - 1) * sinP, (7 * cosI + 1) * cosP);
        double o1 = sinI * cosHalfI2 / 0.3800;
        double twoXi = 2 * xi;
        Set(NodeTerm.L2, M2Factor * Elementary.Sqrt(1 - 12 * tanHalfI2 * cos2P + 36 * tanHalfI2 * tanHalfI2), twoXi - 2 * nu - r);
        Set(NodeTerm.M1, o1 * Elementary.Sqrt(2.310 + 1.435 * cos2P), xi - nu + q);
    }

    private void Set(NodeTerm term, double factor, double angleRadians)
    {
        _factors[(int)term] = factor;
        _angles[(int)term] = angleRadians / Elementary.RadiansPerDegree;
    }
}
