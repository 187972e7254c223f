using System.Diagnostics;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>Programs from Debian that a test needs; they are installed when absent, and the test fails when that is impossible.</summary>
internal static class Debian
{
    public static void Need(string program, string package)
    {
        if (Find(program) is not null) return;
        Run("apt-get", "update -q");
        var (code, text) = Run("apt-get", $"-o DPkg::Lock::Timeout=300 install -y -q {package}");
        Assert.IsNotNull(Find(program), $"{program} is needed and 'apt-get install -y {package}' ended with {code}: {text}");
    }

    public static (int Code, string Output) Run(string program, string arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        try
        {
            using Process process = Process.Start(start)!;
            Task<string> error = process.StandardError.ReadToEndAsync();
            string output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return (process.ExitCode, output + error.Result);
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            return (127, e.Message);
        }
    }

    private static string? Find(string program) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':').Select(folder => Path.Combine(folder, program)).FirstOrDefault(File.Exists);
}
