using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

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
    /// <summary>How far a walk may be from the sum, metres.</summary>
    internal const double StrideErrorMetres = 0.0005;

    private const int MostStrideSeconds = 10_800;
    private const int LeastStrideSeconds = 600;
    private const int StrideGrainSeconds = 120;

    // Room for node factors: those of the fast constituents that matter stay below it (2MK6: 1.42).
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

    /// <summary>True when walkers hold no numbers of their own and sum each height anew.</summary>
    internal bool Spares { get; private set; }

    /// <summary>What the angles of a stride will take once they are made, bytes; 0 when they are.</summary>
    internal int StrideBytesToCome => _stride == null ? 48 + 2 * ArrayBytes(Used) : 0;

    /// <summary>What so many numbers take on the device's heap, bytes.</summary>
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
            // Those with the same node factors stand together: they are worked out once for all of them.
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
    /// Seconds between two knots of a walk: the longest of ten minutes to three hours at which the polynomial of fifth degree with the
    /// height, rise and bend of both ends stays within <see cref="StrideErrorMetres"/> of the sum. Its error is at most the largest
    /// sixth derivative times the sixth power of the stride over 46,080 (two-point Taylor remainder, any text on interpolation: the
    /// product ((x - a)(x - b))^3 over 6! at the middle); that derivative is at most the sum of amplitude times speed^6.
    /// </summary>
    internal int StrideSeconds { get; }

    /// <summary>When the node factors of the day that is ready change next, seconds since 2000: a UTC midnight.</summary>
    internal long SteadyUntil { get; private set; }

    /// <summary>How many constituents are summed.</summary>
    internal int Used { get; }

    /// <summary>f H, metres.</summary>
    internal double[] Amplitude { get; }

    /// <summary>V + u - g at midnight of the day, radians, not reduced: below 4000.</summary>
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
            double v = ConstituentRecipe.ArgumentDegrees(recipe, s, h, p, p1);
            if (ConstituentRecipe.TermsOf(recipe) == ConstituentRecipe.M1Terms) v += perigee;
            phase[k] = (v + angles[k] - constants.PhaseLagDegreesAt(at[k])) * Elementary.RadiansPerDegree;
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

    /// <summary>The angles of one stride, shared by all walkers.</summary>
    internal TideStep Stride()
    {
        if (_stride == null) _stride = new TideStep(Speed, StrideSeconds);
        return _stride;
    }

    /// <summary>Lets go of what only makes walks quick, for good.</summary>
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
