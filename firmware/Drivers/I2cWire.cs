using System.Device.I2c;
#if !NANO
using System.IO;
#endif

namespace Intervalometer.Drivers;

/// <summary>
/// A chip on the library's I2C bus. The two runtimes tell a missing acknowledge in different ways, by an exception on a PC
/// and by a status on the device; here it is false on both.
/// </summary>
public sealed class I2cWire : ITwoWireDevice
{
    private readonly I2cDevice _device;

    /// <summary>Wraps one opened device.</summary>
    public I2cWire(I2cDevice device)
    {
        _device = device;
    }

#if NANO
    /// <inheritdoc />
    public bool Write(byte[] data) => _device.Write(data).Status == I2cTransferStatus.FullTransfer;

    /// <inheritdoc />
    public bool Read(byte[] data) => _device.Read(data).Status == I2cTransferStatus.FullTransfer;

    /// <inheritdoc />
    public bool WriteRead(byte[] output, byte[] input) => _device.WriteRead(output, input).Status == I2cTransferStatus.FullTransfer;
#else
    /// <inheritdoc />
    public bool Write(byte[] data)
    {
        try
        {
            _device.Write(data);
            return true;
        }
        catch (IOException)
        {
            return false;
        }
    }

    /// <inheritdoc />
    public bool Read(byte[] data)
    {
        try
        {
            _device.Read(data);
            return true;
        }
        catch (IOException)
        {
            return false;
        }
    }

    /// <inheritdoc />
    public bool WriteRead(byte[] output, byte[] input)
    {
        try
        {
            _device.WriteRead(output, input);
            return true;
        }
        catch (IOException)
        {
            return false;
        }
    }
#endif
}
