using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Intervalometer.Tests.Host.Subset.Rules;

/// <summary>
/// What one method shows about the sign of a value at one place: from constants, from arithmetic that keeps a sign, from the
/// conditions that hold there, and from the last assignment before it. Overflow and fields changed by calls are not followed.
/// </summary>
internal sealed class ValueFacts(SemanticModel model)
{
    private const int DepthLimit = 40;
    private readonly Dictionary<(SyntaxNode, Sign, string), bool> _known = [];
    private readonly SortedSet<(string Name, Sign Sign)> _assumed = [];
    private int _depth;

    /// <summary>True when the value is shown not to be zero.</summary>
    public bool IsNonZero(ExpressionSyntax value) => Has(value, Sign.NonZero);

    private bool Has(ExpressionSyntax value, Sign wanted)
    {
        value = Strip(value);
        if (_assumed.Count > 0 && (_assumed.Contains((Key(value), wanted)) || _assumed.Contains((Key(value), Sign.Positive)))) return true;
        (SyntaxNode, Sign, string) question = (value, wanted, string.Join(",", _assumed));
        if (_known.TryGetValue(question, out bool answer)) return answer;
        if (_depth >= DepthLimit) return false;
        // A question that comes up while it is being answered counts as not shown.
        _known[question] = false;
        _depth++;
        answer = ByForm(value, wanted) || ByCondition(value, wanted) || ByOrigin(value, wanted);
        _depth--;
        return _known[question] = answer;
    }

    private bool ByForm(ExpressionSyntax value, Sign wanted)
    {
        if (model.GetConstantValue(value) is { HasValue: true, Value: IConvertible constant } && constant is not (string or bool or null))
        {
            double number = Convert.ToDouble(constant is char letter ? (int)letter : constant);
            return wanted switch { Sign.NonZero => number != 0, Sign.Positive => number > 0, _ => number >= 0 };
        }
        if (wanted != Sign.Positive && Has(value, Sign.Positive)) return true;
        switch (value)
        {
            case CastExpressionSyntax cast:
                // A cast to a whole number may reach zero, and one to fewer bits may change the sign.
                bool keeps = IsFloating(cast) || (!IsFloating(cast.Expression) && Bits(cast) >= Bits(cast.Expression));
                return (keeps || wanted == Sign.NotNegative) && Has(cast.Expression, wanted);
            case PrefixUnaryExpressionSyntax minus when minus.IsKind(SyntaxKind.UnaryMinusExpression):
                return wanted == Sign.NonZero && Has(minus.Operand, Sign.NonZero);
            case ConditionalExpressionSyntax choice:
                return (wanted == Sign.NotNegative && IsMagnitude(choice)) || Has(choice.WhenTrue, wanted) && Has(choice.WhenFalse, wanted);
            case BinaryExpressionSyntax binary:
                return ByArithmetic(binary, wanted);
            case InvocationExpressionSyntax call:
                return ByFunction(call, wanted);
            case MemberAccessExpressionSyntax { Name.Identifier.Text: "Length" or "Count" } length:
                return wanted == Sign.NotNegative || (model.GetSymbolInfo(length.Expression).Symbol is IFieldSymbol { IsReadOnly: true } field && HasElements(field));
        }
        return wanted == Sign.NotNegative
            && model.GetTypeInfo(value).Type?.SpecialType is SpecialType.System_Byte or SpecialType.System_UInt16 or SpecialType.System_UInt32 or SpecialType.System_UInt64 or SpecialType.System_Char;
    }

    private bool ByArithmetic(BinaryExpressionSyntax binary, Sign wanted)
    {
        ExpressionSyntax a = binary.Left, b = binary.Right;
        switch (binary.Kind())
        {
            case SyntaxKind.AddExpression:
                return wanted == Sign.NotNegative
                    ? Has(a, Sign.NotNegative) && Has(b, Sign.NotNegative)
                    : wanted == Sign.Positive && ((Has(a, Sign.Positive) && Has(b, Sign.NotNegative)) || (Has(a, Sign.NotNegative) && Has(b, Sign.Positive)));
            case SyntaxKind.MultiplyExpression:
                if (wanted == Sign.NotNegative && SyntaxFactory.AreEquivalent(Strip(a), Strip(b))) return true;
                return Has(a, wanted) && Has(b, wanted);
            case SyntaxKind.DivideExpression:
                return (wanted == Sign.NotNegative || IsFloating(binary)) && Has(a, wanted) && (wanted == Sign.NonZero || Has(b, Sign.Positive));
            case SyntaxKind.BitwiseOrExpression:
                return wanted == Sign.NonZero && (Has(a, wanted) || Has(b, wanted));
            default:
                return false;
        }
    }

    // Core's own functions: see Elementary for what each promises.
    private bool ByFunction(InvocationExpressionSyntax call, Sign wanted)
    {
        if (model.GetSymbolInfo(call).Symbol is not IMethodSymbol { IsStatic: true } method) return false;
        SeparatedSyntaxList<ArgumentSyntax> arguments = call.ArgumentList.Arguments;
        switch (method.Name)
        {
            case "Abs" when arguments.Count == 1:
                return wanted == Sign.NotNegative || Has(arguments[0].Expression, Sign.NonZero);
            case "Sqrt" when arguments.Count == 1:
                return wanted == Sign.NotNegative || Has(arguments[0].Expression, Sign.Positive);
            case "Exp" or "Exp2" when arguments.Count == 1:
                return true;
            case "Max" when arguments.Count == 2:
                return wanted != Sign.NonZero && (Has(arguments[0].Expression, wanted) || Has(arguments[1].Expression, wanted));
            case "Min" when arguments.Count == 2:
                return Has(arguments[0].Expression, wanted) && Has(arguments[1].Expression, wanted);
            case "Clamp" when arguments.Count == 3:
                return wanted != Sign.NonZero && Has(arguments[1].Expression, wanted);
            default:
                return false;
        }
    }

    private bool ByCondition(ExpressionSyntax value, Sign wanted)
    {
        string key = Key(value);
        for (SyntaxNode child = value; child.Parent is { } parent && !IsFunction(child); child = parent)
        {
            (ExpressionSyntax? condition, bool holds) = parent switch
            {
                IfStatementSyntax @if when child == @if.Statement => (@if.Condition, true),
                IfStatementSyntax @if when child == @if.Else => (@if.Condition, false),
                ConditionalExpressionSyntax choice when child == choice.WhenTrue => (choice.Condition, true),
                ConditionalExpressionSyntax choice when child == choice.WhenFalse => (choice.Condition, false),
                WhileStatementSyntax loop when child == loop.Statement => (loop.Condition, true),
                ForStatementSyntax loop when child == loop.Statement || loop.Incrementors.Contains(child) => (loop.Condition, true),
                BinaryExpressionSyntax both when both.IsKind(SyntaxKind.LogicalAndExpression) && child == both.Right => (both.Left, true),
                BinaryExpressionSyntax either when either.IsKind(SyntaxKind.LogicalOrExpression) && child == either.Right => (either.Left, false),
                _ => ((ExpressionSyntax?)null, false),
            };
            if (condition != null && Shows(condition, holds, key, wanted) && !IsChangedBetween(value, condition.Span.End, wanted)) return true;
            foreach (StatementSyntax earlier in EarlierStatements(parent, child))
            {
                if (GuardShows(earlier, key, wanted) && !IsChangedBetween(value, earlier.Span.End, wanted)) return true;
            }
        }
        return false;
    }

    private bool GuardShows(StatementSyntax earlier, string key, Sign wanted)
    {
        if (earlier is WhileStatementSyntax loop) return !loop.DescendantNodes().Any(n => n is BreakStatementSyntax) && Shows(loop.Condition, false, key, wanted);
        if (earlier is not IfStatementSyntax { Else: null } guard || !Shows(guard.Condition, false, key, wanted)) return false;
        StatementSyntax last = guard.Statement is BlockSyntax { Statements.Count: > 0 } block ? block.Statements[^1] : guard.Statement;
        if (last is ReturnStatementSyntax or ThrowStatementSyntax or ContinueStatementSyntax or BreakStatementSyntax) return true;
        return last is ExpressionStatementSyntax { Expression: AssignmentExpressionSyntax { RawKind: (int)SyntaxKind.SimpleAssignmentExpression } assignment }
            && Key(assignment.Left) == key && Has(assignment.Right, wanted);
    }

    // What a condition says about the value with this key, when it holds or fails.
    private bool Shows(ExpressionSyntax condition, bool holds, string key, Sign wanted)
    {
        condition = Strip(condition);
        if (condition is PrefixUnaryExpressionSyntax negation && negation.IsKind(SyntaxKind.LogicalNotExpression)) return Shows(negation.Operand, !holds, key, wanted);
        if (condition is not BinaryExpressionSyntax test) return false;
        SyntaxKind kind = test.Kind();
        if (kind is SyntaxKind.LogicalAndExpression or SyntaxKind.LogicalOrExpression)
        {
            bool either = (kind == SyntaxKind.LogicalAndExpression) == holds;
            bool left = Shows(test.Left, holds, key, wanted), right = Shows(test.Right, holds, key, wanted);
            return either ? left || right : left && right;
        }
        if (!holds) kind = Opposite(kind);
        return ShowsByComparison(test.Left, kind, test.Right, key, wanted) || ShowsByComparison(test.Right, Mirrored(kind), test.Left, key, wanted);
    }

    private bool ShowsByComparison(ExpressionSyntax left, SyntaxKind kind, ExpressionSyntax right, string key, Sign wanted)
    {
        string subject = Key(Strip(left));
        if (kind == SyntaxKind.GreaterThanExpression && wanted != Sign.NotNegative && key == subject + "-" + Key(Strip(right))) return true;
        bool isMagnitude = wanted == Sign.NonZero && subject.EndsWith("Abs(" + key + ")", StringComparison.Ordinal);
        if (subject != key && !isMagnitude) return false;
        return kind switch
        {
            SyntaxKind.NotEqualsExpression => wanted == Sign.NonZero && IsZero(right),
            SyntaxKind.GreaterThanExpression => Has(right, Sign.NotNegative),
            SyntaxKind.GreaterThanOrEqualExpression => Has(right, wanted == Sign.NotNegative ? Sign.NotNegative : Sign.Positive),
            SyntaxKind.LessThanExpression => wanted == Sign.NonZero && (IsZero(right) || IsNegative(right)),
            SyntaxKind.LessThanOrEqualExpression => wanted == Sign.NonZero && IsNegative(right),
            SyntaxKind.EqualsExpression => Has(right, wanted),
            _ => false,
        };
    }

    private bool ByOrigin(ExpressionSyntax value, Sign wanted)
    {
        ISymbol? symbol = model.GetSymbolInfo(value).Symbol;
        if (symbol is IFieldSymbol or IPropertySymbol) return ByReadOnly(symbol, wanted) || (wanted == Sign.NotNegative && NeverFallsBelowZero(symbol));
        if (symbol is not ILocalSymbol and not IParameterSymbol) return false;
        string key = Key(value);
        for (SyntaxNode child = value; child.Parent is { } parent && !IsFunction(child); child = parent)
        {
            foreach (StatementSyntax earlier in EarlierStatements(parent, child).Reverse())
            {
                ExpressionSyntax? origin = earlier switch
                {
                    LocalDeclarationStatementSyntax local => local.Declaration.Variables.FirstOrDefault(v => v.Identifier.Text == key)?.Initializer?.Value,
                    ExpressionStatementSyntax { Expression: AssignmentExpressionSyntax { RawKind: (int)SyntaxKind.SimpleAssignmentExpression } set } when Key(set.Left) == key => set.Right,
                    _ => null,
                };
                if (origin != null) return Has(origin, wanted) && !IsChangedBetween(value, earlier.Span.End, wanted);
            }
            if (parent is ForStatementSyntax { Declaration: { } declaration } loop && child == loop.Statement
                && declaration.Variables.FirstOrDefault(v => v.Identifier.Text == key)?.Initializer?.Value is { } start)
            {
                return Has(start, wanted) && Changes(loop, key).All(change => KeepsSign(change, key, wanted));
            }
        }
        return false;
    }

    // A static readonly field keeps its initialiser; a read-only member of a class keeps what its constructors assign.
    private bool ByReadOnly(ISymbol symbol, Sign wanted)
    {
        if (symbol.DeclaringSyntaxReferences.FirstOrDefault()?.GetSyntax() is not { } declaration || symbol.ContainingType is not { TypeKind: TypeKind.Class } type) return false;
        bool isReadOnly = symbol is IFieldSymbol { IsReadOnly: true } || (symbol is IPropertySymbol { SetMethod: null } && declaration is PropertyDeclarationSyntax { AccessorList: not null } auto && auto.AccessorList!.Accessors.All(a => a.Body == null && a.ExpressionBody == null));
        if (!isReadOnly) return false;
        List<ExpressionSyntax> sources = [];
        if ((declaration as VariableDeclaratorSyntax)?.Initializer?.Value is { } initial) sources.Add(initial);
        if ((declaration as PropertyDeclarationSyntax)?.Initializer?.Value is { } value) sources.Add(value);
        foreach (SyntaxReference part in type.DeclaringSyntaxReferences)
        {
            foreach (ConstructorDeclarationSyntax constructor in part.GetSyntax().DescendantNodes().OfType<ConstructorDeclarationSyntax>())
            {
                if (constructor.Modifiers.Any(SyntaxKind.StaticKeyword) != symbol.IsStatic || constructor.Initializer?.ThisOrBaseKeyword.IsKind(SyntaxKind.ThisKeyword) == true) continue;
                ExpressionSyntax? assigned = constructor.DescendantNodes().OfType<AssignmentExpressionSyntax>().LastOrDefault(a => Key(a.Left) == symbol.Name)?.Right;
                if (assigned != null) sources.Add(assigned);
                else if (sources.Count == 0) return false;
            }
        }
        return sources.Count > 0 && sources.All(source => new ValueFacts(model.Compilation.GetSemanticModel(source.SyntaxTree)) { _depth = _depth }.Has(source, wanted));
    }

    // A private number of a class starts at zero; when every change in the class keeps it from falling below, it never does.
    private bool NeverFallsBelowZero(ISymbol symbol)
    {
        if (symbol is not { DeclaredAccessibility: Accessibility.Private, ContainingType: { TypeKind: TypeKind.Class } type } || type.DeclaringSyntaxReferences.Length != 1) return false;
        SyntaxNode code = type.DeclaringSyntaxReferences[0].GetSyntax();
        if (symbol.DeclaringSyntaxReferences[0].GetSyntax() is VariableDeclaratorSyntax { Initializer.Value: { } initial } && !Has(initial, Sign.NotNegative)) return false;
        return Changes(code, symbol.Name).All(change => KeepsSign(change, symbol.Name, Sign.NotNegative));
    }

    private static bool HasElements(IFieldSymbol field) =>
        field.DeclaringSyntaxReferences.FirstOrDefault()?.GetSyntax() is VariableDeclaratorSyntax { Initializer.Value: { } initial }
        && initial.DescendantNodesAndSelf().OfType<InitializerExpressionSyntax>().FirstOrDefault() is { Expressions.Count: > 0 };

    // Between a guard and the value, or anywhere in a loop that began after the guard, something may undo the guard.
    private bool IsChangedBetween(ExpressionSyntax value, int from, Sign wanted)
    {
        SyntaxNode member = value.Ancestors().First(n => n is MemberDeclarationSyntax or CompilationUnitSyntax);
        int until = value.Ancestors().Where(n => IsLoop(n) && n.SpanStart >= from).Select(n => n.Span.End).Append(value.SpanStart).Max();
        // The step of the loop whose condition is the guard runs before the next test, not between test and body.
        ForStatementSyntax? guarded = value.Ancestors().OfType<ForStatementSyntax>().FirstOrDefault(loop => loop.Condition?.Span.End == from && loop.Statement.Contains(value));
        foreach (string name in IdentifierNames(value))
        {
            foreach (SyntaxNode change in Changes(member, name))
            {
                if (change.SpanStart < from || change.SpanStart >= until) continue;
                if (guarded != null && guarded.Incrementors.Any(step => step.Contains(change))) continue;
                if (change.Contains(value) && until == value.SpanStart) continue;
                if (!KeepsSign(change, name, wanted)) return true;
            }
        }
        return false;
    }

    private static bool IsLoop(SyntaxNode node) => node is ForStatementSyntax or WhileStatementSyntax or DoStatementSyntax or ForEachStatementSyntax;

    private static bool IsFunction(SyntaxNode node) => node is MemberDeclarationSyntax or AnonymousFunctionExpressionSyntax or LocalFunctionStatementSyntax;

    private static IEnumerable<string> IdentifierNames(SyntaxNode value) =>
        value.DescendantNodesAndSelf().OfType<IdentifierNameSyntax>().Select(name => name.Identifier.Text).Distinct();

    private static IEnumerable<SyntaxNode> Changes(SyntaxNode within, string name) => within.DescendantNodes().Where(node => node switch
    {
        AssignmentExpressionSyntax assignment => Key(assignment.Left) == name,
        PrefixUnaryExpressionSyntax prefix => (prefix.IsKind(SyntaxKind.PreIncrementExpression) || prefix.IsKind(SyntaxKind.PreDecrementExpression)) && Key(prefix.Operand) == name,
        PostfixUnaryExpressionSyntax postfix => (postfix.IsKind(SyntaxKind.PostIncrementExpression) || postfix.IsKind(SyntaxKind.PostDecrementExpression)) && Key(postfix.Operand) == name,
        ArgumentSyntax argument => argument.RefKindKeyword.RawKind != 0 && !argument.RefKindKeyword.IsKind(SyntaxKind.InKeyword) && Key(argument.Expression) == name,
        _ => false,
    });

    // Scaling by a positive constant keeps a sign, counting up keeps it from falling; any other new value must have the sign if
    // the old one had it.
    private bool KeepsSign(SyntaxNode change, string name, Sign wanted)
    {
        if (change.IsKind(SyntaxKind.PreIncrementExpression) || change.IsKind(SyntaxKind.PostIncrementExpression)) return wanted != Sign.NonZero;
        if (change is not AssignmentExpressionSyntax set) return false;
        if (set.IsKind(SyntaxKind.MultiplyAssignmentExpression)) return IsPositiveConstant(set.Right);
        if (set.IsKind(SyntaxKind.DivideAssignmentExpression)) return IsFloating(set.Left) && IsPositiveConstant(set.Right);
        bool adds = set.IsKind(SyntaxKind.AddAssignmentExpression) && wanted != Sign.NonZero;
        if (!adds && !set.IsKind(SyntaxKind.SimpleAssignmentExpression)) return false;
        bool isNew = _assumed.Add((name, wanted));
        bool keeps = Has(set.Right, adds ? Sign.NotNegative : wanted);
        if (isNew) _assumed.Remove((name, wanted));
        return keeps;
    }

    private static bool IsMagnitude(ConditionalExpressionSyntax choice)
    {
        string condition = Key(Strip(choice.Condition)), whenTrue = Key(choice.WhenTrue), whenFalse = Key(choice.WhenFalse);
        return (whenTrue == "-" + whenFalse && condition == whenFalse + "<0") || (whenFalse == "-" + whenTrue && (condition == whenTrue + ">0" || condition == whenTrue + ">=0"));
    }

    private bool IsPositiveConstant(ExpressionSyntax value) =>
        model.GetConstantValue(value) is { HasValue: true, Value: IConvertible constant } && constant is not (string or bool or char) && Convert.ToDouble(constant) > 0;

    private static IEnumerable<StatementSyntax> EarlierStatements(SyntaxNode parent, SyntaxNode child) => parent switch
    {
        BlockSyntax block => block.Statements.TakeWhile(statement => statement != child),
        SwitchSectionSyntax section => section.Statements.TakeWhile(statement => statement != child),
        _ => [],
    };

    private bool IsZero(ExpressionSyntax value) => Constant(value) == 0;

    private bool IsNegative(ExpressionSyntax value) => Constant(value) < 0;

    private double? Constant(ExpressionSyntax value) =>
        model.GetConstantValue(value) is { HasValue: true, Value: IConvertible constant } && constant is not (string or bool or char) ? Convert.ToDouble(constant) : null;

    private bool IsFloating(ExpressionSyntax value) => model.GetTypeInfo(value).Type?.SpecialType is SpecialType.System_Double or SpecialType.System_Single;

    private int Bits(ExpressionSyntax value) => model.GetTypeInfo(value).Type?.SpecialType switch
    {
        SpecialType.System_SByte or SpecialType.System_Byte => 8,
        SpecialType.System_Int16 or SpecialType.System_UInt16 or SpecialType.System_Char => 16,
        SpecialType.System_Int64 or SpecialType.System_UInt64 => 64,
        _ => 32,
    };

    private static string Key(ExpressionSyntax value)
    {
        string text = string.Concat(value.ToString().Where(c => !char.IsWhiteSpace(c)));
        return text.StartsWith("this.", StringComparison.Ordinal) ? text["this.".Length..] : text;
    }

    private static ExpressionSyntax Strip(ExpressionSyntax value)
    {
        while (value is ParenthesizedExpressionSyntax inner) value = inner.Expression;
        return value;
    }

    private static SyntaxKind Opposite(SyntaxKind kind) => kind switch
    {
        SyntaxKind.EqualsExpression => SyntaxKind.NotEqualsExpression,
        SyntaxKind.NotEqualsExpression => SyntaxKind.EqualsExpression,
        SyntaxKind.LessThanExpression => SyntaxKind.GreaterThanOrEqualExpression,
        SyntaxKind.LessThanOrEqualExpression => SyntaxKind.GreaterThanExpression,
        SyntaxKind.GreaterThanExpression => SyntaxKind.LessThanOrEqualExpression,
        SyntaxKind.GreaterThanOrEqualExpression => SyntaxKind.LessThanExpression,
        _ => kind,
    };

    private static SyntaxKind Mirrored(SyntaxKind kind) => kind switch
    {
        SyntaxKind.LessThanExpression => SyntaxKind.GreaterThanExpression,
        SyntaxKind.LessThanOrEqualExpression => SyntaxKind.GreaterThanOrEqualExpression,
        SyntaxKind.GreaterThanExpression => SyntaxKind.LessThanExpression,
        SyntaxKind.GreaterThanOrEqualExpression => SyntaxKind.LessThanOrEqualExpression,
        _ => kind,
    };

    private enum Sign
    {
        NonZero,
        Positive,
        NotNegative,
    }
}
