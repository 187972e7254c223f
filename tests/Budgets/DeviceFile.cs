using System.Text;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// What the platform's metadata processor makes of an assembly (.pe), counted from the assembly itself: how large the file is, how much
/// byte code it holds, and what its tables take of the heap when the runtime loads it.
/// </summary>
/// <remarks>
/// Written after the public sources (nanoframework/metadata-processor, the Tables folder and CodeWriter.cs; nanoframework/nf-interpreter,
/// TypeSystem.cpp): a head of 124 bytes, then records of 12 bytes for a referred assembly, 8 for a referred type, field or method, 24 for a
/// type, 8 for a field, 16 for a method, 8 for an attribute; each text once, each signature once; IL with two bytes for a token. On the
/// heap: 136 bytes, 4 for each reference, 8 for a type, 2 for a field and for a method, 12 for a static field. The names that every
/// runtime holds already are not in the file, and are not known here: those of the class library's own members stand for them.
/// tests/DeviceBoard holds the counts against the real files.
/// </remarks>
public sealed record DeviceFile
{
    private const int HeadBytes = 124;
    private const int AssemblyHeapBytes = 136;

    // The processor leaves these out of a file, because only compilers and debuggers use them.
    private static readonly string[] ForCompilers =
    [
        "System.ParamArrayAttribute", "System.FlagsAttribute", "System.ObsoleteAttribute", "System.AttributeUsageAttribute", "System.AttributeTargets", "System.CLSCompliantAttribute",
        "System.Diagnostics.ConditionalAttribute", "System.Diagnostics.DebuggableAttribute", "System.Diagnostics.DebuggerBrowsableAttribute", "System.Diagnostics.DebuggerHiddenAttribute", "System.Diagnostics.DebuggerNonUserCodeAttribute",
        "System.Reflection.DefaultMemberAttribute", "System.Runtime.CompilerServices.ExtensionAttribute", "System.Runtime.CompilerServices.InternalsVisibleToAttribute",
        "System.Runtime.CompilerServices.NullableAttribute", "System.Runtime.CompilerServices.NullableContextAttribute", "System.Runtime.CompilerServices.RefSafetyRulesAttribute",
        "System.Runtime.InteropServices.StructLayoutAttribute",
    ];

    /// <summary>Name of the assembly.</summary>
    public required string Name { get; init; }

    /// <summary>Referred assemblies.</summary>
    public required int Assemblies { get; init; }

    /// <summary>Referred types, fields and methods of other assemblies.</summary>
    public required int References { get; init; }

    /// <summary>Own types.</summary>
    public required int Types { get; init; }

    /// <summary>Own fields, constants not counted.</summary>
    public required int Fields { get; init; }

    /// <summary>Static ones among them.</summary>
    public required int StaticFields { get; init; }

    /// <summary>Static ones that hold the data of an array; each is an object.</summary>
    public required int StaticData { get; init; }

    /// <summary>Own methods.</summary>
    public required int Methods { get; init; }

    /// <summary>Attributes that stay.</summary>
    public required int Attributes { get; init; }

    /// <summary>Bytes of texts: names and literals.</summary>
    public required int TextBytes { get; init; }

    /// <summary>Bytes of signatures and of the data of arrays.</summary>
    public required int SignatureBytes { get; init; }

    /// <summary>Bytes of byte code, the handlers of exceptions included.</summary>
    public required int CodeBytes { get; init; }

    /// <summary>Size of the file.</summary>
    public int FileBytes => HeadBytes + 12 * Assemblies + 8 * (References + Fields + Attributes) + 24 * Types + 16 * Methods + Whole(TextBytes) + Whole(SignatureBytes) + Whole(CodeBytes);

    /// <summary>What its tables take of the heap, the static fields included, in whole blocks.</summary>
    public int HeapBytes => (AssemblyHeapBytes + 4 * (Assemblies + References) + 8 * Types + Whole(2 * Fields) + Whole(2 * Methods) + NanoHeap.BlockBytes * StaticFields + NanoHeap.BlockBytes - 1) / NanoHeap.BlockBytes * NanoHeap.BlockBytes;

    /// <summary>Counts an assembly. The class library must lie beside it.</summary>
    public static DeviceFile Of(string path)
    {
        using var resolver = new DefaultAssemblyResolver();
        resolver.AddSearchDirectory(Path.GetDirectoryName(path));
        using AssemblyDefinition assembly = AssemblyDefinition.ReadAssembly(path, new ReaderParameters { AssemblyResolver = resolver });
        ModuleDefinition module = assembly.MainModule;
        TypeDefinition[] types = [.. module.GetTypes().Where(t => t.FullName != "<Module>" && !IsForCompilers(t) || t.FullName is "System.Runtime.CompilerServices.NullableAttribute" or "System.Runtime.CompilerServices.NullableContextAttribute")];
        FieldDefinition[] fields = [.. types.SelectMany(t => t.Fields).Where(f => !f.HasConstant)];
        MethodDefinition[] methods = [.. types.SelectMany(t => t.Methods)];
        TypeReference[] typeReferences = [.. module.GetTypeReferences().Where(t => !IsForCompilers(t))];
        MemberReference[] memberReferences = [.. module.GetMemberReferences().Where(m => !IsForCompilers(m.DeclaringType))];
        return new DeviceFile
        {
            Name = assembly.Name.Name,
            Assemblies = module.AssemblyReferences.Count,
            References = typeReferences.Length + memberReferences.Length,
            Types = types.Length,
            Fields = fields.Length,
            StaticFields = fields.Count(f => f.IsStatic),
            StaticData = fields.Count(f => f.IsStatic && f.InitialValue.Length > 0),
            Methods = methods.Length,
            Attributes = types.Concat<ICustomAttributeProvider>(fields).Concat(methods).SelectMany(owner => owner.CustomAttributes).Count(a => !IsForCompilers(a.AttributeType)),
            TextBytes = Texts(assembly, types, fields, methods, typeReferences, memberReferences).Sum(text => Encoding.UTF8.GetByteCount(text) + 1),
            SignatureBytes = new Signatures(module, typeReferences, types).Bytes(fields, methods, memberReferences),
            CodeBytes = methods.Where(m => m.HasBody).Sum(m => Code(m.Body)),
        };
    }

    private static bool IsForCompilers(TypeReference type) => ForCompilers.Contains(type.FullName);

    private static int Whole(int bytes) => (bytes + 3) / 4 * 4;

    private static HashSet<string> Texts(AssemblyDefinition assembly, TypeDefinition[] types, FieldDefinition[] fields, MethodDefinition[] methods, TypeReference[] typeReferences, MemberReference[] memberReferences)
    {
        ModuleDefinition module = assembly.MainModule;
        var names = new HashSet<string>(StringComparer.Ordinal) { "", assembly.Name.Name };
        names.UnionWith(module.AssemblyReferences.Select(r => r.Name));
        foreach (TypeReference type in typeReferences.Concat<TypeReference>(types)) names.UnionWith([type.Namespace, type.Name]);
        names.UnionWith(fields.Concat<MemberReference>(methods).Concat(memberReferences).Select(m => m.Name));
        names.ExceptWith(Common(module));
        names.UnionWith(methods.Where(m => m.HasBody).SelectMany(m => m.Body.Instructions).Select(i => i.Operand).OfType<string>());
        return names;
    }

    // Every runtime has a table of common names; it is the names of the class library, attributes apart, more or less.
    private static HashSet<string> Common(ModuleDefinition module)
    {
        AssemblyNameReference? library = module.AssemblyReferences.FirstOrDefault(r => r.Name == "mscorlib");
        var names = new HashSet<string>(StringComparer.Ordinal);
        if (library is null) return names;
        foreach (TypeDefinition type in module.AssemblyResolver.Resolve(library).MainModule.GetTypes().Where(t => !t.Name.EndsWith("Attribute", StringComparison.Ordinal)))
        {
            names.UnionWith([type.Namespace, type.Name]);
            names.UnionWith(type.Methods.Concat<MemberReference>(type.Fields).Select(m => m.Name));
        }
        return names;
    }

    private static int Code(MethodBody body)
    {
        int bytes = body.HasExceptionHandlers ? 12 * body.ExceptionHandlers.Count + 1 : 0;
        foreach (Instruction instruction in body.Instructions)
        {
            bytes += instruction.OpCode.Size + instruction.OpCode.OperandType switch
            {
                OperandType.InlineNone => 0,
                OperandType.InlineSwitch => 1 + 2 * ((Instruction[])instruction.Operand).Length,
                OperandType.ShortInlineBrTarget or OperandType.ShortInlineVar or OperandType.ShortInlineArg or OperandType.ShortInlineI => 1,
                OperandType.InlineI8 or OperandType.InlineR => 8,
                OperandType.InlineI or OperandType.ShortInlineR or OperandType.InlineTok => 4,
                _ => 2,
            };
        }
        return bytes;
    }
}
