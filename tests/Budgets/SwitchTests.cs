using Microsoft.VisualStudio.TestTools.UnitTesting;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// The device's converter writes the number of a switch's cases in one byte (nanoFramework metadata-processor, CodeWriter,
/// operand type InlineSwitch), and says nothing when there are more: the program would jump to a wrong place.
/// </summary>
[TestClass]
public class SwitchTests
{
    private const int Most = 255;

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void NoSwitchOfTheFirmwareHasMoreCasesThanTheConverterCounts()
    {
        int largest = 0;
        foreach (string file in ImageSize.Own)
        {
            using AssemblyDefinition assembly = AssemblyDefinition.ReadAssembly(CountedBuild.Released("device/" + file));
            foreach (MethodDefinition method in assembly.MainModule.GetTypes().SelectMany(type => type.Methods))
            {
                int cases = LargestSwitch(method);
                Assert.IsLessThanOrEqualTo(Most, cases, $"{method.FullName}: split the switch over several methods");
                largest = Math.Max(largest, cases);
            }
        }
        TestContext.WriteLine($"the largest switch has {largest} cases of {Most}");
        Assert.IsGreaterThan(100, largest, "only the fonts have switches of more than a hundred cases; none was found, so they were not looked at");
    }

    [TestMethod]
    public void ALongerSwitchIsSeen()
    {
        using AssemblyDefinition assembly = AssemblyDefinition.CreateAssembly(new AssemblyNameDefinition("Example", new Version(1, 0)), "Example", ModuleKind.Dll);
        var method = new MethodDefinition("Word", MethodAttributes.Static, assembly.MainModule.TypeSystem.Void);
        ILProcessor il = method.Body.GetILProcessor();
        Instruction end = il.Create(OpCodes.Ret);
        il.Emit(OpCodes.Ldc_I4_0);
        il.Emit(OpCodes.Switch, [.. Enumerable.Repeat(end, Most + 1)]);
        il.Append(end);
        Assert.AreEqual(Most + 1, LargestSwitch(method));
    }

    private static int LargestSwitch(MethodDefinition method) =>
        !method.HasBody ? 0 : method.Body.Instructions.Where(i => i.OpCode == OpCodes.Switch).Select(i => ((Instruction[])i.Operand).Length).DefaultIfEmpty().Max();
}
