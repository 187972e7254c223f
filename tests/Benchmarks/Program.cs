using System.Globalization;
using System.Runtime.InteropServices;

namespace Intervalometer.Benchmarks;

/// <summary>
/// How fast the firmware's maths is on this machine, timed by BenchmarkDotNet, beside reference libraries timed in the same
/// run; with --page, how fast the page is. Asserts nothing.
/// </summary>
internal static class Program
{
    private sealed record Row(string What, string Piece, string DeviceLine, int Times = 1, string Other = "", Func<ReferenceTimes, double>? Theirs = null, string Plain = "");

    private static readonly Row[] Rows =
    [
        new("A day of tide, 145 heights and its high and low waters, 37 constituents", nameof(Pieces.TideDay), "tide: a day's curve and its high and low waters", 1, References.Predictor, t => t.TideDayNs),
        new("the same", nameof(Pieces.TideDay), "tide: a day's curve and its high and low waters", 1, "a cosine each step, heights alone", Plain: nameof(Pieces.CosineDay)),
        new("60 days searched for mornings on a falling tide", nameof(Pieces.Search), "mornings: one day searched", Work.SearchDays, "both libraries: 60 sunrises, 60 days of high and low waters", t => t.SearchNs),
        new("365 days of sunrise and sunset", nameof(Pieces.SunYear), "sun: a day's rise and set and dawn", Work.SunDays, References.Astronomy, t => t.SunYearNs),
        new("An exposure through two filters", nameof(Pieces.Solve), ""),
        new("A mark in the rhythm of the waves", nameof(Pieces.Mark), "waves: one mark"),
        new("The forecast of the next wave", nameof(Pieces.Forecast), ""),
        new("The best moment of the next wave", nameof(Pieces.Release), "waves: best moment of the next wave"),
        // The device's figure is for the most costly picture of the card, and the time for an ordinary one.
        new("Drawing LIGHT", nameof(Pieces.DrawLight), "draw: LIGHT"),
        new("Drawing TIDE", nameof(Pieces.DrawTide), "draw: TIDE"),
    ];

    private static async Task<int> Main(string[] arguments)
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        try
        {
            switch (arguments)
            {
                case []: Maths(); return 0;
                case ["--page"]: await PageSpeed.Measure(); return 0;
                case ["--page", string folder]: await PageSpeed.MeasureFolder(folder); return 0;
                default: Console.Error.WriteLine($"'{string.Join(' ', arguments)}' is not known; give nothing for the maths, --page for the page, or --page FOLDER for its static folder"); return 2;
            }
        }
        catch (MissingException e)
        {
            Console.Error.WriteLine(e.Message);
            return 2;
        }
    }

    private static void Maths()
    {
        var references = new References();
        var device = new DeviceColumn();
        string[] deviceCells = [.. Rows.Select(row => device.Cell(row.DeviceLine, row.Times))];
        // The libraries are timed before and after, so that a busy minute of the PC shows as a wide range of the ratio.
        Console.Error.WriteLine("node: before");
        ReferenceTimes before = references.Time();
        Dictionary<string, Found> ours = Measured.Run();
        Console.Error.WriteLine("node: after");
        ReferenceTimes after = references.Time();

        Console.WriteLine($"{Environment.ProcessorCount} x {Processor()}, {RuntimeInformation.OSDescription.Trim()}; {RuntimeInformation.FrameworkDescription}, node {references.NodeVersion}.");
        Console.WriteLine($"Here: BenchmarkDotNet, {Measured.JobWords}; its own tables are in {Measured.Folder}.");
        Console.WriteLine("Libraries: median of short batches after a warm-up inside node, before and after ours, the mean of both.");
        Console.WriteLine(new Work().Agreement(after));
        Console.WriteLine(char.ToUpperInvariant(DeviceColumn.Words[0]) + DeviceColumn.Words[1..] + ".");
        Console.WriteLine();
        Console.WriteLine("| work | here | allocated | against | it takes | ratio | device (estimate) |");
        Console.WriteLine("| --- | ---: | ---: | --- | ---: | ---: | ---: |");
        for (int i = 0; i < Rows.Length; i++)
        {
            Row row = Rows[i];
            Found found = ours[row.Piece];
            string against = "| | |";
            if (row.Theirs is { } theirs)
            {
                double a = theirs(before), b = theirs(after), mean = (a + b) / 2;
                against = $"{row.Other} | {Time(mean)} | {mean / found.MedianNs:F1} ({Math.Min(a, b) / found.MedianNs:F1} to {Math.Max(a, b) / found.MedianNs:F1}) |";
            }
            else if (row.Plain != "")
            {
                double plain = ours[row.Plain].MedianNs;
                against = $"{row.Other} | {Time(plain)} | {plain / found.MedianNs:F1} |";
            }
            Console.WriteLine($"| {row.What} | {Time(found.MedianNs)} | {found.AllocatedBytes:N0} B | {against} {deviceCells[i]} |");
        }
    }

    private static string Time(double ns) =>
        ns >= 1e6 ? $"{ns / 1e6:F2} ms" : ns >= 1e4 ? $"{ns / 1e3:F1} µs" : $"{ns:F0} ns";

    private static string Processor()
    {
        const string list = "/proc/cpuinfo";
        string? line = File.Exists(list) ? File.ReadLines(list).FirstOrDefault(text => text.StartsWith("model name", StringComparison.Ordinal)) : null;
        return line?[(line.IndexOf(':') + 1)..].Trim() ?? RuntimeInformation.ProcessArchitecture.ToString();
    }
}
