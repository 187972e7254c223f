using Intervalometer.Core;
using Intervalometer.VirtualBoard.Bus;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Memory;

/// <summary>What a loss of power leaves of the page that was being written.</summary>
public enum CutKind
{
    /// <summary>As it was before.</summary>
    Old,

    /// <summary>The bytes that had arrived are new, the rest as before.</summary>
    Prefix,

    /// <summary>Each byte is the old one, the new one or any other.</summary>
    Torn,

    /// <summary>Every byte of the page can be anything.</summary>
    Garbage,

    /// <summary>The whole page reads as erased.</summary>
    Erased,
}

/// <summary>
/// A 4096-byte AT24C32 on the bus, by its data sheet (Atmel, AT24C32/64 2-wire serial EEPROM): two address bytes; a write wraps
/// round inside its page of 32 bytes and starts a write cycle at its stop, during which the chip acknowledges nothing; a
/// write of the address alone starts none; reads run on and roll over at the end of the memory.
/// </summary>
/// <remarks>A loss of power does more harm here than the data sheet says: the page that was being written may hold anything afterwards.</remarks>
public sealed class At24c32Model(IMicrosClock clock, ulong seed = 1) : IBusChip
{
    /// <summary>Bytes in the chip.</summary>
    public const int Size = 4096;

    /// <summary>Bytes in a page.</summary>
    public const int PageBytes = 32;

    private const int AddressBytes = 2;
    private const double ByteUs = 22.5; // 9 clocks at 400 kHz
    private readonly Dice _dice = new(seed);
    private readonly byte[] _cells = Enumerable.Repeat((byte)0xFF, Size).ToArray();
    private readonly int[] _wear = new int[Size / PageBytes];
    private readonly byte[] _before = new byte[PageBytes];
    private readonly byte[] _stuckBits = new byte[Size];
    private readonly byte[] _stuckAt = new byte[Size];
    private long _busyUntilUs;
    private int _writing = -1;
    private int _pointer;
    private long _cutAfter = long.MaxValue;
    private CutKind _cutKind;

    /// <summary>Length of a write cycle, µs; the sheet allows up to 10 ms.</summary>
    public long WriteCycleUs { get; set; } = 10_000;

    /// <summary>False while it has no power: it acknowledges nothing.</summary>
    public bool Powered { get; private set; } = true;

    /// <summary>Write cycles of each page. The sheet promises a million.</summary>
    public IReadOnlyList<int> Wear => _wear;

    /// <summary>Bytes sent to the chip in writes so far, addresses included.</summary>
    public long WriteBytes { get; private set; }

    /// <summary>True while the write protect pin is high: a write is acknowledged and changes nothing (sheet: "Write Protect").</summary>
    public bool WriteProtected { get; set; }

    /// <summary>Makes bits of a cell worn out: they keep their value, whatever is written.</summary>
    /// <param name="address">The cell.</param>
    /// <param name="bits">Which bits.</param>
    /// <param name="value">What they read as.</param>
    public void Stick(int address, byte bits, byte value)
    {
        _stuckBits[address] = bits;
        _stuckAt[address] = value;
        Settle(address);
    }

    /// <summary>A copy of all cells.</summary>
    public byte[] Snapshot() => (byte[])_cells.Clone();

    /// <summary>Puts other contents into the cells.</summary>
    public void Fill(ReadOnlySpan<byte> cells)
    {
        cells.CopyTo(_cells);
        for (int i = 0; i < Size; i++) Settle(i);
    }

    /// <summary>The power goes after this many more bytes have been sent to the chip in writes, addresses included.</summary>
    public void CutAfter(long bytes, CutKind kind)
    {
        _cutAfter = WriteBytes + bytes;
        _cutKind = kind;
    }

    /// <summary>The power goes now.</summary>
    public void PowerOff(CutKind kind)
    {
        if (Powered && _writing >= 0 && clock.NowUs < _busyUntilUs) Spoil(_writing, kind, PageBytes);
        _writing = -1;
        Powered = false;
    }

    /// <summary>The power comes back.</summary>
    public void PowerOn()
    {
        Powered = true;
        _busyUntilUs = 0;
        _writing = -1;
        _pointer = 0;
        _cutAfter = long.MaxValue;
    }

    /// <inheritdoc />
    public bool Write(ReadOnlySpan<byte> data)
    {
        if (!Answers) return false;
        _writing = -1;
        bool cut = WriteBytes + data.Length > _cutAfter;
        int arrived = cut ? (int)(_cutAfter - WriteBytes) : data.Length;
        WriteBytes += arrived;
        if (arrived >= AddressBytes) _pointer = ((data[0] << 8) | data[1]) & (Size - 1);
        if (arrived > AddressBytes) Program(data[AddressBytes..arrived]);
        if (!cut) return true;
        if (_writing >= 0) Spoil(_writing, _cutKind, arrived - AddressBytes);
        _writing = -1;
        Powered = false;
        return false;
    }

    /// <inheritdoc />
    public bool Read(Span<byte> data)
    {
        if (!Answers) return false;
        for (int i = 0; i < data.Length; i++)
        {
            data[i] = _cells[_pointer];
            _pointer = (_pointer + 1) & (Size - 1);
        }
        return true;
    }

    private bool Answers => Powered && clock.NowUs >= _busyUntilUs;

    private void Program(ReadOnlySpan<byte> data)
    {
        int page = _pointer / PageBytes;
        _cells.AsSpan(page * PageBytes, PageBytes).CopyTo(_before);
        _writing = page;
        _wear[page]++;
        foreach (byte value in data)
        {
            if (!WriteProtected) _cells[_pointer] = value;
            Settle(_pointer);
            _pointer = page * PageBytes + (_pointer + 1) % PageBytes;
        }
        _busyUntilUs = clock.NowUs + (long)((1 + AddressBytes + data.Length) * ByteUs) + WriteCycleUs;
    }

    private void Spoil(int page, CutKind kind, int arrived)
    {
        Span<byte> cells = _cells.AsSpan(page * PageBytes, PageBytes);
        for (int i = 0; i < PageBytes; i++)
        {
            cells[i] = kind switch
            {
                CutKind.Old => _before[i],
                CutKind.Prefix => i < arrived ? cells[i] : _before[i],
                CutKind.Torn => _dice.Whole(0, 2) switch { 0 => _before[i], 1 => cells[i], _ => (byte)_dice.Whole(0, 255) },
                CutKind.Garbage => (byte)_dice.Whole(0, 255),
                _ => 0xFF,
            };
            Settle(page * PageBytes + i);
        }
    }

    private void Settle(int address) => _cells[address] = (byte)((_cells[address] & ~_stuckBits[address]) | (_stuckAt[address] & _stuckBits[address]));
}
