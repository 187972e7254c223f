using Microsoft.VisualStudio.TestTools.UnitTesting;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// A call takes a frame out of the device's heap, and frames cannot be moved: a large one needs a large hole. How deep a
/// method's stack is comes from the device's converter, which walks the instructions in a straight line (nanoFramework
/// metadata-processor, CodeWriter.CalculateStackSize): a case of a switch that returns at once adds to all that follow.
/// </summary>
[TestClass]
public class FrameTests
{
    private const int BlockBytes = 12;
    private const int MostBytes = 400;

    // nf-interpreter, CLR_RT_StackFrame: what a frame holds besides locals and stack, the blocks beyond the counted depth, and
    // the least number of both (offsetof m_extension, c_OverheadForNewObjOrInteropMethod, the inliner's one, c_MinimumStack).
    private const int HeadBlocks = 7;
    private const int SpareBlocks = 3;
    private const int LeastBlocks = 10;

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void NoFrameOfTheFirmwareIsLarge()
    {
        var frames = new List<(int Bytes, string Method)>();
        foreach (string file in ImageSize.Own)
        {
            using AssemblyDefinition assembly = AssemblyDefinition.ReadAssembly(CountedBuild.Released("device/" + file));
            foreach (MethodDefinition method in assembly.MainModule.GetTypes().SelectMany(type => type.Methods).Where(m => m.HasBody))
                frames.Add((FrameBytes(method.Body), method.FullName));
        }
        frames.Sort((a, b) => b.Bytes - a.Bytes);
        TestContext.WriteLine(string.Join("\n", frames.Take(40).Select(f => $"{f.Bytes,5} {f.Method}")));
        string[] large = [.. frames.Where(f => f.Bytes > MostBytes).Select(f => $"{f.Method}: a frame of {f.Bytes} bytes; use fewer locals, or one return for all cases of a switch")];
        Assert.AreEqual("", string.Join("\n", large));
    }

    /// <summary>The straight line, by hand: a case that returns leaves its value behind, one that jumps does not.</summary>
    [TestMethod]
    [DataRow(5, true, 5)]
    [DataRow(5, false, 1)]
    public void ACaseThatReturnsAddsToTheDepth(int cases, bool returns, int depth)
    {
        using AssemblyDefinition assembly = AssemblyDefinition.CreateAssembly(new AssemblyNameDefinition("Example", new Version(1, 0)), "Example", ModuleKind.Dll);
        var method = new MethodDefinition("Word", MethodAttributes.Static, assembly.MainModule.TypeSystem.Int32);
        ILProcessor il = method.Body.GetILProcessor();
        Instruction end = il.Create(OpCodes.Ldloc_0);
        for (int i = 0; i < cases; i++)
        {
            il.Emit(OpCodes.Ldc_I4, i);
            if (returns)
            {
                il.Emit(OpCodes.Ret);
                continue;
            }
            il.Emit(OpCodes.Stloc_0);
            il.Emit(OpCodes.Br, end);
        }
        if (!returns)
        {
            il.Append(end);
            il.Emit(OpCodes.Ret);
        }
        Assert.AreEqual(depth, Depth(method.Body));
    }

    private static int FrameBytes(MethodBody body) => BlockBytes * (HeadBlocks + Math.Max(LeastBlocks, body.Variables.Count + Depth(body) + SpareBlocks));

    // As the converter counts: a branch forward carries its depth to where it goes, and only four instructions empty the stack.
    private static int Depth(MethodBody body)
    {
        var known = new Dictionary<Instruction, int>();
        int size = 0, most = 0;
        foreach (Instruction i in body.Instructions)
        {
            if (known.TryGetValue(i, out int carried)) size = carried;
            if (i.OpCode.Code is Code.Throw or Code.Endfinally or Code.Endfilter or Code.Leave or Code.Leave_S or Code.Br_S)
            {
                size = 0;
                continue;
            }
            if (i.Operand is MethodReference method && i.OpCode.Code is Code.Newobj or Code.Call or Code.Callvirt)
            {
                var called = (MethodReference)i.Operand;
                size -= called.Parameters.Count;
                if (i.OpCode.Code != Code.Newobj && called.HasThis) size--;
                if (i.OpCode.Code != Code.Newobj && called.ReturnType.FullName != "System.Void") size++;
            }
            size += Pushed(i.OpCode.StackBehaviourPush) - Popped(i.OpCode.StackBehaviourPop);
            if (i.Operand is Instruction target) known[target] = Math.Max(known.GetValueOrDefault(target), size);
            most = Math.Max(most, size);
        }
        return most;
    }

    private static int Pushed(StackBehaviour behaviour) => behaviour switch
    {
        StackBehaviour.Push0 or StackBehaviour.Varpush => 0,
        StackBehaviour.Push1_push1 => 2,
        _ => 1,
    };

    private static int Popped(StackBehaviour behaviour) => behaviour switch
    {
        StackBehaviour.Pop0 or StackBehaviour.Varpop => 0,
        StackBehaviour.Pop1 or StackBehaviour.Popi or StackBehaviour.Popref => 1,
        StackBehaviour.Pop1_pop1 or StackBehaviour.Popi_pop1 or StackBehaviour.Popi_popi or StackBehaviour.Popi_popi8 or StackBehaviour.Popi_popr4
            or StackBehaviour.Popi_popr8 or StackBehaviour.Popref_pop1 or StackBehaviour.Popref_popi => 2,
        StackBehaviour.PopAll => 0,
        _ => 3,
    };
}
