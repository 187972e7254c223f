using System.Reflection;
using System.Runtime.Loader;
using Intervalometer.Tests.Fuzz.Targets;
using SharpFuzz;

namespace Intervalometer.Tests.Fuzz;

/// <summary>A target as the search sees it: only types of the runtime cross between the two worlds.</summary>
internal sealed record FuzzTarget(string Name, Func<byte[], string?> Take, byte[][] Seeds, byte[][] Words, int Longest);

/// <summary>
/// Copies of the firmware's assemblies in which every branch is counted, loaded beside the plain ones, with the targets bound to
/// them. The plain assemblies stay as they are. A world begins with empty static fields, so that a search in a world of its own does
/// not depend on the searches before it.
/// </summary>
internal sealed class InstrumentedWorld : AssemblyLoadContext, IDisposable
{
    /// <summary>The assemblies, and what of each is counted.</summary>
    private static readonly (string Assembly, string Prefix)[] Counted =
    [
        ("Intervalometer.Core", "Intervalometer.Core."),
        ("Intervalometer.Coast", "Intervalometer.Coast."),
        ("Intervalometer.Settings", "Intervalometer.Settings."),
        ("Intervalometer.Screens", "Intervalometer.Screens."),
        ("Intervalometer.Drivers", "Intervalometer.Drivers."),
        ("Intervalometer.BoardModel", "Intervalometer.VirtualBoard."),
        ("Intervalometer.Tests.FuzzTargets", typeof(Planted).FullName!),
    ];

    private readonly string _folder;
    private readonly bool _owns;
    private readonly Assembly _targets;

    public InstrumentedWorld()
    {
        _folder = Directory.CreateTempSubdirectory("fuzz-").FullName;
        _owns = true;
        CoverageMap.Attach();
        foreach ((string name, string prefix) in Counted)
        {
            string copy = Path.Combine(_folder, name + ".dll");
            File.Copy(Path.Combine(AppContext.BaseDirectory, name + ".dll"), copy);
            int types = Fuzzer.Instrument(copy, type => type.StartsWith(prefix, StringComparison.Ordinal), Options.Value).Count();
            if (types == 0) throw new InvalidOperationException($"nothing of {name} is counted");
        }
        _targets = LoadTargets();
    }

    // The numbers of the branches are drawn when a copy is made; another world with the same numbers reads the same copies.
    private InstrumentedWorld(string folder)
    {
        _folder = folder;
        _targets = LoadTargets();
    }

    /// <summary>The names that <see cref="Target"/> takes.</summary>
    public static IReadOnlyList<string> Names => TargetList.Names;

    /// <summary>A target bound to the counted assemblies.</summary>
    public FuzzTarget Target(string name)
    {
        Type list = _targets.GetType(typeof(TargetList).FullName!, throwOnError: true)!;
        T Make<T>(string method) where T : Delegate => list.GetMethod(method, BindingFlags.Public | BindingFlags.Static)!.CreateDelegate<T>();
        return new FuzzTarget(
            name,
            Make<Func<string, Func<byte[], string?>>>(nameof(TargetList.Take))(name),
            Make<Func<string, byte[][]>>(nameof(TargetList.Seeds))(name),
            Make<Func<string, byte[][]>>(nameof(TargetList.Words))(name),
            Make<Func<string, int>>(nameof(TargetList.Longest))(name));
    }

    /// <summary>Another world that reads the same copies, with static fields of its own. It must not be used after this one is disposed of.</summary>
    public InstrumentedWorld AsNew() => new(_folder);

    public void Dispose()
    {
        if (_owns) Directory.Delete(_folder, recursive: true);
    }

    private Assembly LoadTargets() => LoadFromAssemblyPath(Path.Combine(_folder, "Intervalometer.Tests.FuzzTargets.dll"));

    protected override Assembly? Load(AssemblyName name)
    {
        bool counted = Array.Exists(Counted, c => c.Assembly == name.Name);
        return counted ? LoadFromAssemblyPath(Path.Combine(_folder, name.Name + ".dll")) : null;
    }
}
