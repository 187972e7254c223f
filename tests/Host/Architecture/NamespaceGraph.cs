using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>Which namespace of the firmware uses a type of which other namespace.</summary>
internal sealed class NamespaceGraph
{
    private const string Ours = "Intervalometer.";

    private readonly SortedDictionary<string, SortedDictionary<string, string>> _knows = new(StringComparer.Ordinal);

    public NamespaceGraph(IEnumerable<TypeDefinition> types)
    {
        foreach (TypeDefinition type in types) Add(type);
    }

    public int Count => _knows.Count;

    /// <summary>Each namespace that is part of a circle of references, with one type as the reason.</summary>
    public IEnumerable<string> Cycles()
    {
        foreach ((string from, SortedDictionary<string, string> others) in _knows)
        {
            foreach ((string to, string reason) in others.Where(o => Reaches(o.Key, from))) yield return $"{from} knows {to} ({reason}), and the other way round";
        }
    }

    /// <summary>The types outside that the namespaces with a given beginning use.</summary>
    public string[] Known(string from) =>
        [.. _knows.Where(k => k.Key.StartsWith(from, StringComparison.Ordinal)).SelectMany(k => k.Value.Keys).Where(to => !to.StartsWith(from, StringComparison.Ordinal)).Distinct().Order(StringComparer.Ordinal)];

    public override string ToString() => string.Join("\n", _knows.Select(k => $"{k.Key}: {string.Join(", ", k.Value.Keys)}"));

    private bool Reaches(string from, string to)
    {
        var seen = new HashSet<string>();
        var todo = new Stack<string>([from]);
        while (todo.TryPop(out string? each))
        {
            if (each == to) return true;
            if (seen.Add(each) && _knows.TryGetValue(each, out SortedDictionary<string, string>? others)) foreach (string next in others.Keys) todo.Push(next);
        }
        return false;
    }

    private void Add(TypeDefinition type)
    {
        Note(type, type.BaseType);
        foreach (InterfaceImplementation each in type.Interfaces) Note(type, each.InterfaceType);
        foreach (FieldDefinition field in type.Fields) Note(type, field.FieldType);
        foreach (MethodDefinition method in type.Methods)
        {
            Note(type, method.ReturnType);
            foreach (ParameterDefinition parameter in method.Parameters) Note(type, parameter.ParameterType);
            if (!method.HasBody) continue;
            foreach (VariableDefinition local in method.Body.Variables) Note(type, local.VariableType);
            foreach (Instruction instruction in method.Body.Instructions)
            {
                if (instruction.Operand is MemberReference member) Note(type, member as TypeReference ?? member.DeclaringType);
                if (instruction.Operand is MethodReference called) Note(type, called.ReturnType);
                if (instruction.Operand is FieldReference field) Note(type, field.FieldType);
            }
        }
    }

    private void Note(TypeDefinition by, TypeReference? used)
    {
        string from = Outer(by).Namespace;
        while (used is TypeSpecification made) used = made.ElementType;
        string to = used is null ? "" : Outer(used).Namespace;
        if (!from.StartsWith(Ours, StringComparison.Ordinal)) return;
        if (!_knows.ContainsKey(from)) _knows[from] = new SortedDictionary<string, string>(StringComparer.Ordinal);
        if (to.StartsWith(Ours, StringComparison.Ordinal) && to != from) _knows[from].TryAdd(to, $"{by.Name} names {used!.Name}");
    }

    private static TypeReference Outer(TypeReference type) => type.DeclaringType is null ? type : Outer(type.DeclaringType);
}
