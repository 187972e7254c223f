namespace Intervalometer.Drivers;

/// <summary>
/// One chip on a two-wire (I2C) bus. It is an interface of our own, because the two runtimes report a missing acknowledge in
/// different ways, and a model cannot replace the device runtime's own class.
/// </summary>
public interface ITwoWireDevice
{
    /// <summary>Sends every byte of <paramref name="data"/> after the address. Returns false when the chip did not acknowledge.</summary>
    bool Write(byte[] data);

    /// <summary>Fills <paramref name="data"/> from the chip. Returns false when the chip did not acknowledge.</summary>
    bool Read(byte[] data);

    /// <summary>Sends <paramref name="output"/> and, after a repeated start, fills <paramref name="input"/>. Returns false when the chip did not acknowledge.</summary>
    bool WriteRead(byte[] output, byte[] input);
}
