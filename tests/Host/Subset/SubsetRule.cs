using Microsoft.CodeAnalysis;

namespace Intervalometer.Tests.Host.Subset;

/// <summary>A rule against C# that compiles for the device and then crashes there or gives a wrong result.</summary>
internal abstract class SubsetRule
{
    /// <summary>Its name in reports.</summary>
    public abstract string Name { get; }

    /// <summary>What happens on the device.</summary>
    public abstract string Reason { get; }

    /// <summary>What to write instead.</summary>
    public abstract string Instead { get; }

    /// <summary>The path prefixes to which the rule applies; all by default.</summary>
    public virtual bool Covers(string path) => true;

    /// <summary>The nodes of one file that break it.</summary>
    public abstract IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model);

    /// <summary>Every finding in one file, in reading order.</summary>
    public IEnumerable<Finding> Run(SyntaxTree tree, SemanticModel model)
    {
        if (!Covers(tree.FilePath)) return [];
        return Check(tree.GetRoot(), model)
            .Select(node => node.GetLocation().GetLineSpan().StartLinePosition.Line + 1).Distinct().Order()
            .Select(line => new Finding(tree.FilePath, line, Name, $"{Instead} ({Reason})"));
    }

    /// <summary>Whether a path belongs to what the device runs, the board's composition apart.</summary>
    protected static bool IsCoreOrDrivers(string path) =>
        path.StartsWith("firmware/Core/", StringComparison.Ordinal) || path.StartsWith("firmware/Coast/", StringComparison.Ordinal) || path.StartsWith("firmware/Settings/", StringComparison.Ordinal) || path.StartsWith("firmware/Screens/", StringComparison.Ordinal) || path.StartsWith("firmware/Drivers/", StringComparison.Ordinal);
}

/// <summary>One place that breaks a rule.</summary>
internal sealed record Finding(string Path, int Line, string Rule, string Instead)
{
    public override string ToString() => $"{Path}:{Line}: {Rule}: {Instead}";
}
