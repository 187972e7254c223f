using System.Device.I2c;

namespace Intervalometer.Drivers;

/// <summary>One chip on a real bus. The device runtime reports a missing acknowledge by a status, and .NET by an exception.</summary>
public sealed class I2cWire : ITwoWireDevice
{
    private readonly I2cDevice _device;

    /// <summary>Wraps an open device.</summary>
    public I2cWire(I2cDevice device)
    {
        _device = device;
    }

#if NANO
    /// <inheritdoc/>
    public bool Write(byte[] data) => _device.Write(data).Status == I2cTransferStatus.FullTransfer;

    /// <inheritdoc/>
    public bool Read(byte[] data) => _device.Read(data).Status == I2cTransferStatus.FullTransfer;

    /// <inheritdoc/>
    public bool WriteRead(byte[] output, byte[] input) => _device.WriteRead(output, input).Status == I2cTransferStatus.FullTransfer;
#else
    /// <inheritdoc/>
    public bool Write(byte[] data)
    {
        try
        {
            _device.Write(data);
            return true;
        }
        catch (System.IO.IOException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public bool Read(byte[] data)
    {
        try
        {
            _device.Read(data);
            return true;
        }
        catch (System.IO.IOException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public bool WriteRead(byte[] output, byte[] input)
    {
        try
        {
            _device.WriteRead(output, input);
            return true;
        }
        catch (System.IO.IOException)
        {
            return false;
        }
    }
#endif
}
