using System.Globalization;
using System.Runtime.InteropServices;

namespace Intervalometer.Benchmarks;

/// <summary>How fast the firmware's maths is on this machine, beside reference libraries timed in the same run.</summary>
/// <remarks>
/// The device column is an estimate: IL instructions by counting, as written beside the code named in each row, at 500
/// thousand instructions a second. Nothing was measured on a device.
/// </remarks>
internal static class Program
{
    private const int Rounds = 3;
    private const double InstructionsPerSecond = 500_000;

    private sealed record Row(string What, Func<double> Work, string Device, string Other = "", Func<ReferenceTimes, double>? Theirs = null, Func<double>? Plain = null);

    private static int Main()
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        References references;
        try
        {
            references = new References();
        }
        catch (MissingException e)
        {
            Console.Error.WriteLine(e.Message);
            return 2;
        }
        var work = new Work();
        Row[] rows =
        [
            // TideCurve: 0.44 million for a day at 10-minute steps.
            new("A day of tide, 145 heights and its high and low waters, 37 constituents", work.TideDay, Estimate(440_000), References.Predictor, t => t.TideDayNs),
            // HarmonicSum: a height with its rate 14 thousand, of which the cosines are half: 145 heights 1.0 million.
            new("the same", work.TideDay, Estimate(440_000), $"a cosine each step, heights alone (device {Estimate(145 * 7_000)})", null, work.CosineDay),
            // Mornings: 0.36 million a morning.
            new("60 days searched for mornings on a falling tide", work.Search, Estimate(60 * 360_000), "both libraries: 60 sunrises, 60 days of high and low waters", t => t.SearchNs),
            // SunDay: 40 thousand to place a day and about 40 thousand an event.
            new("365 days of sunrise and sunset", work.SunYear, Estimate(365 * 120_000), References.Astronomy, t => t.SunYearNs),
            new("An exposure through two filters", work.Solve, "not counted"),
            // WaveRhythm: about 1,500 a mark, about 20,000 a release.
            new("A mark in the rhythm of the waves", work.Mark, Estimate(1_500)),
            new("The best moment of the next wave", work.Release, Estimate(20_000)),
            // Box.QuietDrawUs: a full drawing under 100 ms.
            new("Drawing LIGHT", new Screen("LIGHT").Draw, "under 50 k IL, 0.1 s"),
            new("Drawing TIDE", new Screen("TIDE", Core.Panel.Button.Back).Draw, "under 50 k IL, 0.1 s"),
        ];

        // Rounds alternate between the runtimes, so that a busy minute of the machine falls on both.
        var ours = new double[Rounds, rows.Length];
        var theirs = new double[Rounds, rows.Length];
        string agreement = "";
        try
        {
            for (int round = 0; round < Rounds; round++)
            {
                ReferenceTimes reference = references.Time();
                agreement = work.Agreement(reference);
                for (int i = 0; i < rows.Length; i++)
                {
                    ours[round, i] = i > 0 && rows[i].Work == rows[i - 1].Work ? ours[round, i - 1] : Stopwatching.Nanoseconds(rows[i].Work);
                    theirs[round, i] = rows[i].Theirs?.Invoke(reference) ?? (rows[i].Plain is { } plain ? Stopwatching.Nanoseconds(plain) : 0);
                }
            }
        }
        catch (MissingException e)
        {
            Console.Error.WriteLine(e.Message);
            return 2;
        }

        Console.WriteLine($"{Environment.ProcessorCount} x {Processor()}, {RuntimeInformation.OSDescription.Trim()}; {RuntimeInformation.FrameworkDescription}, node {references.NodeVersion}.");
        Console.WriteLine($"Stopwatch in both runtimes: warm-up {Stopwatching.WarmMs} ms, median of {Stopwatching.BatchMs} ms batches, median of {Rounds} alternating rounds.");
        Console.WriteLine(agreement);
        Console.WriteLine();
        Console.WriteLine("| work | here | against | it takes | ratio (rounds) | device (estimate) |");
        Console.WriteLine("| --- | ---: | --- | ---: | ---: | ---: |");
        for (int i = 0; i < rows.Length; i++)
        {
            double[] mine = Column(ours, i), other = Column(theirs, i);
            double[] ratio = [.. Enumerable.Range(0, Rounds).Select(r => theirs[r, i] / ours[r, i]).Order()];
            string against = rows[i].Other == "" ? "| | |" : $"{rows[i].Other} | {Time(other[Rounds / 2])} | {ratio[Rounds / 2]:F1} ({ratio[0]:F1} to {ratio[^1]:F1}) |";
            Console.WriteLine($"| {rows[i].What} | {Time(mine[Rounds / 2])} | {against} {rows[i].Device} |");
        }
        return 0;
    }

    private static double[] Column(double[,] times, int column) => [.. Enumerable.Range(0, Rounds).Select(round => times[round, column]).Order()];

    private static string Estimate(double instructions)
    {
        double seconds = instructions / InstructionsPerSecond;
        string count = instructions >= 1e6 ? $"{instructions / 1e6:F1} M IL" : $"{instructions / 1e3:0.#} k IL";
        return seconds >= 10 ? $"{count}, {seconds:F0} s" : seconds >= 0.1 ? $"{count}, {seconds:F1} s" : $"{count}, {seconds * 1000:F0} ms";
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
