using System.Reflection;
using System.Runtime.Loader;

namespace Intervalometer.Tests.Budgets;

/// <summary>The firmware as released, rewritten to count, with the virtual board around it, in a load context of its own.</summary>
public sealed class CountedBuild : AssemblyLoadContext
{
    /// <summary>What is watched.</summary>
    public static readonly string[] Watched =
    [
        "Box.ReleaseTurn", "Box.PanelTurn", "FrontPanel.OnButton", "FrontPanel.Tick", "FrontPanel.Draw", "ShoreDesk.Turn", "OptoLines.Set", "OptoLines.OpenAll", "RunDesk.Mark", "RunLink.Fire",
    ];

    private static readonly string[] Copied = ["Intervalometer.BoardModel", "Intervalometer.VirtualBoard", "Intervalometer.Tests.Budgets"];

    private readonly Dictionary<string, byte[]> _rewritten = [];

    private CountedBuild() : base("counted")
    {
        var seen = new HashSet<string>();
        // These four are the device's own build, instruction for instruction; Drivers is the PC's, because the pins' classes differ.
        foreach (string name in new[] { "Intervalometer.Core", "Intervalometer.Coast", "Intervalometer.Settings", "Intervalometer.Screens" })
        {
            _rewritten[name] = Rewriter.Rewrite(Released($"device/{name}.dll"), Watched, seen);
        }
        _rewritten["Intervalometer.Drivers"] = Rewriter.Rewrite(Released("pc/Intervalometer.Drivers.dll"), Watched, seen);
        string[] missing = [.. Watched.Except(seen)];
        if (missing.Length > 0) throw new InvalidOperationException($"not found in the firmware: {string.Join(", ", missing)}; correct their names in CountedBuild");
    }

    /// <summary>A file of the firmware as released.</summary>
    public static string Released(string name) => Path.Combine(AppContext.BaseDirectory, "released", name);

    /// <summary>Counts everything; the result as lines of a table.</summary>
    public static Budget[] Measure()
    {
        var context = new CountedBuild();
        Type inside = context.LoadFromAssemblyName(new AssemblyName("Intervalometer.Tests.Budgets")).GetType(typeof(Measurements).FullName!)!;
        string text = (string)inside.GetMethod(nameof(Measurements.Run))!.Invoke(null, null)!;
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Budget.Parse), .. ImageSize.Lines()];
    }

    /// <inheritdoc/>
    protected override Assembly? Load(AssemblyName assemblyName)
    {
        string name = assemblyName.Name!;
        if (_rewritten.TryGetValue(name, out byte[]? image)) return LoadFromStream(new MemoryStream(image));
        return Copied.Contains(name) ? LoadFromAssemblyPath(Path.Combine(AppContext.BaseDirectory, name + ".dll")) : null;
    }
}
