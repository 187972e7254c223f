namespace Intervalometer.Settings.Store;

/// <summary>
/// Cyclic redundancy checks over bytes, four bits at a time with a table of sixteen. The parameters are those of the catalogue of
/// parametrised CRC algorithms (G. Cook). A check value is the CRC of the nine ASCII characters "123456789".
/// </summary>
public static class Crc
{
    /// <summary>The initial value and the final exclusive-or of the CRC-32.</summary>
    private const uint AllOnes = 0xFFFFFFFF;

    // CRC-32/ISO-HDLC (also IEEE 802.3): polynomial 0x04C11DB7 reflected, 0xEDB88320, for each value of four bits.
    private static readonly uint[] Table32 =
    {
        0x00000000, 0x1DB71064, 0x3B6E20C8, 0x26D930AC, 0x76DC4190, 0x6B6B51F4, 0x4DB26158, 0x5005713C,
        0xEDB88320, 0xF00F9344, 0xD6D6A3E8, 0xCB61B38C, 0x9B64C2B0, 0x86D3D2D4, 0xA00AE278, 0xBDBDF21C,
    };

    // CRC-16/IBM-3740: polynomial 0x1021, not reflected, for each value of four bits.
    private static readonly int[] Table16 =
    {
        0x0000, 0x1021, 0x2042, 0x3063, 0x4084, 0x50A5, 0x60C6, 0x70E7,
        0x8108, 0x9129, 0xA14A, 0xB16B, 0xC18C, 0xD1AD, 0xE1CE, 0xF1EF,
    };

    /// <summary>CRC-32/ISO-HDLC of some bytes; check value 0xCBF43926.</summary>
    public static uint Of32(byte[] data, int offset, int count) => Finish32(Add32(Start32, data, offset, count));

    /// <summary>The state before the first byte of a CRC-32 that is worked out in parts.</summary>
    public const uint Start32 = AllOnes;

    /// <summary>Adds some bytes to a CRC-32.</summary>
    public static uint Add32(uint state, byte[] data, int offset, int count)
    {
        for (int i = offset; i < offset + count; i++)
        {
            state ^= data[i];
            state = (state >> 4) ^ Table32[(int)(state & 15)];
            state = (state >> 4) ^ Table32[(int)(state & 15)];
        }
        return state;
    }

    /// <summary>The CRC-32 that follows from the state after the last part.</summary>
    public static uint Finish32(uint state) => state ^ AllOnes;

    /// <summary>CRC-16/IBM-3740 (initial value 0xFFFF) of some bytes, 0 to 65535; check value 0x29B1.</summary>
    public static int Of16(byte[] data, int offset, int count)
    {
        int state = 0xFFFF;
        for (int i = offset; i < offset + count; i++)
        {
            int value = data[i];
            state = ((state << 4) & 0xFFFF) ^ Table16[((state >> 12) ^ (value >> 4)) & 15];
            state = ((state << 4) & 0xFFFF) ^ Table16[((state >> 12) ^ value) & 15];
        }
        return state;
    }
}
