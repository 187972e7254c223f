using Mono.Cecil;
using Mono.Cecil.Cil;
using Mono.Cecil.Rocks;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// Makes an assembly count itself: each basic block adds the number of its instructions, and what its calls, allocations and
/// locks cost besides, to <see cref="Meter"/> before it runs.
/// </summary>
/// <remarks>
/// Weights: an instruction 1, a call 14 more, or 82 more when it returns a struct, an object 30 more, a text that is made 330, an exception 145 and a
/// lock 180 more: measured on the platform's own runtime on a PC, in plain instructions of that runtime. An instruction is put at 2 µs, an estimate.
/// Allocations: objects, arrays, boxes, texts that the class library returns, a text of the program when it is loaded, and locals of a
/// struct type, which the device makes on its heap each time their method is called. What copying a struct costs besides is not counted.
/// </remarks>
public sealed class Rewriter
{
    /// <summary>What is added to the one instruction of a call, an object, a call that returns a struct, a call that makes a text, an exception and a lock.</summary>
    public const int CallCost = 14, AllocationCost = 30, StructCallCost = 82, TextCost = 330, ThrowCost = 145, LockCost = 180;

    // Value types of other assemblies; anything else stops the rewriting, so that nothing goes uncounted.
    private static readonly string[] OtherEnums = ["System.Device.Gpio.PinMode"];
    private static readonly string[] OtherStructs = ["System.Device.Gpio.PinValue"];
    private static readonly string[] Unboxed = ["System.DateTime", "System.TimeSpan", "System.RuntimeFieldHandle"];

    private readonly ModuleDefinition _module;
    private readonly string[] _watched;
    private readonly FieldReference _il, _weighted, _allocations, _bytes;
    private readonly MethodReference _enter, _exit, _push, _pop, _leave, _back, _array, _text, _make;
    private readonly bool _runsOut;

    private Rewriter(AssemblyDefinition assembly, string[] watched, bool runsOut)
    {
        _module = assembly.MainModule;
        _runsOut = runsOut;
        _watched = watched;
        FieldReference Field(string name) => _module.ImportReference(typeof(Meter).GetField(name));
        MethodReference Method(string name) => _module.ImportReference(typeof(Meter).GetMethod(name));
        (_il, _weighted, _allocations, _bytes) = (Field(nameof(Meter.Il)), Field(nameof(Meter.Weighted)), Field(nameof(Meter.Allocations)), Field(nameof(Meter.Bytes)));
        (_enter, _exit) = (Method(nameof(Meter.Enter)), Method(nameof(Meter.Exit)));
        (_push, _pop) = (Method(nameof(Meter.Push)), Method(nameof(Meter.Pop)));
        (_leave, _back) = (Method(nameof(Meter.LeaveFirmware)), Method(nameof(Meter.ReturnToFirmware)));
        (_array, _text, _make) = (Method(nameof(Meter.Array)), Method(nameof(Meter.Text)), Method(nameof(Meter.Make)));
    }

    /// <summary>Rewrites a file into memory. The device's class library is replaced by the PC's, which forwards the same names.</summary>
    /// <param name="path">The assembly.</param>
    /// <param name="watched">"Type.Method" of what is watched, all assemblies together.</param>
    /// <param name="seen">Takes the names that were found.</param>
    /// <param name="runsOut">True to let the memory run out before any allocation (<see cref="Meter.Make"/>).</param>
    public static byte[] Rewrite(string path, string[] watched, ISet<string> seen, bool runsOut = false)
    {
        using AssemblyDefinition assembly = AssemblyDefinition.ReadAssembly(path);
        foreach (AssemblyNameReference library in assembly.MainModule.AssemblyReferences.Where(r => r.Name == "mscorlib"))
        {
            library.Version = new Version(4, 0, 0, 0);
            library.PublicKeyToken = [0xb7, 0x7a, 0x5c, 0x56, 0x19, 0x34, 0xe0, 0x89];
        }
        var rewriter = new Rewriter(assembly, watched, runsOut);
        foreach (TypeDefinition type in assembly.MainModule.GetTypes())
        {
            foreach (MethodDefinition method in type.Methods.Where(m => m.HasBody))
            {
                string name = type.Name + "." + method.Name;
                if (watched.Contains(name)) seen.Add(name);
                rewriter.Count(method, System.Array.IndexOf(watched, name));
            }
        }
        using var output = new MemoryStream();
        assembly.Write(output);
        return output.ToArray();
    }

    private void Count(MethodDefinition method, int watch)
    {
        MethodBody body = method.Body;
        int frame = NanoHeap.FrameBytes(body);
        body.SimplifyMacros();
        Instruction[] original = [.. body.Instructions];
        HashSet<Instruction> leaders = Leaders(body);
        var before = new Dictionary<Instruction, List<Instruction>>();
        var after = new Dictionary<Instruction, List<Instruction>>();
        Cost entry = new(0, 0, 0, 0);
        foreach (VariableDefinition local in body.Variables) entry += Struct(local.VariableType);

        for (int i = 0; i < original.Length;)
        {
            int end = i + 1;
            while (end < original.Length && !leaders.Contains(original[end])) end++;
            Cost block = i == 0 ? entry : default;
            for (int k = i; k < end; k++) block += Of(original[k]);
            List<Instruction> add = [];
            Add(add, _il, block.Il);
            Add(add, _weighted, block.Weighted);
            if (block.Allocations > 0) Add(add, _allocations, block.Allocations);
            if (block.Bytes > 0) Add(add, _bytes, block.Bytes);
            if (_runsOut && i == 0 && entry.Allocations > 0) add.Insert(0, Instruction.Create(OpCodes.Call, _make));
            if (i == 0) add.InsertRange(0, [Instruction.Create(OpCodes.Ldc_I4, frame), Instruction.Create(OpCodes.Call, _push)]);
            if (i == 0 && watch >= 0) add.InsertRange(0, [Instruction.Create(OpCodes.Ldc_I4, watch), Instruction.Create(OpCodes.Call, _enter)]);
            before[original[i]] = add;
            i = end;
        }
        foreach (Instruction instruction in original) AddCalls(instruction, watch, frame, before, after);

        ILProcessor il = body.GetILProcessor();
        foreach (Instruction instruction in original)
        {
            if (before.TryGetValue(instruction, out List<Instruction>? first)) foreach (Instruction added in first) il.InsertBefore(instruction, added);
            if (!after.TryGetValue(instruction, out List<Instruction>? last)) continue;
            Instruction place = instruction;
            foreach (Instruction added in last)
            {
                il.InsertAfter(place, added);
                place = added;
            }
        }
        Redirect(body, original, instruction => leaders.Contains(instruction) && before.TryGetValue(instruction, out List<Instruction>? first) ? first[0] : instruction);
        body.OptimizeMacros();
    }

    private void AddCalls(Instruction instruction, int watch, int frame, Dictionary<Instruction, List<Instruction>> before, Dictionary<Instruction, List<Instruction>> after)
    {
        List<Instruction> Before() => before.TryGetValue(instruction, out List<Instruction>? list) ? list : before[instruction] = [];
        if (instruction.OpCode == OpCodes.Ret) Before().AddRange([Instruction.Create(OpCodes.Ldc_I4, frame), Instruction.Create(OpCodes.Call, _pop)]);
        if (instruction.OpCode == OpCodes.Ret && watch >= 0) Before().AddRange([Instruction.Create(OpCodes.Ldc_I4, watch), Instruction.Create(OpCodes.Call, _exit)]);
        if (_runsOut && Of(instruction).Allocations > 0) Before().Add(Instruction.Create(OpCodes.Call, _make));
        if (instruction.OpCode == OpCodes.Newarr)
        {
            Before().AddRange([Instruction.Create(OpCodes.Dup), Instruction.Create(OpCodes.Ldc_I4, ElementBytes((TypeReference)instruction.Operand)), Instruction.Create(OpCodes.Call, _array)]);
        }
        if (instruction.Operand is not MethodReference called || IsOurs(called.DeclaringType)) return;
        if (called.DeclaringType.Namespace.StartsWith("System.Device.", StringComparison.Ordinal) && instruction.OpCode != OpCodes.Newobj)
        {
            Before().Add(Instruction.Create(OpCodes.Call, _leave));
            after[instruction] = [Instruction.Create(OpCodes.Call, _back)];
        }
        else if (MakesText(instruction)) after[instruction] = [Instruction.Create(OpCodes.Dup), Instruction.Create(OpCodes.Call, _text)];
    }

    private Cost Of(Instruction instruction)
    {
        Cost cost = new(1, 1, 0, 0);
        Code code = instruction.OpCode.Code;
        if (code is Code.Call or Code.Callvirt or Code.Newobj or Code.Calli) cost += new Cost(0, MakesText(instruction) ? TextCost : ReturnsStruct(instruction) ? StructCallCost : CallCost, 0, 0);
        if (code is Code.Throw or Code.Rethrow) cost += new Cost(0, ThrowCost, 0, 0);
        if (instruction.Operand is MethodReference { DeclaringType.FullName: "System.Threading.Monitor", Name: "Enter" }) cost += new Cost(0, LockCost, 0, 0);
        if (code == Code.Newobj) cost += Object(((MethodReference)instruction.Operand).DeclaringType);
        else if (code is Code.Newarr) cost += Allocation(0);
        else if (code == Code.Box) cost += Allocation(2 * NanoHeap.BlockBytes);
        else if (code == Code.Ldstr) cost += Allocation(NanoHeap.LiteralBytes);
        else if (MakesText(instruction)) cost += new Cost(0, 0, 1, 0);
        return cost;
    }

    private bool ReturnsStruct(Instruction instruction) =>
        instruction.Operand is MethodReference { ReturnType: var type } && instruction.OpCode.Code != Code.Newobj
        && (IsOurs(type) || OtherStructs.Contains(type.FullName)) && Struct(type).Allocations > 0;

    private static Cost Allocation(int bytes) => new(0, AllocationCost, 1, bytes);

    private Cost Object(TypeReference type)
    {
        if (type.IsValueType) return Struct(type);
        Cost cost = Allocation(0);
        int fields = 0;
        TypeReference? at = type;
        while (at != null && IsOurs(at))
        {
            TypeDefinition definition = at.Resolve();
            foreach (FieldDefinition field in definition.Fields.Where(f => !f.IsStatic))
            {
                fields++;
                cost += Struct(field.FieldType);
            }
            at = definition.BaseType;
        }
        return cost + new Cost(0, 0, 0, NanoHeap.ObjectBytes(fields));
    }

    // An object of its own for a struct; nothing for a number, an enumeration or a reference.
    private Cost Struct(TypeReference type)
    {
        if (!type.IsValueType || type.IsPrimitive || type.IsArray || type.IsByReference || type.IsPointer || Unboxed.Contains(type.FullName)) return default;
        if (!IsOurs(type))
        {
            if (OtherEnums.Contains(type.FullName)) return default;
            return OtherStructs.Contains(type.FullName) ? Allocation(NanoHeap.ObjectBytes(1))
                : throw new InvalidOperationException($"{type.FullName}: say in Rewriter whether this value type is an enumeration or a struct on the device");
        }
        TypeDefinition definition = type.Resolve();
        if (definition.IsEnum) return default;
        Cost cost = default;
        int fields = 0;
        foreach (FieldDefinition field in definition.Fields.Where(f => !f.IsStatic))
        {
            fields++;
            cost += Struct(field.FieldType);
        }
        return cost + Allocation(NanoHeap.ObjectBytes(fields));
    }

    private static int ElementBytes(TypeReference type) => type.MetadataType switch
    {
        MetadataType.Boolean or MetadataType.Byte or MetadataType.SByte => 1,
        MetadataType.Char or MetadataType.Int16 or MetadataType.UInt16 => 2,
        MetadataType.Int32 or MetadataType.UInt32 or MetadataType.Single => 4,
        MetadataType.Int64 or MetadataType.UInt64 or MetadataType.Double => 8,
        _ => NanoHeap.BlockBytes,
    };

    private bool MakesText(Instruction instruction) =>
        instruction.Operand is MethodReference called && instruction.OpCode.Code is Code.Call or Code.Callvirt
        && ((MethodReference)instruction.Operand).ReturnType.MetadataType == MetadataType.String
        && !IsOurs(((MethodReference)instruction.Operand).DeclaringType) && ((MethodReference)instruction.Operand).Name != "get_Message";

    private bool IsOurs(TypeReference type) => type.GetElementType().Scope is ModuleDefinition || (type.Scope is AssemblyNameReference { Name: var name } && name.StartsWith("Intervalometer.", StringComparison.Ordinal));

    private static void Add(List<Instruction> list, FieldReference counter, long amount)
    {
        list.Add(Instruction.Create(OpCodes.Ldsfld, counter));
        list.Add(Instruction.Create(OpCodes.Ldc_I8, amount));
        list.Add(Instruction.Create(OpCodes.Add));
        list.Add(Instruction.Create(OpCodes.Stsfld, counter));
    }

    // Where a block begins: at the start, at every target, after every branch, at every handler.
    private static HashSet<Instruction> Leaders(MethodBody body)
    {
        HashSet<Instruction> leaders = [body.Instructions[0]];
        foreach (Instruction instruction in body.Instructions)
        {
            if (instruction.Operand is Instruction target) leaders.Add(target);
            if (instruction.Operand is Instruction[] targets) leaders.UnionWith(targets);
            if (instruction.OpCode.FlowControl is FlowControl.Branch or FlowControl.Cond_Branch or FlowControl.Return or FlowControl.Throw && instruction.Next != null) leaders.Add(instruction.Next);
        }
        foreach (ExceptionHandler handler in body.ExceptionHandlers)
        {
            foreach (Instruction? edge in new[] { handler.TryStart, handler.TryEnd, handler.HandlerStart, handler.HandlerEnd, handler.FilterStart })
            {
                if (edge != null) leaders.Add(edge);
            }
        }
        return leaders;
    }

    private static void Redirect(MethodBody body, Instruction[] original, Func<Instruction, Instruction> start)
    {
        foreach (Instruction instruction in original)
        {
            if (instruction.Operand is Instruction target) instruction.Operand = start(target);
            else if (instruction.Operand is Instruction[] targets) instruction.Operand = targets.Select(start).ToArray();
        }
        foreach (ExceptionHandler handler in body.ExceptionHandlers)
        {
            if (handler.TryStart != null) handler.TryStart = start(handler.TryStart);
            if (handler.TryEnd != null) handler.TryEnd = start(handler.TryEnd);
            if (handler.HandlerStart != null) handler.HandlerStart = start(handler.HandlerStart);
            if (handler.HandlerEnd != null) handler.HandlerEnd = start(handler.HandlerEnd);
            if (handler.FilterStart != null) handler.FilterStart = start(handler.FilterStart);
        }
    }
}
