using System.CommandLine;
using System.Diagnostics;
using Intervalometer.Tests.Fuzz;

Option<string> target = new("--target") { Description = "Which parser or store to search.", DefaultValueFactory = _ => "all" };
target.AcceptOnlyFromAmong([.. InstrumentedWorld.Names, "all"]);
Option<int> seconds = new("--seconds") { Description = "How long to search each, seconds.", DefaultValueFactory = _ => 60 };
Option<ulong> seed = new("--seed") { Description = "The same number gives the same inputs.", DefaultValueFactory = _ => 1 };
Option<string?> write = new("--write") { Description = "Folder for the inputs that broke something." };
var root = new RootCommand("Searches inputs that break a parser or the store, led by the branches they reach. Ends with 1 when it found one.") { target, seconds, seed, write };
root.SetAction(parsed => Search(parsed.GetValue(target)!, parsed.GetValue(seconds), parsed.GetValue(seed), parsed.GetValue(write)));
return root.Parse(args).Invoke();

static int Search(string target, int seconds, ulong seed, string? folder)
{
    string[] names = target == "all" ? [.. InstrumentedWorld.Names] : [target];
    int written = 0;
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
}
