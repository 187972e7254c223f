using Intervalometer.Tests.Host.Architecture;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Intervalometer.Tests.Host.Subset;

/// <summary>Sources compiled as for the device: against its own class library and the contracts, with NANO defined.</summary>
internal static class DeviceCompilation
{
    private static readonly CSharpParseOptions ParseOptions = new(LanguageVersion.CSharp14, preprocessorSymbols: ["NANO"]);
    private static readonly MetadataReference ClassLibrary = MetadataReference.CreateFromFile(Repository.DeviceClassLibrary);
    private static readonly Lazy<MetadataReference> LazyContracts = new(() => Reference(Create("Contracts", Trees("firmware/Contracts"), [])));

    /// <summary>All contracts as one reference.</summary>
    public static MetadataReference Contracts => LazyContracts.Value;

    /// <summary>The tree of one source text.</summary>
    public static SyntaxTree Parse(string text, string path) => CSharpSyntaxTree.ParseText(text, ParseOptions, path);

    /// <summary>The trees of every source below a folder, with paths from the root.</summary>
    public static IEnumerable<SyntaxTree> Trees(string folder) =>
        Repository.Files(folder, "*.cs").Select(path => Parse(File.ReadAllText(path), Repository.Relative(path)));

    /// <summary>A compilation for the device.</summary>
    public static CSharpCompilation Create(string name, IEnumerable<SyntaxTree> trees, IEnumerable<MetadataReference> references) =>
        CSharpCompilation.Create(name, trees, references.Prepend(ClassLibrary),
            new CSharpCompilationOptions(OutputKind.DynamicallyLinkedLibrary, nullableContextOptions: NullableContextOptions.Enable, allowUnsafe: false));

    /// <summary>Fails with every compiler error.</summary>
    public static void RequireNoErrors(CSharpCompilation compilation)
    {
        string errors = string.Join("\n", compilation.GetDiagnostics().Where(d => d.Severity == DiagnosticSeverity.Error));
        Assert.AreEqual("", errors, $"{compilation.AssemblyName} does not compile for the device");
    }

    private static MetadataReference Reference(CSharpCompilation compilation)
    {
        RequireNoErrors(compilation);
        return compilation.ToMetadataReference();
    }
}
