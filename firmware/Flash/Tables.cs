using System.Globalization;

namespace Intervalometer.Flash;

/// <summary>How the runtime compares two versions of an assembly: major and minor, nothing else (nf-interpreter, TypeSystem.cpp).</summary>
public static class RuntimeVersion
{
    /// <summary>True when the runtime takes one for the other.</summary>
    public static bool Same(Version a, Version b) => a.Major == b.Major && a.Minor == b.Minor;
}

/// <summary>An assembly of the runtime that goes with the class library this firmware is built for.</summary>
/// <param name="Assembly">Its name.</param>
/// <param name="Version">Its version, or the beginning of it.</param>
/// <param name="Source">Where that stands.</param>
public sealed record Pair(string Assembly, string Version, string Source)
{
    /// <summary>True when a version is this one or begins with it.</summary>
    public bool Is(Version version) => (version + ".").StartsWith(Version + ".", StringComparison.Ordinal);

    /// <summary>True when the runtime takes a version for this one.</summary>
    public bool Fits(Version version) => RuntimeVersion.Same(version, System.Version.Parse(Version));
}

/// <summary>A part of the flash that takes the program.</summary>
/// <param name="Layout">Which layout of the flash.</param>
/// <param name="Offset">Where it begins.</param>
/// <param name="Bytes">How much it takes.</param>
/// <param name="Source">Where that stands.</param>
public sealed record Partition(string Layout, long Offset, long Bytes, string Source);

/// <summary>A kind of board.</summary>
/// <param name="Key">Its name on the command line.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="HeapFrom">The least managed heap that it leaves, bytes.</param>
/// <param name="HeapTo">The most.</param>
/// <param name="Taken">GPIO numbers that its own parts take.</param>
/// <param name="Source">Where that stands.</param>
public sealed record BoardKind(string Key, string Name, long HeapFrom, long HeapTo, IReadOnlyList<int> Taken, string Source);

/// <summary>The committed tables.</summary>
public static class Tables
{
    /// <summary>pairs.csv.</summary>
    public static Pair[] Pairs { get; } = [.. Rows("pairs.csv").Select(r => new Pair(r[0], r[1], r[2]))];

    /// <summary>partitions.csv. Runtimes differ; the flasher asks the board.</summary>
    public static Partition[] Partitions { get; } = [.. Rows("partitions.csv").Select(r => new Partition(r[0], Hex(r[1]), Hex(r[2]), r[3]))];

    /// <summary>boards.csv; the first one is meant when none is named.</summary>
    public static BoardKind[] Boards { get; } =
    [
        .. Rows("boards.csv").Select(r => new BoardKind(r[0], r[1], Whole(r[2]), Whole(r[3]), [.. r[4].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(n => (int)Whole(n))], r[5])),
    ];

    private static long Whole(string text) => long.Parse(text, CultureInfo.InvariantCulture);

    private static long Hex(string text) => long.Parse(text[2..], NumberStyles.HexNumber, CultureInfo.InvariantCulture);

    private static IEnumerable<string[]> Rows(string name)
    {
        using Stream stream = typeof(Tables).Assembly.GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        foreach (string line in reader.ReadToEnd().ReplaceLineEndings("\n").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)) yield return line.Split(',');
    }
}
