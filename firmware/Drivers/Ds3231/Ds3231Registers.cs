namespace Intervalometer.Drivers.Ds3231;

/// <summary>Addresses and bits of the DS3231 real-time clock (Maxim/Analog Devices datasheet 19-5170, figure 1).</summary>
public static class Ds3231Registers
{
    /// <summary>Two-wire address, 7 bits.</summary>
    public const byte Address = 0x68;

    /// <summary>Seconds, BCD 00 to 59.</summary>
    public const byte Seconds = 0x00;

    /// <summary>Minutes, BCD 00 to 59.</summary>
    public const byte Minutes = 0x01;

    /// <summary>Hours, BCD; bit 6 selects 12-hour mode, where bit 5 is PM.</summary>
    public const byte Hours = 0x02;

    /// <summary>Day of the week, 1 to 7; here 1 is Monday.</summary>
    public const byte Day = 0x03;

    /// <summary>Day of the month, BCD 01 to 31.</summary>
    public const byte Date = 0x04;

    /// <summary>Month, BCD 01 to 12; bit 7 is the century, toggled when the year goes from 99 to 00.</summary>
    public const byte MonthCentury = 0x05;

    /// <summary>Year, BCD 00 to 99.</summary>
    public const byte Year = 0x06;

    /// <summary>
    /// Alarm 1, seconds; the alarms are seven registers in a row. With both interrupts off (control register, A1IE and A2IE at 0, as
    /// after power-on) they only hold what was written, all eight bits of each, and the backup cell keeps it.
    /// </summary>
    public const byte Alarm1Seconds = 0x07;

    /// <summary>Control: bit 7 EOSC (1 stops the oscillator on battery), 6 BBSQW, 5 CONV, 4 RS2, 3 RS1, 2 INTCN, 1 A2IE, 0 A1IE.</summary>
    public const byte Control = 0x0E;

    /// <summary>Control/Status: bit 7 OSF (the oscillator has stopped), 3 EN32kHz, 2 BSY, 1 A2F, 0 A1F.</summary>
    public const byte Status = 0x0F;

    /// <summary>Aging offset, two's complement, about 0.1 ppm a step at 25 degrees C.</summary>
    public const byte AgingOffset = 0x10;

    /// <summary>Temperature, upper byte: whole degrees C, two's complement.</summary>
    public const byte TemperatureHigh = 0x11;

    /// <summary>Temperature, lower byte: quarters of a degree in bits 7 and 6.</summary>
    public const byte TemperatureLow = 0x12;

    /// <summary>How many registers there are, 0x00 to 0x12.</summary>
    public const int Count = 0x13;

    /// <summary>Bit 6 of <see cref="Hours"/>: 12-hour mode.</summary>
    public const byte TwelveHour = 0x40;

    /// <summary>Bit 5 of <see cref="Hours"/> in 12-hour mode: afternoon.</summary>
    public const byte Afternoon = 0x20;

    /// <summary>Bit 7 of <see cref="MonthCentury"/>.</summary>
    public const byte Century = 0x80;

    /// <summary>Bit 7 of <see cref="Status"/>: the oscillator has stopped, so the time cannot be trusted.</summary>
    public const byte OscillatorStopped = 0x80;

    /// <summary>Bit 7 of <see cref="Control"/>: stop the oscillator when on battery.</summary>
    public const byte StopOnBattery = 0x80;
}
