using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Sky;

/// <summary>Whether the sun crosses an altitude on a day.</summary>
public enum SunCrossing
{
    /// <summary>The sun crosses the altitude, and the event has a time.</summary>
    Crosses,

    /// <summary>The sun stays above the altitude from one midnight to the next.</summary>
    StaysAbove,

    /// <summary>The sun stays below the altitude from one midnight to the next.</summary>
    StaysBelow,
}

/// <summary>One crossing of an altitude by the sun.</summary>
public readonly struct SunEvent
{
    /// <summary>Whether there is a crossing.</summary>
    public readonly SunCrossing Crossing;

    /// <summary>When the sun crosses, to the nearest second. When it does not cross, the time at which it comes nearest (midnight or noon).</summary>
    public readonly UtcInstant Time;

    /// <summary>The azimuth at that time, degrees from true north through east.</summary>
    public readonly double AzimuthDegrees;

    /// <summary>True when the event takes place.</summary>
    public bool Happens => Crossing == SunCrossing.Crosses;

    internal SunEvent(SunCrossing crossing, UtcInstant time, double azimuthDegrees)
    {
        Crossing = crossing;
        Time = time;
        AzimuthDegrees = azimuthDegrees;
    }
}

/// <summary>
/// The sun's day at a place: when the sun crosses any altitude before and after the noon that is nearest to local 12:00.
/// </summary>
/// <remarks>
/// Altitudes are geometric ones of the sun's centre. Sunrise and sunset are at -50 minutes of arc: 34 for refraction and 16 for the
/// semidiameter, which is the convention of almanacs. The true semidiameter changes by 0.5' over the year, which is up to 8 s at latitude 60.
/// A low sea horizon, cold air and hills are not included. What a day costs is in tests/Budgets.
/// </remarks>
public sealed class SunDay
{
    /// <summary>Altitude of rise and set: -50 minutes of arc.</summary>
    public const double RiseDegrees = -50.0 / 60.0;

    /// <summary>Altitude of civil dawn and dusk: -6 degrees.</summary>
    public const double CivilDegrees = -6;

    /// <summary>Altitude of nautical dawn and dusk: -12 degrees.</summary>
    public const double NauticalDegrees = -12;

    /// <summary>Altitude at which the golden light begins in the morning: -4 degrees (common practice, no source).</summary>
    public const double GoldenLowDegrees = -4;

    /// <summary>Altitude at which the golden light ends in the morning: 6 degrees (common practice, no source).</summary>
    public const double GoldenHighDegrees = 6;

    // The sky turns by 360 degrees in 86,164 s, a sidereal day.
    private const double DegreesASecond = 360.0 / 86_164.0;
    private const double MostSecondsOff = 900;

    private readonly GeoPosition _place;
    private readonly double _before;
    private readonly double _noon;
    private readonly double _after;

    /// <summary>Creates the local day that contains an instant.</summary>
    public SunDay(GeoPosition place, LocalTime local, UtcInstant within)
    {
        _place = place;
        double middle = local.MidnightBefore(within).Seconds + 43200.0;
        _noon = Transit(middle, 0);
        _before = Transit(_noon - 43200.0, 180);
        _after = Transit(_noon + 43200.0, 180);
    }

    /// <summary>When the sun stands highest (upper transit).</summary>
    public UtcInstant Noon => new UtcInstant(Elementary.Round(_noon));

    /// <summary>Sunrise.</summary>
    public SunEvent Rise => Morning(RiseDegrees);

    /// <summary>Sunset.</summary>
    public SunEvent Set => Evening(RiseDegrees);

    /// <summary>Civil dawn.</summary>
    public SunEvent CivilDawn => Morning(CivilDegrees);

    /// <summary>Civil dusk.</summary>
    public SunEvent CivilDusk => Evening(CivilDegrees);

    /// <summary>Nautical dawn.</summary>
    public SunEvent NauticalDawn => Morning(NauticalDegrees);

    /// <summary>Nautical dusk.</summary>
    public SunEvent NauticalDusk => Evening(NauticalDegrees);

    /// <summary>When the sun climbs through an altitude, in degrees, between the midnight before and noon.</summary>
    public SunEvent Morning(double altitudeDegrees) => Cross(_before, _noon, altitudeDegrees);

    /// <summary>When the sun sinks through an altitude, in degrees, between noon and the midnight after.</summary>
    public SunEvent Evening(double altitudeDegrees) => Cross(_after, _noon, altitudeDegrees);

    /// <summary>What kind of day it is, in words; empty for a day with a sunrise and a sunset.</summary>
    public string Words()
    {
        SunEvent rise = Rise;
        if (rise.Crossing == SunCrossing.StaysAbove) return "Polar day: the sun does not set";
        if (rise.Happens) return "";
        SunCrossing civil = CivilDawn.Crossing;
        if (civil != SunCrossing.StaysBelow) return "Polar night: twilight, no sunrise";
        return "Polar night: no civil twilight";
    }

    /// <summary>
    /// Finds sunrise or sunset near a time by Newton's method. This is the cheap way from one day to the next, with a single position where
    /// the guess is good. Returns false where the sun crosses the horizon at so flat an angle, or so far from the guess, that the whole day
    /// must be worked out.
    /// </summary>
    /// <param name="place">The place.</param>
    /// <param name="near">The guess, in seconds since 2000-01-01 00:00 UTC.</param>
    /// <param name="rising">True for sunrise.</param>
    /// <param name="at">The time found, in the same seconds, within 0.05 s.</param>
    internal static bool TryNear(GeoPosition place, double near, bool rising, out double at)
    {
        at = near;
        double perDegree = DegreesASecond * Elementary.Cos(place.LatitudeDegrees * Elementary.RadiansPerDegree);
        for (int n = 0; n < 4; n++)
        {
            SunPosition sun = Sun.At(at, place);
            // The altitude changes by cos latitude times sin azimuth for every degree that the sky turns.
            double rate = perDegree * Elementary.Sin(sun.AzimuthDegrees * Elementary.RadiansPerDegree);
            if (!rising) rate = -rate;
            if (rate < DegreesASecond / 8) return false;
            double step = (RiseDegrees - sun.AltitudeDegrees) / rate;
            at += rising ? step : -step;
            double gone = at - near;
            if (gone < -MostSecondsOff || gone > MostSecondsOff) return false;
            if (step < 10 && step > -10) return true;
        }
        return false;
    }

    // Between the lower transit (low) and the upper (high) the altitude only rises. The crossing is found by regula falsi with bisection.
    private SunEvent Cross(double low, double high, double altitude)
    {
        double lowGap = Sun.At(low, _place).AltitudeDegrees - altitude;
        double highGap = Sun.At(high, _place).AltitudeDegrees - altitude;
        if (lowGap >= 0) return Missed(SunCrossing.StaysAbove, low);
        if (highGap <= 0) return Missed(SunCrossing.StaysBelow, high);
        for (int n = 0; n < 40; n++)
        {
            double span = high - low;
            if (Elementary.Abs(span) < 0.5) break;
            // divisor: lowGap stays below zero and highGap at or above it
            double part = Elementary.Clamp(-lowGap / (highGap - lowGap), 0.02, 0.98);
            if (n % 3 == 2) part = 0.5;
            double at = low + span * part;
            double gap = Sun.At(at, _place).AltitudeDegrees - altitude;
            if (gap < 0) { low = at; lowGap = gap; }
            else { high = at; highGap = gap; }
            if (Elementary.Abs(gap) < 1e-6) break;
        }
        // divisor: lowGap stays below zero and highGap at or above it
        double time = low - (high - low) * lowGap / (highGap - lowGap);
        return new SunEvent(SunCrossing.Crosses, new UtcInstant(Elementary.Round(time)), Sun.At(time, _place).AzimuthDegrees);
    }

    private SunEvent Missed(SunCrossing crossing, double nearest) =>
        new SunEvent(crossing, new UtcInstant(Elementary.Round(nearest)), Sun.At(nearest, _place).AzimuthDegrees);

    private double Transit(double near, double hourAngle)
    {
        for (int n = 0; n < 3; n++)
        {
            double gap = Elementary.Wrap(Sun.At(near, _place).HourAngleDegrees - hourAngle + 180.0, 360.0) - 180.0;
            near -= gap * 240.0;
        }
        return near;
    }
}
