using Microsoft.VisualStudio.TestTools.UnitTesting;
using Mono.Cecil;
using Mono.Cecil.Cil;
using Mono.Cecil.Rocks;

namespace Intervalometer.Tests.Budgets;

/// <summary>Nothing costs more than a tenth over the table, and the counting itself is right.</summary>
[TestClass]
public class BudgetTests
{
    private const string Advice = "If that is meant: dotnet run --project tests/Budgets -- --accept, and say why in the commit.";

    private static readonly Lazy<Budget[]> First = new(CountedBuild.Measure);

    public TestContext TestContext { get; set; } = null!;

    /// <summary>A line that breaks the design's limit in the table is known, and the program then returns 1. A new one fails here.</summary>
    [TestMethod]
    public void NothingCostsATenthMoreThanTheTable()
    {
        Budget[] now = First.Value;
        Budget[] table = BudgetTable.Read();
        TestContext.WriteLine(BudgetTable.Markdown(now, table));
        string[] wrong = BudgetTable.Complaints(now, table);
        Assert.AreEqual(0, wrong.Length, $"\n{string.Join("\n", wrong)}\n{Advice}");
        Assert.IsTrue(now.Length > 80, $"only {now.Length} lines");
    }

    [TestMethod]
    public void ThePageSaysWhatTheTableSays() => Assert.AreEqual(BudgetPage.Table(BudgetTable.Read()), BudgetPage.Read(), Advice);

    /// <summary>A press on DEPTH and its picture need more than what the box keeps free. Wherever memory runs out, nothing is left half changed, and the next presses work.</summary>
    [TestMethod]
    public void APressOnDepthThatFindsNoMemoryChangesAllOrNothing()
    {
        NothingIsWrong(CountedBuild.RunOut(), 300);
    }

    /// <summary>Wherever memory runs out while a held Select puts a field back, the next field moves by its own step.</summary>
    [TestMethod]
    public void APutBackThatFindsNoMemoryLeavesOtherFieldsAlone()
    {
        NothingIsWrong(CountedBuild.RunOutInPutBack(), 10);
    }

    /// <summary>Wherever the panel finds no memory in an exposure, the exposure is as long as planned and a second press of Fire stops it.</summary>
    [TestMethod]
    public void AnExposureInWhichThePanelFindsNoMemoryIsAsPlannedAndCanBeStopped()
    {
        NothingIsWrong(CountedBuild.RunOutInExposure(), 10);
    }

    // What is wrong stands in lines before the last one, which begins with how often memory ran out.
    private void NothingIsWrong(string told, int least)
    {
        string[] lines = told.Split('\n');
        TestContext.WriteLine(lines[^1]);
        Assert.HasCount(1, lines, string.Join("\n", lines.Take(20)));
        Assert.IsGreaterThan(least, int.Parse(lines[^1].Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture), lines[^1]);
    }

    [TestMethod]
    public void TwoCountsAreTheSame()
    {
        Assert.AreEqual(string.Join("\n", (object[])First.Value), string.Join("\n", (object[])CountedBuild.Measure()));
    }

    [TestMethod]
    public void ATenthMoreIsAllowedAndAllElseIsReported()
    {
        Budget[] table = [new("a", "IL", 100, 0), new("b", "IL", 100, 105)];
        Assert.IsEmpty(BudgetTable.Complaints([new("a", "IL", 110, 0), new("b", "IL", 105, 105)], table));
        Assert.IsEmpty(BudgetTable.Complaints([new("a", "IL", 10, 0), new("b", "IL", 100, 105)], table));
        string[] wrong = BudgetTable.Complaints([new("a", "IL", 111, 0), new("b", "IL", 106, 105), new("c", "IL", 1, 0)], table);
        CollectionAssert.AreEqual(new[] { "a: 111 IL, more than a tenth above the table's 100", "b: 106 IL, more than the 105 that the design allows", "c (IL): 1, but not in the table" }, wrong);
        CollectionAssert.AreEqual(new[] { "b (IL): in the table, but no longer counted" }, BudgetTable.Complaints([table[0]], table));
    }

    /// <summary>Loops written by hand, instruction by instruction, so that the right count is known without the counter.</summary>
    [TestMethod]
    [DataRow(0)]
    [DataRow(1)]
    [DataRow(7)]
    public void ALoopCountsEachOfItsInstructions(int times)
    {
        System.Reflection.MethodInfo work = Counted();
        Cost cost = Meter.Of(() => work.Invoke(null, [times]));
        // 3 before the loop; 4 for each test; 7 for each pass, 6 of its own and the constructor; 2 at the end. A pass makes an object of one field.
        Assert.AreEqual(3 + 4 * (times + 1) + 7L * times + 2, cost.Il);
        Assert.AreEqual(times, cost.Allocations);
        Assert.AreEqual(times * 24L, cost.Bytes);
        Assert.AreEqual(cost.Il + times * (long)(Rewriter.CallCost + Rewriter.AllocationCost), cost.Weighted);
    }

    [TestMethod]
    public void HeapSizesFollowTheRuntimesBlocks()
    {
        Assert.AreEqual(36, NanoHeap.ObjectBytes(2));
        Assert.AreEqual(24, NanoHeap.ArrayBytes(4, 1));
        Assert.AreEqual(36, NanoHeap.ArrayBytes(5, 1));
        Assert.AreEqual(24, NanoHeap.TextBytes(11));
        Assert.AreEqual(36, NanoHeap.TextBytes(12));
    }

    // int Work(int n) { int i = 0; while (i < n) { new Thing(); i++; } return i; }
    private static System.Reflection.MethodInfo Counted()
    {
        using var assembly = AssemblyDefinition.CreateAssembly(new AssemblyNameDefinition("Sample", new Version(1, 0)), "Sample", ModuleKind.Dll);
        ModuleDefinition module = assembly.MainModule;
        TypeReference number = module.TypeSystem.Int32;
        var thing = new TypeDefinition("Sample", "Thing", Mono.Cecil.TypeAttributes.Public | Mono.Cecil.TypeAttributes.Class, module.TypeSystem.Object);
        thing.Fields.Add(new FieldDefinition("_one", Mono.Cecil.FieldAttributes.Private, number));

        var made = new MethodDefinition(".ctor", Mono.Cecil.MethodAttributes.Public | Mono.Cecil.MethodAttributes.HideBySig | Mono.Cecil.MethodAttributes.SpecialName | Mono.Cecil.MethodAttributes.RTSpecialName, module.TypeSystem.Void);
        made.Body.GetILProcessor().Emit(OpCodes.Ret);
        thing.Methods.Add(made);
        var holder = new TypeDefinition("Sample", "Holder", Mono.Cecil.TypeAttributes.Public | Mono.Cecil.TypeAttributes.Class, module.TypeSystem.Object);
        var work = new MethodDefinition("Work", Mono.Cecil.MethodAttributes.Public | Mono.Cecil.MethodAttributes.Static, number);
        work.Parameters.Add(new ParameterDefinition("n", Mono.Cecil.ParameterAttributes.None, number));
        work.Body.Variables.Add(new VariableDefinition(number));
        work.Body.InitLocals = true;
        ILProcessor il = work.Body.GetILProcessor();
        Instruction test = il.Create(OpCodes.Nop), pass = il.Create(OpCodes.Newobj, made);
        il.Emit(OpCodes.Ldc_I4_0);
        il.Emit(OpCodes.Stloc_0);
        il.Emit(OpCodes.Br_S, test);
        il.Append(pass);
        il.Emit(OpCodes.Pop);
        il.Emit(OpCodes.Ldloc_0);
        il.Emit(OpCodes.Ldc_I4_1);
        il.Emit(OpCodes.Add);
        il.Emit(OpCodes.Stloc_0);
        il.Append(test);
        il.Emit(OpCodes.Ldloc_0);
        il.Emit(OpCodes.Ldarg_0);
        il.Emit(OpCodes.Blt_S, pass);
        il.Emit(OpCodes.Ldloc_0);
        il.Emit(OpCodes.Ret);
        holder.Methods.Add(work);
        module.Types.Add(thing);
        module.Types.Add(holder);
        string path = Path.Combine(Path.GetTempPath(), $"counted-{Guid.NewGuid():N}.dll");
        try
        {
            assembly.Write(path);
            byte[] counted = Rewriter.Rewrite(path, [], new HashSet<string>());
            return System.Reflection.Assembly.Load(counted).GetType("Sample.Holder")!.GetMethod("Work")!;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
