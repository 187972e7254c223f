namespace Intervalometer.Tests.Budgets;

/// <summary>
/// Sizes on the device's heap. An estimate after the runtime's public sources (nanoframework/nf-interpreter, nanoCLR_Runtime__HeapBlock.h,
/// Execution.cpp, CLR_RT_HeapBlock_String.cpp), never measured: the heap is cut into blocks of 12 bytes; an object takes one for its head
/// and one for each field; a field or local of a struct type is an object of its own; an array takes 20 bytes and its elements; a text
/// takes 12 bytes, its bytes and a zero; a text that stands in the program takes 12 bytes each time it is loaded.
/// </summary>
public static class NanoHeap
{
    /// <summary>Bytes of one block.</summary>
    public const int BlockBytes = 12;

    private const int ArrayHeadBytes = 20;

    /// <summary>A text that stands in the program.</summary>
    public const int LiteralBytes = BlockBytes;

    /// <summary>An object of one class of the runtime that is not looked into (a pin, a bus device, the controller): assumed, no source.</summary>
    public const int OtherObjectBytes = 8 * BlockBytes;

    /// <summary>An object with that many fields, nested structs not counted.</summary>
    public static int ObjectBytes(int fields) => BlockBytes * (1 + fields);

    /// <summary>An array, what its elements refer to not counted.</summary>
    public static long ArrayBytes(long length, int elementBytes) => Whole(ArrayHeadBytes + length * elementBytes);

    /// <summary>A text of that many characters, each one byte long.</summary>
    public static long TextBytes(int characters) => Whole(BlockBytes + characters + 1);

    private static long Whole(long bytes) => (bytes + BlockBytes - 1) / BlockBytes * BlockBytes;
}
