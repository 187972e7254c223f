using System.Diagnostics;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>The program that runs the device's tests without a test framework. It contains every test, needs only the class library and Core, and passes on the PC.</summary>
[TestClass]
public class DeviceConsoleTests
{
    private const string Table = "tests/DeviceConsole/TestTable.cs";
    private const string Redraw = "REDRAW_TEST_TABLE";

    /// <summary>The device's reflection finds no attributes, so a table lists the tests. Set REDRAW_TEST_TABLE=1 to write it again.</summary>
    [TestMethod]
    public void TheTableHoldsEveryTest()
    {
        string expected = Render();
        if (Environment.GetEnvironmentVariable(Redraw) == "1") File.WriteAllText(Repository.At(Table), expected);
        string found = File.ReadAllText(Repository.At(Table));
        string[] missing = [.. expected.Split('\n').Except(found.Split('\n'))];
        string[] extra = [.. found.Split('\n').Except(expected.Split('\n'))];
        string advice = $"run this test once with {Redraw}=1";
        Assert.IsTrue(missing.Length + extra.Length == 0, $"{Table} lacks:\n{string.Join("\n", missing)}\nand has without a test:\n{string.Join("\n", extra)}\n{advice}");
        Assert.IsTrue(expected == found, $"{Table} holds the right tests in another order; {advice}");
    }

    [TestMethod]
    public void TheDeviceProgramNeedsOnlyTheClassLibraryAndTheAssembliesWithoutADevice()
    {
        string[] inner = ["Intervalometer.Core", "Intervalometer.Coast", "Intervalometer.Settings", "Intervalometer.Screens"];
        CollectionAssert.AreEquivalent(inner.Take(3).Append("mscorlib").ToArray(), References("Intervalometer.Tests.DeviceConsoleStore.dll"));
        CollectionAssert.AreEquivalent(inner.Take(3).Append("mscorlib").Append("Intervalometer.Tests.DeviceConsoleStore").ToArray(), References("Intervalometer.Tests.DeviceConsoleCoast.dll"));
        CollectionAssert.AreEquivalent(inner.Append("mscorlib").Append("Intervalometer.Tests.DeviceConsoleStore").Append("Intervalometer.Tests.DeviceConsoleCoast").ToArray(), References("Intervalometer.Tests.DeviceConsole.exe"));
        for (int i = 0; i < inner.Length; i++)
        {
            CollectionAssert.AreEquivalent(inner.Take(i).Append("mscorlib").ToArray(), References(inner[i] + ".dll"));
        }
    }

    /// <summary>The device's converter addresses a method by 16 bits. The limit is for method bodies before the converter makes them smaller; it has accepted 78,000 bytes.</summary>
    [TestMethod]
    [DataRow("Intervalometer.Tests.DeviceConsole.exe")]
    [DataRow("Intervalometer.Tests.DeviceConsoleStore.dll")]
    [DataRow("Intervalometer.Tests.DeviceConsoleCoast.dll")]
    public void TheTestsFitIntoWhatTheDeviceTakesOfAnAssembly(string file)
    {
        using var image = new PEReader(File.OpenRead(Output("DeviceConsole", "netnano1.0", file)));
        MetadataReader reader = image.GetMetadataReader();
        int bytes = reader.MethodDefinitions.Select(reader.GetMethodDefinition).Where(m => m.RelativeVirtualAddress != 0).Sum(m => image.GetMethodBody(m.RelativeVirtualAddress).Size);
        Assert.IsTrue(bytes is > 5_000 and < 80_000, $"{file}: {bytes} bytes; move tests to the other assembly");
    }

    [TestMethod]
    public void TheProgramPassesHereWithAsManyTestsAsTheTestCommandRuns()
    {
        int tests = TestMethods(Output("DeviceSafe", "net10.0", "Intervalometer.Tests.DeviceSafe.dll"));
        Assert.IsTrue(tests > 100, $"{tests} tests");
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true };
        start.ArgumentList.Add(Output("DeviceConsole", "net10.0", "Intervalometer.Tests.DeviceConsole.dll"));
        using Process process = Process.Start(start)!;
        string printed = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.AreEqual($"{tests} passed, 0 failed\n", printed.ReplaceLineEndings("\n"));
        Assert.AreEqual(0, process.ExitCode);
    }

    private static string Output(string project, string framework, string file)
    {
        // This assembly lies in bin/<configuration>/<framework>, like every other.
        string configuration = new DirectoryInfo(AppContext.BaseDirectory).Parent!.Name;
        string path = Repository.At($"tests/{project}/bin/{configuration}/{framework}/{file}");
        Assert.IsTrue(File.Exists(path), $"{Repository.Relative(path)} is not built");
        return path;
    }

    private static string[] References(string file)
    {
        using var image = new PEReader(File.OpenRead(Output("DeviceConsole", "netnano1.0", file)));
        MetadataReader reader = image.GetMetadataReader();
        return [.. reader.AssemblyReferences.Select(handle => reader.GetString(reader.GetAssemblyReference(handle).Name))];
    }

    private static int TestMethods(string file)
    {
        using var image = new PEReader(File.OpenRead(file));
        MetadataReader reader = image.GetMetadataReader();
        return reader.MethodDefinitions.SelectMany(handle => reader.GetMethodDefinition(handle).GetCustomAttributes()).Count(handle =>
            reader.GetCustomAttribute(handle).Constructor is { Kind: HandleKind.MemberReference } constructor
            && reader.GetMemberReference((MemberReferenceHandle)constructor).Parent is { Kind: HandleKind.TypeReference } parent
            && reader.GetString(reader.GetTypeReference((TypeReferenceHandle)parent).Name) == "TestMethodAttribute");
    }

    private static string Render()
    {
        var lines = new List<string>();
        foreach (string path in Repository.Files("tests/DeviceSafe", "*.cs"))
        {
            CompilationUnitSyntax root = CSharpSyntaxTree.ParseText(File.ReadAllText(path)).GetCompilationUnitRoot();
            foreach (MethodDeclarationSyntax method in root.DescendantNodes().OfType<MethodDeclarationSyntax>().Where(m => Has(m.AttributeLists, "TestMethod")))
            {
                string type = ((ClassDeclarationSyntax)method.Parent!).Identifier.Text;
                lines.Add($"        run.Run(\"{type}\", \"{method.Identifier.Text}\", new {type}().{method.Identifier.Text});");
            }
        }
        return $$"""
            // Long file: a line for every test.
            using Intervalometer.Tests.DeviceSafe;

            namespace Intervalometer.Tests.DeviceConsole;

            /// <summary>Every test of tests/DeviceSafe. Written by a host test, which fails when one is missing.</summary>
            public static class TestTable
            {
                /// <summary>Runs them all, each on an object of its own.</summary>
                public static void RunAll(Runner run)
                {
            {{string.Join("\n", lines)}}
                }
            }

            """;
    }

    private static bool Has(SyntaxList<AttributeListSyntax> lists, string attribute) =>
        lists.SelectMany(list => list.Attributes).Any(a => a.Name.ToString() == attribute);
}
