using Mono.Cecil;
using Mono.Cecil.Cil;
using Mono.Cecil.Rocks;

namespace Intervalometer.OwnFrames;

/// <summary>
/// Gives every method of an assembly for the device a stack frame of its own.
/// </summary>
/// <remarks>
/// The device's runtime runs a small instance method in the stack frame of its caller (CLR_RT_StackFrame::PushInline, seen in nf-interpreter
/// a3e8139a1). It counts one place above the arguments as in use but never writes it. When garbage is collected before the method ends,
/// whatever was left in that memory is taken for a reference, and the collector marks and moves what is no object. On the PC host of that
/// runtime, eight of fifteen walks through the screens ended with a failed assertion or a wrong address, where MORNINGS is opened.
/// The runtime gives a method that has an attribute a frame of its own. So each of ours gets an attribute, which the metadata processor drops
/// again while it keeps the flag; that costs no byte. A method of the class library or of a package cannot be given one. Before a call of such a
/// method a zero is pushed and popped, which writes the place in question and costs two instructions of one byte each.
/// </remarks>
public static class Frames
{
    private const string AttributeSpace = "System.Diagnostics";
    private const string AttributeName = "DebuggerNonUserCodeAttribute";

    /// <summary>Changes an assembly. What was changed before is left as it is.</summary>
    /// <param name="module">The assembly's module.</param>
    /// <returns>How many methods got the attribute, and before how many calls the zero was put.</returns>
    public static (int Methods, int Calls) Apply(ModuleDefinition module)
    {
        int methods = 0, calls = 0;
        MethodReference? constructor = null;
        foreach (MethodDefinition method in module.GetTypes().SelectMany(type => type.Methods).Where(method => method.HasBody).ToList())
        {
            if (!method.IsStatic && !method.IsConstructor && !method.HasCustomAttributes)
            {
                constructor ??= Constructor(module);
                method.CustomAttributes.Add(new CustomAttribute(constructor));
                methods++;
            }
            calls += GuardCalls(method);
        }
        return (methods, calls);
    }

    /// <summary>The calls in a method that leave the project's own code and before which the place is not written yet.</summary>
    public static IEnumerable<Instruction> OpenCalls(MethodDefinition method) =>
        method.Body.Instructions.Where(instruction => IsForeignCall(instruction) && !IsGuarded(instruction));

    private static int GuardCalls(MethodDefinition method)
    {
        List<Instruction> open = [.. OpenCalls(method)];
        if (open.Count == 0) return 0;
        MethodBody body = method.Body;
        body.SimplifyMacros();
        ILProcessor il = body.GetILProcessor();
        foreach (Instruction call in open)
        {
            Instruction at = FirstOf(call);
            Instruction zero = il.Create(OpCodes.Ldc_I4_0);
            il.InsertBefore(at, zero);
            il.InsertBefore(at, il.Create(OpCodes.Pop));
            Redirect(body, at, zero);
        }
        body.OptimizeMacros();
        return open.Count;
    }

    // A prefix instruction belongs to its call, so the first prefix is where the call begins.
    private static Instruction FirstOf(Instruction call)
    {
        Instruction first = call;
        while (first.Previous is { OpCode.OpCodeType: OpCodeType.Prefix }) first = first.Previous;
        return first;
    }

    private static bool IsGuarded(Instruction call) =>
        FirstOf(call).Previous is { OpCode.Code: Code.Pop, Previous.OpCode.Code: Code.Ldc_I4_0 };

    // A native method and a constructor never run in their caller's frame. A method that cannot be resolved is treated as one that may.
    private static bool IsForeignCall(Instruction instruction)
    {
        if (instruction.OpCode.Code is not (Code.Call or Code.Callvirt)) return false;
        if (instruction.Operand is not MethodReference { HasThis: true } called || called.Name == ".ctor") return false;
        if (called.DeclaringType.Scope is not AssemblyNameReference scope || scope.Name.StartsWith("Intervalometer", StringComparison.Ordinal)) return false;
        return called.Resolve() is not { HasBody: false, IsAbstract: false };
    }

    private static void Redirect(MethodBody body, Instruction from, Instruction to)
    {
        foreach (Instruction instruction in body.Instructions)
        {
            if (instruction.Operand == from) instruction.Operand = to;
            else if (instruction.Operand is Instruction[] targets)
            {
                for (int i = 0; i < targets.Length; i++)
                {
                    if (targets[i] == from) targets[i] = to;
                }
            }
        }
        foreach (ExceptionHandler handler in body.ExceptionHandlers)
        {
            if (handler.TryStart == from) handler.TryStart = to;
            if (handler.TryEnd == from) handler.TryEnd = to;
            if (handler.HandlerStart == from) handler.HandlerStart = to;
            if (handler.HandlerEnd == from) handler.HandlerEnd = to;
        }
    }

    private static MethodReference Constructor(ModuleDefinition module)
    {
        var type = new TypeReference(AttributeSpace, AttributeName, module, module.TypeSystem.CoreLibrary);
        if (type.Resolve() is null) throw new InvalidOperationException($"The device's class library has no {AttributeSpace}.{AttributeName}: choose another attribute that the metadata processor drops.");
        return new MethodReference(".ctor", module.TypeSystem.Void, type) { HasThis = true };
    }
}
