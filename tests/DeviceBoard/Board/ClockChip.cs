using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>The clock chip (DS3231, data sheet, address map): a pointer, then registers; runs with the board's clock.</summary>
public sealed class ClockChip
{
    private const int Registers = 0x13;
    private const int Control = 0x0E;
    private const int Status = 0x0F;
    private const int TemperatureHigh = 0x11;
    private const int TimeRegisters = 7;

    private readonly byte[] _registers = new byte[Registers];
    private DateTime _setTo;
    private long _setUs;
    private int _pointer;

    /// <summary>A chip that has run since it was set.</summary>
    public ClockChip()
    {
        int date = Script.StartDate();
        int second = Script.StartSecond();
        _setTo = new DateTime(date / 10000, date / 100 % 100, date % 100, second / 3600, second / 60 % 60, second % 60);
        _setUs = 0;
        _registers[TemperatureHigh] = 12;
        byte[] held = Script.ClockHolds();
        for (int i = 0; i < held.Length; i++) _registers[TimeRegisters + i] = held[i];
    }

    /// <summary>Prints what its cell keeps of the registers behind the time.</summary>
    public void Print()
    {
        char[] text = new char[(Control - TimeRegisters) * 2];
        for (int i = 0; i < Control - TimeRegisters; i++) Hex.Put(_registers[TimeRegisters + i], text, i * 2);
        Console.WriteLine("clock " + new string(text));
    }

    /// <summary>Takes one message.</summary>
    public void Write(SpanByte message)
    {
        int length = message.Length;
        if (length == 0) return;
        _pointer = message[0];
        if (_pointer == 0 && length > TimeRegisters)
        {
            _setTo = new DateTime(2000 + Plain(message[7]), Plain(message[6] & 0x7F), Plain(message[5]), Plain(message[3] & 0x3F), Plain(message[2]), Plain(message[1]));
            _setUs = BoardClock.NowUs;
        }
        for (int i = 1; i < length; i++)
        {
            if (_pointer >= TimeRegisters) _registers[_pointer] = message[i];
            _pointer = (_pointer + 1) % Registers;
        }
    }

    /// <summary>Fills a buffer; the time of one read is one moment.</summary>
    public void Read(SpanByte into)
    {
        DateTime now = _setTo.AddTicks((BoardClock.NowUs - _setUs) * 10);
        _registers[0] = Bcd(now.Second);
        _registers[1] = Bcd(now.Minute);
        _registers[2] = Bcd(now.Hour);
        _registers[3] = (byte)((int)now.DayOfWeek + 1);
        _registers[4] = Bcd(now.Day);
        _registers[5] = Bcd(now.Month);
        _registers[6] = Bcd(now.Year % 100);
        int length = into.Length;
        for (int i = 0; i < length; i++)
        {
            into[i] = _registers[_pointer];
            _pointer = (_pointer + 1) % Registers;
        }
    }

    private static byte Bcd(int value) => (byte)((value / 10 << 4) | value % 10);

    private static int Plain(int bcd) => (bcd >> 4) * 10 + (bcd & 15);
}
