using System.Globalization;
using CsvHelper;

namespace Intervalometer.Hardware;

/// <summary>One row of wiring.csv: a pin of a part and the net it is on.</summary>
public sealed record Pin(string Reference, string Part, int Number, string Name, string Net)
{
    /// <summary>The net name of a pin that is left open on purpose.</summary>
    public const string Open = "-";

    /// <summary>True when the pin is marked as left open.</summary>
    public bool IsOpen => Net == Open;

    /// <summary>"U1.5".</summary>
    public string Key => $"{Reference}.{Number}";
}

/// <summary>One row of parts.csv: what to buy, and what the drawing and the rules need to know about it.</summary>
public sealed record Part(
    string Name, string Kind, string Value, string Title, string Order, string Package, string Mount, int Pins,
    string PinTypes, bool Optional, string Addresses, string Substitute, string Footprint, double Price)
{
    /// <summary>The electrical type that KiCad's rule check uses for a pin of this part; passive unless the table says otherwise.</summary>
    public string TypeOf(string pinName)
    {
        foreach (var entry in PinTypes.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var (pattern, type) = (entry.Split('=')[0], entry.Split('=')[1]);
            if (pattern == pinName || (pattern.EndsWith('*') && pinName.StartsWith(pattern[..^1], StringComparison.Ordinal)))
            {
                return type;
            }
        }

        return "passive";
    }

    /// <summary>Ohms or farads out of a value such as 4k7, 1M, 220, 100n or 3u3.</summary>
    public double Number => Units.Parse(Value);
}

/// <summary>Component values as printed on parts.</summary>
public static class Units
{
    /// <summary>Reads 4k7 as 4700, 3u3 as 3.3e-6, 100n as 1e-7, 220 as 220.</summary>
    public static double Parse(string value)
    {
        const string prefixes = "pnumkM";
        double[] scales = [1e-12, 1e-9, 1e-6, 1e-3, 1e3, 1e6];
        for (var i = 0; i < value.Length; i++)
        {
            var scale = prefixes.IndexOf(value[i], StringComparison.Ordinal);
            if (scale >= 0)
            {
                var digits = value[..i] + "." + (i + 1 < value.Length ? value[(i + 1)..] : "0");
                return double.Parse(digits, CultureInfo.InvariantCulture) * scales[scale];
            }
        }

        return double.Parse(value, CultureInfo.InvariantCulture);
    }
}

/// <summary>The whole wiring table with its parts.</summary>
public sealed class Circuit
{
    /// <summary>Takes the rows as they are; nothing is checked here, that is the business of <see cref="ElectricalRules"/>.</summary>
    public Circuit(IReadOnlyList<Pin> pins, IReadOnlyDictionary<string, Part> parts)
    {
        Pins = pins;
        Parts = parts;
    }

    /// <summary>All pins in the order of the table.</summary>
    public IReadOnlyList<Pin> Pins { get; }

    /// <summary>Parts by name.</summary>
    public IReadOnlyDictionary<string, Part> Parts { get; }

    /// <summary>References in the order in which they first appear.</summary>
    public IEnumerable<string> References => Pins.Select(p => p.Reference).Distinct();

    /// <summary>The connected pins of each net, by net name.</summary>
    public IEnumerable<IGrouping<string, Pin>> Nets => Pins.Where(p => !p.IsOpen).GroupBy(p => p.Net).OrderBy(g => g.Key, StringComparer.Ordinal);

    /// <summary>The pins of one reference.</summary>
    public IReadOnlyList<Pin> PinsOf(string reference) => Pins.Where(p => p.Reference == reference).ToList();

    /// <summary>The part of one reference.</summary>
    public Part PartOf(string reference) => Pins.FirstOrDefault(p => p.Reference == reference) is { } pin
        ? Parts[pin.Part]
        : throw new InvalidDataException($"{reference} is not in wiring.csv, but a drawing or a calculation needs it; put it back, or take it out of placement.csv, steps.csv and sheet.csv too");

    /// <summary>Reads wiring.csv and parts.csv from the hardware folder.</summary>
    public static Circuit Load(string folder)
    {
        var parts = Table.Read(folder, "parts.csv").Select(r => new Part(
            r["part"], r["kind"], r["value"], r["title"], r["order"], r["package"], r["mount"],
            int.Parse(r["pins"], CultureInfo.InvariantCulture), r["pin_types"], r["optional"] == "yes", r["i2c"], r["substitute"], r["footprint"], double.Parse(r["price"], CultureInfo.InvariantCulture)));
        var pins = Table.Read(folder, "wiring.csv").Select(r => new Pin(
            r["reference"], r["part"], int.Parse(r["pin"], CultureInfo.InvariantCulture), r["name"], r["net"]));
        return new Circuit(pins.ToList(), parts.ToDictionary(p => p.Name));
    }
}

/// <summary>Comma-separated tables of the hardware folder.</summary>
public static class Table
{
    /// <summary>Every row as column name to text.</summary>
    public static IReadOnlyList<IReadOnlyDictionary<string, string>> Read(string folder, string file)
    {
        var options = new CsvReaderOptions { Separator = ',', FieldCountMismatch = CsvFieldCountHandling.Throw };
        using var csv = CsvReader.FromText(File.ReadAllText(Path.Combine(folder, file)), options);
        var rows = new List<IReadOnlyDictionary<string, string>>();
        while (csv.Read())
        {
            var row = new Dictionary<string, string>();
            foreach (var name in csv.Headers)
            {
                row[name] = csv.GetString(name);
            }

            rows.Add(row);
        }

        return rows;
    }
}

/// <summary>Cited numbers: facts.csv, each with its unit and source.</summary>
public sealed class Facts
{
    private readonly Dictionary<string, IReadOnlyDictionary<string, string>> _rows;

    private Facts(IEnumerable<IReadOnlyDictionary<string, string>> rows) => _rows = rows.ToDictionary(r => r["fact"]);

    /// <summary>The number of a fact in the unit that the table names.</summary>
    public double this[string fact] => double.Parse(_rows[fact]["value"], CultureInfo.InvariantCulture);

    /// <summary>Where the number was read.</summary>
    public string Source(string fact) => _rows[fact]["source"];

    /// <summary>Every fact name.</summary>
    public IEnumerable<string> Names => _rows.Keys;

    /// <summary>Reads facts.csv.</summary>
    public static Facts Load(string folder) => new(Table.Read(folder, "facts.csv"));
}
