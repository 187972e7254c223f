using System.Diagnostics;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>A copy of what git keeps, as it stands in the working tree and as fresh as a clone, in a folder that goes with it.</summary>
internal sealed class SourceCopy : IDisposable
{
    /// <summary>Copies the sources into a new folder whose name begins so.</summary>
    public SourceCopy(string name)
    {
        Folder = Directory.CreateTempSubdirectory(name).FullName;
        foreach (string path in new[] { "firmware", "tests", "hardware" }.SelectMany(folder => Repository.Files(folder, "*")).Concat(Directory.EnumerateFiles(Repository.Root)))
        {
            string to = Path.Combine(Folder, Repository.Relative(path));
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            File.Copy(path, to);
        }
    }

    /// <summary>Where it lies.</summary>
    public string Folder { get; }

    /// <summary>Runs dotnet in the copy to its end, which must be a good one, and returns what it wrote.</summary>
    public string Run(params string[] arguments)
    {
        using Process process = Start(arguments);
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.AreEqual(0, process.ExitCode, $"dotnet {string.Join(' ', arguments)}\n{output}\n{errors.Result}");
        return output;
    }

    /// <summary>Starts dotnet in the copy.</summary>
    public Process Start(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", arguments) { WorkingDirectory = Folder, RedirectStandardOutput = true, RedirectStandardError = true };
        // The outer test run passes its own settings on, which are not meant for the copy.
        foreach (string name in start.Environment.Keys.Where(k => k.StartsWith("MSBUILD", StringComparison.OrdinalIgnoreCase) || k.StartsWith("VSTEST", StringComparison.OrdinalIgnoreCase)).ToArray()) start.Environment.Remove(name);
        start.Environment["MSBUILDDISABLENODEREUSE"] = "1";
        // A build is too short to win back what the runtime spends on watching which code is hot.
        start.Environment["DOTNET_TieredPGO"] = "0";
        // The analyzers take half of the time of a build, and the build of the sources themselves runs them.
        start.Environment["RunAnalyzers"] = "false";
        return Process.Start(start)!;
    }

    /// <inheritdoc />
    public void Dispose() => Directory.Delete(Folder, true);
}
