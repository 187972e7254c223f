using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Intervalometer.Tests.Host.Subset.Rules;

internal sealed class TimerDrivenEdges : SubsetRule
{
    public override string Name => "timer-driven-edges";
    public override string Reason => "both timers arrive through a queue that is polled once in 10 ms";
    public override string Instead => "let the release thread spin on the injected clock";

    public override bool Covers(string path) => IsCoreOrDrivers(path);

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model) =>
        root.DescendantNodes().OfType<ExpressionSyntax>().Where(node => node is SimpleNameSyntax or BaseObjectCreationExpressionSyntax && IsTimer(node, model));

    private static bool IsTimer(ExpressionSyntax node, SemanticModel model)
    {
        ISymbol? symbol = model.GetSymbolInfo(node).Symbol;
        INamedTypeSymbol? type = symbol as INamedTypeSymbol ?? symbol?.ContainingType;
        return type is { Name: "Timer", ContainingNamespace.Name: "Threading" } or { Name: "HighResTimer" };
    }
}

internal sealed class Layering : SubsetRule
{
    public override string Name => "layering";
    public override string Reason => "Core knows no device and neither Core nor Drivers knows a board";
    public override string Instead => "take an interface of Core or Drivers and let the board hand it in";

    public override bool Covers(string path) => IsCoreOrDrivers(path);

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        string path = root.SyntaxTree.FilePath;
        bool isCore = IsCoreOrDrivers(path) && !path.StartsWith("firmware/Drivers/", StringComparison.Ordinal);
        foreach (NameSyntax name in root.DescendantNodes().OfType<NameSyntax>())
        {
            if (name.Parent is QualifiedNameSyntax or NamespaceDeclarationSyntax or FileScopedNamespaceDeclarationSyntax) continue;
            ISymbol? symbol = model.GetSymbolInfo(name).Symbol;
            INamespaceSymbol? space = symbol as INamespaceSymbol ?? symbol?.ContainingNamespace;
            string full = space is { IsGlobalNamespace: false } ? space.ToDisplayString() : name.ToString();
            bool board = IsBelow(full, "Intervalometer.VirtualBoard") || IsBelow(full, "Intervalometer.Esp32");
            bool device = IsBelow(full, "System.Device") || IsBelow(full, "nanoFramework") || IsBelow(full, "Intervalometer.Drivers");
            if (board || (isCore && device)) yield return name;
        }
    }

    private static bool IsBelow(string space, string root) => space == root || space.StartsWith(root + ".", StringComparison.Ordinal);
}
