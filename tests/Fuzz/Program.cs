using System.Diagnostics;
using System.Globalization;
using Intervalometer.Tests.Fuzz;

// dotnet run --project tests/Fuzz -- --target site --seconds 60 [--seed 1] [--write FOLDER]
string? target = null, folder = null;
int seconds = 60, written = 0;
ulong seed = 1;
for (int i = 0; i < args.Length; i++)
{
    string value = i + 1 < args.Length ? args[i + 1] : "";
    bool good = args[i] switch
    {
        "--target" => (target = value).Length > 0,
        "--write" => (folder = value).Length > 0,
        "--seconds" => int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out seconds) && seconds > 0,
        "--seed" => ulong.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out seed),
        _ => false,
    };
    if (!good)
    {
        Console.Error.WriteLine($"cannot take {args[i]} {value}; use --target {string.Join("|", InstrumentedWorld.Names)}|all, --seconds N, --seed N, --write FOLDER");
        return 2;
    }
    i++;
}

string[] names = target is null or "all" ? [.. InstrumentedWorld.Names] : [target];
if (target is not null and not "all" && !InstrumentedWorld.Names.Contains(target))
{
    Console.Error.WriteLine($"there is no target {target}; use {string.Join(", ", InstrumentedWorld.Names)} or all");
    return 2;
}
using var world = new InstrumentedWorld();
bool found = false;
foreach (string name in names)
{
    var run = new FuzzRun(world.Target(name), seed);
    long began = Stopwatch.GetTimestamp();
    long told = 0;
    while (Stopwatch.GetElapsedTime(began).TotalSeconds < seconds && run.Findings.Count == 0)
    {
        run.Try(200);
        if ((long)Stopwatch.GetElapsedTime(began).TotalSeconds / 10 == told) continue;
        told++;
        Console.WriteLine(run.Summary);
    }
    Console.WriteLine(run.Summary);
    foreach (Finding finding in run.Findings)
    {
        found = true;
        Console.WriteLine("  " + finding);
        if (folder is null) continue;
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, $"{name}-{++written}.bin"), finding.Input);
    }
}
return found ? 1 : 0;
