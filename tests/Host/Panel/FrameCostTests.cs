using System.Reflection;
using System.Reflection.Emit;
using Intervalometer.Screens;

namespace Intervalometer.Tests.Host.Panel;

/// <summary>
/// What drawing costs an interpreter, as an upper bound read from the compiled IL itself.
/// </summary>
/// <remarks>
/// One pass of a loop runs each instruction between the target of its backward branch and that branch at most once, inner
/// loops left out of account where they do not run. Each instruction counts 1, and each call 5 more, block copies of the
/// runtime included; at 500 thousand instructions a second one is 2 microseconds. An estimate: nothing was measured on
/// the device. The bound is that of the build under test (Debug adds to Release).
/// </remarks>
[TestClass]
public class FrameCostTests
{
    private const double MicrosecondsEach = 2;

    public TestContext TestContext { get; set; } = null!;

    private static readonly Dictionary<int, OpCode> Codes = typeof(OpCodes).GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(f => (OpCode)f.GetValue(null)!).ToDictionary(o => (int)(ushort)o.Value);

    private sealed record Instruction(int Offset, OpCode Code, int Target);

    private static List<Instruction> Decode(Type type, string method, int parameters)
    {
        const BindingFlags any = BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static;
        MethodInfo found = type.GetMethods(any).Single(m => m.Name == method && m.GetParameters().Length == parameters);
        byte[] il = found.GetMethodBody()!.GetILAsByteArray()!;
        var list = new List<Instruction>();
        for (int i = 0; i < il.Length;)
        {
            int offset = i;
            int value = il[i++];
            if (value == 0xFE) value = 0xFE00 | il[i++];
            OpCode code = Codes[value];
            int size = code.OperandType switch
            {
                OperandType.InlineNone => 0,
                OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar => 1,
                OperandType.InlineVar => 2,
                OperandType.InlineI8 or OperandType.InlineR => 8,
                OperandType.InlineSwitch => 4 + 4 * BitConverter.ToInt32(il, i),
                _ => 4,
            };
            int target = code.OperandType switch
            {
                OperandType.ShortInlineBrTarget => i + 1 + (sbyte)il[i],
                OperandType.InlineBrTarget => i + 4 + BitConverter.ToInt32(il, i),
                _ => -1,
            };
            i += size;
            list.Add(new Instruction(offset, code, target));
        }
        return list;
    }

    private static int Weight(IEnumerable<Instruction> instructions) =>
        instructions.Sum(i => i.Code.FlowControl == FlowControl.Call ? 6 : 1);

    // (one pass of the longest loop, everything outside of it), each instruction at most once.
    private static (int Pass, int Outside) LongestLoop(Type type, string method, int parameters)
    {
        List<Instruction> all = Decode(type, method, parameters);
        Instruction back = all.Where(i => i.Target >= 0 && i.Target <= i.Offset).MaxBy(i => i.Offset - i.Target)!;
        var inside = all.Where(i => i.Offset >= back.Target && i.Offset <= back.Offset).ToList();
        return (Weight(inside), Weight(all) - Weight(inside));
    }

    private void Report(string what, int cost, int budget)
    {
        TestContext.WriteLine($"{what}: at most {cost} instructions, {cost * MicrosecondsEach / 1000:F2} ms (budget {budget})");
        Assert.IsTrue(cost <= budget, $"{what} costs {cost} instructions, more than the budget of {budget}");
    }

    [TestMethod]
    public void ClearingTheScreenIsCheap()
    {
        (int pass, int outside) = LongestLoop(typeof(Frame), nameof(Frame.Clear), 0);
        Report("Clear", outside + Frame.Pages * (pass + Weight(Decode(typeof(Frame), "Ink", 2))), 700);
    }

    [TestMethod]
    public void ALineOfTextIsCheap()
    {
        (int pass, int outside) = LongestLoop(typeof(Frame), "Run", 7);
        Report("20 characters of Small, row a multiple of 8", outside + 20 * pass, 5000);
    }

    [TestMethod]
    public void ALineOfShiftedTextStaysBearable()
    {
        (int pass, int outside) = LongestLoop(typeof(Frame), "Run", 7);
        // Of Blit's three loops over columns, the longest runs: its body is the one with two stores.
        List<Instruction> blit = Decode(typeof(Frame), "Blit", 6);
        int column = blit.Where(i => i.Target >= 0 && i.Target <= i.Offset)
            .Select(b => blit.Where(i => i.Offset >= b.Target && i.Offset <= b.Offset).ToList())
            .OrderByDescending(Weight).Skip(1).Select(Weight).First();
        Report("20 characters of Small, any row", outside + 20 * (pass + Weight(blit) + 5 * column), 15000);
    }

    [TestMethod]
    public void ComparingAPageIsCheap()
    {
        (int pass, int outside) = LongestLoop(typeof(Frame), "SumOf", 1);
        Report("PageChanged, a full page drawn again unchanged", Weight(Decode(typeof(Frame), nameof(Frame.PageChanged), 1)) + outside + Frame.Width / 4 * pass, 2500);
    }
}
