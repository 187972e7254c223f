using Microsoft.CodeAnalysis;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>One line for each type and member that other assemblies can see.</summary>
internal static class ContractSignatures
{
    private static readonly SymbolDisplayFormat Format = new(
        typeQualificationStyle: SymbolDisplayTypeQualificationStyle.NameAndContainingTypesAndNamespaces,
        memberOptions: SymbolDisplayMemberOptions.IncludeParameters | SymbolDisplayMemberOptions.IncludeType | SymbolDisplayMemberOptions.IncludeContainingType
            | SymbolDisplayMemberOptions.IncludeModifiers | SymbolDisplayMemberOptions.IncludeAccessibility | SymbolDisplayMemberOptions.IncludeConstantValue,
        parameterOptions: SymbolDisplayParameterOptions.IncludeType | SymbolDisplayParameterOptions.IncludeName
            | SymbolDisplayParameterOptions.IncludeDefaultValue | SymbolDisplayParameterOptions.IncludeParamsRefOut,
        propertyStyle: SymbolDisplayPropertyStyle.NameOnly,
        miscellaneousOptions: SymbolDisplayMiscellaneousOptions.UseSpecialTypes | SymbolDisplayMiscellaneousOptions.ExpandNullable);

    /// <summary>The lines of one assembly, sorted.</summary>
    public static SortedSet<string> Of(IAssemblySymbol assembly)
    {
        SortedSet<string> lines = new(StringComparer.Ordinal);
        AddNamespace(assembly.GlobalNamespace, lines);
        return lines;
    }

    private static void AddNamespace(INamespaceSymbol space, SortedSet<string> lines)
    {
        foreach (INamespaceSymbol inner in space.GetNamespaceMembers()) AddNamespace(inner, lines);
        foreach (INamedTypeSymbol type in space.GetTypeMembers()) AddType(type, lines);
    }

    private static void AddType(INamedTypeSymbol type, SortedSet<string> lines)
    {
        if (!IsVisible(type)) return;
        string name = type.ToDisplayString(Format);
        if (type.TypeKind == TypeKind.Delegate)
        {
            IMethodSymbol invoke = type.DelegateInvokeMethod!;
            string parameters = string.Join(", ", invoke.Parameters.Select(p => p.ToDisplayString(Format)));
            lines.Add($"delegate {invoke.ReturnType.ToDisplayString(Format)} {name}({parameters})");
            return;
        }
        lines.Add(Kind(type) + " " + name + (type.TypeKind == TypeKind.Enum ? " : " + type.EnumUnderlyingType!.ToDisplayString(Format) : Interfaces(type)));
        foreach (ISymbol member in type.GetMembers())
        {
            if (member is INamedTypeSymbol nested) AddType(nested, lines);
            else if (IsVisible(member) && !member.IsImplicitlyDeclared && IsOfInterest(member)) lines.Add(Member(member));
        }
    }

    private static string Member(ISymbol member)
    {
        string text = member.ToDisplayString(Format).Replace(" extern ", " ");
        if (member is IEventSymbol) text = "event " + text;
        if (member is IPropertySymbol property)
        {
            text += " {" + (property.GetMethod is { } get && IsVisible(get) ? " get;" : "") + (property.SetMethod is { } set && IsVisible(set) ? " set;" : "") + " }";
        }
        return text;
    }

    private static bool IsOfInterest(ISymbol member) =>
        member is not IMethodSymbol { AssociatedSymbol: not null } and not IMethodSymbol { MethodKind: MethodKind.Destructor };

    private static bool IsVisible(ISymbol symbol) =>
        symbol.DeclaredAccessibility is Accessibility.Public or Accessibility.Protected or Accessibility.ProtectedOrInternal;

    private static string Kind(INamedTypeSymbol type) => type.TypeKind switch
    {
        TypeKind.Enum => "enum",
        TypeKind.Struct => type.IsReadOnly ? "readonly struct" : "struct",
        TypeKind.Interface => "interface",
        _ => type.IsStatic ? "static class" : type.IsSealed ? "sealed class" : "class",
    };

    private static string Interfaces(INamedTypeSymbol type) =>
        type.Interfaces.Length == 0 ? "" : " : " + string.Join(", ", type.Interfaces.Select(i => i.ToDisplayString(Format)));
}
