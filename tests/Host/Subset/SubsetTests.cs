using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Intervalometer.Tests.Host.Subset;

/// <summary>What the device can compile and run, checked over all sources that go onto it, and each rule over examples of its own.</summary>
[TestClass]
public class SubsetTests
{
    private static readonly string[] DeviceFolders = ["firmware/Core", "firmware/Coast", "firmware/Settings", "firmware/Screens", "firmware/Drivers", "firmware/Esp32", "tests/DeviceSafe", "tests/DeviceConsole"];

    private static readonly Lazy<CSharpCompilation> DeviceSources = new(() =>
        DeviceCompilation.Create("DeviceSources",
            DeviceFolders.SelectMany(DeviceCompilation.Trees).Append(DeviceCompilation.Parse("global using nanoFramework.TestFramework;", "tests/DeviceSafe/usings")),
            [DeviceCompilation.Contracts]));

    [TestMethod]
    public void DeviceSourcesKeepToTheSubset()
    {
        CSharpCompilation compilation = DeviceSources.Value;
        DeviceCompilation.RequireNoErrors(compilation);
        string findings = string.Join("\n", SubsetRules.Run(compilation, SubsetRules.All));
        Assert.AreEqual("", findings, "\n" + findings);
    }

    [TestMethod]
    public void EveryDeviceFolderIsChecked()
    {
        CSharpCompilation compilation = DeviceSources.Value;
        foreach (string folder in DeviceFolders)
        {
            Assert.IsTrue(compilation.SyntaxTrees.Any(tree => tree.FilePath.StartsWith(folder + "/", StringComparison.Ordinal)), $"{folder}: no source found");
        }
    }

    [TestMethod]
    [DynamicData(nameof(ExampleNames))]
    public void RuleFlagsExactlyTheMarkedLines(string rule, string example)
    {
        SubsetExample found = SubsetExamples.All.Single(e => e.Rule == rule && e.Name == example);
        SyntaxTree tree = DeviceCompilation.Parse(found.Source, found.Path);
        CSharpCompilation compilation = DeviceCompilation.Create("Example", [tree], [DeviceCompilation.Contracts]);
        if (found.Compiles) DeviceCompilation.RequireNoErrors(compilation);
        int[] marked = [.. found.Source.Split('\n').Select((line, index) => (line, index)).Where(l => l.line.EndsWith("// !", StringComparison.Ordinal)).Select(l => l.index + 1)];
        Finding[] findings = [.. SubsetRules.Run(compilation, [SubsetRules.All.Single(r => r.Name == rule)])];
        Assert.AreEqual(string.Join(" ", marked), string.Join(" ", findings.Select(f => f.Line)), string.Join("\n", findings.Select(f => f.ToString())));
    }

    [TestMethod]
    public void EveryRuleHasExamplesOfBothKinds()
    {
        foreach (SubsetRule rule in SubsetRules.All)
        {
            string[] lines = [.. SubsetExamples.All.Where(e => e.Rule == rule.Name).SelectMany(e => e.Source.Split('\n'))];
            Assert.IsTrue(lines.Any(line => line.EndsWith("// !", StringComparison.Ordinal)), $"{rule.Name}: no example that it must flag");
            Assert.IsTrue(lines.Any(line => line.EndsWith("// ok", StringComparison.Ordinal)), $"{rule.Name}: no near miss that it must leave alone");
            Assert.IsTrue(rule.Reason.Length > 0 && rule.Instead.Length > 0, rule.Name);
        }
        Assert.AreEqual(SubsetRules.All.Length, SubsetRules.All.Select(rule => rule.Name).Distinct().Count());
    }

    private static IEnumerable<object[]> ExampleNames() => SubsetExamples.All.Select(e => new object[] { e.Rule, e.Name });

}
