using Mono.Cecil.Cil;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// Sizes on the device's heap, after the runtime's public sources (nanoframework/nf-interpreter, nanoCLR_Runtime__HeapBlock.h, Execution.cpp,
/// CLR_RT_StackFrame.cpp, CLR_RT_HeapBlock_String.cpp) and a walk over the heap of its build for a 32-bit PC: the heap is cut into blocks
/// of 12 bytes; an object takes one for its head and one for each field; a field or local of a struct type is an object of its own; an
/// array takes 20 bytes and its elements; a text takes 12 bytes, its bytes and a zero; a text that stands in the program takes 12 bytes each
/// time it is loaded; a delegate takes three blocks. tests/DeviceBoard/run.sh holds the sum against the real runtime.
/// </summary>
public static class NanoHeap
{
    /// <summary>Bytes of one block.</summary>
    public const int BlockBytes = 12;

    private const int ArrayHeadBytes = 20;

    /// <summary>A text that stands in the program.</summary>
    public const int LiteralBytes = BlockBytes;

    /// <summary>A delegate.</summary>
    public const int DelegateBytes = 3 * BlockBytes;

    /// <summary>A thread with its first part and the object that stands for it.</summary>
    public const int ThreadBytes = 360 + 48 + DelegateBytes;

    private const int FrameHeadBytes = 84;
    private const int FrameMoreBlocks = 3;
    private const int FrameLeastBlocks = 10;

    /// <summary>An object with that many fields, nested structs not counted.</summary>
    public static int ObjectBytes(int fields) => BlockBytes * (1 + fields);

    /// <summary>An array, what its elements refer to not counted.</summary>
    public static long ArrayBytes(long length, int elementBytes) => Whole(ArrayHeadBytes + length * elementBytes);

    /// <summary>A text of that many characters, each one byte long.</summary>
    public static long TextBytes(int characters) => Whole(BlockBytes + characters + 1);

    /// <summary>What a call keeps at the least.</summary>
    public const int LeastFrameBytes = FrameHeadBytes + BlockBytes * FrameLeastBlocks;

    /// <summary>What a call of a method keeps while it lasts. To be asked before the instructions are changed.</summary>
    public static int FrameBytes(MethodBody body) => FrameHeadBytes + BlockBytes * Math.Max(FrameLeastBlocks, body.Variables.Count + ConverterStack.Depth(body) + FrameMoreBlocks);

    private static long Whole(long bytes) => (bytes + BlockBytes - 1) / BlockBytes * BlockBytes;
}
