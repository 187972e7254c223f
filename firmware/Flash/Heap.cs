using System.Globalization;

namespace Intervalometer.Flash;

/// <summary>What the firmware needs of the managed heap, as tests/Budgets has counted it, against what an ESP32 without PSRAM leaves (platform's estimate).</summary>
public static class Heap
{
    /// <summary>The least that is left, bytes.</summary>
    public const long LeastBytes = 60 * 1024;

    /// <summary>The most that is left, bytes.</summary>
    public const long MostBytes = 90 * 1024;

    private const string Line = "heap: the most that a screen needs at once (estimate),bytes,";

    /// <summary>One line, and whether it is a reason not to flash.</summary>
    public static (string Text, bool Refused) Of(string budgets)
    {
        string? line = File.Exists(budgets) ? File.ReadLines(budgets).FirstOrDefault(l => l.StartsWith(Line, StringComparison.Ordinal)) : null;
        if (line == null) return ($"heap: not known, no such line in {budgets}", false);
        long bytes = long.Parse(line[Line.Length..].Split(',')[0], CultureInfo.InvariantCulture);
        string says = $"heap: {bytes} bytes at once (estimate), of {LeastBytes} to {MostBytes} (estimate)";
        if (bytes > MostBytes) return (says + ": does not fit", true);
        return (bytes > LeastBytes ? says + ": may not fit every runtime" : says, false);
    }
}
