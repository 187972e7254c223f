using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Sky;

/// <summary>The position of the sun's centre in the sky.</summary>
public readonly struct SunPosition
{
    /// <summary>Altitude of the centre above the true horizon, degrees, without refraction and parallax.</summary>
    public readonly double AltitudeDegrees;

    /// <summary>Azimuth, degrees from true north through east, 0 to 360.</summary>
    public readonly double AzimuthDegrees;

    /// <summary>Hour angle, degrees, -180 to 180; 0 at the sun's upper transit.</summary>
    public readonly double HourAngleDegrees;

    /// <summary>Declination, degrees.</summary>
    public readonly double DeclinationDegrees;

    internal SunPosition(double altitude, double azimuth, double hourAngle, double declination)
    {
        AltitudeDegrees = altitude;
        AzimuthDegrees = azimuth;
        HourAngleDegrees = hourAngle;
        DeclinationDegrees = declination;
    }
}

/// <summary>Works out the position of the sun.</summary>
/// <remarks>
/// J. Meeus, Astronomical Algorithms, chapter 25, low accuracy (0.01 degree), with apparent sidereal time from chapter 12
/// and the largest term of nutation. Terrestrial time is taken as universal time plus 70 s throughout 2000 to 2099; an error of 20 s
/// moves the sun by 0.0002 degree. A position costs 4 thousand IL instructions by count.
/// </remarks>
public static class Sun
{
    /// <summary>Terrestrial minus universal time, seconds, taken as constant.</summary>
    public const double DeltaTSeconds = 70;

    /// <summary>Position at an instant.</summary>
    public static SunPosition At(UtcInstant time, GeoPosition place) => At((double)time.Seconds, place);

    /// <summary>Altitude of the centre at an instant, degrees, without refraction.</summary>
    public static double AltitudeDegrees(UtcInstant time, GeoPosition place) => At((double)time.Seconds, place).AltitudeDegrees;

    /// <summary>Position at a time in seconds since 2000-01-01 00:00 UTC, which may have a fraction.</summary>
    internal static SunPosition At(double secondsSince2000, GeoPosition place)
    {
        Equatorial(secondsSince2000, out double rightAscension, out double declination, out double sidereal);
        double rad = Elementary.RadiansPerDegree;
        double hour = Elementary.Wrap(sidereal + place.LongitudeDegrees - rightAscension + 180.0, 360.0) - 180.0;
        double sinLat = Elementary.Sin(place.LatitudeDegrees * rad);
        double cosLat = Elementary.Cos(place.LatitudeDegrees * rad);
        double sinDec = Elementary.Sin(declination * rad);
        double cosDec = Elementary.Cos(declination * rad);
        double sinHour = Elementary.Sin(hour * rad);
        double cosHour = Elementary.Cos(hour * rad);
        double up = sinLat * sinDec + cosLat * cosDec * cosHour;
        double north = sinDec * cosLat - cosDec * sinLat * cosHour;
        double east = -cosDec * sinHour;
        double altitude = Elementary.Atan2(up, Elementary.Sqrt(north * north + east * east)) / rad;
        double azimuth = Elementary.Wrap(Elementary.Atan2(east, north) / rad, 360.0);
        return new SunPosition(altitude, azimuth, hour, declination);
    }

    private static void Equatorial(double seconds, out double rightAscension, out double declination, out double sidereal)
    {
        double rad = Elementary.RadiansPerDegree;
        double days = seconds / 86400.0 - 0.5;
        double t = (days + DeltaTSeconds / 86400.0) / 36525.0;
        double longitude = 280.46646 + (36000.76983 + 0.0003032 * t) * t;
        double anomaly = Elementary.Wrap(357.52911 + (35999.05029 - 0.0001537 * t) * t, 360.0) * rad;
        double sinM = Elementary.Sin(anomaly);
        double cosM = Elementary.Cos(anomaly);
        double sin2M = 2 * sinM * cosM;
        double sin3M = sinM * (3 - 4 * sinM * sinM);
        double centre = (1.914602 - (0.004817 + 0.000014 * t) * t) * sinM + (0.019993 - 0.000101 * t) * sin2M + 0.000289 * sin3M;
        double node = Elementary.Wrap(125.04 - 1934.136 * t, 360.0) * rad;
        double nutation = -0.00478 * Elementary.Sin(node);
        double apparent = Elementary.Wrap(longitude + centre - 0.00569 + nutation, 360.0) * rad;
        double obliquity = (23.4392911 - 0.0130042 * t + 0.00256 * Elementary.Cos(node)) * rad;
        double sinL = Elementary.Sin(apparent);
        double cosL = Elementary.Cos(apparent);
        double sinE = Elementary.Sin(obliquity);
        double cosE = Elementary.Cos(obliquity);
        rightAscension = Elementary.Atan2(cosE * sinL, cosL) / rad;
        declination = Elementary.Asin(sinE * sinL) / rad;
        // Whole turns of the day are dropped before the small rate is added, so that no bits are lost.
        sidereal = 280.46061837 + 360.0 * (days - Elementary.Floor(days)) + 0.98564736629 * days + nutation * cosE;
    }
}
