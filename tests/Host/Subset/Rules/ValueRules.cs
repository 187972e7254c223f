using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Intervalometer.Tests.Host.Subset.Rules;

internal sealed class EnumToText : SubsetRule
{
    public override string Name => "enum-to-text";
    public override string Reason => "on the device an enum prints as its number";
    public override string Instead => "map each value to a text with a switch";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (SyntaxNode node in root.DescendantNodes())
        {
            bool bad = node switch
            {
                InvocationExpressionSyntax { Expression: MemberAccessExpressionSyntax { Name.Identifier.Text: "ToString" } access } => IsEnum(access.Expression, model),
                InterpolationSyntax interpolation => IsEnum(interpolation.Expression, model),
                BinaryExpressionSyntax sum when sum.IsKind(SyntaxKind.AddExpression) && IsString(sum, model) => IsEnum(sum.Left, model) || IsEnum(sum.Right, model),
                AssignmentExpressionSyntax sum when sum.IsKind(SyntaxKind.AddAssignmentExpression) && IsString(sum, model) => IsEnum(sum.Right, model),
                ArgumentSyntax argument => IsEnum(argument.Expression, model) && TakesText(argument, model),
                _ => false,
            };
            if (bad) yield return node;
        }
    }

    private static bool IsEnum(ExpressionSyntax expression, SemanticModel model) => model.GetTypeInfo(expression).Type?.TypeKind == TypeKind.Enum;

    private static bool IsString(ExpressionSyntax expression, SemanticModel model) => model.GetTypeInfo(expression).Type?.SpecialType == SpecialType.System_String;

    private static bool TakesText(ArgumentSyntax argument, SemanticModel model) =>
        argument.Parent?.Parent is InvocationExpressionSyntax call
        && model.GetSymbolInfo(call).Symbol is IMethodSymbol { Name: "Format" or "Concat", ContainingType.SpecialType: SpecialType.System_String };
}

internal sealed class InlineUnsignedCast : SubsetRule
{
    public override string Name => "inline-ulong-cast";
    public override string Reason => "a cast from ulong to long leaves the value unsigned on the device until it is stored";
    public override string Instead => "store the cast in a long local of its own and go on with the local";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (CastExpressionSyntax cast in root.DescendantNodes().OfType<CastExpressionSyntax>())
        {
            if (model.GetTypeInfo(cast.Type).Type?.SpecialType != SpecialType.System_Int64) continue;
            if (model.GetTypeInfo(cast.Expression).Type?.SpecialType != SpecialType.System_UInt64) continue;
            if (model.GetConstantValue(cast).HasValue) continue;
            SyntaxNode whole = cast;
            while (whole.Parent is ParenthesizedExpressionSyntax) whole = whole.Parent;
            bool stored = whole.Parent switch
            {
                EqualsValueClauseSyntax { Parent: VariableDeclaratorSyntax declarator } => model.GetDeclaredSymbol(declarator) is ILocalSymbol { Type.SpecialType: SpecialType.System_Int64 },
                AssignmentExpressionSyntax { RawKind: (int)SyntaxKind.SimpleAssignmentExpression, Parent: ExpressionStatementSyntax } assignment
                    => model.GetSymbolInfo(assignment.Left).Symbol is ILocalSymbol { Type.SpecialType: SpecialType.System_Int64 },
                _ => false,
            };
            if (!stored) yield return cast;
        }
    }
}

internal sealed partial class NumberFormats : SubsetRule
{
    public override string Name => "number-formats";
    public override string Reason => "other number formats throw or print something else on the device";
    public override string Instead => "use F0 to F6, N0, D or X with digits, as a constant";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (SyntaxNode node in root.DescendantNodes())
        {
            bool bad = node switch
            {
                InvocationExpressionSyntax { Expression: MemberAccessExpressionSyntax { Name.Identifier.Text: "ToString" } access, ArgumentList.Arguments: { Count: >= 1 } arguments }
                    => IsNumber(access.Expression, model) && !IsAllowed(arguments[0].Expression, model),
                InterpolationSyntax { FormatClause: { } format } interpolation
                    => IsNumber(interpolation.Expression, model) && !Allowed().IsMatch(format.FormatStringToken.ValueText),
                InvocationExpressionSyntax call when model.GetSymbolInfo(call).Symbol is IMethodSymbol { Name: "Format", ContainingType.SpecialType: SpecialType.System_String }
                    => !IsAllowedText(call.ArgumentList.Arguments[0].Expression, model),
                _ => false,
            };
            if (bad) yield return node;
        }
    }

    [GeneratedRegex("^(F[0-6]|N0|D[0-9]*|X[0-9]*)$")]
    private static partial Regex Allowed();

    [GeneratedRegex(@"\{[0-9]+(?:,-?[0-9]+)?:([^}]*)\}")]
    private static partial Regex Placeholder();

    private static bool IsAllowed(ExpressionSyntax format, SemanticModel model) =>
        format is ConditionalExpressionSyntax choice
            ? IsAllowed(choice.WhenTrue, model) && IsAllowed(choice.WhenFalse, model)
            : model.GetConstantValue(format) is { HasValue: true, Value: string text } && Allowed().IsMatch(text);

    private static bool IsAllowedText(ExpressionSyntax text, SemanticModel model) =>
        model.GetConstantValue(text) is { HasValue: true, Value: string format } && Placeholder().Matches(format).All(match => Allowed().IsMatch(match.Groups[1].Value));

    private static bool IsNumber(ExpressionSyntax expression, SemanticModel model) =>
        model.GetTypeInfo(expression).Type?.SpecialType is >= SpecialType.System_SByte and <= SpecialType.System_Double;
}

internal sealed class NotANumber : SubsetRule
{
    public override string Name => "nan";
    public override string Reason => "every comparison with NaN is wrong on the device";
    public override string Instead => "keep a bool or a named state for a missing value";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (SyntaxNode node in root.DescendantNodes())
        {
            bool bad = node switch
            {
                SimpleNameSyntax { Identifier.Text: "NaN" or "IsNaN" } name => model.GetSymbolInfo(name).Symbol?.ContainingType?.SpecialType is SpecialType.System_Double or SpecialType.System_Single,
                BinaryExpressionSyntax { RawKind: (int)SyntaxKind.EqualsExpression or (int)SyntaxKind.NotEqualsExpression } comparison
                    => IsFloating(comparison.Left, model) && SyntaxFactory.AreEquivalent(comparison.Left, comparison.Right) && !model.GetConstantValue(comparison.Left).HasValue,
                _ => false,
            };
            if (bad) yield return node;
        }
    }

    private static bool IsFloating(ExpressionSyntax expression, SemanticModel model) =>
        model.GetTypeInfo(expression).Type?.SpecialType is SpecialType.System_Double or SpecialType.System_Single;
}

internal sealed class TryParseResult : SubsetRule
{
    public override string Name => "tryparse-result";
    public override string Reason => "a failed TryParse leaves the smallest value on the device, not zero";
    public override string Instead => "test the result before using the value";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (InvocationExpressionSyntax call in root.DescendantNodes().OfType<InvocationExpressionSyntax>())
        {
            if (model.GetSymbolInfo(call).Symbol is not IMethodSymbol { Name: "TryParse", ContainingNamespace.Name: "System" }) continue;
            bool ignored = call.Parent is ExpressionStatementSyntax
                || call.Parent is AssignmentExpressionSyntax { Left: IdentifierNameSyntax { Identifier.Text: "_" } };
            if (ignored) yield return call;
        }
    }
}
