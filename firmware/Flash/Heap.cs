using System.Globalization;

namespace Intervalometer.Flash;

/// <summary>Compares how much of the managed heap the firmware needs, as tests/Budgets has counted it, with how much a kind of board leaves (estimates in firmware/Flash/boards.csv).</summary>
public static class Heap
{
    private const string Line = "heap: the most at once;";

    /// <summary>One line about the heap, and whether it is a reason not to flash.</summary>
    /// <param name="budgets">The table of counted costs.</param>
    /// <param name="board">The kind of board.</param>
    public static (string Text, bool Refused) Of(string budgets, BoardKind board)
    {
        string? line = File.Exists(budgets) ? File.ReadLines(budgets).FirstOrDefault(l => l.StartsWith(Line, StringComparison.Ordinal)) : null;
        if (line == null) return ($"heap: not known, no such line in {budgets}", false);
        long bytes = long.Parse(line.Split(',')[2], CultureInfo.InvariantCulture);
        string says = $"heap: {bytes} bytes at once (counted; the packages' own tables and pins come on top), of {board.HeapFrom} to {board.HeapTo} on an {board.Name} (estimate)";
        if (bytes > board.HeapTo) return (says + ": does not fit", true);
        return (bytes > board.HeapFrom ? says + ": may not fit every runtime" : says, false);
    }
}
