using System.Collections.Concurrent;
using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>What of a place's tide the box does not hold, and what that costs over a year.</summary>
/// <param name="Unknown">Names of constituents that are not known.</param>
/// <param name="Small">Names of the smallest constituents, for which the box has no room.</param>
/// <param name="Centimetres">By how much the height on the box may fall short of the full height without them.</param>
/// <param name="Minutes">By how much the box is late at most when the full tide passes a height at which it does not stand.</param>
/// <param name="NodeCentimetres">By how much it may fall short because the node factors do not change within a month or a year.</param>
public sealed record LeftOut(IReadOnlyList<string> Unknown, IReadOnlyList<string> Small, int Centimetres, double Minutes, int NodeCentimetres)
{
    // Of the centimetres that are taken off for every sum, this many are for node factors by other formulas. The rest is available here.
    private const int FormulaCentimetres = 1;

    /// <summary>Nothing is left out.</summary>
    public static LeftOut Nothing { get; } = new([], [], 0, 0, 0);

    /// <summary>What must be taken off flood heights besides the centimetres that are taken off for every sum.</summary>
    public int Extra => Math.Max(0, Centimetres + NodeCentimetres + FormulaCentimetres - TideAllowance.SumCentimetres);

    /// <summary>In a sentence; empty when nothing is left out.</summary>
    public string Words
    {
        get
        {
            var parts = new List<string>();
            if (Unknown.Count > 0) parts.Add($"{string.Join(" ", Unknown)} (no known name)");
            if (Small.Count > 0) parts.Add($"{string.Join(" ", Small)} (the smallest; the box holds {HarmonicConstants.Most})");
            string nodes = NodeCentimetres < TideAllowance.SumCentimetres ? "" : $"node factors that stay the same for a year cost up to {NodeCentimetres} cm in 19 years; write node-factors: daily into the file";
            if (parts.Count == 0) return nodes;
            if (nodes.Length > 0) nodes = "; " + nodes;
            return $"{string.Join(" and ", parts)}: over a year the height falls short by {Centimetres} cm at most, and a flood is called late by {Minutes.ToString("F0", CultureInfo.InvariantCulture)} min at most before anything is taken off{nodes}";
        }
    }
}

/// <summary>Makes the constants that the box will hold from the constituents of a site file, and works out the cost of what the box cannot hold.</summary>
internal sealed class SiteConstituents(double meanLevelMetres)
{
    // The largest amplitude that a recipe can hold, in a place with names other than NOAA's.
    private const double MostOpenMetres = 6.5535;
    private const int Levels = 9;
    private const int StepMinutes = 10;
    // The node factor of a tide that is not known is 1.4 at most: that of K2's family is the largest but OO1's.
    private const double MostFactor = 1.4;

    private readonly List<(string Name, int Recipe, double Metres, double Degrees)> _given = [];
    private readonly Dictionary<string, string> _names = [];
    private readonly List<(string Name, double Metres)> _unknown = [];

    /// <summary>Adds a line. Null when it was added, or recorded as unknown; otherwise the reason why it was refused.</summary>
    public string? Add(string name, double metres, double degrees)
    {
        string standard = ConstituentList.Standard(name) ?? name.ToUpperInvariant();
        if (!_names.TryAdd(standard, name)) return _names[standard] == name ? $"{name} was given already" : $"{name} is another name of {_names[standard]}, which was given already";
        if (metres <= 0) return null;
        if (ConstituentList.Recipe(name) is int recipe) _given.Add((name, recipe, metres, degrees));
        else _unknown.Add((name, metres));
        return null;
    }

    /// <summary>How many have an amplitude and are known.</summary>
    public int Count => _given.Count;

    /// <summary>True when every name is one of the NOAA set.</summary>
    public bool AllOfNoaa => _unknown.Count == 0 && _given.All(g => Noaa(g.Name) >= 0);

    /// <summary>The tide that the box will hold, and what is left out of it.</summary>
    public HarmonicTide Build(NodeSchedule schedule, out LeftOut leftOut)
    {
        var ranked = _given.OrderByDescending(g => g.Metres).ToList();
        var kept = ranked.Take(HarmonicConstants.Most).ToList();
        var small = ranked.Skip(HarmonicConstants.Most).ToList();
        HarmonicTide tide = Tide(kept, meanLevelMetres, schedule);
        leftOut = _unknown.Count == 0 && small.Count == 0 ? LeftOut.Nothing : Weigh(tide, small, schedule);
        if (schedule != NodeSchedule.Daily) leftOut = leftOut with { NodeCentimetres = _standing.GetOrAdd(Words(kept, schedule), _ => StandingStill(tide, Tide(kept, meanLevelMetres, NodeSchedule.Daily))) };
        return tide;
    }

    /// <summary>Null when the box can hold the amplitudes; otherwise the reason why not.</summary>
    public string? TooLarge() =>
        AllOfNoaa ? null
        : _given.Where(g => g.Metres > MostOpenMetres).Select(g => $"{g.Name}: beside other names than the 37 of NOAA an amplitude is at most {MostOpenMetres.ToString(CultureInfo.InvariantCulture)} m").FirstOrDefault();

    private static HarmonicTide Tide(IReadOnlyList<(string Name, int Recipe, double Metres, double Degrees)> some, double level, NodeSchedule schedule)
    {
        var constants = new HarmonicConstants(level, Math.Max(some.Count, 1));
        // The constituents of the NOAA set come in the order of that set, which is the order in which an image returns them.
        foreach (var g in some.Where(g => Noaa(g.Name) >= 0).OrderBy(g => Noaa(g.Name))) constants.Set(Noaa(g.Name), g.Metres, g.Degrees);
        foreach (var g in some.Where(g => Noaa(g.Name) < 0)) constants.TrySet(g.Recipe, g.Metres, g.Degrees);
        return new HarmonicTide(constants, schedule);
    }

    private static int Noaa(string name) => Constituents.IndexOf(name.ToUpperInvariant());

    private LeftOut Weigh(HarmonicTide kept, List<(string Name, int Recipe, double Metres, double Degrees)> small, NodeSchedule schedule)
    {
        double bound = _unknown.Sum(u => u.Metres) * MostFactor;
        var rest = small.Chunk(HarmonicConstants.Most).Select(some => Tide(some, 0, schedule)).ToArray();
        UtcInstant start = new CivilTime(2026, 1, 1, 0, 0, 0).AsUtc();
        int steps = 365 * 24 * 60 / StepMinutes;
        double[] box = Heights(kept, start, steps), full = (double[])box.Clone();
        foreach (HarmonicTide some in rest)
        {
            double[] more = Heights(some, start, steps);
            for (int i = 0; i < steps; i++) full[i] += more[i];
        }
        double shortBy = full.Zip(box, (f, b) => f - b).Max() + bound;
        return new LeftOut(_unknown.Select(u => u.Name).ToArray(), small.Select(s => s.Name).ToArray(), (int)Math.Ceiling(Math.Max(shortBy, 0) * 100 - 1e-9), Late(box, full, bound), 0);
    }

    // Nineteen years take a tenth of a second, and the same place is read again and again.
    private static readonly ConcurrentDictionary<string, int> _standing = new();

    private string Words(IEnumerable<(string Name, int Recipe, double Metres, double Degrees)> kept, NodeSchedule schedule) =>
        string.Create(CultureInfo.InvariantCulture, $"{schedule} {meanLevelMetres:R} {string.Join(' ', kept.Select(k => FormattableString.Invariant($"{k.Recipe} {k.Name} {k.Metres:R} {k.Degrees:R}")))}");

    // Over the 19 years of the node, at all times of the day and the month.
    private static int StandingStill(HarmonicTide tide, HarmonicTide daily)
    {
        double shortBy = 0;
        UtcInstant end = new CivilTime(2045, 1, 1, 0, 0, 0).AsUtc();
        for (UtcInstant t = new CivilTime(2026, 1, 1, 0, 0, 0).AsUtc(); t < end; t = t.PlusMinutes(433)) shortBy = Math.Max(shortBy, daily.HeightMetres(t) - tide.HeightMetres(t));
        return (int)Math.Ceiling(shortBy * 100);
    }

    private static double[] Heights(HarmonicTide tide, UtcInstant start, int steps)
    {
        var heights = new double[steps];
        TideWalker walker = tide.CreateWalker();
        walker.Start(start, StepMinutes * 60);
        for (int i = 0; i < steps; i++)
        {
            heights[i] = walker.HeightMetres;
            walker.Advance();
        }
        return heights;
    }

    // The latest crossing of nine heights, minutes; the highest tenth and lowest tenth of the range, where water stands, are left out.
    private static double Late(double[] box, double[] full, double bound)
    {
        double low = full.Min(), high = full.Max(), worst = 0;
        for (int n = 1; n <= Levels; n++)
        {
            double level = low + (high - low) * n / (Levels + 1);
            for (int i = 1; i < full.Length; i++)
            {
                if (full[i - 1] + bound >= level || full[i] + bound < level) continue;
                double ours = Crossing(box, i, level);
                if (ours >= 0) worst = Math.Max(worst, (ours - Between(full[i - 1] + bound, full[i] + bound, level, i)) * StepMinutes);
            }
        }
        return worst;
    }

    // Where the height on the box passes the level, within six hours of a step; -1 when it does not, or is above the level before.
    private static double Crossing(double[] box, int near, double level)
    {
        if (box[near - 1] >= level) return -1;
        for (int i = near; i < box.Length && i < near + 36; i++)
            if (box[i] >= level) return Between(box[i - 1], box[i], level, i);
        return near + 36;
    }

    private static double Between(double before, double after, double level, int step) => step - 1 + Elementary.Clamp((level - before) / Math.Max(after - before, 1e-9), 0, 1);
}
