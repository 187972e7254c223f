using Microsoft.VisualStudio.TestTools.UnitTesting;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// A call takes a stack frame from the device's heap, and frames cannot be moved, so a large one needs a large free block. A case of a switch
/// that returns at once makes the frame larger; see <see cref="ConverterStack"/>.
/// </summary>
[TestClass]
public class FrameTests
{
    private const int MostBytes = 400;

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void NoStackFrameOfTheFirmwareIsLarge()
    {
        var frames = new List<(int Bytes, string Method)>();
        foreach (string file in ImageSize.Own)
        {
            using AssemblyDefinition assembly = AssemblyDefinition.ReadAssembly(CountedBuild.Released("device/" + file));
            foreach (MethodDefinition method in assembly.MainModule.GetTypes().SelectMany(type => type.Methods).Where(m => m.HasBody))
                frames.Add((NanoHeap.FrameBytes(method.Body), method.FullName));
        }
        frames.Sort((a, b) => b.Bytes - a.Bytes);
        TestContext.WriteLine(string.Join("\n", frames.Take(40).Select(f => $"{f.Bytes,5} {f.Method}")));
        string[] large = [.. frames.Where(f => f.Bytes > MostBytes).Select(f => $"{f.Method}: a frame of {f.Bytes} bytes; use fewer locals, or one return for all cases of a switch")];
        Assert.AreEqual("", string.Join("\n", large));
    }

    /// <summary>The converter's count, by hand: a case that returns leaves its value on the stack, and one that jumps does not.</summary>
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
        Assert.AreEqual(depth, ConverterStack.Depth(method.Body));
    }
}
