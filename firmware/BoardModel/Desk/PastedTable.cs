using System.Globalization;
using System.Text.RegularExpressions;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>
/// Reads the tide from a pasted table and writes it into a site file, in place of the tide that is there. A row is a high or
/// low water (a date, a time, a height in metres, and high or low when the table says it), or a constituent (a name, an amplitude in
/// metres, a Greenwich phase lag in degrees; Z0 is the mean level). Commas, semicolons and tabs part cells as spaces do.
/// </summary>
public static partial class PastedTable
{
    /// <summary>The site file with the table's tide.</summary>
    /// <exception cref="FormatException">No tide can be read; the message says which row and what is wanted.</exception>
    public static string Into(string site, string table)
    {
        var turns = new List<(string At, double Metres, bool? High)>();
        var constituents = new List<string>();
        string meanLevel = "";
        int number = 0;
        foreach (string raw in table.ReplaceLineEndings("\n").Split('\n'))
        {
            number++;
            string row = Gaps().Replace(raw, " ").Trim();
            if (row.Length == 0) continue;
            if (TurnRow().Match(row) is { Success: true } turn) turns.Add(Turn(turn, number, row));
            else if (ConstituentRow().Match(row) is { Success: true } part)
            {
                if (part.Groups[1].Value.Equals("Z0", StringComparison.OrdinalIgnoreCase)) meanLevel = part.Groups[2].Value;
                else if (part.Groups[3].Success) constituents.Add($"{part.Groups[1].Value}: {part.Groups[2].Value} m {part.Groups[3].Value} deg");
                else throw Wrong(number, row);
            }
            else if (row.Any(char.IsAsciiDigit) && (turns.Count > 0 || constituents.Count > 0)) throw Wrong(number, row);
        }
        if (turns.Count > 0 && constituents.Count > 0) throw new FormatException("The table holds high and low waters and constituents; paste one of the two.");
        if (turns.Count == 0 && constituents.Count == 0) throw new FormatException("No row of the table is a high or low water, such as 2031-03-14 05:12 high 5.2, nor a constituent, such as M2 1.70 131.0.");
        return turns.Count > 0 ? With(site, "turns", Named(turns), "") : With(site, "constituents", constituents, meanLevel);
    }

    private static FormatException Wrong(int number, string row) =>
        new($"Row {number} of the table, '{row}', is neither a high or low water, such as 2031-03-14 05:12 high 5.2, nor a constituent, such as M2 1.70 131.0.");

    private static (string, double, bool?) Turn(Match row, int number, string words)
    {
        string at = $"{row.Groups[1].Value} {row.Groups[2].Value.PadLeft(5, '0')}";
        if (!DateTime.TryParseExact(at, "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out _)) throw Wrong(number, words);
        string kind = row.Groups["kind"].Value.ToUpperInvariant();
        return (at, double.Parse(row.Groups["metres"].Value, CultureInfo.InvariantCulture), kind.Length == 0 ? null : kind[0] == 'H');
    }

    // Where the table does not say which waters are high, their heights tell it.
    private static IEnumerable<string> Named(List<(string At, double Metres, bool? High)> turns)
    {
        for (int i = 0; i < turns.Count; i++)
        {
            double beside = turns.Count == 1 ? 0 : turns[i == 0 ? 1 : i - 1].Metres;
            bool high = turns[i].High ?? turns[i].Metres > beside;
            yield return FormattableString.Invariant($"{(high ? "high" : "low")}: {turns[i].At} {turns[i].Metres} m");
        }
    }

    // The old sections of the tide are removed, and with them the lines that belong to constituents only.
    private static string With(string site, string section, IEnumerable<string> rows, string meanLevel)
    {
        var top = new List<string>();
        var rest = new List<string>();
        List<string> into = top;
        foreach (string line in site.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n'))
        {
            string bare = line.Split('#')[0].Trim();
            if (bare.StartsWith('[')) into = bare is "[constituents]" or "[turns]" ? [] : rest;
            bool constantsOnly = into == top && (bare.StartsWith("mean-level:", StringComparison.Ordinal) || bare.StartsWith("node-factors:", StringComparison.Ordinal) || bare.StartsWith("tide-shape:", StringComparison.Ordinal));
            bool goes = constantsOnly && (section == "turns" || bare.StartsWith("tide-shape:", StringComparison.Ordinal) || (meanLevel.Length > 0 && bare.StartsWith("mean-level:", StringComparison.Ordinal)));
            if (!goes) into.Add(line);
        }
        while (top.Count > 0 && top[^1].Trim().Length == 0) top.RemoveAt(top.Count - 1);
        if (meanLevel.Length > 0) top.Add($"mean-level: {meanLevel} m");
        return string.Join('\n', [.. top, "", $"[{section}]", .. rows, "", .. rest, ""]);
    }

    [GeneratedRegex(@"[\s,;|]+")]
    private static partial Regex Gaps();

    [GeneratedRegex(@"^(\d{4}-\d{2}-\d{2})[ T](\d{1,2}:\d{2})(?::\d{2})?(?: (?<kind>H|L|HW|LW|high|low)(?: water)?)? (?<metres>-?\d+(?:\.\d+)?)(?: ?m)?(?: (?<kind>H|L|HW|LW|high|low)(?: water)?)?$", RegexOptions.IgnoreCase)]
    private static partial Regex TurnRow();

    [GeneratedRegex(@"^([A-Za-z0-9()*]*[A-Za-z][A-Za-z0-9()*]*):? (\d+(?:\.\d+)?)(?: ?m)?(?: (-?\d+(?:\.\d+)?)(?: ?(?:deg|°))?)?$")]
    private static partial Regex ConstituentRow();
}
