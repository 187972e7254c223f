using Intervalometer.Core.Numerics;
using Intervalometer.Core.Time;

namespace Intervalometer.Core.Tide;

/// <summary>When the slow node factors are worked out; in between they stand still.</summary>
public enum NodeSchedule
{
    /// <summary>
    /// At the middle of each year, as official US tables do it: they also set M1's phase at the start of the year with the
    /// perigee of mid-year. The constants of those tables want this. Heights step at New Year, by up to 8 cm where the
    /// diurnal tide is large.
    /// </summary>
    Yearly,

    /// <summary>At the middle of each month.</summary>
    Monthly,

    /// <summary>At noon of each day: nearest to the theory.</summary>
    Daily,
}

/// <summary>
/// The constituents of one place made ready for one UTC day: amplitude times node factor, and the phase at midnight. One for
/// each tide, shared by all its walkers, which take from it what they need of a day and may each stand in another.
/// </summary>
/// <remarks>
/// h = Z0 + sum of f H cos(V + u - g), Schureman (1958) formula 452. Only constituents with an amplitude are carried.
/// Cost by counting IL, calls weighed in, 37 constituents: preparing a day 6 thousand, and 9 thousand more when the node
/// factors change; one height with its rate 9 thousand.
/// </remarks>
internal sealed class HarmonicSum
{
    private readonly HarmonicConstants _constants;
    private readonly NodeSchedule _schedule;
    private readonly LunarOrbit _orbit = new LunarOrbit();
    private readonly byte[] _at;
    private readonly double[] _angles;
    private TideStep? _step;
    private long _nodeSeconds = -1;
    private UtcInstant _perigeeReference;
    private int _day = int.MinValue;

    internal NodeSchedule Schedule => _schedule;

    internal HarmonicSum(HarmonicConstants constants, NodeSchedule schedule)
    {
        _constants = constants;
        _schedule = schedule;
        Used = constants.Used;
        _at = new byte[Used];
        Amplitude = new double[Used];
        Phase = new double[Used];
        Speed = new double[Used];
        _angles = new double[Used];
        int n = 0;
        for (int i = 0; i < constants.Count; i++)
        {
            if (constants.AmplitudeMetresAt(i) <= 0) continue;
            _at[n] = (byte)i;
            Speed[n] = ConstituentRecipe.SpeedDegreesPerHour(constants.RecipeAt(i)) * Elementary.RadiansPerDegree;
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
        // M1's perigee is in u, which stands still between two workings of the node factors.
        double perigee = ConstituentRecipe.Perigee * (midnight.SecondsSince(_perigeeReference) / 3600.0);
        byte[] at = _at;
        double[] phase = Phase, angles = _angles;
        HarmonicConstants constants = _constants;
        for (int k = 0; k < at.Length; k++)
        {
            int recipe = constants.RecipeAt(at[k]);
            double v = ConstituentRecipe.T(recipe) * 180.0
                + ConstituentRecipe.S(recipe) * s
                + ConstituentRecipe.H(recipe) * h
                + ConstituentRecipe.P(recipe) * p
                + ConstituentRecipe.P1(recipe) * p1
                + ConstituentRecipe.Quarters(recipe) * 90.0;
            if (ConstituentRecipe.TermsOf(recipe) == ConstituentRecipe.M1Terms) v += perigee;
            phase[k] = Elementary.Wrap(v + angles[k] - constants.PhaseLagDegreesAt(at[k]), 360.0) * Elementary.RadiansPerDegree;
        }
    }

    /// <summary>Height above the datum, its rise in metres an hour, and the change of that rise, at a time.</summary>
    internal void Evaluate(UtcInstant time, out double height, out double rate, out double bend)
    {
        Prepare(time.DayNumber);
        double hours = time.SecondOfDay / 3600.0;
        double[] speed = Speed, phase = Phase, amplitude = Amplitude;
        double up = _constants.MeanLevelMetres, rise = 0, turn = 0;
        for (int k = 0; k < speed.Length; k++)
        {
            double w = speed[k];
            double angle = phase[k] + w * hours;
            double c = amplitude[k] * Elementary.Cos(angle);
            up += c;
            rise -= w * amplitude[k] * Elementary.Sin(angle);
            turn -= w * w * c;
        }
        height = up;
        rate = rise;
        bend = turn;
    }

    /// <summary>The angles of one step. The first length that is asked for is kept for all walkers; others are made anew.</summary>
    internal TideStep StepOf(int seconds)
    {
        if (_step != null && _step.Seconds == seconds) return _step;
        TideStep step = new TideStep(Speed, seconds);
        if (_step == null) _step = step;
        return step;
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
        for (int k = 0; k < _at.Length; k++)
        {
            int recipe = _constants.RecipeAt(_at[k]);
            int terms = ConstituentRecipe.Terms(ConstituentRecipe.TermsOf(recipe));
            double f = _constants.AmplitudeMetresAt(_at[k]);
            double u = ConstituentRecipe.M2(recipe) * _orbit.M2AngleDegrees;
            for (int n = ConstituentRecipe.M2Factors(recipe); n > 0; n--) f *= _orbit.M2Factor;
            for (int part = 0; part < 2; part++)
            {
                NodeTerm term = (NodeTerm)(terms & 15);
                int times = (terms >> 4 & 15) - 4;
                terms >>= 8;
                u += times * _orbit.AngleDegrees(term);
                for (int n = times < 0 ? -times : times; n > 0; n--) f *= _orbit.Factor(term);
            }
            Amplitude[k] = f;
            _angles[k] = u;
        }
    }
}
