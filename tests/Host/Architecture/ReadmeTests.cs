using System.Text.RegularExpressions;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>What the README promises exists: its commands are the ones that CI runs, and its links and pictures lead somewhere.</summary>
[TestClass]
public class ReadmeTests
{
    private const string TestCommand = "dotnet test Intervalometer.sln";

    [TestMethod]
    public void CiRunsTheReadmesTestCommand()
    {
        StringAssert.Contains(File.ReadAllText(Repository.At("README.md")), "```\n" + TestCommand + "\n```");
        StringAssert.Contains(File.ReadAllText(Repository.At(".ci/run")), "TEST_COMMAND=(" + TestCommand + ")");
    }

    [TestMethod]
    [DataRow("README.md")]
    [DataRow("DEVELOPERS.md")]
    [DataRow("hardware/README.md")]
    [DataRow("firmware/Coast/README.md")]
    [DataRow("firmware/Contracts/README.md")]
    [DataRow("firmware/Flash/README.md")]
    [DataRow("firmware/Screens/README.md")]
    [DataRow("firmware/VirtualBoard/README.md")]
    [DataRow("firmware/VirtualBoard/Study/README.md")]
    [DataRow("tests/Benchmarks/README.md")]
    [DataRow("tests/Budgets/README.md")]
    [DataRow("tests/DeviceBoard/README.md")]
    [DataRow("hardware/assembly-guide.md")]
    public void EveryLinkLeadsSomewhere(string page)
    {
        string text = File.ReadAllText(Repository.At(page));
        string folder = Path.GetDirectoryName(Repository.At(page))!;
        string[] broken = Regex.Matches(text, @"\]\(([^)#\s]+)\)").Select(m => m.Groups[1].Value)
            .Where(link => !link.Contains("://"))
            .Where(link => !Path.Exists(Path.Combine(folder, link)))
            .ToArray();
        Assert.AreEqual(0, broken.Length, string.Join(", ", broken));
    }

    [TestMethod]
    public void TheReadmeShowsAtLeastFiveScreens()
    {
        int pictures = Regex.Count(File.ReadAllText(Repository.At("README.md")), @"!\[[^\]]+\]\([^)]+\.png\)");
        Assert.IsTrue(pictures >= 6, $"{pictures} pictures");
    }

    [TestMethod]
    public void TheNewestReleaseNoteIsThatOfTheFirmware()
    {
        string notes = File.ReadAllText(Repository.At("README.md")).Split("\n## Release notes\n")[1];
        Assert.AreEqual(Core.FirmwareVersion.Text, Regex.Match(notes, @"^### (\S+)$", RegexOptions.Multiline).Groups[1].Value);
    }

    /// <summary>The device's program needs each of them; one that is not converted leaves a board that does not start.</summary>
    [TestMethod]
    public void TheReadmeConvertsEveryAssemblyOfTheDevice()
    {
        string step = Regex.Match(File.ReadAllText(Repository.At("README.md")), @"^2\. Convert each assembly\..*?^3\.", RegexOptions.Multiline | RegexOptions.Singleline).Value;
        string[] projects = [.. Directory.GetFiles(Repository.At("firmware"), "*.csproj", SearchOption.AllDirectories)
            .Where(p => Regex.IsMatch(File.ReadAllText(p), @"<AssemblyName>Intervalometer\..*Nano\.props", RegexOptions.Singleline)).Select(p => Path.GetFileNameWithoutExtension(p))];
        Assert.IsGreaterThanOrEqualTo(6, projects.Length);
        foreach (string project in projects) StringAssert.Matches(step, new Regex(@"\." + project + @"\.(dll|exe)\b"));
    }
}
