using System.Device.I2c;

namespace Intervalometer.VirtualBoard.Bus;

/// <summary>One address on the virtual bus. Throws <see cref="IOException"/> when nothing acknowledges, as .NET does on a PC.</summary>
public sealed class VirtualI2cDevice(VirtualI2cBus bus, int address) : I2cDevice
{
    /// <inheritdoc />
    public override I2cConnectionSettings ConnectionSettings { get; } = new(1, address);

    /// <inheritdoc />
    public override void Read(Span<byte> buffer) => bus.Transfer(address, [], buffer);

    /// <inheritdoc />
    public override void Write(ReadOnlySpan<byte> buffer) => bus.Transfer(address, buffer, []);

    /// <inheritdoc />
    public override void WriteRead(ReadOnlySpan<byte> writeBuffer, Span<byte> readBuffer) => bus.Transfer(address, writeBuffer, readBuffer);
}
