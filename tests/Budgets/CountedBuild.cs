using System.Reflection;
using System.Runtime.Loader;

namespace Intervalometer.Tests.Budgets;

/// <summary>The firmware as released, rewritten to count, with the virtual board around it, in a load context of its own.</summary>
public sealed class CountedBuild : AssemblyLoadContext
{
    /// <summary>What is watched.</summary>
    public static readonly string[] Watched =
    [
        "Box.ReleasePass", "Box.PanelPass", "FrontPanel.OnButton", "FrontPanel.Tick", "FrontPanel.Draw", "ShoreDesk.Pass", "OptoLines.Set", "OptoLines.OpenAll", "RunDesk.Mark", "RunLink.Fire",
    ];

    private static readonly string[] Copied = ["Intervalometer.BoardModel", "Intervalometer.VirtualBoard", "Intervalometer.Tests.Budgets"];

    private readonly Dictionary<string, byte[]> _rewritten = [];

    private CountedBuild(bool runsOut) : base("counted")
    {
        var seen = new HashSet<string>();
        // These four are the device's own build, instruction for instruction; Drivers is the PC's, because the pins' classes differ.
        foreach (string name in new[] { "Intervalometer.Core", "Intervalometer.Coast", "Intervalometer.Settings", "Intervalometer.Screens" })
        {
            _rewritten[name] = Rewriter.Rewrite(Released($"device/{name}.dll"), Watched, seen, runsOut);
        }
        _rewritten["Intervalometer.Drivers"] = Rewriter.Rewrite(Released("pc/Intervalometer.Drivers.dll"), Watched, seen, runsOut);
        string[] missing = [.. Watched.Except(seen)];
        if (missing.Length > 0) throw new InvalidOperationException($"not found in the firmware: {string.Join(", ", missing)}; correct their names in CountedBuild");
    }

    /// <summary>A file of the firmware as released.</summary>
    public static string Released(string name) => Path.Combine(AppContext.BaseDirectory, "released", name);

    /// <summary>Counts everything; the result as lines of a table.</summary>
    public static Budget[] Measure()
    {
        string text = Inside(false, typeof(Measurements), nameof(Measurements.Run));
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Budget.Parse), .. ImageSize.Lines()];
    }

    /// <summary>Lets the memory run out at every object in turn (<see cref="ShortHeap"/>); what was wrong, a line each.</summary>
    public static string RunOut() => Inside(true, typeof(ShortHeap), nameof(ShortHeap.Run));

    /// <summary>The same while a held Select puts a field back; see <see cref="ShortHeap.PutBack"/>.</summary>
    public static string RunOutInPutBack() => Inside(true, typeof(ShortHeap), nameof(ShortHeap.PutBack));

    /// <summary>The same from the press of Fire to the end of an exposure; see <see cref="ShortHeap.Exposure"/>.</summary>
    public static string RunOutInExposure() => Inside(true, typeof(ShortHeap), nameof(ShortHeap.Exposure));

    private static string Inside(bool runsOut, Type type, string method)
    {
        var context = new CountedBuild(runsOut);
        Type inside = context.LoadFromAssemblyName(new AssemblyName("Intervalometer.Tests.Budgets")).GetType(type.FullName!)!;
        return (string)inside.GetMethod(method)!.Invoke(null, null)!;
    }

    /// <inheritdoc/>
    protected override Assembly? Load(AssemblyName assemblyName)
    {
        string name = assemblyName.Name!;
        if (_rewritten.TryGetValue(name, out byte[]? image)) return LoadFromStream(new MemoryStream(image));
        return Copied.Contains(name) ? LoadFromAssemblyPath(Path.Combine(AppContext.BaseDirectory, name + ".dll")) : null;
    }
}
