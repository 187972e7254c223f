using System.Globalization;

namespace Intervalometer.Flash;

/// <summary>How the runtime compares two versions of an assembly: by major and minor, and by nothing else (nf-interpreter, TypeSystem.cpp).</summary>
public static class RuntimeVersion
{
    /// <summary>True when the runtime accepts the one for the other.</summary>
    public static bool Same(Version a, Version b) => a.Major == b.Major && a.Minor == b.Minor;
}

/// <summary>An assembly of the runtime that goes with the class library for which this firmware is built.</summary>
/// <param name="Assembly">Its name.</param>
/// <param name="Version">Its version, or the beginning of it.</param>
/// <param name="Source">Where that is stated.</param>
public sealed record Pair(string Assembly, string Version, string Source)
{
    /// <summary>True when a version is this one or begins with it.</summary>
    public bool Is(Version version) => (version + ".").StartsWith(Version + ".", StringComparison.Ordinal);

    /// <summary>True when the runtime accepts a version for this one.</summary>
    public bool Fits(Version version) => RuntimeVersion.Same(version, System.Version.Parse(Version));
}

/// <summary>A part of the flash that holds the program.</summary>
/// <param name="Layout">The layout of the flash.</param>
/// <param name="Offset">Where the part begins.</param>
/// <param name="Bytes">How much it holds.</param>
/// <param name="Source">Where that is stated.</param>
public sealed record Partition(string Layout, long Offset, long Bytes, string Source);

/// <summary>A kind of board.</summary>
/// <param name="Key">Its name on the command line.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="HeapFrom">The least managed heap that it leaves, bytes.</param>
/// <param name="HeapTo">The most managed heap that it leaves, bytes.</param>
/// <param name="Taken">The GPIO numbers that its own parts use.</param>
/// <param name="Source">Where that is stated.</param>
public sealed record BoardKind(string Key, string Name, long HeapFrom, long HeapTo, IReadOnlyList<int> Taken, string Source);

/// <summary>The tables that are part of this project.</summary>
public static class Tables
{
    /// <summary>The rows of pairs.csv.</summary>
    public static Pair[] Pairs { get; } = [.. Rows("pairs.csv").Select(r => new Pair(r[0], r[1], r[2]))];

    /// <summary>The rows of partitions.csv. Runtimes differ, so the flasher asks the board.</summary>
    public static Partition[] Partitions { get; } = [.. Rows("partitions.csv").Select(r => new Partition(r[0], Hex(r[1]), Hex(r[2]), r[3]))];

    /// <summary>The rows of boards.csv. The first one is used when none is named.</summary>
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
