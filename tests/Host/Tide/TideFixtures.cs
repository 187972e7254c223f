using System.Globalization;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;

namespace Intervalometer.Tests.Host.Tide;

/// <summary>The stations, heights and turns in Fixtures; their sources are named in the script beside them.</summary>
internal sealed record Station(string Id, string Name, double Latitude, double Longitude, double MslAboveMllw, string Constants)
{
    /// <summary>Constants about a level, some constituents left out.</summary>
    public HarmonicConstants About(double levelMetres, params string[] without)
    {
        var constants = new HarmonicConstants(levelMetres);
        foreach (string part in Constants.Split(' '))
        {
            string[] f = part.Split(':');
            if (without.Contains(f[0])) continue;
            Assert.IsTrue(constants.TrySet(f[0], TideFixtures.Number(f[1]), TideFixtures.Number(f[2])), f[0]);
        }
        return constants;
    }
}

internal static class TideFixtures
{
    public static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    public static UtcInstant Instant(string text) => new(long.Parse(text, CultureInfo.InvariantCulture));

    public static IEnumerable<string[]> Rows(string folder, string file) =>
        File.ReadLines(Architecture.Repository.At($"tests/Host/{folder}/Fixtures/{file}")).Skip(1).Select(line => line.Split(','));

    public static Dictionary<string, Station> Stations() =>
        Rows("Tide", "stations.csv").Select(f => new Station(f[0], f[1], Number(f[2]), Number(f[3]), Number(f[4]), f[5])).ToDictionary(s => s.Id);
}
