using System.Buffers.Binary;
using System.Text;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>
/// The head of a device file (.pe): a marker, a checksum of the head and one of the rest, the version, and where each table begins. The last of
/// these is the length of the whole.
/// </summary>
/// <remarks>
/// nanoframework/nf-interpreter, src/CLR/Include/nanoCLR_Types.h (CLR_RECORD_ASSEMBLY) and src/CLR/Core/TypeSystem.cpp (GoodHeader, GoodAssembly).
/// The checksum has the polynomial 0x04C11DB7, the highest bit first, begins with 0 and ends as it is.
/// </remarks>
public static class DeviceFile
{
    /// <summary>What every device file begins with.</summary>
    public const string Marker = "NFMRK";

    /// <summary>Where the version stands: four numbers of two bytes.</summary>
    public const int VersionAt = 0x1C;

    /// <summary>Bytes of the head.</summary>
    public const int HeadBytes = 0x7C;

    private const int HeadSumAt = 0x08, RestSumAt = 0x0C, LengthStandsAt = 0x64;
    private const int Alignment = 4;
    private const uint Polynomial = 0x04C11DB7;

    /// <summary>A length padded to the next multiple of 4.</summary>
    public static int Padded(int bytes) => (bytes + Alignment - 1) / Alignment * Alignment;

    /// <summary>Length of the file that begins at a place, as its head says it.</summary>
    public static int LengthAt(byte[] bytes, int at) => (int)BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(at + LengthStandsAt));

    /// <summary>What is wrong with the file that begins at a place, in words; null when nothing is.</summary>
    public static string? FaultAt(byte[] bytes, int at)
    {
        if (bytes.Length - at < HeadBytes || Encoding.ASCII.GetString(bytes, at, Marker.Length) != Marker) return $"it does not begin with {Marker}";
        int length = LengthAt(bytes, at);
        if (length < HeadBytes || length > bytes.Length - at) return $"its head gives a length of {length} bytes";
        if (HeadSum(bytes, at) != Read(bytes, at + HeadSumAt)) return "the checksum of its head is wrong";
        return RestSum(bytes, at) == Read(bytes, at + RestSumAt) ? null : "the checksum of its content is wrong";
    }

    /// <summary>Works out both checksums again, for the file that begins at a place.</summary>
    public static void Seal(byte[] bytes, int at)
    {
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(at + RestSumAt), RestSum(bytes, at));
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(at + HeadSumAt), HeadSum(bytes, at));
    }

    /// <summary>The checksum of some bytes.</summary>
    public static uint Sum(ReadOnlySpan<byte> bytes)
    {
        uint sum = 0;
        foreach (byte b in bytes)
        {
            sum ^= (uint)b << 24;
            for (int bit = 0; bit < 8; bit++) sum = (sum & 0x80000000) != 0 ? (sum << 1) ^ Polynomial : sum << 1;
        }
        return sum;
    }

    private static uint RestSum(byte[] bytes, int at) => Sum(bytes.AsSpan(at + HeadBytes, LengthAt(bytes, at) - HeadBytes));

    // The head's own checksum counts as 0.
    private static uint HeadSum(byte[] bytes, int at)
    {
        byte[] head = bytes[at..(at + HeadBytes)];
        head.AsSpan(HeadSumAt, sizeof(uint)).Clear();
        return Sum(head);
    }

    private static uint Read(byte[] bytes, int at) => BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(at));
}
