using System.Diagnostics;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>
/// Debian's Chromium under Playwright, built without the windows of a browser: it takes half of the processor's time of the one with
/// them. It is installed when absent; the tests fail when that is impossible.
/// </summary>
[TestClass]
public static class Chromium
{
    private const string Program = "/usr/bin/chromium-headless-shell";
    private static IPlaywright? _playwright;
    private static IBrowser? _browser;

    public static IBrowser Browser => _browser!;

    [AssemblyInitialize]
    public static async Task Start(TestContext context)
    {
        if (!File.Exists(Program))
        {
            Run("apt-get", "update -q");
            string said = Run("apt-get", "install -y -q chromium-headless-shell");
            Assert.IsTrue(File.Exists(Program), $"{Program} is needed and 'apt-get install -y chromium-headless-shell' did not bring it: {said}");
        }
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Program,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    [AssemblyCleanup]
    public static async Task End()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        _playwright?.Dispose();
    }

    private static string Run(string program, string arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return output + error.Result;
    }
}
