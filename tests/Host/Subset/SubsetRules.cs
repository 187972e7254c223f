using Intervalometer.Tests.Host.Subset.Rules;
using Microsoft.CodeAnalysis;

namespace Intervalometer.Tests.Host.Subset;

/// <summary>Every rule of the subset.</summary>
internal static class SubsetRules
{
    public static readonly SubsetRule[] All =
    [
        new OwnGenerics(), new FuncAndAction(), new MultiDimensionalArrays(), new DefaultInterfaceMethods(), new CheckedArithmetic(),
        new StaticInitialiserOrder(), new EnumToText(), new InlineUnsignedCast(), new NumberFormats(), new NotANumber(), new TryParseResult(),
        new UnguardedDivision(), new TimerDrivenEdges(), new Layering(),
    ];

    /// <summary>Every finding of some rules in a compilation, by file and line.</summary>
    public static IEnumerable<Finding> Run(Compilation compilation, IReadOnlyCollection<SubsetRule> rules)
    {
        foreach (SyntaxTree tree in compilation.SyntaxTrees)
        {
            // One model for all rules: it keeps what it has bound.
            SemanticModel model = compilation.GetSemanticModel(tree);
            foreach (Finding finding in rules.SelectMany(rule => rule.Run(tree, model)).OrderBy(finding => finding.Line)) yield return finding;
        }
    }
}
