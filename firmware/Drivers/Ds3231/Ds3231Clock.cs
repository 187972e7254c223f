using Intervalometer.Coast.Time;

namespace Intervalometer.Drivers.Ds3231;

/// <summary>The result of reading the clock chip.</summary>
public enum ClockState
{
    /// <summary>The time can be used.</summary>
    Running,

    /// <summary>The chip does not acknowledge: it is not fitted, the address is wrong, or the bus hangs.</summary>
    NoAnswer,

    /// <summary>The oscillator has stopped at some time (first power, flat cell). The time is refused until it is set.</summary>
    Stopped,

    /// <summary>The registers hold no date of 2000 to 2099. The time is refused until it is set.</summary>
    Nonsense,
}

/// <summary>
/// DS3231 real-time clock. It is set to universal time in 24-hour mode, and 12-hour mode is read as well in case another program has set
/// it. The chip copies its registers at the start of a read, so that one read of seven bytes belongs to one moment (datasheet,
/// address map).
/// </summary>
/// <remarks>The chip is accurate to 2 ppm from 0 to 40 degrees C (datasheet), which is 5 s a month. Calls allocate nothing after construction.</remarks>
public sealed class Ds3231Clock
{
    private readonly ITwoWireDevice _chip;
    private readonly byte[] _pointer = new byte[1];
    private readonly byte[] _one = new byte[1];
    private readonly byte[] _two = new byte[2];
    private readonly byte[] _seven = new byte[7];
    private readonly byte[] _setTime = new byte[8];
    private readonly byte[] _setOne = new byte[2];

    /// <summary>Creates the driver for a chip at address 0x68.</summary>
    public Ds3231Clock(ITwoWireDevice chip) => _chip = chip;

    /// <summary>Reads the time. The instant means something only when the result is <see cref="ClockState.Running"/>.</summary>
    public ClockState Read(out UtcInstant time)
    {
        time = new UtcInstant(0);
        if (!ReadOne(Ds3231Registers.Status, out byte status)) return ClockState.NoAnswer;
        if ((status & Ds3231Registers.OscillatorStopped) != 0) return ClockState.Stopped;
        _pointer[0] = Ds3231Registers.Seconds;
        if (!_chip.WriteRead(_pointer, _seven)) return ClockState.NoAnswer;
        for (int i = 0; i < 7; i++)
        {
            // Every register is BCD without its flag bits. Hours and MonthCentury have flags above the tens.
            if ((_seven[i] & 0x0F) > 9) return ClockState.Nonsense;
        }
        if (!Hour(_seven[Ds3231Registers.Hours], out int hour)) return ClockState.Nonsense;
        CivilTime civil = new CivilTime(
            2000 + FromBcd(_seven[Ds3231Registers.Year]),
            // A set century bit means that the chip has run past 2099. It makes the month 81 or more, which is no date.
            FromBcd(_seven[Ds3231Registers.MonthCentury]),
            FromBcd(_seven[Ds3231Registers.Date]),
            hour,
            FromBcd(_seven[Ds3231Registers.Minutes]),
            FromBcd(_seven[Ds3231Registers.Seconds]));
        if (!civil.IsValid) return ClockState.Nonsense;
        time = civil.AsUtc();
        return ClockState.Running;
    }

    /// <summary>Sets the time, lets the oscillator run on battery, and clears the stopped flag. Returns false when the chip does not answer, or when the instant is outside 2000 to 2099.</summary>
    public bool Set(UtcInstant time)
    {
        if (!time.IsValid) return false;
        CivilTime civil = CivilTime.FromUtc(time);
        _setTime[0] = Ds3231Registers.Seconds;
        _setTime[1 + Ds3231Registers.Seconds] = ToBcd(civil.Second);
        _setTime[1 + Ds3231Registers.Minutes] = ToBcd(civil.Minute);
        _setTime[1 + Ds3231Registers.Hours] = ToBcd(civil.Hour);
        _setTime[1 + Ds3231Registers.Day] = (byte)civil.Weekday;
        _setTime[1 + Ds3231Registers.Date] = ToBcd(civil.Day);
        _setTime[1 + Ds3231Registers.MonthCentury] = ToBcd(civil.Month);
        _setTime[1 + Ds3231Registers.Year] = ToBcd(civil.Year - 2000);
        if (!_chip.Write(_setTime)) return false;
        if (!ReadOne(Ds3231Registers.Control, out byte control)) return false;
        if (!WriteOne(Ds3231Registers.Control, (byte)(control & ~Ds3231Registers.StopOnBattery))) return false;
        if (!ReadOne(Ds3231Registers.Status, out byte status)) return false;
        return WriteOne(Ds3231Registers.Status, (byte)(status & ~Ds3231Registers.OscillatorStopped));
    }

    /// <summary>Reads the chip's temperature in quarters of a degree C, -160 to 340 over its working range. Returns false when the chip does not answer.</summary>
    public bool ReadTemperature(out int quarterDegrees)
    {
        quarterDegrees = 0;
        _pointer[0] = Ds3231Registers.TemperatureHigh;
        if (!_chip.WriteRead(_pointer, _two)) return false;
        int whole = _two[0] >= 128 ? _two[0] - 256 : _two[0];
        quarterDegrees = whole * 4 + (_two[1] >> 6);
        return true;
    }

    /// <summary>Sets the aging offset, -128 to 127. One step up slows the clock by about 0.1 ppm at 25 degrees C. Returns false when the chip does not answer.</summary>
    public bool SetAging(int steps)
    {
        if (steps < -128) steps = -128;
        if (steps > 127) steps = 127;
        return WriteOne(Ds3231Registers.AgingOffset, (byte)(steps < 0 ? steps + 256 : steps));
    }

    private static bool Hour(byte register, out int hour)
    {
        if ((register & Ds3231Registers.TwelveHour) == 0)
        {
            hour = FromBcd((byte)(register & 0x3F));
            return hour <= 23;
        }
        hour = FromBcd((byte)(register & 0x1F));
        if (hour < 1 || hour > 12) return false;
        hour = hour % 12 + ((register & Ds3231Registers.Afternoon) != 0 ? 12 : 0);
        return true;
    }

    private static int FromBcd(byte bcd) => (bcd >> 4) * 10 + (bcd & 0x0F);

    private static byte ToBcd(int value) => (byte)((value / 10 << 4) | value % 10);

    private bool ReadOne(byte register, out byte value)
    {
        _pointer[0] = register;
        bool answered = _chip.WriteRead(_pointer, _one);
        value = _one[0];
        return answered;
    }

    private bool WriteOne(byte register, byte value)
    {
        _setOne[0] = register;
        _setOne[1] = value;
        return _chip.Write(_setOne);
    }
}
