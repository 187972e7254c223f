using System.Globalization;

namespace Intervalometer.Tests.Budgets;

/// <summary>One line of the table.</summary>
/// <param name="Name">What was counted.</param>
/// <param name="Unit">"IL", "weighted IL", "bytes", "allocations".</param>
/// <param name="Value">The count.</param>
/// <param name="Limit">What the design allows; 0 when only the table limits it.</param>
public sealed record Budget(string Name, string Unit, long Value, long Limit)
{
    /// <summary>The interpreter's estimated speed: 500 thousand instructions a second.</summary>
    public const double MicrosecondsEach = 2;

    /// <summary>True when the design's limit is broken.</summary>
    public bool Broken => Limit > 0 && Value > Limit;

    /// <summary>The line as "name,unit,value,limit,standing"; standing is "over" when the limit is broken.</summary>
    public override string ToString() => $"{Name},{Unit},{Value},{(Limit == 0 ? "" : Limit)},{(Broken ? "over" : "")}";

    /// <summary>The value for people: instructions also as a time.</summary>
    public string Shown => Unit == "weighted IL"
        ? string.Create(CultureInfo.InvariantCulture, $"{Value:N0} ({Value * MicrosecondsEach / 1000:0.##} ms)")
        : Value.ToString("N0", CultureInfo.InvariantCulture);

    /// <summary>Reads a line as <see cref="ToString"/> writes it, and works the standing out again.</summary>
    public static Budget Parse(string line)
    {
        string[] parts = line.Split(',');
        return parts.Length == 5 && long.TryParse(parts[2], CultureInfo.InvariantCulture, out long value) && long.TryParse(parts[3].Length > 0 ? parts[3] : "0", CultureInfo.InvariantCulture, out long limit)
            ? new Budget(parts[0], parts[1], value, limit)
            : throw new FormatException($"budgets: '{line}' is not 'name,unit,value,limit,standing'; run this program with --accept");
    }
}
