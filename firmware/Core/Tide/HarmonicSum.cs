using Intervalometer.Core.Numerics;
using Intervalometer.Core.Time;

namespace Intervalometer.Core.Tide;

/// <summary>When the slow node factors are worked out; in between they stand still.</summary>
public enum NodeSchedule
{
    /// <summary>
    /// At the middle of each year, as official US tables do it: they also set M1's phase at the start of the year with the
    /// perigee of mid-year. The constants of those tables want this. Heights step at New Year, by up to 4 cm where the
    /// diurnal tide is large (Seattle, 2030).
    /// </summary>
    Yearly,

    /// <summary>At the middle of each month.</summary>
    Monthly,

    /// <summary>At noon of each day: nearest to the theory.</summary>
    Daily,
}

/// <summary>
/// The constituents of one place made ready for one UTC day: amplitude times node factor, and the phase at midnight.
/// </summary>
/// <remarks>
/// h = Z0 + sum of f H cos(V + u - g), Schureman (1958) formula 452. Only constituents with an amplitude are carried.
/// Cost by counting IL, 37 constituents: preparing a day 7 thousand, and 7 thousand more when the node factors change; one
/// height with its rate 14 thousand.
/// </remarks>
internal sealed class HarmonicSum
{
    // Motion of the lunar perigee, degrees an hour (Schureman, Table 1).
    private const double PerigeeSpeed = 0.00464183;

    private readonly HarmonicConstants _constants;
    private readonly NodeSchedule _schedule;
    private readonly LunarOrbit _orbit = new LunarOrbit();
    private readonly int[] _index;
    private readonly double[] _factors = new double[Constituents.Count];
    private readonly double[] _angles = new double[Constituents.Count];
    private long _nodeSeconds = -1;
    private UtcInstant _perigeeReference;
    private int _day = int.MinValue;

    internal HarmonicSum(HarmonicConstants constants, NodeSchedule schedule)
    {
        _constants = constants;
        _schedule = schedule;
        Used = constants.Used;
        _index = new int[Used];
        Amplitude = new double[Used];
        Phase = new double[Used];
        Speed = new double[Used];
        int n = 0;
        for (int i = 0; i < Constituents.Count; i++)
        {
            if (constants.AmplitudeMetres(i) <= 0) continue;
            _index[n] = i;
            Speed[n] = Constituents.SpeedDegreesPerHour(i) * Elementary.RadiansPerDegree;
            n++;
        }
    }

    /// <summary>How many constituents are summed.</summary>
    internal int Used { get; }

    /// <summary>f H, metres.</summary>
    internal double[] Amplitude { get; }

    /// <summary>V + u - g at midnight of the day, radians in [0, 2 pi).</summary>
    internal double[] Phase { get; }

    /// <summary>Radians an hour.</summary>
    internal double[] Speed { get; }

    /// <summary>The day made ready, days since 2000-01-01.</summary>
    internal int Day => _day;

    /// <summary>Mean level above the datum, metres.</summary>
    internal double MeanLevelMetres => _constants.MeanLevelMetres;

    /// <summary>Makes a day ready; does nothing when it is.</summary>
    internal void Prepare(int day)
    {
        if (day == _day) return;
        _day = day;
        UtcInstant midnight = new UtcInstant(day * UtcInstant.SecondsPerDay);
        PrepareNodes(midnight);
        _orbit.SetLongitudes(midnight);
        double s = Elementary.Wrap(_orbit.MoonDegrees, 360.0);
        double h = Elementary.Wrap(_orbit.SunDegrees, 360.0);
        double p = Elementary.Wrap(_orbit.PerigeeDegrees, 360.0);
        double p1 = Elementary.Wrap(_orbit.SolarPerigeeDegrees, 360.0);
        for (int k = 0; k < Used; k++)
        {
            int i = _index[k];
            double v = Constituents.Argument(i, 0) * 180.0
                + Constituents.Argument(i, 1) * s
                + Constituents.Argument(i, 2) * h
                + Constituents.Argument(i, 3) * p
                + Constituents.Argument(i, 4) * p1
                + Constituents.Argument(i, 5) * 90.0;
            if (i == Constituents.M1) v += PerigeeSpeed * (midnight.SecondsSince(_perigeeReference) / 3600.0);
            Phase[k] = Elementary.Wrap(v + _angles[i] - _constants.PhaseLagDegrees(i), 360.0) * Elementary.RadiansPerDegree;
            Amplitude[k] = _constants.AmplitudeMetres(i) * _factors[i];
        }
    }

    /// <summary>Height above the datum, its rise in metres an hour, and the change of that rise, at a time.</summary>
    internal void Evaluate(UtcInstant time, out double height, out double rate, out double bend)
    {
        Prepare(time.DayNumber);
        double hours = time.SecondOfDay / 3600.0;
        height = _constants.MeanLevelMetres;
        rate = 0;
        bend = 0;
        for (int k = 0; k < Used; k++)
        {
            double w = Speed[k];
            double angle = Phase[k] + w * hours;
            double c = Amplitude[k] * Elementary.Cos(angle);
            height += c;
            rate -= w * Amplitude[k] * Elementary.Sin(angle);
            bend -= w * w * c;
        }
    }

    private void PrepareNodes(UtcInstant midnight)
    {
        CivilTime date = CivilTime.FromUtc(midnight);
        UtcInstant at;
        if (_schedule == NodeSchedule.Yearly) at = new CivilTime(date.Year, 7, 2, 12, 0, 0).AsUtc();
        else if (_schedule == NodeSchedule.Monthly) at = new CivilTime(date.Year, date.Month, 16, 0, 0, 0).AsUtc();
        else at = midnight.PlusHours(12);
        if (at.Seconds == _nodeSeconds) return;
        _nodeSeconds = at.Seconds;
        _perigeeReference = _schedule == NodeSchedule.Yearly ? new CivilTime(date.Year, 1, 1, 0, 0, 0).AsUtc() : at;
        _orbit.SetAll(at);
        for (int i = 0; i < Constituents.Count; i++)
        {
            NodeTerm term = Constituents.Term(i);
            int power = Constituents.M2Power(i);
            double f = _orbit.Factor(term);
            for (int n = power < 0 ? -power : power; n > 0; n--) f *= _orbit.M2Factor;
            _factors[i] = f;
            _angles[i] = _orbit.AngleDegrees(term) * Constituents.TermSign(i) + power * _orbit.M2AngleDegrees;
        }
    }
}
