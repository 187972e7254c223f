using Intervalometer.Coast.Tide;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>The invented demo site with as many constituents as a place can have, each with a little energy: the place that costs most, and the times of the demo site.</summary>
public static class LargestPlace
{
    private static readonly string[] Others =
    [
        "2MS6", "2MN6", "MK4", "2SM6", "MSN2", "EPS2", "MKS2", "SK4", "SN4", "N4", "2MK6", "MSK6", "3MS8", "2MSN8", "MSN6", "SO1", "PSI1", "PHI1", "PI1", "CHI1", "SIGMA1", "3MK7", "S3",
    ];

    /// <summary>Names of 60 constituents: those of the NOAA set and others.</summary>
    public static IEnumerable<string> Names => Enumerable.Range(0, Constituents.Count).Select(Constituents.Name).Concat(Others);

    /// <summary>The place.</summary>
    public static Site Site()
    {
        string demo = DemoSite.Text;
        int from = demo.IndexOf("[constituents]", StringComparison.Ordinal), to = demo.IndexOf("[path]", StringComparison.Ordinal);
        string given = demo[from..to];
        var more = Names.Where(n => !given.Contains("\n" + n + ":", StringComparison.Ordinal)).Select((n, i) => $"{n}: 0.001 m {i * 53 % 360}.0 deg");
        return SiteFile.Parse("node-factors: yearly\n" + demo[..to] + string.Join("\n", more) + "\n\n" + demo[to..], "largest site");
    }
}
