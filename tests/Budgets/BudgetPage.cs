using System.Globalization;

namespace Intervalometer.Tests.Budgets;

/// <summary>The most important lines of the table, in the page beside it. They are written from the table and never by hand.</summary>
public static class BudgetPage
{
    /// <summary>Where the page lies, from the root.</summary>
    public const string RelativePath = "tests/Budgets/README.md";

    private const string Head = "| | counted | the design allows |";
    private const string Weighted = "weighted IL", Bytes = "bytes";

    private static readonly (string Words, string Unit, string Name)[] Rows =
    [
        ("the latest that a planned edge can be, without the write of the pin (0.29 ms, measured by others)", Weighted, "release: latest that a planned edge can be"),
        ("one pass of the release thread while an edge is near; it makes no object", Weighted, "release: full pass while an edge is near"),
        ("from the press of Fire until the run is planned", Weighted, "fire: from the press to a run that is planned"),
        ("from the press of Fire until both lines open", Weighted, "fire: from the press to both lines opening"),
        ("the most costly press", Weighted, "press: the most costly"),
        ("the most costly picture", Weighted, "draw: the most costly"),
        ("the most costly step of tide, sun, path or mornings", Weighted, "shore: most costly pass in the box"),
        ("a mark during a run", Weighted, "run: a mark"),
        ("what the rhythm does with a later mark", Weighted, "waves: one mark"),
        ("the whole heap between two passes, with the place that needs most", Bytes, "heap: all of it; stopped"),
        ("the same at its largest: with the deepest calls of both threads and everything that a press and a picture create", Bytes, "heap: the most at once; with the deepest calls of both threads and what a press and a picture make"),
        ("the byte code of the largest assembly, Screens", Bytes, "image: byte code of Intervalometer.Screens"),
        ("the project's own assemblies in the image", Bytes, "image: own files as .pe"),
        ("the class library in the image", Bytes, "image: mscorlib.pe"),
    ];

    /// <summary>The lines of the page's table, as the counts have them.</summary>
    public static string Table(IReadOnlyCollection<Budget> budgets)
    {
        string Row((string Words, string Unit, string Name) row)
        {
            Budget line = budgets.Single(b => b.Name == row.Name && b.Unit == row.Unit);
            string count = line.Unit == Bytes ? Kilobytes(line.Value) : Instructions(line.Value) + ", " + Time(line.Value);
            string limit = line.Limit == 0 ? "" : line.Unit == Bytes ? Kilobytes(line.Limit) : Time(line.Limit);
            return $"| {row.Words} | {count} | {limit} |";
        }
        return string.Join("\n", [Head, "| --- | ---: | ---: |", .. Rows.Select(Row)]);
    }

    /// <summary>The table as the page has it.</summary>
    public static string Read()
    {
        string page = File.ReadAllText(FilePath);
        var (from, to) = Place(page);
        return page[from..to];
    }

    /// <summary>Writes the table into the page.</summary>
    public static void Write(IReadOnlyCollection<Budget> budgets)
    {
        string page = File.ReadAllText(FilePath);
        var (from, to) = Place(page);
        File.WriteAllText(FilePath, page[..from] + Table(budgets) + page[to..]);
    }

    private static string FilePath => Path.Combine(BudgetTable.Root(), RelativePath);

    private static (int From, int To) Place(string page)
    {
        int from = page.IndexOf(Head, StringComparison.Ordinal);
        int to = from < 0 ? -1 : page.IndexOf("\n\n", from, StringComparison.Ordinal);
        return to < 0 ? throw new FormatException($"{RelativePath} has no table that begins with '{Head}' and ends with an empty line") : (from, to);
    }

    private static string Instructions(long value) => value < 1000 ? Number(value, "0") + " IL" : Number(value / 1000.0, "0.0") + " k IL";

    private static string Time(long instructions)
    {
        double ms = instructions * Budget.MicrosecondsEach / 1000;
        return ms < 1 ? Number(ms, "0.00") + " ms" : ms < 10 ? Number(ms, "0.0") + " ms" : Number(ms, "0") + " ms";
    }

    private static string Kilobytes(long bytes) => Number(bytes / 1000.0, "0.0") + " kB";

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
