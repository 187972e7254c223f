using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Intervalometer.Tests.Host.Subset.Rules;

internal sealed class OwnGenerics : SubsetRule
{
    public override string Name => "own-generics";
    public override string Reason => "a generic type or method of our own crashes the device's runtime";
    public override string Instead => "write the type or method once for each type that is needed";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model) => root.DescendantNodes().OfType<TypeParameterListSyntax>();
}

internal sealed class FuncAndAction : SubsetRule
{
    public override string Name => "func-action";
    public override string Reason => "a generic delegate of the class library crashes the device's runtime";
    public override string Instead => "declare a delegate of our own";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (SyntaxNode node in root.DescendantNodes())
        {
            switch (node)
            {
                case GenericNameSyntax name when IsGenericDelegate(model.GetSymbolInfo(name).Symbol as ITypeSymbol):
                    yield return node;
                    break;
                case AnonymousFunctionExpressionSyntax lambda when IsGenericDelegate(model.GetTypeInfo(lambda).ConvertedType):
                    yield return node;
                    break;
                case ExpressionSyntax expression when model.GetSymbolInfo(expression).Symbol is IMethodSymbol && IsGenericDelegate(model.GetTypeInfo(expression).ConvertedType):
                    yield return node;
                    break;
            }
        }
    }

    private static bool IsGenericDelegate(ITypeSymbol? type) =>
        type is INamedTypeSymbol { IsGenericType: true, Name: "Func" or "Action" or "Predicate" or "Comparison" or "EventHandler", ContainingNamespace.Name: "System" };
}

internal sealed class MultiDimensionalArrays : SubsetRule
{
    public override string Name => "multi-dimensional-arrays";
    public override string Reason => "the device's runtime has no such arrays";
    public override string Instead => "use a jagged array or one long array";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model) =>
        root.DescendantNodes().Where(node => node is ArrayRankSpecifierSyntax { Rank: > 1 } or ImplicitArrayCreationExpressionSyntax { Commas.Count: > 0 });
}

internal sealed class DefaultInterfaceMethods : SubsetRule
{
    public override string Name => "default-interface-methods";
    public override string Reason => "the device's runtime finds no body to call";
    public override string Instead => "put the body in a class";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (MemberDeclarationSyntax member in root.DescendantNodes().OfType<InterfaceDeclarationSyntax>().SelectMany(type => type.Members))
        {
            bool hasBody = member switch
            {
                BaseMethodDeclarationSyntax method => method.Body != null || method.ExpressionBody != null,
                PropertyDeclarationSyntax property => property.ExpressionBody != null || HasBody(property.AccessorList),
                IndexerDeclarationSyntax indexer => indexer.ExpressionBody != null || HasBody(indexer.AccessorList),
                EventDeclarationSyntax @event => HasBody(@event.AccessorList),
                _ => false,
            };
            if (hasBody) yield return member;
        }
    }

    private static bool HasBody(AccessorListSyntax? list) => list != null && list.Accessors.Any(a => a.Body != null || a.ExpressionBody != null);
}

internal sealed class CheckedArithmetic : SubsetRule
{
    public override string Name => "checked";
    public override string Reason => "the device ignores it and wraps round";
    public override string Instead => "compare with the limits before calculating";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model) =>
        root.DescendantNodes().Where(node => node.IsKind(SyntaxKind.CheckedExpression) || node.IsKind(SyntaxKind.CheckedStatement));
}

internal sealed class StaticInitialiserOrder : SubsetRule
{
    public override string Name => "static-initialiser-order";
    public override string Reason => "on the device the other type's static may still be zero";
    public override string Instead => "use a const, or read the other type's static at run time";

    public override IEnumerable<SyntaxNode> Check(SyntaxNode root, SemanticModel model)
    {
        foreach (SyntaxNode node in root.DescendantNodes())
        {
            SyntaxNode? code = node switch
            {
                FieldDeclarationSyntax field when field.Modifiers.Any(SyntaxKind.StaticKeyword) => field.Declaration,
                PropertyDeclarationSyntax property when property.Modifiers.Any(SyntaxKind.StaticKeyword) => property.Initializer,
                ConstructorDeclarationSyntax constructor when constructor.Modifiers.Any(SyntaxKind.StaticKeyword) => constructor,
                _ => null,
            };
            if (code == null) continue;
            INamedTypeSymbol? home = node.FirstAncestorOrSelf<TypeDeclarationSyntax>() is { } type ? model.GetDeclaredSymbol(type) : null;
            if (home != null && ReadsForeignStatic(code, model, home, [])) yield return node;
        }
    }

    // Follows calls into our own sources; types of the class library are ready before any of ours.
    private static bool ReadsForeignStatic(SyntaxNode code, SemanticModel model, INamedTypeSymbol home, HashSet<ISymbol> seen)
    {
        foreach (SyntaxNode node in code.DescendantNodes())
        {
            if (node is not (SimpleNameSyntax or BaseObjectCreationExpressionSyntax)) continue;
            ISymbol? symbol = model.GetSymbolInfo(node).Symbol;
            if (symbol == null || symbol.DeclaringSyntaxReferences.Length == 0 || !seen.Add(symbol)) continue;
            if (symbol is IFieldSymbol { IsStatic: true, IsConst: false } field && !SymbolEqualityComparer.Default.Equals(field.ContainingType, home)) return true;
            if (symbol is IPropertySymbol { IsStatic: true } property && IsStored(property) && !SymbolEqualityComparer.Default.Equals(property.ContainingType, home)) return true;
            if (symbol is not (IMethodSymbol or IPropertySymbol)) continue;
            foreach (SyntaxReference reference in symbol.DeclaringSyntaxReferences)
            {
                SyntaxNode body = reference.GetSyntax();
                if (body is TypeDeclarationSyntax) continue;
                if (ReadsForeignStatic(body, model.Compilation.GetSemanticModel(body.SyntaxTree), home, seen)) return true;
            }
        }
        return false;
    }

    private static bool IsStored(IPropertySymbol property) =>
        property.DeclaringSyntaxReferences.Any(reference => reference.GetSyntax() is PropertyDeclarationSyntax { ExpressionBody: null, AccessorList: { } list } && list.Accessors.All(a => a.Body == null && a.ExpressionBody == null));
}
