using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>How often the node factors, which change slowly, are worked out. They stay fixed in between.</summary>
public enum NodeSchedule
{
    /// <summary>
    /// At the middle of each year, as official US tables do it, and the constants of those tables need this schedule. The tables also set M1's
    /// phase at the start of the year with the perigee of mid-year. Heights jump at New Year, by up to 8 cm where the diurnal tide is
    /// large.
    /// </summary>
    Yearly,

    /// <summary>At the middle of each month.</summary>
    Monthly,

    /// <summary>At noon of each day, which is nearest to the theory.</summary>
    Daily,
}

/// <summary>
/// The constituents of one place, prepared for one UTC day: amplitude times node factor, and the phase at midnight. Each tide has one sum,
/// which all its walkers share. A walker copies what it needs of a day, so that the walkers may stand in different days.
/// </summary>
/// <remarks>
/// h = Z0 + sum of f H cos(V + u - g), Schureman (1958) formula 452. Constituents without an amplitude are left out.
/// Cost for 37 constituents, counted in IL instructions with calls weighted: 6 thousand to prepare a day, 9 thousand more when the node
/// factors change, and 9 thousand for one height with its rate.
/// </remarks>
internal sealed class HarmonicSum
{
    /// <summary>The largest error of a walker against the sum, metres.</summary>
    internal const double StrideErrorMetres = 0.0005;

    private const int MostStrideSeconds = 10_800;
    private const int LeastStrideSeconds = 600;
    private const int StrideGrainSeconds = 120;

    // A bound for node factors. Those of the fast constituents, which matter here, stay below it (2MK6: 1.42).
    private const double NodeFactorRoom = 1.5;

    private readonly HarmonicConstants _constants;
    private readonly NodeSchedule _schedule;
    private readonly LunarOrbit _orbit = new LunarOrbit();
    private readonly byte[] _at;
    private readonly double[] _angles;
    private TideStep? _stride;
    private long _nodeSeconds = -1;
    private UtcInstant _perigeeReference;
    private int _day = int.MinValue;

    internal NodeSchedule Schedule => _schedule;

    /// <summary>True when walkers keep no numbers of their own and sum each height from the beginning, to save memory.</summary>
    internal bool Spares { get; private set; }

    /// <summary>How many bytes the angles of a stride will take once they are made; 0 when they exist.</summary>
    internal int StrideBytesToCome => _stride == null ? 48 + 2 * ArrayBytes(Used) : 0;

    /// <summary>How many bytes an array of so many doubles takes on the device's heap.</summary>
    internal static int ArrayBytes(int numbers) => 20 + 8 * numbers;

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
        double sixth = 0;
        for (int i = 0; i < constants.Count; i++)
        {
            double metres = constants.AmplitudeMetresAt(i);
            if (metres <= 0) continue;
            double w = ConstituentRecipe.SpeedDegreesPerHour(constants.RecipeAt(i)) * Elementary.RadiansPerDegree;
            sixth += metres * w * w * w * w * w * w;
            // Constituents with the same node factors stand side by side, so that the factors are worked out once for all of them.
            int nodes = ConstituentRecipe.NodesOf(constants.RecipeAt(i)), at = n++;
            while (at > 0 && ConstituentRecipe.NodesOf(constants.RecipeAt(_at[at - 1])) > nodes)
            {
                _at[at] = _at[at - 1];
                Speed[at] = Speed[at - 1];
                at--;
            }
            _at[at] = (byte)i;
            Speed[at] = w;
        }
        int stride = MostStrideSeconds;
        double allowed = StrideErrorMetres * 46080.0 / NodeFactorRoom;
        while (stride > LeastStrideSeconds)
        {
            double hours = stride / 3600.0;
            double cube = hours * hours * hours;
            if (sixth * cube * cube <= allowed) break;
            stride -= StrideGrainSeconds;
        }
        StrideSeconds = stride;
    }

    /// <summary>
    /// Seconds between two knots of a walk. It is the longest stride, from ten minutes to three hours, at which the polynomial of fifth degree
    /// with the height, rate and second derivative of both ends stays within <see cref="StrideErrorMetres"/> of the sum. The error is at most
    /// the largest sixth derivative times the sixth power of the stride over 46,080 (two-point Taylor remainder, any text on interpolation: the
    /// product ((x - a)(x - b))^3 over 6! at the middle). That derivative is at most the sum of amplitude times speed^6.
    /// </summary>
    internal int StrideSeconds { get; }

    /// <summary>When the node factors of the prepared day change next, in seconds since 2000; it is a UTC midnight.</summary>
    internal long SteadyUntil { get; private set; }

    /// <summary>How many constituents are summed.</summary>
    internal int Used { get; }

    /// <summary>f H, metres.</summary>
    internal double[] Amplitude { get; }

    /// <summary>V + u - g at midnight of the day, radians, not reduced; always below 4000.</summary>
    internal double[] Phase { get; }

    /// <summary>Radians an hour.</summary>
    internal double[] Speed { get; }

    /// <summary>Mean level above the datum, metres.</summary>
    internal double MeanLevelMetres => _constants.MeanLevelMetres;

    /// <summary>Prepares a day; does nothing when it is prepared already.</summary>
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
        // M1's perigee is part of u, which stays fixed until the node factors are worked out again, so its motion since then is added here.
        double perigee = ConstituentRecipe.Perigee * (midnight.SecondsSince(_perigeeReference) / 3600.0);
        byte[] at = _at;
        double[] phase = Phase, angles = _angles;
        HarmonicConstants constants = _constants;
        for (int k = 0; k < at.Length; k++)
        {
            int recipe = constants.RecipeAt(at[k]);
            double v = ConstituentRecipe.ArgumentDegrees(recipe, s, h, p, p1);
            if (ConstituentRecipe.TermsOf(recipe) == ConstituentRecipe.M1Terms) v += perigee;
            phase[k] = (v + angles[k] - constants.PhaseLagDegreesAt(at[k])) * Elementary.RadiansPerDegree;
        }
    }

    /// <summary>Works out, for a time, the height above the datum, its rate in metres an hour, and the change of that rate.</summary>
    internal void Evaluate(UtcInstant time, out double height, out double rate, out double bend)
    {
        Prepare(time.DayNumber);
        double hours = time.SecondOfDay / 3600.0;
        double[] speed = Speed, phase = Phase, amplitude = Amplitude;
        double up = _constants.MeanLevelMetres, rise = 0, turn = 0;
        for (int k = 0; k < speed.Length; k++)
        {
            double w = speed[k];
            Elementary.SinCos(phase[k] + w * hours, out double s, out double c);
            double a = amplitude[k];
            c *= a;
            up += c;
            rise -= w * a * s;
            turn -= w * w * c;
        }
        height = up;
        rate = rise;
        bend = turn;
    }

    /// <summary>The angles through which the constituents turn in one stride, shared by all walkers.</summary>
    internal TideStep Stride()
    {
        if (_stride == null) _stride = new TideStep(Speed, StrideSeconds);
        return _stride;
    }

    /// <summary>Gives up, for good, the memory that only makes walks faster.</summary>
    internal void SpareMemory()
    {
        Spares = true;
        _stride = null;
    }

    private void PrepareNodes(UtcInstant midnight)
    {
        CivilTime date = CivilTime.FromUtc(midnight);
        UtcInstant at, until;
        if (_schedule == NodeSchedule.Yearly)
        {
            at = new CivilTime(date.Year, 7, 2, 12, 0, 0).AsUtc();
            until = new CivilTime(date.Year + 1, 1, 1, 0, 0, 0).AsUtc();
        }
        else if (_schedule == NodeSchedule.Monthly)
        {
            at = new CivilTime(date.Year, date.Month, 16, 0, 0, 0).AsUtc();
            until = new CivilTime(date.Month == 12 ? date.Year + 1 : date.Year, date.Month % 12 + 1, 1, 0, 0, 0).AsUtc();
        }
        else
        {
            at = midnight.PlusHours(12);
            until = midnight.PlusDays(1);
        }
        if (at.Seconds == _nodeSeconds) return;
        _nodeSeconds = at.Seconds;
        SteadyUntil = until.Seconds;
        _perigeeReference = _schedule == NodeSchedule.Yearly ? new CivilTime(date.Year, 1, 1, 0, 0, 0).AsUtc() : at;
        _orbit.SetAll(at);
        byte[] carried = _at;
        double[] amplitude = Amplitude, angles = _angles;
        HarmonicConstants constants = _constants;
        int last = int.MinValue;
        double f = 1, u = 0;
        for (int k = 0; k < carried.Length; k++)
        {
            int recipe = constants.RecipeAt(carried[k]);
            int nodes = ConstituentRecipe.NodesOf(recipe);
            if (nodes != last)
            {
                last = nodes;
                NodesOf(recipe, out f, out u);
            }
            amplitude[k] = constants.AmplitudeMetresAt(carried[k]) * f;
            angles[k] = u;
        }
    }

    private void NodesOf(int recipe, out double factor, out double angleDegrees)
    {
        int terms = ConstituentRecipe.Terms(ConstituentRecipe.TermsOf(recipe));
        double f = 1;
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
        factor = f;
        angleDegrees = u;
    }
}
