namespace Intervalometer.Hardware;

/// <summary>Writes every generated file of the hardware folder: <c>dotnet run --project hardware/Generator</c>; with <c>--route</c> it lays the tracks again first, with <c>--faults</c> it simulates every fault anew.</summary>
public static class Program
{
    /// <summary>Writes all files, or with --check only compares; 0 when all is well.</summary>
    public static int Main(string[] args)
    {
        var root = FindRoot(AppContext.BaseDirectory);
        if (args.Contains("--route"))
        {
            var folder = Path.Combine(root, "hardware");
            File.WriteAllText(Path.Combine(folder, "tracks.csv"), new Router(new Layout(Circuit.Load(folder), folder)).Route());
        }

        if (args.Contains("--faults"))
        {
            var folder = Path.Combine(root, "hardware");
            File.WriteAllText(Path.Combine(folder, "faults.csv"), FaultPage.Table(new FaultJudge(new Layout(Circuit.Load(folder), folder), folder).All()));
        }

        var outputs = Outputs.All(root);
        var stale = 0;
        foreach (var (file, text) in outputs)
        {
            var path = Path.Combine(root, file);
            if (File.Exists(path) && File.ReadAllText(path) == text)
            {
                continue;
            }

            stale++;
            Console.WriteLine(args.Contains("--check") ? $"stale: {file}" : $"wrote {file}");
            if (!args.Contains("--check"))
            {
                Directory.CreateDirectory(Path.GetDirectoryName(path)!);
                File.WriteAllText(path, text);
            }
        }

        Console.WriteLine($"{outputs.Count} files, {stale} changed");
        return args.Contains("--check") && stale > 0 ? 1 : 0;
    }

    /// <summary>The folder above that holds Intervalometer.sln.</summary>
    public static string FindRoot(string from)
    {
        for (var folder = new DirectoryInfo(from); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Intervalometer.sln")))
            {
                return folder.FullName;
            }
        }

        throw new DirectoryNotFoundException($"no Intervalometer.sln above {from}; run this inside the repository");
    }
}
