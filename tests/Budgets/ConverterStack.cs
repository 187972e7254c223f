using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// The depth of a method's stack as the device's converter counts it (nanoFramework metadata-processor,
/// CodeWriter.CalculateStackSize). The runtime reserves that much. The converter walks the instructions in a straight line: a branch
/// forward carries its depth to its target, and only a few instructions empty the stack; a return is not one of them.
/// </summary>
internal static class ConverterStack
{
    /// <summary>How deep the converter says that the stack of a method gets.</summary>
    public static int Depth(MethodBody body)
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
