using Intervalometer.Core.Tide;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>The invented demo site with all constituents that the firmware knows, each with a little energy: the place that costs most, and the times of the demo site.</summary>
public static class DearestPlace
{
    /// <summary>The place.</summary>
    public static Site Site()
    {
        string demo = DemoSite.Text;
        int from = demo.IndexOf("[constituents]", StringComparison.Ordinal), to = demo.IndexOf("[path]", StringComparison.Ordinal);
        string given = demo[from..to];
        var more = new List<string>();
        for (int i = 0; i < Constituents.Count; i++)
        {
            string name = Constituents.Name(i);
            if (!given.Contains("\n" + name + ":", StringComparison.Ordinal)) more.Add($"{name}: 0.001 m {i * 53 % 360}.0 deg");
        }
        return SiteFile.Parse(demo[..to] + string.Join("\n", more) + "\n\n" + demo[to..], "dearest site");
    }
}
