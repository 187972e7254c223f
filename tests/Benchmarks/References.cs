using System.ComponentModel;
using System.Diagnostics;
using System.Text.Json;

namespace Intervalometer.Benchmarks;

/// <summary>What stops a run, in one line for people.</summary>
internal sealed class MissingException(string message) : Exception(message);

/// <summary>What the reference libraries took and found.</summary>
internal sealed record ReferenceTimes(double TideDayNs, double SearchNs, double SunYearNs, double[] Heights, double[] TurnsMs, double[] RisesMs);

/// <summary>The reference libraries from npm, installed into a folder of their own and timed inside node.</summary>
internal sealed class References
{
    /// <summary>Tide predictions (MIT licence).</summary>
    public const string Predictor = "@neaps/tide-predictor@0.11.0";

    /// <summary>Sun (MIT licence).</summary>
    public const string Astronomy = "astronomy-engine@2.1.19";

    private static readonly JsonSerializerOptions Camel = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };
    private readonly string _folder = Path.Combine(Path.GetTempPath(), "intervalometer-benchmarks");

    /// <summary>The version of node.</summary>
    public string NodeVersion { get; }

    /// <summary>Installs what is missing.</summary>
    public References()
    {
        const string get = "install Node.js 20 or later with npm (Debian: apt-get install nodejs npm; elsewhere: https://nodejs.org), then run this again";
        NodeVersion = Run("node", ["--version"], get).Trim();
        string npm = OperatingSystem.IsWindows() ? "npm.cmd" : "npm";
        Run(npm, ["--version"], get);
        Directory.CreateDirectory(_folder);
        string list = Path.Combine(_folder, "package.json");
        if (!File.Exists(list)) File.WriteAllText(list, "{ \"private\": true }\n");
        Run(npm, ["install", "--no-audit", "--no-fund", "--save-exact", Predictor, Astronomy], $"it must be able to install {Predictor} and {Astronomy} into {_folder}; check the registry and the network, then run this again");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Npm", "time.mjs"), Path.Combine(_folder, "time.mjs"), true);
    }

    /// <summary>Times the libraries once on the same work as ours.</summary>
    public ReferenceTimes Time()
    {
        var job = new
        {
            startMs = Work.StartUnixMs,
            latitude = Work.Latitude,
            longitude = Work.Longitude,
            searchDays = Work.SearchDays,
            sunDays = Work.SunDays,
            constituents = Work.ConstantsList().Select(c => new { name = c.Name, amplitude = c.Amplitude, phase = c.Phase }),
        };
        string file = Path.Combine(_folder, "job.json");
        File.WriteAllText(file, JsonSerializer.Serialize(job));
        string text = Run("node", [Path.Combine(_folder, "time.mjs"), file], $"delete {_folder} and run this again");
        return JsonSerializer.Deserialize<ReferenceTimes>(text, Camel)!;
    }

    private string Run(string program, string[] arguments, string advice)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = Directory.Exists(_folder) ? _folder : Path.GetTempPath(),
        };
        try
        {
            using Process process = Process.Start(start)!;
            Task<string> errors = process.StandardError.ReadToEndAsync();
            string text = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            if (process.ExitCode == 0) return text;
            string said = errors.Result.Split('\n').FirstOrDefault(line => line.Trim().Length > 0)?.Trim() ?? $"exit code {process.ExitCode}";
            throw new MissingException($"{program} {arguments[0]}: {said}; {advice}");
        }
        catch (Win32Exception)
        {
            throw new MissingException($"{program}: not found; {advice}");
        }
    }
}
