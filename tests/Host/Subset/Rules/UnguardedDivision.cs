using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;
using Microsoft.CodeAnalysis.Text;

namespace Intervalometer.Tests.Host.Subset.Rules;

/// <summary>
/// A divisor passes when it is a constant that is not zero, when <see cref="ValueFacts"/> can show from the same method that it
/// is not zero, or when a comment '// divisor: reason' on its line or the line above says why.
/// </summary>
internal sealed class UnguardedDivision : SubsetRule
{
    private const string Excuse = "// divisor: ";

    public override string Name => "unguarded-division";
    public override string Reason => "dividing by zero throws on the device, for double as well";
    public override string Instead => "test the divisor first in the same method, or state why it cannot be zero in a comment '// divisor: reason'";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        SourceText text = root.SyntaxTree.GetText();
        foreach (SyntaxNode node in root.DescendantNodes())
        {
            ExpressionSyntax? divisor = node switch
            {
                BinaryExpressionSyntax binary when binary.IsKind(SyntaxKind.DivideExpression) || binary.IsKind(SyntaxKind.ModuloExpression) => binary.Right,
                AssignmentExpressionSyntax assignment when assignment.IsKind(SyntaxKind.DivideAssignmentExpression) || assignment.IsKind(SyntaxKind.ModuloAssignmentExpression) => assignment.Right,
                _ => null,
            };
            if (divisor == null || !IsNumber(model.GetTypeInfo(divisor).Type) || IsOwnOperator(node, model)) continue;
            if (HasExcuse(text, divisor) || new ValueFacts(model).IsNonZero(divisor)) continue;
            yield return divisor;
        }
    }

    private static bool IsNumber(ITypeSymbol? type) => type?.SpecialType is >= SpecialType.System_Char and <= SpecialType.System_Double;

    // The operator's own body holds the division that counts.
    private static bool IsOwnOperator(SyntaxNode node, SemanticModel model) =>
        model.GetSymbolInfo(node).Symbol is IMethodSymbol { MethodKind: MethodKind.UserDefinedOperator };

    private static bool HasExcuse(SourceText text, ExpressionSyntax divisor)
    {
        int line = text.Lines.GetLineFromPosition(divisor.SpanStart).LineNumber;
        if (States(text.Lines[line].ToString())) return true;
        string above = line > 0 ? text.Lines[line - 1].ToString().TrimStart() : "";
        return above.StartsWith("//", StringComparison.Ordinal) && States(above);
    }

    private static bool States(string line)
    {
        int at = line.IndexOf(Excuse, StringComparison.Ordinal);
        return at >= 0 && line[(at + Excuse.Length)..].Trim().Length > 0;
    }
}
