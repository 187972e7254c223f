using Intervalometer.OwnFrames;
using Microsoft.VisualStudio.TestTools.UnitTesting;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Budgets;

/// <summary>No method of the firmware runs in its caller's frame on the device; <see cref="Frames"/> says why that matters.</summary>
[TestClass]
public class OwnFrameTests
{
    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void EveryMethodHasItsOwnFrameAndEveryCallOutIsSafe()
    {
        var open = new List<string>();
        int methods = 0, calls = 0;
        using var library = new DefaultAssemblyResolver();
        library.AddSearchDirectory(CountedBuild.Released("device"));
        foreach (string file in ImageSize.Own)
        {
            using ModuleDefinition module = ModuleDefinition.ReadModule(CountedBuild.Released("device/" + file), new ReaderParameters { AssemblyResolver = library });
            foreach (MethodDefinition method in module.GetTypes().SelectMany(type => type.Methods).Where(method => method.HasBody))
            {
                if (!method.IsStatic && !method.IsConstructor)
                {
                    methods++;
                    if (!method.HasCustomAttributes) open.Add($"{method.FullName} has no attribute, so the runtime may run it in its caller's frame");
                }
                foreach (Instruction call in method.Body.Instructions.Where(i => i.Operand is MethodReference { Name: "ToString", HasThis: true, DeclaringType.Namespace: "System" }))
                {
                    calls++;
                    if (call.Previous is not { OpCode.Code: Code.Pop, Previous.OpCode.Code: Code.Ldc_I4_0 }) open.Add($"{method.FullName}: a call of ToString without a zero before it");
                }
            }
        }
        TestContext.WriteLine($"{methods} methods, {calls} calls of ToString");
        Assert.IsGreaterThan(1000, methods);
        Assert.IsGreaterThan(50, calls);
        Assert.AreEqual("", string.Join("\n", open.Take(10)), "the target GiveOwnFrames in Directory.Build.targets did not run");
    }

    /// <summary>A jump to a call goes to the zero that is pushed before it, and running the step again changes nothing.</summary>
    [TestMethod]
    public void AJumpToACallGoesToTheZeroBeforeIt()
    {
        using var library = new DefaultAssemblyResolver();
        library.AddSearchDirectory(CountedBuild.Released("device"));
        using AssemblyDefinition assembly = AssemblyDefinition.CreateAssembly(new AssemblyNameDefinition("Example", new Version(1, 0)), "Example",
            new ModuleParameters { Kind = ModuleKind.Dll, AssemblyResolver = library });
        ModuleDefinition module = assembly.MainModule;
        AssemblyDefinition classes = library.Resolve(new AssemblyNameReference("mscorlib", new Version(1, 0)));
        MethodReference text = module.ImportReference(classes.MainModule.GetType("System.Int32").Methods.Single(m => m.Name == "ToString" && !m.HasParameters));
        var method = new MethodDefinition("Text", MethodAttributes.Static, text.ReturnType);
        method.Parameters.Add(new ParameterDefinition(new ByReferenceType(text.DeclaringType)));
        ILProcessor il = method.Body.GetILProcessor();
        Instruction call = il.Create(OpCodes.Call, text);
        il.Emit(OpCodes.Ldarg_0);
        il.Emit(OpCodes.Br_S, call);
        il.Append(call);
        il.Emit(OpCodes.Ret);
        Assert.AreEqual(1, Frames.OpenCalls(method).Count());
        var type = new TypeDefinition("", "Type", TypeAttributes.Class, text.ReturnType);
        type.Methods.Add(method);
        module.Types.Add(type);
        Assert.AreEqual((0, 1), Frames.Apply(module));
        CollectionAssert.AreEqual(new[] { Code.Ldarg_0, Code.Br_S, Code.Ldc_I4_0, Code.Pop, Code.Call, Code.Ret }, method.Body.Instructions.Select(i => i.OpCode.Code).ToArray());
        Assert.AreSame(method.Body.Instructions[2], method.Body.Instructions[1].Operand);
        Assert.AreEqual((0, 0), Frames.Apply(module));
    }
}
