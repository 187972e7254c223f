using System.Globalization;
using System.Reflection;
using Intervalometer.Coast.Sky;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>A measured dawn, from a text file in this program that names its source in its first lines.</summary>
/// <param name="Place">Where it was measured.</param>
/// <param name="First">The end of its first minute, UTC.</param>
/// <param name="Minutes">One by one: the light of the sky on level ground, and of the sun on a surface that faces it, W/m².</param>
public sealed record SkyRecord(GeoPosition Place, DateTime First, IReadOnlyList<(double Sky, double Beam)> Minutes)
{
    /// <summary>The records.</summary>
    public static IReadOnlyList<string> Names { get; } = ["measured dawn"];

    /// <summary>Reads a record.</summary>
    /// <param name="name">One of <see cref="Names"/>.</param>
    public static SkyRecord Read(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"sky/{name.Replace(' ', '-')}.txt")
            ?? throw new ArgumentException($"There is no record {name}: give one of {string.Join(", ", Names)}.");
        string[][] lines = [.. new StreamReader(stream).ReadToEnd().Split('\n').Where(l => l.Length > 0 && !l.StartsWith('#')).Select(l => l.Split(' '))];
        static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
        return new SkyRecord(
            new GeoPosition(Number(lines[0][1]), Number(lines[0][2])),
            DateTime.Parse(lines[0][0], CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal),
            [.. lines.Skip(1).Select(l => (Number(l[1]), Number(l[2])))]);
    }
}
