using System.Diagnostics;

namespace Intervalometer.Benchmarks;

/// <summary>
/// Times a piece of work: a warm-up, then short batches, and of those the median. The same method, with the same lengths,
/// stands in Npm/time.mjs, so that both runtimes are read the same way; a benchmark library serves only one of them.
/// </summary>
internal static class Stopwatching
{
    /// <summary>Warm-up, milliseconds: long enough for both runtimes to compile what is hot.</summary>
    public const int WarmMs = 1000;

    /// <summary>A batch, milliseconds: short, so that most batches are not interrupted on a busy machine.</summary>
    public const int BatchMs = 3;

    /// <summary>All batches together, milliseconds.</summary>
    public const int MeasureMs = 1000;

    private const int FewestBatches = 9;

    /// <summary>What the work returns is kept here, so that no compiler drops it.</summary>
    public static double Sink { get; private set; }

    /// <summary>Nanoseconds for one call: the median of the batches.</summary>
    public static double Nanoseconds(Func<double> work)
    {
        var clock = Stopwatch.StartNew();
        long calls = 0;
        while (clock.ElapsedMilliseconds < WarmMs || calls < 3)
        {
            Sink += work();
            calls++;
        }
        int perBatch = (int)Math.Clamp(BatchMs * (double)calls / clock.Elapsed.TotalMilliseconds, 1, 10_000_000);
        List<double> found = [];
        clock.Restart();
        while (clock.ElapsedMilliseconds < MeasureMs || found.Count < FewestBatches)
        {
            long from = Stopwatch.GetTimestamp();
            for (int n = 0; n < perBatch; n++) Sink += work();
            found.Add(Stopwatch.GetElapsedTime(from).TotalNanoseconds / perBatch);
        }
        found.Sort();
        return found[found.Count / 2];
    }
}
