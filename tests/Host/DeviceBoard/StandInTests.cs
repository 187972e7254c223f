using Intervalometer.Tests.Host.Architecture;
using Intervalometer.Tests.Host.Subset;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Intervalometer.Tests.Host.DeviceBoard;

/// <summary>The stand-ins of the board that runs on the platform's own runtime, as far as they can be tested without that runtime.</summary>
[TestClass]
public class StandInTests
{
    private const string Folder = "tests/DeviceBoard/";

    private static readonly Lazy<MetadataReference[]> LazyBoard = new(Board);

    [TestMethod]
    [DataRow("System.Device.Adc", "Adc")]
    [DataRow("System.Device.Gpio", "Gpio")]
    [DataRow("System.Device.I2c", "I2c")]
    [DataRow("nanoFramework.Hardware.Esp32", "Esp32")]
    [DataRow("nanoFramework.Runtime.Native", "Native")]
    public void AStandInHasThePublicSignaturesOfItsContract(string assembly, string folder)
    {
        SortedSet<string> listed = ContractTests.Listed(assembly, out _);
        SortedSet<string> declared = ContractSignatures.Of(Compile(assembly, Folder + "StandIns/" + folder, folder == "Native" ? [] : LazyBoard.Value).Assembly);
        Assert.IsGreaterThanOrEqualTo(10, listed.Count, assembly);
        Assert.AreEqual("", string.Join("\n", listed.Except(declared)), "the contract declares these, and the stand-in does not");
        Assert.AreEqual("", string.Join("\n", declared.Except(listed)), "the stand-in declares these, and the contract does not; make them internal");
    }

    [TestMethod]
    [DataRow("Adc")]
    [DataRow("Gpio")]
    [DataRow("I2c")]
    [DataRow("Esp32")]
    [DataRow("Native")]
    public void AStandInIsBuiltUnderTheNameOfItsPackage(string folder)
    {
        var project = System.Xml.Linq.XDocument.Load(Repository.At($"{Folder}StandIns/{folder}/StandIn.{folder}.csproj"));
        string name = project.Descendants("AssemblyName").Single().Value;
        Assert.IsTrue(Directory.Exists(Repository.At("firmware/Contracts/" + name)), $"{name} stands in for no contract");
    }

    // The runtime binds native methods by their position among all methods, and types that the compiler adds would shift it.
    [TestMethod]
    public void NothingIsAddedToTheAssemblyThatHasNativeMethods()
    {
        var types = Compile("nanoFramework.Runtime.Native", Folder + "StandIns/Native", []).Assembly.GlobalNamespace;
        string[] names = [.. Types(types).Where(t => t.TypeKind == TypeKind.Class).Select(t => t.Name).Order(StringComparer.Ordinal)];
        Assert.AreEqual("ConstraintException Environment ExecutionConstraint GC Power Rtc SystemInfo", string.Join(' ', names));
    }

    private static MetadataReference[] Board()
    {
        MetadataReference script = Compile("Intervalometer.DeviceBoard.Script", Folder + "Script", []).ToMetadataReference();
        MetadataReference native = Compile("nanoFramework.Runtime.Native", Folder + "StandIns/Native", []).ToMetadataReference();
        return [script, native, Compile("Intervalometer.DeviceBoard", Folder + "Board", [script, native]).ToMetadataReference()];
    }

    private static CSharpCompilation Compile(string assembly, string folder, IEnumerable<MetadataReference> references)
    {
        CSharpCompilation compilation = DeviceCompilation.Create(assembly, DeviceCompilation.Trees(folder), references);
        DeviceCompilation.RequireNoErrors(compilation);
        return compilation;
    }

    private static IEnumerable<INamedTypeSymbol> Types(INamespaceSymbol space) =>
        space.GetTypeMembers().Concat(space.GetNamespaceMembers().SelectMany(Types));
}
