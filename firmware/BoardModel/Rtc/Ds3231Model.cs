using Intervalometer.Coast.Time;
using Intervalometer.Drivers;
using Intervalometer.Drivers.Ds3231;

namespace Intervalometer.VirtualBoard.Rtc;

/// <summary>
/// A DS3231 at register level: time registers that count, 12 and 24 hours, leap years to 2099, century bit, oscillator-stop
/// flag, control, status, aging offset and temperature, with the register pointer wrapping at the end (datasheet 19-5170).
/// The alarm registers can be read and written but do nothing.
/// </summary>
/// <param name="nowUs">The clock that drives it, µs.</param>
public sealed class Ds3231Model(Func<long> nowUs) : ITwoWireDevice
{
    // Power-on values: OSF and EN32kHz set, RS2, RS1 and INTCN set (datasheet, Control and Status registers).
    private readonly byte[] _registers = Initial();
    private int _pointer;
    private long _countedUs = nowUs();

    /// <summary>False makes it stop acknowledging, as if unplugged.</summary>
    public bool Connected { get; set; } = true;

    /// <summary>Error of its crystal in parts per million; positive runs fast.</summary>
    public double ErrorPpm { get; set; }

    /// <summary>A register as it stands now.</summary>
    public byte this[int register]
    {
        get
        {
            Count();
            return _registers[register];
        }
    }

    /// <summary>The cell runs flat: the count stops and OSF is set; power comes back with the power-on values.</summary>
    public void LosePower()
    {
        Initial().CopyTo(_registers, 0);
        _countedUs = nowUs();
    }

    /// <summary>Puts a temperature into its registers, in quarters of a degree C.</summary>
    public void SetTemperature(int quarterDegrees)
    {
        _registers[Ds3231Registers.TemperatureHigh] = (byte)(quarterDegrees >> 2);
        _registers[Ds3231Registers.TemperatureLow] = (byte)((quarterDegrees & 3) << 6);
    }

    /// <summary>Makes it run from an instant, like a chip whose clock was set and whose cell is good.</summary>
    public void SetRunning(UtcInstant time)
    {
        if (!new Ds3231Clock(this).Set(time)) throw new ArgumentException("The instant is outside 2000 to 2099, or the model is unplugged.", nameof(time));
    }

    /// <inheritdoc/>
    public bool Write(byte[] data)
    {
        if (!Connected) return false;
        Count();
        if (data.Length == 0) return true;
        _pointer = data[0] % Ds3231Registers.Count;
        foreach (byte value in data.AsSpan(1))
        {
            Store(_pointer, value);
            _pointer = (_pointer + 1) % Ds3231Registers.Count;
        }
        return true;
    }

    /// <inheritdoc/>
    public bool Read(byte[] data)
    {
        if (!Connected) return false;
        Count();
        for (int i = 0; i < data.Length; i++)
        {
            data[i] = _registers[_pointer];
            _pointer = (_pointer + 1) % Ds3231Registers.Count;
        }
        return true;
    }

    /// <inheritdoc/>
    public bool WriteRead(byte[] output, byte[] input) => Write(output) && Read(input);

    private static byte[] Initial()
    {
        var registers = new byte[Ds3231Registers.Count];
        registers[Ds3231Registers.Day] = 1;
        registers[Ds3231Registers.Date] = 1;
        registers[Ds3231Registers.MonthCentury] = 1;
        registers[Ds3231Registers.Control] = 0x1C;
        registers[Ds3231Registers.Status] = 0x88;
        registers[Ds3231Registers.TemperatureHigh] = 25;
        return registers;
    }

    private void Store(int register, byte value)
    {
        switch (register)
        {
            case Ds3231Registers.Seconds:
                // Writing the seconds resets the countdown chain: the next second is a whole one away.
                _countedUs = nowUs();
                _registers[register] = value;
                break;
            case Ds3231Registers.Status:
                // OSF, A2F and A1F can only be cleared by writing; EN32kHz is free, BSY is the chip's.
                byte held = _registers[register];
                _registers[register] = (byte)((held & value & 0x83) | (value & 0x08) | (held & 0x04));
                break;
            case Ds3231Registers.TemperatureHigh or Ds3231Registers.TemperatureLow:
                break;
            default:
                _registers[register] = value;
                break;
        }
    }

    private void Count()
    {
        // The aging offset slows the crystal by about 0.1 ppm a step.
        double rate = 1 + (ErrorPpm - 0.1 * (sbyte)_registers[Ds3231Registers.AgingOffset]) * 1e-6;
        long seconds = (long)((nowUs() - _countedUs) * rate / 1e6);
        if (seconds <= 0) return;
        _countedUs += (long)(seconds * 1e6 / rate);
        for (; seconds > 0; seconds--)
        {
            int days = seconds > 3 * 86400 && AtMidnight() ? (int)Math.Min(seconds / 86400, 36525) : 0;
            if (days > 0)
            {
                for (int d = 0; d < days; d++) NextDay();
                seconds -= days * 86400L - 1;
                continue;
            }
            Tick();
        }
    }

    private bool AtMidnight() => _registers[0] == 0 && _registers[1] == 0 && Hour() == 0;

    private void Tick()
    {
        if (!Roll(Ds3231Registers.Seconds, 60)) return;
        if (!Roll(Ds3231Registers.Minutes, 60)) return;
        int hour = Hour() + 1;
        SetHour(hour % 24);
        if (hour == 24) NextDay();
    }

    private void NextDay()
    {
        _registers[Ds3231Registers.Day] = (byte)(_registers[Ds3231Registers.Day] % 7 + 1);
        int month = FromBcd((byte)(_registers[Ds3231Registers.MonthCentury] & 0x1F));
        int year = FromBcd(_registers[Ds3231Registers.Year]);
        int date = FromBcd(_registers[Ds3231Registers.Date]) + 1;
        byte century = (byte)(_registers[Ds3231Registers.MonthCentury] & Ds3231Registers.Century);
        int length = month == 2 ? (year % 4 == 0 ? 29 : 28) : month is 4 or 6 or 9 or 11 ? 30 : 31;
        if (date > length)
        {
            date = 1;
            month++;
        }
        if (month > 12)
        {
            month = 1;
            year++;
        }
        if (year > 99)
        {
            year = 0;
            century ^= Ds3231Registers.Century;
        }
        _registers[Ds3231Registers.Date] = ToBcd(date);
        _registers[Ds3231Registers.MonthCentury] = (byte)(ToBcd(month) | century);
        _registers[Ds3231Registers.Year] = ToBcd(year);
    }

    private bool Roll(int register, int limit)
    {
        int value = FromBcd(_registers[register]) + 1;
        _registers[register] = ToBcd(value % limit);
        return value >= limit;
    }

    private int Hour()
    {
        byte register = _registers[Ds3231Registers.Hours];
        if ((register & Ds3231Registers.TwelveHour) == 0) return FromBcd((byte)(register & 0x3F));
        return FromBcd((byte)(register & 0x1F)) % 12 + ((register & Ds3231Registers.Afternoon) != 0 ? 12 : 0);
    }

    private void SetHour(int hour)
    {
        if ((_registers[Ds3231Registers.Hours] & Ds3231Registers.TwelveHour) == 0)
        {
            _registers[Ds3231Registers.Hours] = ToBcd(hour);
            return;
        }
        int twelve = hour % 12 == 0 ? 12 : hour % 12;
        _registers[Ds3231Registers.Hours] = (byte)(Ds3231Registers.TwelveHour | (hour >= 12 ? Ds3231Registers.Afternoon : 0) | ToBcd(twelve));
    }

    private static int FromBcd(byte bcd) => (bcd >> 4) * 10 + (bcd & 0x0F);

    private static byte ToBcd(int value) => (byte)((value / 10 << 4) | value % 10);
}
