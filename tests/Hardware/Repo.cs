using System.Diagnostics;

namespace Intervalometer.Tests.Hardware;

/// <summary>The repository's folders and the tools that a test runs.</summary>
internal static class Repo
{
    private static readonly Lock Installing = new();
    public static readonly string Root = Program.FindRoot(AppContext.BaseDirectory);
    public static readonly string Folder = Path.Combine(Root, "hardware");
    public static readonly Circuit Circuit = LoadCircuit();
    public static readonly Facts Facts = Facts.Load(Folder);
    public static readonly IReadOnlyList<Role> Roles = Role.Load(Folder);

    /// <summary>Installs a Debian package when its command is missing; a test never skips.</summary>
    public static void Need(string command, params string[] packages)
    {
        lock (Installing)
        {
            if (command.StartsWith('/') ? Path.Exists(command) : Run("which", command).Code == 0)
            {
                return;
            }

            Run("apt-get", "update");
            var (code, output) = Run("apt-get", ["install", "-y", "--no-install-recommends", .. packages]);
            Assert.AreEqual(0, code, $"{command} is missing and could not be installed with apt-get install {string.Join(" ", packages)}:\n{output}");
        }
    }

    /// <summary>Reads the tables; the board is drawn from the footprints of Debian's library, so that is installed first.</summary>
    private static Circuit LoadCircuit()
    {
        Need(Footprint.Library, "kicad-footprints");
        return Circuit.Load(Folder);
    }

    /// <summary>Runs a program to its end, at most four minutes; gives its exit code and all it printed.</summary>
    public static (int Code, string Output) Run(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true };
        start.Environment["DEBIAN_FRONTEND"] = "noninteractive";
        using var process = Process.Start(start)!;
        process.StandardInput.Close();
        var error = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(TimeSpan.FromMinutes(4)))
        {
            process.Kill(entireProcessTree: true);
            return (-1, $"{program} did not end within four minutes");
        }

        return (process.ExitCode, output.Result + error.Result);
    }
}
