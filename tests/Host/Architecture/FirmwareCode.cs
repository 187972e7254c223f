using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>The byte code of the firmware's assemblies: which method calls which, and which field it reads or writes.</summary>
internal sealed class FirmwareCode : IDisposable
{
    private static readonly string[] Names = ["Core", "Coast", "Settings", "Screens", "Drivers"];

    private readonly AssemblyDefinition[] _assemblies;
    private readonly Dictionary<string, MethodDefinition> _methods = [];
    private readonly ILookup<string, MethodDefinition> _virtual;

    public FirmwareCode()
    {
        _assemblies = [.. Names.Select(name => AssemblyDefinition.ReadAssembly(Path.Combine(AppContext.BaseDirectory, $"Intervalometer.{name}.dll")))];
        foreach (MethodDefinition method in Types.SelectMany(t => t.Methods)) _methods[method.FullName] = method;
        _virtual = _methods.Values.Where(m => m.IsVirtual).ToLookup(Slot);
    }

    public IEnumerable<TypeDefinition> Types => _assemblies.SelectMany(a => a.MainModule.GetTypes());

    /// <summary>What can be done to fields by some methods and all that they call; virtual calls go to every method of that name and parameters.</summary>
    public FieldUse UseFrom(IEnumerable<string> roots)
    {
        var use = new FieldUse();
        var seen = new HashSet<MethodDefinition>();
        var todo = new Stack<MethodDefinition>();
        foreach (string root in roots)
        {
            MethodDefinition[] found = [.. _methods.Values.Where(m => m.DeclaringType.Name + "." + m.Name == root)];
            Assert.AreEqual(1, found.Length, $"{root} is looked for by its name");
            todo.Push(found[0]);
        }
        while (todo.TryPop(out MethodDefinition? method))
        {
            if (!seen.Add(method) || !method.HasBody) continue;
            use.Methods++;
            use.Namespaces.Add(Outer(method.DeclaringType).Namespace);
            use.Add(method);
            foreach (Instruction instruction in method.Body.Instructions)
            {
                if (instruction.Operand is not MethodReference called) continue;
                if (_methods.TryGetValue(called.FullName, out MethodDefinition? target)) todo.Push(target);
                if (instruction.OpCode == OpCodes.Callvirt) foreach (MethodDefinition possible in _virtual[Slot(called)]) todo.Push(possible);
            }
        }
        return use;
    }

    // A type within another one has no namespace of its own.
    private static TypeDefinition Outer(TypeDefinition type) => type.DeclaringType is null ? type : Outer(type.DeclaringType);

    private static string Slot(MethodReference method) => $"{method.Name}({string.Join(",", method.Parameters.Select(p => p.ParameterType.FullName))})";

    public void Dispose()
    {
        foreach (AssemblyDefinition assembly in _assemblies) assembly.Dispose();
    }
}

/// <summary>Fields by "Namespace.Type::field", and by "…[]" for what an array in it holds.</summary>
internal sealed class FieldUse
{
    public int Methods { get; set; }

    /// <summary>The namespaces of the methods that are reached, constructors too.</summary>
    public HashSet<string> Namespaces { get; } = [];

    public HashSet<string> Read { get; } = [];

    public HashSet<string> Written { get; } = [];

    public static string Name(FieldReference field) => field.DeclaringType.FullName.Replace('/', '+') + "::" + field.Name;

    public void Add(MethodDefinition method)
    {
        if (method.IsConstructor) return;
        var arrays = new HashSet<string>();
        bool reads = false, writes = false;
        foreach (Instruction instruction in method.Body.Instructions)
        {
            Code code = instruction.OpCode.Code;
            if (instruction.Operand is FieldReference field)
            {
                if (code is Code.Stfld or Code.Stsfld or Code.Ldflda or Code.Ldsflda) Written.Add(Name(field));
                if (code is Code.Ldfld or Code.Ldsfld or Code.Ldflda or Code.Ldsflda)
                {
                    Read.Add(Name(field));
                    if (field.FieldType.IsArray) arrays.Add(Name(field) + "[]");
                }
            }
            string name = code.ToString();
            reads |= name.StartsWith("Ldelem", StringComparison.Ordinal);
            writes |= name.StartsWith("Stelem", StringComparison.Ordinal) || code == Code.Ldelema;
        }
        if (reads) Read.UnionWith(arrays);
        if (writes) Written.UnionWith(arrays);
    }
}
