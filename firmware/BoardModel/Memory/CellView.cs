using Intervalometer.Settings.Store;

namespace Intervalometer.VirtualBoard.Memory;

/// <summary>A memory's cells as they are, read without the bus and without taking time; nothing can be written.</summary>
public sealed class CellView(byte[] cells) : IPageMemory
{
    /// <inheritdoc />
    public bool ReadPage(int page, byte[] into, int offset)
    {
        cells.AsSpan(page * StoreMap.PageBytes, StoreMap.PageBytes).CopyTo(into.AsSpan(offset));
        return true;
    }

    /// <inheritdoc />
    public bool WritePage(int page, byte[] from, int offset) => false;
}
