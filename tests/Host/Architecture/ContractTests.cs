using Intervalometer.Tests.Host.Subset;
using Microsoft.CodeAnalysis.CSharp;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>The declaration-only contracts against the list of signatures read in the device packages' public sources.</summary>
[TestClass]
public class ContractTests
{
    private static readonly string[] Assemblies =
    [
        "System.Device.Adc", "System.Device.Gpio", "System.Device.I2c", "nanoFramework.Hardware.Esp32", "nanoFramework.Runtime.Native", "nanoFramework.TestFramework",
    ];

    [TestMethod]
    [DynamicData(nameof(Names))]
    public void EveryDeclarationHasASource(string assembly)
    {
        SortedSet<string> listed = Listed(assembly, out string source);
        Assert.MatchesRegex("^https://github\\.com/[^ ]+ tag v[0-9.]+ commit [0-9a-f]{40}$", source);
        string pinned = System.Xml.Linq.XDocument.Load(Repository.At("Directory.Packages.props")).Descendants("PackageVersion")
            .Single(e => e.Attribute("Include")!.Value is string package && (package == assembly || package == "nanoFramework." + assembly) && e.Parent!.Attribute("Label")!.Value == "Device").Attribute("Version")!.Value;
        StringAssert.Contains(source, $" tag v{pinned} ", "the signatures must be those of the package that a build for the board takes");
        CSharpCompilation compilation = DeviceCompilation.Create(assembly, DeviceCompilation.Trees($"firmware/Contracts/{assembly}"), []);
        DeviceCompilation.RequireNoErrors(compilation);
        SortedSet<string> declared = ContractSignatures.Of(compilation.Assembly);
        Assert.AreEqual("", string.Join("\n", declared.Except(listed)), "declared, but not in firmware/Contracts/signatures.txt");
        Assert.AreEqual("", string.Join("\n", listed.Except(declared)), "in firmware/Contracts/signatures.txt, but not declared");
        Assert.IsTrue(listed.Count >= 10, $"{assembly}: only {listed.Count} signatures");
    }

    [TestMethod]
    public void TheListAndTheFoldersNameTheSameAssemblies()
    {
        string[] folders = [.. Directory.GetDirectories(Repository.At("firmware/Contracts")).Select(path => Path.GetFileName(path)!)];
        CollectionAssert.AreEquivalent(Assemblies, folders);
        string[] sections = [.. File.ReadLines(Repository.At("firmware/Contracts/signatures.txt")).Where(line => line.StartsWith('[')).Select(line => line.Trim('[', ']'))];
        CollectionAssert.AreEquivalent(Assemblies, sections);
    }

    [TestMethod]
    public void EveryContractFileSaysWhatItIs()
    {
        foreach (string path in Repository.Files("firmware/Contracts", "*.cs").Append(Repository.At("firmware/Contracts/README.md")))
        {
            string head = string.Join(" ", File.ReadLines(path).Take(4));
            foreach (string phrase in new[] { "declaration-only", "never run", "not for flashing" })
            {
                Assert.Contains(phrase, head, $"{Repository.Relative(path)}: say '{phrase}' at the top");
            }
        }
    }

    private static IEnumerable<object[]> Names() => Assemblies.Select(name => new object[] { name });

    /// <summary>The lines of one assembly in firmware/Contracts/signatures.txt.</summary>
    internal static SortedSet<string> Listed(string assembly, out string source)
    {
        SortedSet<string> lines = new(StringComparer.Ordinal);
        source = "";
        string section = "";
        foreach (string line in File.ReadLines(Repository.At("firmware/Contracts/signatures.txt")))
        {
            if (line.StartsWith('[')) section = line.Trim('[', ']');
            else if (section != assembly || line.Length == 0) continue;
            else if (line.StartsWith("source: ", StringComparison.Ordinal)) source = line["source: ".Length..];
            else lines.Add(line);
        }
        return lines;
    }
}
