using Intervalometer.Settings.Store;

namespace Intervalometer.Drivers.At24c32;

/// <summary>
/// A 4096-byte serial memory, the AT24C32 or a chip like it. Facts from Atmel, AT24C32/64 data sheet (2-wire serial EEPROM): two address
/// bytes, high byte first; pages of 32 bytes, inside which a write wraps round; a write cycle of up to 10 ms in which nothing is acknowledged;
/// sequential reads that go on over the ends of pages. It allocates at construction only and never waits.
/// </summary>
public sealed class At24c32 : IPageMemory
{
    /// <summary>How many bytes the chip has.</summary>
    public const int SizeBytes = 4096;

    /// <summary>How many bytes a page has.</summary>
    public const int PageBytes = 32;

    /// <summary>The 7-bit address with the three address pins high, as on the usual modules.</summary>
    public const int Address = 0x57;

    private const int AddressBytes = 2;

    private readonly ITwoWireDevice _wire;
    private readonly byte[] _where = new byte[AddressBytes];
    private readonly byte[] _message = new byte[AddressBytes + PageBytes];
    private readonly byte[] _page = new byte[PageBytes];

    /// <summary>Creates the driver of a chip on its bus. Sends nothing.</summary>
    public At24c32(ITwoWireDevice wire)
    {
        _wire = wire;
    }

    /// <summary>How many transfers were not acknowledged. Those during a write cycle are counted as well.</summary>
    public int Unanswered { get; private set; }

    /// <summary>Asks for an acknowledge by setting the address only. Returns false while a write cycle runs, and when the chip is not there.</summary>
    public bool Ready()
    {
        _where[0] = 0;
        _where[1] = 0;
        return Count(_wire.Write(_where));
    }

    /// <inheritdoc/>
    public bool ReadPage(int page, byte[] into, int offset)
    {
        int address = page * PageBytes;
        _where[0] = (byte)(address >> 8);
        _where[1] = (byte)(address & 0xFF);
        if (!Count(_wire.WriteRead(_where, _page))) return false;
        for (int i = 0; i < PageBytes; i++) into[offset + i] = _page[i];
        return true;
    }

    /// <inheritdoc/>
    public bool WritePage(int page, byte[] from, int offset)
    {
        int address = page * PageBytes;
        _message[0] = (byte)(address >> 8);
        _message[1] = (byte)(address & 0xFF);
        for (int i = 0; i < PageBytes; i++) _message[AddressBytes + i] = from[offset + i];
        return Count(_wire.Write(_message));
    }

    private bool Count(bool answered)
    {
        if (!answered) Unanswered++;
        return answered;
    }
}
