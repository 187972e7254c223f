using System.Globalization;
using System.Reflection;

namespace Intervalometer.VirtualBoard.Sea;

/// <summary>Shorelines of a real beach, traced by hand and published; each record names its source in its first lines.</summary>
public static class BeachRecord
{
    /// <summary>Time between samples, seconds.</summary>
    public const double StepSeconds = 0.50024;

    /// <summary>
    /// Water that runs back is not faster than this, m/s: two seconds of sliding down the traced beach give 1.6
    /// (Shen and Meyer 1963). A trace that falls faster has jumped to the next bore.
    /// </summary>
    public const double FastestFall = 1.6;

    /// <summary>The records, each under its hour of the day.</summary>
    public static IReadOnlyList<string> Names { get; } = ["shoreline-17", "shoreline-19"];

    /// <summary>Reads a record as a sea.</summary>
    /// <param name="name">One of <see cref="Names"/>.</param>
    /// <param name="seed">Seeds the presses of the photographer who watches it; the waves are always the same.</param>
    /// <param name="begin">Where in the record to begin, as a share of it, 0 to 1; the part before it follows after the end.</param>
    public static TracedSea Read(string name, int seed, double begin = 0)
    {
        double[] edge = Edge(name);
        int first = (int)(begin * edge.Length);
        return new("traced beach", seed, [.. edge[first..], .. edge[..first]], StepSeconds, FastestFall);
    }

    /// <summary>Place of the edge, metres up the beach, every <see cref="StepSeconds"/>.</summary>
    public static double[] Edge(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"record/{name}.txt")
            ?? throw new ArgumentException($"There is no record {name}: give one of {string.Join(", ", Names)}.");
        var lines = new StreamReader(stream).ReadToEnd().Split('\n').Where(l => !l.StartsWith('#'));
        return [.. string.Join(' ', lines).Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(n => int.Parse(n, CultureInfo.InvariantCulture) / 100.0)];
    }
}
