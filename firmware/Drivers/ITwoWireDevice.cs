namespace Intervalometer.Drivers;

/// <summary>
/// One chip on a two-wire (I2C) bus. Our own small interface, because the two runtimes report a missing acknowledge in
/// different ways and the device runtime's own class cannot be replaced by a model.
/// </summary>
public interface ITwoWireDevice
{
    /// <summary>Sends every byte of <paramref name="data"/> after the address. False when the chip did not acknowledge.</summary>
    bool Write(byte[] data);

    /// <summary>Fills <paramref name="data"/> from the chip. False when the chip did not acknowledge.</summary>
    bool Read(byte[] data);

    /// <summary>Sends <paramref name="output"/>, then after a repeated start fills <paramref name="input"/>. False when the chip did not acknowledge.</summary>
    bool WriteRead(byte[] output, byte[] input);
}
