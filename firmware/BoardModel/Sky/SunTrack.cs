using Intervalometer.Coast.Sky;
using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>
/// The sun over a place from a moment on: low-precision formulas of the Astronomical Almanac (0.01 degree from 1950 to 2050), and
/// not the firmware's own, so that the virtual world does not agree with the box by construction.
/// </summary>
/// <param name="place">The place.</param>
/// <param name="start">Time 0, UTC.</param>
public sealed class SunTrack(GeoPosition place, DateTime start)
{
    private static readonly DateTime Epoch = new(2000, 1, 1, 12, 0, 0, DateTimeKind.Utc);

    private readonly double _startDays = (start - Epoch).Ticks / (double)TimeSpan.TicksPerDay;
    private Second? _second;

    /// <summary>
    /// The same altitude, drawn out evenly within each whole second. While the sun stands lower than 60 degrees, it is at most a
    /// fifth of a millionth of a degree off. The model of the light sensor asks for it often.
    /// </summary>
    /// <param name="seconds">Time, seconds.</param>
    public double BetweenSeconds(double seconds)
    {
        double from = Elementary.Floor(seconds);
        Second? second = _second;
        if (second?.From != from) _second = second = new Second(from, AltitudeDegrees(from), AltitudeDegrees(from + 1));
        return second.Altitude + (second.Next - second.Altitude) * (seconds - from);
    }

    /// <summary>Altitude of the sun's centre above the true horizon, degrees, without refraction.</summary>
    /// <param name="seconds">Time, seconds.</param>
    public double AltitudeDegrees(double seconds)
    {
        const double rad = Elementary.RadiansPerDegree;
        double n = _startDays + seconds / 86400.0;
        double longitude = 280.460 + 0.9856474 * n;
        double anomaly = (357.528 + 0.9856003 * n) * rad;
        double ecliptic = (longitude + 1.915 * Elementary.Sin(anomaly) + 0.020 * Elementary.Sin(2 * anomaly)) * rad;
        double obliquity = (23.439 - 0.0000004 * n) * rad;
        Elementary.SinCos(ecliptic, out double sine, out double cosine);
        double rightAscension = Elementary.Atan2(Elementary.Cos(obliquity) * sine, cosine);
        double declination = Elementary.Asin(Elementary.Sin(obliquity) * sine);
        // Whole turns of the day are left out, so that no bits are lost.
        double sidereal = 280.46062 + 360.0 * (n - Elementary.Floor(n)) + 0.98564737 * n;
        double hour = (sidereal + place.LongitudeDegrees) * rad - rightAscension;
        double latitude = place.LatitudeDegrees * rad;
        double up = Elementary.Sin(latitude) * Elementary.Sin(declination) + Elementary.Cos(latitude) * Elementary.Cos(declination) * Elementary.Cos(hour);
        return Elementary.Asin(Elementary.Clamp(up, -1, 1)) / rad;
    }

    private sealed record Second(double From, double Altitude, double Next);
}
