using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>Which project may reference which, and where files may lie.</summary>
[TestClass]
public partial class LayoutTests
{
    private const int LineLimit = 400;
    private const string Core = "firmware/Core/Core.csproj", Coast = "firmware/Coast/Coast.csproj", Settings = "firmware/Settings/Settings.csproj", Screens = "firmware/Screens/Screens.csproj";
    private const string Contracts = "firmware/Contracts/Contracts.props";

    // Project: what it may reference (projects, packages, shared contract imports).
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        [Core] = [],
        [Coast] = [Core],
        [Settings] = [Core, Coast],
        [Screens] = [Core, Coast, Settings],
        ["firmware/Drivers/Drivers.csproj"] = [Core, Coast, Settings, Screens, "System.Device.Gpio", Contracts],
        ["firmware/Esp32/Esp32.csproj"] = [Core, Coast, Settings, Screens, "firmware/Drivers/Drivers.csproj", Contracts],
    };

    private static readonly string[] TopLevel = ["README.md", "DEVELOPERS.md", "firmware", "hardware", "tests", "Intervalometer.sln"];
    private static readonly string[] BuildFiles = ["Directory.Build.props", "Directory.Build.targets", "Directory.Solution.targets", "Directory.Packages.props", "global.json", "nuget.config"];
    private static readonly string[] BuildOutput = ["bin", "obj", "out", "artifacts", "TestResults", "node_modules"];
    private static readonly string[] CodePatterns = ["*.cs", "*.js", "*.css", "*.html", "*.py", "*.sh"];

    // Tables are read as data, not as code.
    private static readonly string[] TableFolders = ["Fonts", "Data"];

    [TestMethod]
    public void ReferencesPointInwardOnly()
    {
        List<string> wrong = [];
        foreach ((string project, string[] allowed) in Allowed)
        {
            Assert.IsTrue(File.Exists(Repository.At(project)), $"{project}: missing");
            foreach (string reference in References(project).Except(allowed)) wrong.Add($"{project}: must not reference {reference}");
        }
        foreach (string project in Projects().Where(p => p.StartsWith("firmware/", StringComparison.Ordinal)))
        {
            bool isContract = project.StartsWith("firmware/Contracts/", StringComparison.Ordinal);
            foreach (string reference in References(project))
            {
                if (reference.StartsWith("tests/", StringComparison.Ordinal)) wrong.Add($"{project}: must not reference the tests ({reference})");
                if (reference is "firmware/Esp32/Esp32.csproj" or "firmware/VirtualBoard/VirtualBoard.csproj") wrong.Add($"{project}: must not reference a board ({reference})");
                if (isContract) wrong.Add($"{project}: a contract references nothing ({reference})");
            }
        }
        foreach (string reference in References(Contracts).Where(r => !r.StartsWith("firmware/Contracts/", StringComparison.Ordinal) && !r.StartsWith("nanoFramework.", StringComparison.Ordinal)))
        {
            wrong.Add($"{Contracts}: must not reference {reference}");
        }
        Assert.AreEqual("", string.Join("\n", wrong));
    }

    [TestMethod]
    public void TheSolutionNamesEveryProject()
    {
        string[] listed = [.. SolutionProject().Matches(File.ReadAllText(Repository.At("Intervalometer.sln"))).Select(match => match.Groups[1].Value.Replace('\\', '/')).Order(StringComparer.Ordinal)];
        Assert.AreEqual(string.Join("\n", Projects().Order(StringComparer.Ordinal)), string.Join("\n", listed), "projects on disk against projects in Intervalometer.sln");
    }

    [TestMethod]
    public void TheTopLevelHoldsNothingElse()
    {
        string[] others =
        [
            .. Directory.EnumerateFileSystemEntries(Repository.Root).Select(path => Path.GetFileName(path)!)
                .Where(name => !name.StartsWith('.')).Except(TopLevel).Except(BuildFiles).Except(BuildOutput),
        ];
        Assert.AreEqual("", string.Join(" ", others), "move these into firmware, hardware or tests");
        foreach (string name in TopLevel) Assert.IsTrue(Path.Exists(Repository.At(name)), $"{name}: missing");
    }

    [TestMethod]
    public void LongFilesSayWhy()
    {
        List<string> wrong = [];
        int seen = 0;
        foreach (string path in new[] { "firmware", "hardware", "tests" }.SelectMany(folder => CodePatterns.SelectMany(pattern => Repository.Files(folder, pattern))))
        {
            seen++;
            string relative = Repository.Relative(path);
            if (relative.Split('/').Any(TableFolders.Contains)) continue;
            string[] lines = File.ReadAllLines(path);
            if (lines.Length > LineLimit && !lines.Take(3).Any(line => LongFileReason().IsMatch(line)))
            {
                wrong.Add($"{relative}: {lines.Length} lines; split it, or start it with 'Long file: ' and the reason in a comment");
            }
        }
        Assert.AreEqual("", string.Join("\n", wrong));
        Assert.IsTrue(seen > 20, $"only {seen} files seen");
    }

    /// <summary>A later SDK must find no new warnings in a fresh clone, so the analyzers have one level, which names its version and stands in one file.</summary>
    [TestMethod]
    public void TheAnalyzersHaveOneFixedLevel()
    {
        string[] levels =
        [
            .. new[] { "*.props", "*.targets", "*.csproj" }.SelectMany(pattern => Repository.Files(".", pattern))
                .SelectMany(path => XDocument.Load(path).Descendants().Where(e => e.Name.LocalName.StartsWith("Analysis", StringComparison.Ordinal)).Select(e => $"{Repository.Relative(path)}: {e.Name.LocalName} {e.Value}")),
        ];
        Assert.HasCount(1, levels, string.Join("\n", levels));
        Assert.MatchesRegex(FixedLevel(), levels[0]);
    }

    [GeneratedRegex(@"^Directory\.Build\.props: AnalysisLevel \d+\.\d+-recommended$")]
    private static partial Regex FixedLevel();

    [GeneratedRegex("\"([^\"]+\\.csproj)\"")]
    private static partial Regex SolutionProject();

    [GeneratedRegex("Long file: .*[A-Za-z]{3}")]
    private static partial Regex LongFileReason();

    private static IEnumerable<string> Projects() =>
        new[] { "firmware", "hardware", "tests" }.SelectMany(folder => Repository.Files(folder, "*.csproj")).Select(Repository.Relative);

    private static IEnumerable<string> References(string project)
    {
        string folder = Path.GetDirectoryName(Repository.At(project))!;
        foreach (XElement element in XDocument.Load(Repository.At(project)).Descendants())
        {
            string? target = (string?)element.Attribute(element.Name.LocalName == "Import" ? "Project" : "Include");
            if (target == null) continue;
            switch (element.Name.LocalName)
            {
                case "PackageReference" or "Reference" or "FrameworkReference":
                    yield return target;
                    break;
                case "ProjectReference" or "Import":
                    string path = target.Replace("$(MSBuildThisFileDirectory)", "").Replace('\\', '/');
                    string relative = Repository.Relative(Path.GetFullPath(Path.Combine(folder, path)));
                    if (relative != "firmware/Nano.props") yield return relative;
                    break;
            }
        }
    }
}
