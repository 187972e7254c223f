using System.Reflection;
using System.Runtime.Loader;
using Mono.Cecil;
using Mono.Cecil.Cil;
using Mono.Cecil.Rocks;

namespace Intervalometer.Tests.Budgets;

/// <summary>The points at which one of two threads may be switched for the other. Called before each instruction that reads or writes a field of the link.</summary>
public static class Turnstile
{
    /// <summary>One of the two threads, and the point at which it is switched.</summary>
    internal sealed class Side(Action work)
    {
        public SemaphoreSlim Go { get; } = new(0);

        public Side? Other { get; set; }

        public int Points { get; set; }

        public int SwitchAt { get; init; }

        public Exception? Fault { get; private set; }

        public bool Done { get; private set; }

        public void Run()
        {
            Go.Wait();
            _side = this;
            try { work(); }
            catch (Exception fault) { Fault = fault; }
            _side = null;
            Done = true;
            Other!.Go.Release();
        }
    }

    [ThreadStatic]
    private static Side? _side;

    /// <summary>The next instruction touches a field of the link.</summary>
    public static void Point()
    {
        if (_side is not Side me || ++me.Points != me.SwitchAt || me.Other!.Done) return;
        me.Other.Go.Release();
        me.Go.Wait();
    }

    /// <summary>The first thread runs to one of its points, the second to one of its own, then the first runs to its end, and at last the second.</summary>
    /// <returns>How many points each has.</returns>
    public static (int First, int Second) Play(Action first, int firstAt, Action second, int secondAt)
    {
        Side a = new(first) { SwitchAt = firstAt }, b = new(second) { SwitchAt = secondAt };
        a.Other = b;
        b.Other = a;
        Task[] both = [Task.Factory.StartNew(a.Run, TaskCreationOptions.LongRunning), Task.Factory.StartNew(b.Run, TaskCreationOptions.LongRunning)];
        a.Go.Release();
        Task.WaitAll(both);
        if ((a.Fault ?? b.Fault) is Exception fault) throw new InvalidOperationException($"switched at {firstAt} and {secondAt}: {fault.Message}", fault);
        return (a.Points, b.Points);
    }
}

/// <summary>Core with a point before every instruction that touches a field of the namespace Link, or of a plan or a profile that it hands over, in a load context of its own.</summary>
public sealed class WovenBuild : AssemblyLoadContext
{
    private const string Link = "Intervalometer.Core.Link";

    // What an order hands over; a mixture of two would show in these.
    private static readonly string[] Handed = ["ShotPlan", "CameraProfile"];

    private readonly byte[] _core;

    private WovenBuild() : base("woven")
    {
        using AssemblyDefinition core = AssemblyDefinition.ReadAssembly(Path.Combine(AppContext.BaseDirectory, "Intervalometer.Core.dll"));
        MethodReference point = core.MainModule.ImportReference(typeof(Turnstile).GetMethod(nameof(Turnstile.Point)));
        foreach (MethodDefinition method in core.MainModule.GetTypes().SelectMany(t => t.Methods).Where(m => m.HasBody && !m.IsConstructor))
        {
            // A longer method may need longer jumps.
            method.Body.SimplifyMacros();
            Instruction[] touching = [.. method.Body.Instructions.Where(i => i.Operand is FieldReference field && (field.DeclaringType.Namespace == Link || Handed.Contains(field.DeclaringType.Name)))];
            ILProcessor il = method.Body.GetILProcessor();
            foreach (Instruction instruction in touching)
            {
                // The instruction itself becomes the call, so that jumps to it meet the call; a copy of it follows.
                Instruction copy = Instruction.Create(instruction.OpCode, (FieldReference)instruction.Operand);
                instruction.OpCode = OpCodes.Call;
                instruction.Operand = point;
                il.InsertAfter(instruction, copy);
            }
            method.Body.OptimizeMacros();
            Points += touching.Length;
        }
        using var output = new MemoryStream();
        core.Write(output);
        _core = output.ToArray();
    }

    /// <summary>Instructions that have a point before them.</summary>
    public int Points { get; }

    /// <summary>Calls a public static method of a class of this assembly inside.</summary>
    public static string Run(Type type, string method)
    {
        var context = new WovenBuild();
        Type inside = context.LoadFromAssemblyName(new AssemblyName("Intervalometer.Tests.Budgets")).GetType(type.FullName!)!;
        return $"{context.Points} points in the code; " + (string)inside.GetMethod(method)!.Invoke(null, null)!;
    }

    /// <inheritdoc/>
    protected override Assembly? Load(AssemblyName assemblyName) => assemblyName.Name switch
    {
        "Intervalometer.Core" => LoadFromStream(new MemoryStream(_core)),
        "Intervalometer.Tests.Budgets" => LoadFromAssemblyPath(Path.Combine(AppContext.BaseDirectory, "Intervalometer.Tests.Budgets.dll")),
        _ => null,
    };
}
