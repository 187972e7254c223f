namespace Intervalometer.Drivers.Veml7700;

/// <summary>
/// Command codes and bits of the VEML7700 light sensor (Vishay, data sheet 84286, command register format; its sister chip VEML6030, data sheet
/// 84366, has the same tables). Every register is a word of 16 bits, low byte first. Names, bits and the default of ALS_CONF_0 were read in
/// copies of these sheets. Where a time is from memory, its comment says so.
/// </summary>
public static class Veml7700Registers
{
    /// <summary>Two-wire address, 7 bits.</summary>
    public const byte Address = 0x10;

    /// <summary>ALS_CONF_0: gain, integration time, persistence, interrupt, shut down.</summary>
    public const byte AlsConf0 = 0x00;

    /// <summary>Power saving mode: 0 switches it off, so that the chip measures all the time.</summary>
    public const byte PowerSaving = 0x03;

    /// <summary>ALS: the last complete measurement of the light, weighted as by the eye, counts.</summary>
    public const byte Als = 0x04;

    /// <summary>How many command codes there are: 0x00 to 0x07.</summary>
    public const int Count = 8;

    /// <summary>ALS_SD, bit 0 of ALS_CONF_0: shut down. It is set when the power comes on.</summary>
    public const int ShutDown = 0x0001;

    /// <summary>The position of ALS_GAIN in ALS_CONF_0: 00 is 1, 01 is 2, 10 is 1/8, 11 is 1/4.</summary>
    public const int GainShift = 11;

    /// <summary>The position of ALS_IT in ALS_CONF_0: 1100 is 25 ms, 1000 50, 0000 100, 0001 200, 0010 400, 0011 800.</summary>
    public const int TimeShift = 6;

    /// <summary>Bits of ALS_CONF_0 that must be written as 0: 15 to 13, 10, 3 and 2.</summary>
    public const int Reserved = 0xE40C;

    /// <summary>The time from the end of the shut-down to the beginning of the first measurement, µs. It is 2.5 ms from memory of the application note 84323, and 4 ms in a public driver.</summary>
    public const int SettleUs = 4_000;

    /// <summary>The chip's own clock may be slow, so a measurement may take up to this much of its nominal time, per cent (own allowance; public drivers wait 110).</summary>
    public const int SlowestPercent = 120;

    /// <summary>The largest count.</summary>
    public const int MostCounts = 0xFFFF;

    /// <summary>The light of one count at gain 2 and 800 ms, lx (application note 84323 of 2025; older issues say 0.0036). Half the gain or half the time doubles it.</summary>
    public const double FinestLux = 0.0042;
}
