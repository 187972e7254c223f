#if !NANO
using System.Device.I2c;
using System.IO;

namespace Intervalometer.Drivers;

/// <summary>A chip on the library's I2C bus. A missing acknowledge becomes false instead of an exception.</summary>
public sealed class I2cWire : ITwoWireDevice
{
    private readonly I2cDevice _device;

    /// <summary>Wraps one opened device.</summary>
    public I2cWire(I2cDevice device)
    {
        _device = device;
    }

    /// <inheritdoc />
    public bool Write(byte[] data)
    {
        try { _device.Write(data); return true; }
        catch (IOException) { return false; }
    }

    /// <inheritdoc />
    public bool Read(byte[] data)
    {
        try { _device.Read(data); return true; }
        catch (IOException) { return false; }
    }

    /// <inheritdoc />
    public bool WriteRead(byte[] output, byte[] input)
    {
        try { _device.WriteRead(output, input); return true; }
        catch (IOException) { return false; }
    }
}
#endif
