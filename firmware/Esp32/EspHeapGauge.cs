using Intervalometer.Settings;
using Heap = nanoFramework.Runtime.Native.GC;

namespace Intervalometer.Esp32;

/// <summary>The runtime's own heap. A reading collects garbage and returns what is free then.</summary>
public sealed class EspHeapGauge : IHeapGauge
{
    /// <inheritdoc/>
    public int FreeBytes
    {
        get
        {
            uint free = Heap.Run(false);
            return (int)free;
        }
    }
}
