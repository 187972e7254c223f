using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>
/// The memory chip, by its data sheet (Atmel, AT24C32/64): two address bytes, pages of 32 bytes inside which a write wraps round,
/// a write cycle of 10 ms without any acknowledge, reads that run on.
/// </summary>
public sealed class Memory
{
    private const int Size = 4096;
    private const int PageBytes = 32;
    private const int AddressBytes = 2;
    private const long WriteCycleUs = 10_000;

    private readonly byte[] _cells = new byte[Size];
    private int _pointer;
    private long _busyUntilUs;

    /// <summary>Holds what the script says.</summary>
    public Memory()
    {
        byte[] held = Script.Memory();
        for (int i = 0; i < Size; i++) _cells[i] = i < held.Length ? held[i] : (byte)0xFF;
    }

    /// <summary>Takes one message. False when it is not acknowledged.</summary>
    public bool Write(SpanByte message)
    {
        if (Busy) return false;
        int length = message.Length;
        if (length < AddressBytes) return true;
        _pointer = ((message[0] << 8) | message[1]) & (Size - 1);
        if (length == AddressBytes) return true;
        int page = _pointer & ~(PageBytes - 1);
        for (int i = AddressBytes; i < length; i++)
        {
            _cells[_pointer] = message[i];
            _pointer = page + ((_pointer + 1) & (PageBytes - 1));
        }
        _busyUntilUs = BoardClock.NowUs + WriteCycleUs;
        return true;
    }

    /// <summary>Fills a buffer. False when it is not acknowledged.</summary>
    public bool Read(SpanByte into)
    {
        if (Busy) return false;
        int length = into.Length;
        for (int i = 0; i < length; i++)
        {
            into[i] = _cells[_pointer];
            _pointer = (_pointer + 1) & (Size - 1);
        }
        return true;
    }

    /// <summary>Prints every page that is not erased.</summary>
    public void Print()
    {
        for (int page = 0; page < Size; page += PageBytes)
        {
            bool erased = true;
            for (int i = 0; i < PageBytes; i++) erased &= _cells[page + i] == 0xFF;
            if (erased) continue;
            char[] text = new char[PageBytes * 2];
            for (int i = 0; i < PageBytes; i++) Hex.Put(_cells[page + i], text, i * 2);
            Console.WriteLine("memory " + page.ToString() + " " + new string(text));
        }
    }

    private bool Busy => BoardClock.NowUs < _busyUntilUs;
}
