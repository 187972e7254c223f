using System.Globalization;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Compares what the stand-in board printed with what the virtual board did.</summary>
public sealed class Judge(TextWriter output)
{
    /// <summary>
    /// How far an edge may be from that of the virtual board, ms. A press may be made one pass of the player late and be seen one tick
    /// later; a busy PC delays it more.
    /// </summary>
    public const double EdgeMs = 120;

    /// <summary>How far the time between two planned edges of one line may be from the virtual board's, ms: a PC is no real-time system.</summary>
    public const double BetweenMs = 15;

    /// <summary>Checks that passed.</summary>
    public int Passed { get; private set; }

    /// <summary>Checks that failed.</summary>
    public int Failed { get; private set; }

    /// <summary>Pictures that were the same, bit for bit.</summary>
    public int SamePictures { get; private set; }

    /// <summary>Moving pictures of which one was the same, bit for bit, that the virtual board showed about that moment.</summary>
    public int MovingPictures { get; private set; }

    /// <summary>The longest time after its moment until a picture was the same, ms.</summary>
    public int WorstPictureMs { get; private set; }

    /// <summary>The largest distance of an edge so far, ms.</summary>
    public double WorstEdgeMs { get; private set; }

    /// <summary>The largest difference between two planned edges so far, ms.</summary>
    public double WorstBetweenMs { get; private set; }

    /// <summary>Counts a check.</summary>
    public void Check(bool held, string what)
    {
        if (held) Passed++;
        else
        {
            Failed++;
            output.WriteLine($"  FAILED {what}");
        }
    }

    /// <summary>Adds the counts of another judge.</summary>
    public void Add(Judge other)
    {
        Passed += other.Passed;
        Failed += other.Failed;
        SamePictures += other.SamePictures;
        MovingPictures += other.MovingPictures;
        WorstPictureMs = Math.Max(WorstPictureMs, other.WorstPictureMs);
        WorstEdgeMs = Math.Max(WorstEdgeMs, other.WorstEdgeMs);
        WorstBetweenMs = Math.Max(WorstBetweenMs, other.WorstBetweenMs);
    }

    /// <summary>Compares one start.</summary>
    /// <param name="name">Of the case and the start, for people.</param>
    /// <param name="start">What had to happen.</param>
    /// <param name="run">What happened.</param>
    public void Compare(string name, Start start, Run run)
    {
        string end = start.Sleeps ? "asleep" : "ended";
        bool ended = run.Told(end).Any();
        Check(ended, $"{name}: it {(run.TimedOut ? "had to be stopped" : run.Told("restarted").Any() ? "restarted" : "stopped by itself")} and should have {(start.Sleeps ? "gone to sleep" : "played to the end")}");
        if (!ended) foreach (string line in run.Lines.TakeLast(12)) output.WriteLine("    | " + line);
        foreach (string[] fault in run.Told("fault")) Check(false, $"{name}: {string.Join(' ', fault)}");
        string[] exceptions = [.. run.Exceptions];
        Check(exceptions.Length == 0, $"{name}: {string.Join("; ", exceptions)}");
        Pictures(name, start, run);
        Edges(name, start, run);
    }

    private void Pictures(string name, Start start, Run run)
    {
        IReadOnlyDictionary<int, (int LateMs, int[] Sums)> told = run.Pictures;
        foreach (var (step, picture) in start.Pictures)
        {
            bool taken = told.TryGetValue(step, out (int LateMs, int[] Sums) seen);
            bool same = taken && seen.Sums[0] == picture.Sum;
            // A picture that moves: one of those that the virtual board shows about then was shown, bit for bit.
            bool moved = taken && !same && seen.Sums.Any(picture.Around.Contains);
            if (same) WorstPictureMs = Math.Max(WorstPictureMs, seen.LateMs);
            if (moved) MovingPictures++;
            else if (same) SamePictures++;
            same |= moved;
            Check(same, $"{name}: picture \"{start.Steps[step].Name}\" at {start.Steps[step].AtMs / 1000.0} s {(taken ? "differs" : "was not taken")}");
            string bits = same ? "" : Shown(run, step);
            if (bits.Length > 0) output.Write($"    the virtual board showed:\n{Indented(picture.Text)}    the device showed:\n{Indented(bits)}");
        }
    }

    /// <summary>A picture that the device printed, two rows a line; empty when it printed none.</summary>
    public static string Shown(Run run, int step)
    {
        var pages = new byte[8][];
        foreach (string[] words in run.Told("bits").Where(w => w[0] == step.ToString(CultureInfo.InvariantCulture) && w.Length == 3)) pages[int.Parse(words[1], CultureInfo.InvariantCulture)] = Convert.FromHexString(words[2]);
        return Array.Exists(pages, page => page is null) ? "" : VirtualBoard.Display.AsciiPicture.HalfBlocks((x, y) => (pages[y / 8][x] >> (y % 8) & 1) != 0, 128, 64);
    }

    private static string Indented(string picture) => string.Concat(picture.TrimEnd('\n').Split('\n').Select(line => "    | " + line + "\n"));

    private void Edges(string name, Start start, Run run)
    {
        Edge[] seen = [.. run.Told("edge").Select(w => new Edge(long.Parse(w[0], CultureInfo.InvariantCulture), int.Parse(w[1], CultureInfo.InvariantCulture), w[2] == "1", false))];
        string Order(IEnumerable<Edge> edges) => string.Join(' ', edges.Select(e => (e.High ? "+" : "-") + e.Pin.ToString(CultureInfo.InvariantCulture)));
        bool order = Order(seen) == Order(start.Edges);
        Check(order, $"{name}: the lines changed as {Order(seen)} and should have as {Order(start.Edges)}");
        if (!order || start.Edges.Count == 0) return;
        double worst = 0, between = 0;
        for (int i = 0; i < seen.Length; i++)
        {
            Edge expected = start.Edges[i];
            int before = i - 1;
            while (before >= 0 && seen[before].Pin != seen[i].Pin) before--;
            double more = before < 0 || expected.High ? 0 : start.ClosingPart * (expected.AtUs - start.Edges[before].AtUs) / 1000.0;
            worst = Math.Max(worst, Math.Abs(seen[i].AtUs - expected.AtUs) / 1000.0 - more);
            if (before < 0 || !expected.Planned || !start.Edges[before].Planned || expected.High) continue;
            long device = seen[i].AtUs - seen[before].AtUs, pc = expected.AtUs - start.Edges[before].AtUs;
            between = Math.Max(between, Math.Abs(device - pc) / 1000.0 - more);
        }
        Check(worst <= EdgeMs, FormattableString.Invariant($"{name}: an edge is {worst:F1} ms from the virtual board's; {EdgeMs} are allowed"));
        Check(between <= BetweenMs, FormattableString.Invariant($"{name}: a planned closing lasted {between:F1} ms longer or shorter than on the virtual board; {BetweenMs} are allowed"));
        WorstEdgeMs = Math.Max(WorstEdgeMs, worst);
        WorstBetweenMs = Math.Max(WorstBetweenMs, between);
        output.WriteLine(FormattableString.Invariant($"  {name}: {seen.Length} edges in the right order; at most {worst:F1} ms from the virtual board's, a planned closing at most {between:F1} ms longer or shorter"));
    }
}
