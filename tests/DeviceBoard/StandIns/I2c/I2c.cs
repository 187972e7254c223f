using Intervalometer.Tests.DeviceBoard;

namespace System.Device.I2c;

public enum I2cBusSpeed
{
    StandardMode,
    FastMode,
    FastModePlus,
}

public enum I2cTransferStatus
{
    UnknownError,
    FullTransfer,
    ClockStretchTimeout,
    PartialTransfer,
    SlaveAddressNotAcknowledged,
}

public struct I2cTransferResult
{
    private readonly uint _bytes;
    private readonly I2cTransferStatus _status;

    internal I2cTransferResult(bool acknowledged, int bytes)
    {
        _bytes = acknowledged ? (uint)bytes : 0;
        _status = acknowledged ? I2cTransferStatus.FullTransfer : I2cTransferStatus.SlaveAddressNotAcknowledged;
    }

    public uint BytesTransferred => _bytes;
    public I2cTransferStatus Status => _status;
}

public sealed class I2cConnectionSettings
{
    public I2cConnectionSettings(int busId, int deviceAddress)
        : this(busId, deviceAddress, I2cBusSpeed.FastMode)
    {
    }

    public I2cConnectionSettings(int busId, int deviceAddress, I2cBusSpeed busSpeed)
    {
        BusId = busId;
        DeviceAddress = deviceAddress;
        BusSpeed = busSpeed;
    }

    public int BusId { get; }
    public int DeviceAddress { get; }
    public I2cBusSpeed BusSpeed { get; }
}

public class I2cDevice : IDisposable
{
    private readonly I2cConnectionSettings _settings;

    public I2cDevice(I2cConnectionSettings settings)
    {
        _settings = settings;
        Bench.PowerOn();
        if (settings.BusId < 1) Bench.Fault("the runtime's bus numbers start at 1");
    }

    public I2cConnectionSettings ConnectionSettings => _settings;

    public static I2cDevice Create(I2cConnectionSettings settings) => new I2cDevice(settings);

    public byte ReadByte()
    {
        byte[] one = new byte[1];
        Read(one);
        return one[0];
    }

    public I2cTransferResult Read(SpanByte buffer) => new I2cTransferResult(Bench.Receive(_settings.DeviceAddress, buffer), buffer.Length);

    public I2cTransferResult WriteByte(byte value) => Write(new byte[] { value });

    public I2cTransferResult Write(SpanByte buffer) => new I2cTransferResult(Bench.Send(_settings.DeviceAddress, buffer), buffer.Length);

    public I2cTransferResult WriteRead(SpanByte writeBuffer, SpanByte readBuffer)
    {
        int address = _settings.DeviceAddress;
        return new I2cTransferResult(Bench.Send(address, writeBuffer) && Bench.Receive(address, readBuffer), writeBuffer.Length + readBuffer.Length);
    }

    public void Dispose()
    {
    }
}
