using Mono.Cecil;

namespace Intervalometer.Tests.Budgets;

/// <summary>How much the signatures of an assembly take in the device's file: each is written once, also when it stands inside another.</summary>
internal sealed class Signatures(ModuleDefinition module, TypeReference[] typeReferences, TypeDefinition[] types)
{
    private const byte OwnType = 0, ReferredType = 1, SpecialType = 2;
    private const int WideToken = 0x80;

    private readonly Dictionary<string, int> _referred = Numbered(typeReferences.Select(t => t.FullName));
    private readonly Dictionary<string, int> _own = Numbered(types.Select(t => t.FullName).Order(StringComparer.Ordinal));
    private readonly HashSet<string> _seen = [];
    private readonly List<byte> _table = [];

    /// <summary>Bytes of all that an assembly needs.</summary>
    public int Bytes(FieldDefinition[] fields, MethodDefinition[] methods, MemberReference[] memberReferences)
    {
        foreach (MemberReference member in memberReferences)
        {
            if (member is FieldReference field) Add(Field(field));
            else if (member is MethodReference method) Add(Method(method));
        }
        foreach (TypeDefinition type in types.Where(t => t.HasInterfaces)) Add([(byte)type.Interfaces.Count, .. type.Interfaces.SelectMany(i => Token(i.InterfaceType))]);
        foreach (FieldDefinition field in fields)
        {
            Add(Field(field));
            if (field.InitialValue.Length > 0) Add([(byte)field.InitialValue.Length, (byte)(field.InitialValue.Length >> 8), .. field.InitialValue]);
        }
        foreach (MethodDefinition method in methods)
        {
            Add(Method(method));
            if (method.HasBody && method.Body.HasVariables) Add([.. method.Body.Variables.SelectMany(v => Type(v.VariableType))]);
        }
        return _table.Count;
    }

    private static Dictionary<string, int> Numbered(IEnumerable<string> names)
    {
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (string name in names) numbers.TryAdd(name, numbers.Count);
        return numbers;
    }

    private void Add(byte[] signature)
    {
        if (signature.Length == 0 || !_seen.Add(Convert.ToHexString(signature))) return;
        ReadOnlySpan<byte> table = System.Runtime.InteropServices.CollectionsMarshal.AsSpan(_table);
        if (table.IndexOf(signature) < 0) _table.AddRange(signature);
    }

    private byte[] Field(FieldReference field) => [6, .. Type(field.FieldType)];

    private byte[] Method(MethodReference method) =>
        [(byte)(method.HasThis ? 0x20 : 0), (byte)method.Parameters.Count, .. Type(method.ReturnType), .. method.Parameters.SelectMany(p => Type(p.ParameterType))];

    // What the bytes are does not matter, as long as the same types give the same ones and as many as in the file.
    private byte[] Type(TypeReference type) => type switch
    {
        ByReferenceType reference => [0x40, .. Type(reference.ElementType)],
        ArrayType array => [0x41, .. Type(array.ElementType)],
        _ when type.MetadataType is not (MetadataType.Class or MetadataType.ValueType) => [(byte)type.MetadataType],
        _ => [(byte)type.MetadataType, .. Token(type)],
    };

    private byte[] Token(TypeReference type)
    {
        int token = type.Module == module && _own.TryGetValue(type.FullName, out int own) ? own << 2 | OwnType
            : _referred.TryGetValue(type.FullName, out int referred) ? referred << 2 | ReferredType : SpecialType;
        return token < WideToken ? [(byte)token] : [(byte)(0x80 | token >> 8), (byte)token];
    }
}
