using System.Globalization;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>
/// Compares a place's tide with high and low waters of an official table, and names what is wrong when they do not agree: the sign of
/// the phase lags, the unit, the datum, the offset of local time, the day.
/// </summary>
/// <remarks>
/// Rows are such as 2026-03-07 05:12,high,5.2: local time of the place, high or low (H or L), metres above the place's datum; a row that
/// does not begin with a date is a heading. To find out what is wrong, the table's times are shifted or the signs of the phase lags are changed. Each such trial is judged by the mean
/// distance of times and of heights, without their mean difference; ten centimetres count as ten minutes.
/// </remarks>
public sealed class OfficialWeek
{
    private const long LongestBytes = 100_000;
    private const double MostMinutes = 30;
    private const double MostMetres = 0.3;
    private const double Foot = 0.3048;
    private const int AwayMinutes = 180;

    private readonly List<(UtcInstant Time, double Metres, bool High)> _rows = [];
    private readonly Site _site;

    private OfficialWeek(Site site) => _site = site;

    /// <summary>What was found, in lines.</summary>
    public IReadOnlyList<string> Lines { get; private set; } = [];

    /// <summary>True when the table agrees.</summary>
    public bool Agrees { get; private set; }

    /// <summary>Reads a table and compares it.</summary>
    public static OfficialWeek Load(Site site, string path)
    {
        try
        {
            using var reader = new StreamReader(new MemoryStream(InputFile.Read(path, LongestBytes)));
            return Compare(site, reader.ReadToEnd(), path);
        }
        catch (IOException e)
        {
            throw new SiteFileException(OneLine.CannotRead(path, e));
        }
    }

    /// <summary>Compares the text of a table; the source is named in errors.</summary>
    public static OfficialWeek Compare(Site site, string text, string source)
    {
        var week = new OfficialWeek(site);
        int line = 0;
        foreach (string raw in text.Split('\n'))
        {
            line++;
            string row = raw.Trim();
            if (row.Length == 0 || !char.IsAsciiDigit(row[0])) continue;
            string[] f = row.Split(',', StringSplitOptions.TrimEntries);
            bool? high = f.Length < 2 ? null : f[1].ToUpperInvariant() switch { "HIGH" or "H" => true, "LOW" or "L" => false, _ => null };
            if (f.Length != 3 || high is null || !double.TryParse(f[2], NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double metres) || !(Math.Abs(metres) < 100)
                || !DateTime.TryParseExact(f[0], "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime local) || local.Year is < 2000 or > 2098)
                throw new SiteFileException($"{source}, line {line}: '{row}' is not of the form 2026-03-07 05:12,high,5.2 (local time, high or low, metres).");
            week._rows.Add((site.Place.Offset.ToUtc(new CivilTime(local.Year, local.Month, local.Day, local.Hour, local.Minute, 0)), metres, high.Value));
        }
        if (week._rows.Count < 4) throw new SiteFileException($"{source}: give four turns or more, best a week of them.");
        week.Judge(source);
        return week;
    }

    private sealed record Fit(int ShiftMinutes, double Score, double WorstMinutes, double WorstMetres, double MeanMetres, double Scale, int Matched);

    private void Judge(string source)
    {
        Fit asGiven = Try(_site.Place.Tide, 0);
        var lines = new List<string> { $"Against     {asGiven.Matched} of {_rows.Count} turns of {source} found; worst {asGiven.WorstMinutes:F0} min and {asGiven.WorstMetres * 100:F0} cm off" };
        Agrees = asGiven.Matched == _rows.Count && asGiven.WorstMinutes <= MostMinutes && asGiven.WorstMetres <= MostMetres;
        if (!Agrees)
        {
            var offsets = Enumerable.Range(-28, 57).Select(n => n * 30);
            var days = new[] { -7, -2, -1, 1, 2, 7 }.Select(d => d * 1440);
            Fit moved = offsets.Concat(days).Select(shift => Try(_site.Place.Tide, shift)).OrderBy(f => f.Score).ThenBy(f => Math.Abs(f.ShiftMinutes)).First();
            Fit? turned = Turned() is TideSource other ? Try(other, 0) : null;
            Fit best = asGiven;
            if (turned is not null && turned.Score < 0.5 * Math.Min(moved.Score, asGiven.Score))
            {
                best = turned;
                lines.Add("Wrong sign  the table fits when the sign of every phase lag is changed: the constants are not phase lags on Greenwich");
            }
            else if (moved.ShiftMinutes != 0 && moved.Score < 0.5 * asGiven.Score)
            {
                best = moved;
                lines.Add(moved.ShiftMinutes % 1440 == 0
                    ? $"Wrong day   the table fits when it is moved by {moved.ShiftMinutes / 1440:+0;-0} day{(Math.Abs(moved.ShiftMinutes) == 1440 ? "" : "s")}: its dates are wrong"
                    : $"Wrong offset  the table fits when its times are moved by {moved.ShiftMinutes / 60.0:+0.0;-0.0} h: local-time is {Planner.OffsetWords(_site.Place.Offset)}, and the table's another");
            }
            if (best.WorstMinutes > MostMinutes)
            {
                lines.RemoveRange(1, lines.Count - 1);
                lines.Add("Not the same tide  no sign, unit, datum, offset or day explains it: another port, or constants of another place");
                Lines = lines;
                return;
            }
            bool unit = Math.Abs(best.Scale / Foot - 1) < 0.08 || Math.Abs(best.Scale * Foot - 1) < 0.08;
            if (unit) lines.Add($"Wrong unit  the place's tide is {best.Scale:F2} times the table's: feet on one side and metres on the other");
            else if (Math.Abs(best.MeanMetres) > 0.1) lines.Add($"Wrong datum  the place's heights stand {Math.Abs(best.MeanMetres):F2} m {(best.MeanMetres > 0 ? "above" : "below")} the table's: mean-level or the datum is wrong");
            lines.Add($"With that   worst {best.WorstMinutes:F0} min off");
        }
        Lines = lines;
    }

    private Fit Try(TideSource tide, int shiftMinutes)
    {
        List<TideTurn> turns = Turns(tide, shiftMinutes);
        double minutes = 0, worst = 0;
        var pairs = new List<(double Table, double Place)>();
        foreach (var row in _rows)
        {
            UtcInstant at = row.Time.PlusMinutes(shiftMinutes);
            double apart = AwayMinutes, metres = 0;
            foreach (TideTurn turn in turns)
            {
                double gap = Math.Abs(turn.Time.SecondsSince(at) / 60.0);
                if (turn.IsHigh == row.High && gap < apart) (apart, metres) = (gap, turn.HeightMetres);
            }
            minutes += apart;
            worst = Math.Max(worst, apart);
            if (apart < AwayMinutes) pairs.Add((row.Metres, metres));
        }
        if (pairs.Count < 3) return new Fit(shiftMinutes, 1000, worst, 100, 0, 1, pairs.Count);
        double mean = pairs.Average(p => p.Place - p.Table), middle = pairs.Average(p => p.Table), place = pairs.Average(p => p.Place);
        double spread = pairs.Sum(p => (p.Table - middle) * (p.Table - middle));
        double scale = spread < 1e-9 ? 1 : pairs.Sum(p => (p.Table - middle) * (p.Place - place)) / spread;
        double rest = pairs.Average(p => Math.Abs(p.Place - place - scale * (p.Table - middle)));
        return new Fit(shiftMinutes, minutes / _rows.Count + 100 * rest, worst, pairs.Max(p => Math.Abs(p.Place - p.Table)), mean, scale, pairs.Count);
    }

    private List<TideTurn> Turns(TideSource tide, int shiftMinutes)
    {
        var turns = new List<TideTurn>();
        UtcInstant from = new UtcInstant(_rows.Min(r => r.Time.Seconds)).PlusMinutes(shiftMinutes - AwayMinutes);
        UtcInstant until = new UtcInstant(_rows.Max(r => r.Time.Seconds)).PlusMinutes(shiftMinutes + AwayMinutes);
        while (tide.TryNextTurn(from, out TideTurn turn) && turn.Time < until)
        {
            turns.Add(turn);
            from = turn.Time;
        }
        return turns;
    }

    private HarmonicTide? Turned()
    {
        if (_site.Place.Tide is not HarmonicTide harmonic) return null;
        HarmonicConstants ours = harmonic.Constants;
        var constants = new HarmonicConstants(ours.MeanLevelMetres, Math.Max(ours.Count, 1));
        for (int i = 0; i < ours.Count; i++) constants.TrySet(ours.RecipeAt(i), ours.AmplitudeMetresAt(i), -ours.PhaseLagDegreesAt(i));
        return new HarmonicTide(constants, harmonic.Schedule);
    }
}
