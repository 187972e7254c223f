using System.Reflection;
using System.Runtime.CompilerServices;

namespace Intervalometer.Tests.Budgets;

/// <summary>What stays on the device's heap: every object of the firmware that can be reached, at the sizes of <see cref="NanoHeap"/>. No collector is asked.</summary>
/// <remarks>Not counted here: assembly tables with the static fields, threads and their stacks (<see cref="HeapCount"/>); nor pins, bus and converter.</remarks>
public sealed class HeapWalk
{
    private const BindingFlags OwnInstance = BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly;
    private const BindingFlags OwnStatic = BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly;

    // The device keeps these in the field itself.
    private static readonly string[] Inline = ["System.DateTime", "System.TimeSpan"];

    private readonly HashSet<object> _seen = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<Type, FieldInfo[]> _fields = [];
    private readonly Dictionary<string, long> _byType = [];
    private readonly Stack<object> _waiting = new();
    private readonly Assembly[] _firmware;

    /// <summary>A walk over the objects of these assemblies, their arrays, texts and delegates.</summary>
    public HeapWalk(params Assembly[] firmware) => _firmware = firmware;

    /// <summary>Bytes so far.</summary>
    public long Bytes { get; private set; }

    /// <summary>The bytes by type, to find what is large.</summary>
    public IReadOnlyDictionary<string, long> ByType => _byType;

    /// <summary>Adds everything that static fields hold; the fields themselves stand in their assembly's tables.</summary>
    public HeapWalk AddStatics()
    {
        foreach (Type type in _firmware.SelectMany(assembly => assembly.GetTypes()).Where(type => !type.ContainsGenericParameters && !type.Name.StartsWith("<PrivateImpl", StringComparison.Ordinal)))
        {
            if (type.DeclaringType?.Name.StartsWith("<PrivateImpl", StringComparison.Ordinal) == true) continue;
            RuntimeHelpers.RunClassConstructor(type.TypeHandle);
            foreach (FieldInfo field in type.GetFields(OwnStatic).Where(f => !f.IsLiteral))
            {
                AddField(field, null);
            }
        }
        return Drain();
    }

    /// <summary>Adds everything that can be reached from an object.</summary>
    public HeapWalk Add(object root)
    {
        Meet(root);
        return Drain();
    }

    private HeapWalk Drain()
    {
        while (_waiting.TryPop(out object? found)) Weigh(found);
        return this;
    }

    private void Weigh(object found)
    {
        Type type = found.GetType();
        if (found is string text)
        {
            bool literal = ReferenceEquals(string.IsInterned(text), text);
            Take("text", literal ? NanoHeap.LiteralBytes : NanoHeap.TextBytes(text.Length));
        }
        else if (found is Array array)
        {
            Type element = type.GetElementType()!;
            Take($"{element.Name}[{array.Length}]", NanoHeap.ArrayBytes(array.Length, ElementBytes(element)));
            if (element.IsPrimitive || element.IsEnum) return;
            foreach (object? item in array)
            {
                if (item == null) continue;
                if (element.IsValueType) Inside(item);
                else Meet(item);
            }
        }
        else if (found is Delegate handler)
        {
            foreach (Delegate one in handler.GetInvocationList())
            {
                Take("delegate", NanoHeap.DelegateBytes);
                if (one.Target != null) Meet(one.Target);
            }
        }
        else if (_firmware.Contains(type.Assembly)) Inside(found);
        else if (IsLeftOut(type.Assembly)) throw new InvalidOperationException($"{type} belongs to the firmware, but {type.Assembly.GetName().Name} is not among the assemblies that are counted");
    }

    private static bool IsLeftOut(Assembly assembly) =>
        assembly.GetName().Name is string name && name.StartsWith("Intervalometer.", StringComparison.Ordinal) && !name.Contains("VirtualBoard") && !name.Contains("BoardModel") && !name.Contains("Tests");

    private void Take(string type, long bytes)
    {
        Bytes += bytes;
        _byType[type] = _byType.GetValueOrDefault(type) + bytes;
    }

    // An object, or a struct, which the device keeps as an object.
    private void Inside(object found)
    {
        FieldInfo[] fields = Fields(found.GetType());
        Take(found.GetType().Name, NanoHeap.ObjectBytes(fields.Length));
        foreach (FieldInfo field in fields) AddField(field, found);
    }

    private void AddField(FieldInfo field, object? owner)
    {
        Type type = field.FieldType;
        if (type.IsPrimitive || type.IsEnum || type.IsPointer) return;
        if (field.GetValue(owner) is not object value) return;
        if (!type.IsValueType) Meet(value);
        else if (_firmware.Contains(type.Assembly)) Inside(value);
        else if (!Inline.Contains(type.FullName)) Take(type.Name, NanoHeap.ObjectBytes(1));
    }

    private void Meet(object value)
    {
        if (_seen.Add(value)) _waiting.Push(value);
    }

    private FieldInfo[] Fields(Type type)
    {
        if (_fields.TryGetValue(type, out FieldInfo[]? known)) return known;
        var fields = new List<FieldInfo>();
        for (Type? at = type; at != null && at != typeof(object) && at != typeof(ValueType); at = at.BaseType) fields.AddRange(at.GetFields(OwnInstance));
        return _fields[type] = [.. fields];
    }

    private static int ElementBytes(Type type) => Type.GetTypeCode(type.IsEnum ? Enum.GetUnderlyingType(type) : type) switch
    {
        TypeCode.Boolean or TypeCode.Byte or TypeCode.SByte => 1,
        TypeCode.Char or TypeCode.Int16 or TypeCode.UInt16 => 2,
        TypeCode.Int32 or TypeCode.UInt32 or TypeCode.Single => 4,
        TypeCode.Int64 or TypeCode.UInt64 or TypeCode.Double => 8,
        _ => NanoHeap.BlockBytes,
    };
}
