using Intervalometer.Core;
using Intervalometer.Drivers;
using Intervalometer.VirtualBoard.Bus;

namespace Intervalometer.Tests.Host.Store;

/// <summary>A chip model on a wire of its own, without a bus.</summary>
internal sealed class ModelWire(IBusChip chip) : ITwoWireDevice
{
    /// <summary>Called with each message before it is sent.</summary>
    public Action<byte[]> BeforeWrite { get; set; } = _ => { };

    public bool Write(byte[] data)
    {
        BeforeWrite(data);
        return chip.Write(data);
    }

    public bool Read(byte[] data) => chip.Read(data);

    public bool WriteRead(byte[] output, byte[] input) => chip.Write(output) && chip.Read(input);
}

/// <summary>A clock that stands where it is put.</summary>
internal sealed class HandClock : IMicrosClock
{
    public long NowUs { get; set; }
}
