// This contract is declaration-only: it never runs and is not for flashing. See ../README.md.
#nullable disable

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
    public uint BytesTransferred => throw new NotImplementedException();
    public I2cTransferStatus Status => throw new NotImplementedException();
}

public sealed class I2cConnectionSettings
{
    public I2cConnectionSettings(int busId, int deviceAddress) => throw new NotImplementedException();
    public I2cConnectionSettings(int busId, int deviceAddress, I2cBusSpeed busSpeed) => throw new NotImplementedException();
    public int BusId => throw new NotImplementedException();
    public int DeviceAddress => throw new NotImplementedException();
    public I2cBusSpeed BusSpeed => throw new NotImplementedException();
}

public class I2cDevice : IDisposable
{
    public I2cDevice(I2cConnectionSettings settings) => throw new NotImplementedException();
    public I2cConnectionSettings ConnectionSettings => throw new NotImplementedException();
    public static I2cDevice Create(I2cConnectionSettings settings) => throw new NotImplementedException();
    public byte ReadByte() => throw new NotImplementedException();
    public I2cTransferResult Read(SpanByte buffer) => throw new NotImplementedException();
    public I2cTransferResult WriteByte(byte value) => throw new NotImplementedException();
    public I2cTransferResult Write(SpanByte buffer) => throw new NotImplementedException();
    public I2cTransferResult WriteRead(SpanByte writeBuffer, SpanByte readBuffer) => throw new NotImplementedException();
    public void Dispose() => throw new NotImplementedException();
}
