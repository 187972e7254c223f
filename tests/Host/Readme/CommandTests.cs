using System.Diagnostics;
using System.Text.RegularExpressions;
using Intervalometer.Tests.Host.Architecture;

namespace Intervalometer.Tests.Host.Readme;

/// <summary>Every command that README gives does from a fresh copy of the sources what README says of it.</summary>
[TestClass]
public class CommandTests
{
    private const string Server = "dotnet run --project firmware/VirtualBoard";

    // What is run elsewhere, or cannot be run here.
    private static readonly Dictionary<string, string> Elsewhere = new()
    {
        ["dotnet publish firmware/BrowserBoard -o out/board"] = "tests/Page: FolderTests runs it into a folder of its own and opens the page",
        ["dotnet test Intervalometer.sln"] = ".ci/run is this command",
        ["dotnet build firmware/Esp32 -c Release -p:UseRealNanoPackages=true"] = "needs packages that the feed here lacks, as README says; tests/Budgets builds it against the declarations",
        ["dotnet run --project firmware/Flash -- firmware/Esp32/bin/Release/netnano1.0 --image deploy.bin --port <port>"] = "FlashTests runs the program on folders as such a build leaves them",
    };

    // What each command leaves behind, and a word of what it says.
    private static readonly Dictionary<string, (string[] Files, string Says)> Leaves = new()
    {
        ["answer"] = ([], "Bulb 64.00 s"),
        ["plan"] = (["out/mornings.csv", "out/mornings.ics", "out/plots/2031-03-19-morning.png"], "that fit."),
        ["site"] = ([], "Gannet Ledge"),
        ["play"] = (["out/backwash/report.json", "out/backwash/lines.vcd", "out/backwash/frames.csv", "out/backwash/memory.bin"], ""),
    };

    [TestMethod]
    public async Task EveryCommandWorksFromAFreshCopy()
    {
        CollectionAssert.IsSubsetOf(Elsewhere.Keys, ReadmeText.Commands, "a command that README no longer gives");
        string[] here = [.. ReadmeText.Commands.Except(Elsewhere.Keys)];
        Assert.AreEqual(Server, here[0], "the first command of README");
        using var copy = new SourceCopy("readme-");
        await TheServerStartsAnswersAndStops(copy);
        var ran = new List<string>();
        foreach (string command in here.Skip(1))
        {
            StringAssert.StartsWith(command, Server + " -- ");
            string[] words = Words(command[(Server.Length + 4)..]);
            // The first command has built the program; that it is up to date need not be found out each time.
            string said = copy.Run(["run", "--no-build", "--project", "firmware/VirtualBoard", "--", .. words]);
            ran.Add(words[0]);
            Assert.IsTrue(Leaves.TryGetValue(words[0], out var left), $"{command}: say in Leaves what it does");
            StringAssert.Contains(said, left.Says);
            foreach (string file in left.Files) Assert.IsTrue(File.Exists(Path.Combine(copy.Folder, file)), $"{command} leaves no {file}");
            if (words[0] == "answer") Assert.AreEqual(ReadmeText.Blocks[Array.FindIndex(ReadmeText.Blocks, b => b.Contains(command)) + 1], said);
        }
        CollectionAssert.AreEquivalent(Leaves.Keys, ran);
    }

    // On a free port, because the usual one may be taken on this computer.
    private static async Task TheServerStartsAnswersAndStops(SourceCopy copy)
    {
        using Process server = copy.Start([.. Server.Split(' ')[1..], "--", "--port", "0"]);
        Task<string> errors = server.StandardError.ReadToEndAsync();
        string? line;
        string address = "";
        while (address.Length == 0 && (line = await server.StandardOutput.ReadLineAsync()) is not null) address = Regex.Match(line, @"^Open (http://127\.0\.0\.1:\d+)").Groups[1].Value;
        Assert.AreNotEqual("", address, $"the server says no address: {(server.HasExited ? await errors : "")}");
        using var client = new HttpClient();
        StringAssert.Contains(await client.GetStringAsync(address), "Walk through a morning");
        // As a terminal that is closed, or a system that shuts down, ends it.
        using Process end = Process.Start("kill", ["-TERM", $"{server.Id}"]);
        await end.WaitForExitAsync();
        await server.WaitForExitAsync();
        await Assert.ThrowsAsync<HttpRequestException>(() => client.GetStringAsync(address));
    }

    private static string[] Words(string command) => [.. Regex.Matches(command, "\"([^\"]*)\"|(\\S+)").Select(m => m.Groups[1].Success ? m.Groups[1].Value : m.Groups[2].Value)];
}
