using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>A place and the mornings that are wanted there, as the firmware holds them.</summary>
public sealed record Site(CoastPlace Place, MorningWish Wish)
{
    /// <summary>What of the tide the box does not hold.</summary>
    public LeftOut LeftOut { get; init; } = LeftOut.Nothing;
}

/// <summary>
/// Reads the site text file. Lines are <c>key: value</c>; <c>[section]</c> starts a section; # starts a comment. Nothing is
/// guessed: an unknown, missing, repeated or unreadable line is an error with its number, and all of them are told at once.
/// </summary>
/// <remarks>
/// Top: site, datum, latitude, longitude, local-time, clock-changes, walk-in, mean-level and node-factors with constituents, and tide-shape.
/// [constituents]: M2: 1.72 m 133.0 deg, Greenwich phase lag; any name of <see cref="ConstituentList"/> is read, and other names are reported. Or [turns]: high: 2026-03-07 05:12 5.2 m, in local time.
/// [path]: Sand neck: floods 3.3 m, walk 20 min, margin 0.3 m. [morning]: before, after, band and work.
/// </remarks>
public sealed class SiteFile
{
    private static readonly string[] TopKeys = ["site", "datum", "latitude", "longitude", "local-time", "clock-changes", "walk-in", "mean-level", "node-factors", "tide-shape"];
    private static readonly string[] MorningKeys = ["before", "after", "band", "work", "evenings"];
    private static readonly string[] Sections = ["constituents", "turns", "path", "morning"];

    private const long LongestBytes = 1_000_000;

    /// <summary>A file of another kind is wrong in every line; that many are told.</summary>
    private const int MostTold = 20;

    private readonly string _source;
    private readonly Dictionary<string, (int Line, string Value)> _top = [];
    private readonly Dictionary<string, (int Line, string Value)> _morning = [];
    private readonly List<(int Line, string Key, string Value)> _constituents = [];
    private readonly List<(int Line, string Key, string Value)> _turns = [];
    private readonly List<(int Line, string Key, string Value)> _path = [];
    private readonly Dictionary<string, SiteMistake> _withoutValue = [];
    private readonly List<SiteMistake> _mistakes = [];
    private int _lastLine;

    private SiteFile(string source) => _source = source;

    /// <summary>Reads a file.</summary>
    public static Site Load(string path)
    {
        string text;
        try
        {
            using var bytes = new StreamReader(new MemoryStream(InputFile.Read(path, LongestBytes)));
            text = bytes.ReadToEnd();
        }
        catch (IOException e)
        {
            throw new SiteFileException(OneLine.CannotRead(path, e));
        }
        return Parse(text, path);
    }

    /// <summary>Reads text; the source is named in errors.</summary>
    public static Site Parse(string text, string source)
    {
        var file = new SiteFile(source);
        file.Gather(text);
        return file.Build();
    }

    // What a reader gives, or its stand-in when the reader complains. The complaint is kept, and refuses the file in the end.
    private T Read<T>(Func<T> reader, T standIn)
    {
        try
        {
            return reader();
        }
        catch (SiteFileException e)
        {
            _mistakes.AddRange(e.Mistakes);
            return standIn;
        }
    }

    // In the order of the file; a line of which two readers said the same is told once.
    private void RequireNoMistakes()
    {
        SiteMistake[] all = [.. _mistakes.Distinct().OrderBy(mistake => mistake.Line)];
        if (all.Length == 0) return;
        throw new SiteFileException(all.Length <= MostTold ? all : [.. all.Take(MostTold), Mistake(all[MostTold].Line, $"here and behind it are {all.Length - MostTold} more mistakes; is it a site file?")]);
    }

    private void Gather(string text)
    {
        string? section = "";
        foreach (string raw in text.Split('\n'))
        {
            _lastLine++;
            section = Read(() => Gather(section, raw), section);
        }
    }

    // Takes one line, and returns the section that the next one stands in; null where no known section was begun, whose lines nobody can judge.
    private string? Gather(string? section, string raw)
    {
        int hash = raw.IndexOf('#');
        string line = (hash < 0 ? raw : raw[..hash]).Trim();
        if (line.Length == 0) return section;
        if (line[0] == '[')
        {
            string begun = line.Trim('[', ']').Trim();
            if (line[^1] == ']' && Sections.Contains(begun)) return begun;
            _mistakes.Add(Mistake(_lastLine, $"{line} is not a section; the sections are {string.Join(", ", Sections.Select(s => "[" + s + "]"))}"));
            return null;
        }
        if (section is null) return null;
        int colon = line.IndexOf(':');
        if (colon <= 0) throw Error(_lastLine, $"'{line}' is not of the form key: value");
        string key = line[..colon].Trim(), value = line[(colon + 1)..].Trim();
        if (value.Length == 0)
        {
            _withoutValue.TryAdd(key, Mistake(_lastLine, $"{key} has no value"));
            throw Error(_lastLine, $"{key} has no value");
        }
        switch (section)
        {
            case "": Once(_top, TopKeys, key, value); break;
            case "morning": Once(_morning, MorningKeys, key, value); break;
            case "constituents": _constituents.Add((_lastLine, key, value)); break;
            case "turns": _turns.Add((_lastLine, key, value)); break;
            default: _path.Add((_lastLine, key, value)); break;
        }
        return section;
    }

    private void Once(Dictionary<string, (int Line, string Value)> into, string[] known, string key, string value)
    {
        if (!known.Contains(key)) throw Error(_lastLine, $"'{key}' is not known here; known are {string.Join(", ", known)}");
        if (!into.TryAdd(key, (_lastLine, value))) throw Error(_lastLine, $"{key} was already given in line {into[key].Line}");
    }

    private Site Build()
    {
        string name = Read(() => Name(Needed(_top, "site"), "the name of site", ShoreSettings.LongestName), "");
        string datum = Read(() => Name(Needed(_top, "datum"), "datum", ShoreSettings.LongestDatum), "");
        double latitude = Read(() => Number(Needed(_top, "latitude"), "latitude", "", -90, 90), 0);
        int before = _mistakes.Count;
        double longitude = Read(() => Number(Needed(_top, "longitude"), "longitude", "", -180, 180), 0);
        LocalOffset winter = Read(() => Offset(Needed(_top, "local-time")), new LocalOffset(0));
        if (_mistakes.Count == before) Read(() => Agree(longitude, winter), true);
        LocalTime offset = Read(() => Local(winter), winter);
        int walkIn = Read(() => Minutes(Needed(_top, "walk-in"), "walk-in"), 0);
        TideShape shape = Read(Shape, TideShape.Any);
        LeftOut leftOut = LeftOut.Nothing;
        TideSource? tide = Read(() => Tide(offset, shape, out leftOut), null);
        PathPoint?[] path = [.. _path.Select(row => Read<PathPoint?>(() => Point(row), null))];
        MorningWish wish = Wish();
        RequireNoMistakes();
        return new Site(new CoastPlace(name, datum, new GeoPosition(latitude, longitude), offset, tide!, path!, walkIn, shape, leftOut.Extra), wish) { LeftOut = leftOut };
    }

    // On a coast the clocks differ from solar time by some 3 h at most. With a wrong sign of the longitude they differ by more, unless the longitude is small.
    private bool Agree(double longitude, LocalOffset offset)
    {
        double apart = Math.Abs(Math.IEEERemainder(offset.Minutes / 60.0 - longitude / 15, 24));
        if (apart > 4) throw Error(Needed(_top, "longitude").Line, $"longitude {longitude.ToString(CultureInfo.InvariantCulture)} and local-time {TimeText.Offset(offset)} are {apart.ToString("F1", CultureInfo.InvariantCulture)} h apart; east is positive, west negative: check both signs");
        return true;
    }

    private TideShape Shape()
    {
        if (!_top.TryGetValue("tide-shape", out var shape)) return TideShape.Any;
        return shape.Value switch
        {
            "plain" => TideShape.Plain,
            "daily" => TideShape.Daily,
            "any" => TideShape.Any,
            "as-sum" when _constituents.Count > 0 => TideShape.AsSum,
            "as-neighbour" when _constituents.Count > 0 => TideShape.AsNeighbour,
            "as-sum" or "as-neighbour" => throw Error(shape.Line, $"tide-shape: {shape.Value} is for turns typed on the box of a place with [constituents]"),
            _ => throw Error(shape.Line, $"tide-shape is plain (rises and falls evenly, no stand, no double high or low water), daily (turns once a day for part of the month), any, as-sum (turns typed on the box run along the [constituents] between them) or as-neighbour (the same, with [constituents] of a port nearby), not '{shape.Value}'"),
        };
    }

    // Null when its lines have mistakes: what only the whole tide can show is judged when every line of it is right.
    private TideSource? Tide(LocalTime offset, TideShape shape, out LeftOut leftOut)
    {
        leftOut = LeftOut.Nothing;
        if (_constituents.Count > 0 && _turns.Count > 0) throw Error(_turns[0].Line, "a site has [constituents] or [turns], not both");
        if (_turns.Count > 0)
        {
            if (_top.TryGetValue("mean-level", out var level)) throw Error(level.Line, "mean-level is for [constituents] only; printed turns have their own heights");
            return Printed(offset, shape);
        }
        if (_constituents.Count == 0) throw Error(_lastLine, "there is no tide: add [constituents] or [turns]");
        int before = _mistakes.Count;
        var constituents = new SiteConstituents(Read(() => Number(Needed(_top, "mean-level"), "mean-level", "m", -20, 20), 0));
        foreach (var row in _constituents) Read(() => Constituent(constituents, row), false);
        NodeSchedule? asked = Read(Nodes, null);
        if (_mistakes.Count > before) return null;
        if (constituents.Count == 0) throw Error(_constituents[0].Line, "no known constituent has an amplitude above 0");
        if (constituents.TooLarge() is string large) throw Error(_constituents[0].Line, large);
        // The constants of NOAA are made for node factors that stay the same for a year.
        HarmonicTide tide = constituents.Build(asked ?? (constituents.AllOfNoaa ? NodeSchedule.Yearly : NodeSchedule.Daily), out leftOut);
        if (leftOut.Extra > TideAllowance.MostLeftOutCentimetres)
            throw Error(_constituents[0].Line, $"the box would have to leave out too much of the tide: {leftOut.Words}; write the names as the tidal committee's list does");
        return tide;
    }

    private bool Constituent(SiteConstituents into, (int Line, string Key, string Value) row)
    {
        if (Words(row.Value) is not [var amplitude, "m", var phase, "deg"]) throw Error(row.Line, $"'{row.Value}' is not of the form 1.72 m 133.0 deg");
        string? refused = into.Add(row.Key, Number((row.Line, amplitude), row.Key + " amplitude", "", 0, 10), Number((row.Line, phase), row.Key + " phase", "", -360, 360));
        return refused == null ? true : throw Error(row.Line, refused);
    }

    private NodeSchedule? Nodes()
    {
        if (!_top.TryGetValue("node-factors", out var node)) return null;
        return node.Value switch
        {
            "yearly" => NodeSchedule.Yearly,
            "monthly" => NodeSchedule.Monthly,
            "daily" => NodeSchedule.Daily,
            _ => throw Error(node.Line, $"node-factors is yearly, monthly or daily, not '{node.Value}'"),
        };
    }

    private PrintedTide? Printed(LocalTime offset, TideShape shape)
    {
        var tide = new PrintedTide();
        int before = _mistakes.Count;
        foreach (var row in _turns) Read(() => Turn(tide, row, offset, alone: _mistakes.Count > before), false);
        if (_mistakes.Count > before) return null;
        int doubtful = tide.Doubtful(shape);
        if (doubtful > 0) throw Error(_turns[doubtful].Line, "this turn comes more than 16 h after the one before: a pair of turns is missing; where the tide turns once a day, say tide-shape: daily");
        if (tide.Count < 2) throw Error(_turns[0].Line, "one turn is not enough for a tide: give two or more");
        return tide;
    }

    // A turn that follows a wrong one is judged by its own words alone: how it stands to its neighbour cannot be told.
    private bool Turn(PrintedTide tide, (int Line, string Key, string Value) row, LocalTime offset, bool alone)
    {
        if (row.Key is not ("high" or "low")) throw Error(row.Line, $"a turn starts with high: or low:, not '{row.Key}:'");
        string[] parts = Words(row.Value);
        if (parts.Length != 4 || parts[3] != "m"
            || !DateTime.TryParseExact(parts[0] + " " + parts[1], "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime local)
            || local.Year is < 2000 or > 2099)
            throw Error(row.Line, $"'{row.Value}' is not of the form 2026-03-07 05:12 5.2 m, local time, 2000 to 2099");
        UtcInstant time = offset.ToUtc(new CivilTime(local.Year, local.Month, local.Day, local.Hour, local.Minute, 0));
        double metres = Number((row.Line, parts[2]), row.Key, "", -20, 20);
        string? refused = alone ? null : tide.Add(time, metres, row.Key == "high");
        return refused == null ? true : throw Error(row.Line, refused);
    }

    private PathPoint Point((int Line, string Key, string Value) row)
    {
        string[] words = Words(row.Value.Replace(",", " , "));
        if (words is not ["floods", var floods, "m", ",", "walk", var walk, "min", ",", "margin", var margin, "m"])
            throw Error(row.Line, $"'{row.Value}' is not of the form floods 3.3 m, walk 20 min, margin 0.3 m");
        return new PathPoint(
            Name((row.Line, row.Key), "the name of a point of the path", ShoreSettings.LongestName),
            Number((row.Line, floods), "floods", "", -20, 20),
            Minutes((row.Line, walk + " min"), "walk"),
            Number((row.Line, margin), "margin", "", 0, 10));
    }

    private MorningWish Wish()
    {
        (double high, double low) = Read(Band, (0, 0));
        bool evenings = Read(Evenings, false);
        return new MorningWish(
            Read(() => (int)Number(Needed(_morning, "before"), "before", "min", 0, 180), 0),
            Read(() => (int)Number(Needed(_morning, "after"), "after", "min", 0, 180), 0),
            high,
            low,
            Read(() => (int)Number(Needed(_morning, "work"), "work", "min", 5, 360), 5),
            true,
            evenings);
    }

    private (double High, double Low) Band()
    {
        var band = Needed(_morning, "band");
        if (Words(band.Value) is not [var first, "to", var second, "m"]) throw Error(band.Line, $"'{band.Value}' is not of the form 4.0 to 2.0 m");
        return (Number((band.Line, first), "band", "", -20, 20), Number((band.Line, second), "band", "", -20, 20));
    }

    private bool Evenings()
    {
        if (!_morning.TryGetValue("evenings", out var wanted)) return false;
        return wanted.Value switch { "yes" => true, "no" => false, _ => throw Error(wanted.Line, $"evenings is yes or no, not '{wanted.Value}'") };
    }

    private (int Line, string Value) Needed(Dictionary<string, (int Line, string Value)> from, string key)
    {
        if (from.TryGetValue(key, out var found)) return found;
        if (_withoutValue.TryGetValue(key, out SiteMistake? empty)) throw new SiteFileException([empty]);
        throw Error(_lastLine, $"the file ends without {key}:{(from == _morning ? " in [morning]" : "")}");
    }

    private string Name((int Line, string Value) given, string what, int longest)
    {
        if (given.Value.Length > longest || given.Value.Any(c => c is < ' ' or > '~'))
            throw Error(given.Line, $"{what} is at most {longest} plain letters for the display, not '{given.Value}'");
        return given.Value;
    }

    // A law by its name, or two changes of the clocks, such as 2026-03-29 01:00 UTC +01:00, 2026-10-25 01:00 UTC +00:00.
    private LocalTime Local(LocalOffset before)
    {
        if (!_top.TryGetValue("clock-changes", out var given)) return before;
        var rules = Enum.GetValues<SummerRule>().Where(r => r != SummerRule.None).ToDictionary(SummerTime.Source, StringComparer.OrdinalIgnoreCase);
        if (rules.TryGetValue(given.Value, out SummerRule rule)) return new LocalTime(before, rule);
        string[] changes = given.Value.Split(',', StringSplitOptions.TrimEntries);
        var parts = changes.Select(Words).ToArray();
        var at = new UtcInstant[changes.Length];
        for (int i = 0; i < changes.Length; i++)
        {
            if (changes.Length != 2 || parts[i].Length != 4 || parts[i][2] != "UTC"
                || !DateTime.TryParseExact(parts[i][0] + " " + parts[i][1], "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime utc) || utc.Year is < 2000 or > 2099)
                throw Error(given.Line, $"clock-changes are {string.Join(", ", rules.Keys)} (local-time is then that of winter), or two, like 2026-03-29 01:00 UTC +01:00, 2026-10-25 01:00 UTC +00:00, not '{given.Value}'");
            at[i] = Planner.FromDateTime(utc);
        }
        if (at[1] <= at[0]) throw Error(given.Line, "the second of the clock-changes must come after the first");
        return new LocalTime(before, at[0], Offset((given.Line, parts[0][3])), at[1], Offset((given.Line, parts[1][3])));
    }

    private LocalOffset Offset((int Line, string Value) given)
    {
        string v = given.Value;
        if (v.Length == 6 && v[0] is '+' or '-' && v[3] == ':' && int.TryParse(v[1..3], NumberStyles.None, CultureInfo.InvariantCulture, out int hours)
            && int.TryParse(v[4..], NumberStyles.None, CultureInfo.InvariantCulture, out int minutes) && minutes < 60)
        {
            int all = (hours * 60 + minutes) * (v[0] == '-' ? -1 : 1);
            if (all is >= LocalOffset.LeastMinutes and <= LocalOffset.MostMinutes) return new LocalOffset(all);
        }
        throw Error(given.Line, $"local-time is like +01:00 or -03:30, -12:00 to +14:00, not '{v}'");
    }

    private double Number((int Line, string Value) given, string what, string unit, double least, double most)
    {
        string text = given.Value;
        if (unit.Length > 0)
        {
            string[] parts = Words(text);
            if (parts.Length != 2 || parts[1] != unit) throw Error(given.Line, $"{what} is a number and {unit}, like 20 {unit}, not '{text}'");
            text = parts[0];
        }
        if (!double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value))
            throw Error(given.Line, $"{what}: '{text}' is not a number; write it with a decimal point");
        if (!(value >= least && value <= most)) throw Error(given.Line, $"{what}: {text} is outside {least} to {most}");
        return value;
    }

    // A walk is kept in whole minutes, and never as a shorter one.
    private int Minutes((int Line, string Value) given, string what) => (int)Math.Ceiling(Number(given, what, "min", 0, 600));

    private static string[] Words(string text) => text.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private SiteMistake Mistake(int line, string message) => new(line, OneLine.Of($"{_source}, line {line}: {message}."));

    private SiteFileException Error(int line, string message) => new([Mistake(line, message)]);
}
