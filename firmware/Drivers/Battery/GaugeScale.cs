namespace Intervalometer.Drivers.Battery;

/// <summary>
/// From the converter's count to the battery's voltage: the ESP32's first converter at full attenuation (11 or 12 dB by
/// another name), 12 bits, behind two equal resistors.
/// </summary>
/// <remarks>
/// The line is the maker's for an uncalibrated chip: slope 2.99991113 times the reference for 4096 counts, offset 142 mV
/// (esp-idf, esp_adc_cal, tables for ADC1 and 11 dB). The device runtime hands out the raw count (nf-interpreter,
/// System.Device.Adc for the ESP32). The reference is 1100 mV by design and anything from 1000 to 1200 mV in one chip
/// (esp-idf, ADC calibration), which alone moves a reading by up to 9 %: 3500 mV may show as 3230 to 3820. So a board needs its
/// own reference before its thresholds mean anything: measure the cell with a meter at the plug, and on the BENCH card press Up or Down
/// until it shows the same; the reference is then kept with the settings. Not measured on a board.
/// </remarks>
public sealed class GaugeScale
{
    /// <summary>The reference by design, mV.</summary>
    public const int DesignReferenceMillivolts = Settings.BoxSettings.DesignGaugeReference;

    /// <summary>The largest count.</summary>
    public const int MostCounts = 4095;

    // 2.99991113 times 65536, and the offset in mV, from the maker's tables.
    private const long SlopeScale = 196602;
    private const int OffsetMillivolts = 142;

    // Two equal resistors halve the voltage (hardware/wiring.csv, R15 and R16).
    private const int Divider = 2;

    private readonly long _slope;

    /// <summary>Creates the scale of one chip.</summary>
    /// <param name="referenceMillivolts">Its reference, mV; held to 1000 to 1200.</param>
    public GaugeScale(int referenceMillivolts)
    {
        int reference = referenceMillivolts < 1000 ? 1000 : referenceMillivolts > 1200 ? 1200 : referenceMillivolts;
        _slope = reference * SlopeScale / 4096;
    }

    /// <summary>The battery's voltage, mV.</summary>
    /// <param name="count">The converter's count, 0 to <see cref="MostCounts"/>; anything else is no reading and gives -1.</param>
    public int Millivolts(int count)
    {
        if (count < 0 || count > MostCounts) return -1;
        // At either end of its range the converter says only that the voltage lies beyond.
        long pin = (_slope * count + 32768) / 65536 + OffsetMillivolts;
        return (int)pin * Divider;
    }

    /// <summary>A voltage that was read with the reference by design, as it is with the chip's own, mV; -1 stays no reading.</summary>
    /// <param name="millivolts">At the battery's terminals, mV, by the design.</param>
    /// <param name="referenceMillivolts">The chip's reference, mV.</param>
    public static int WithReference(int millivolts, int referenceMillivolts)
    {
        if (millivolts < 0) return millivolts;
        int above = millivolts - Divider * OffsetMillivolts;
        return above * referenceMillivolts / DesignReferenceMillivolts + Divider * OffsetMillivolts;
    }

    /// <summary>The count that a voltage gives, for a model of the gauge; held to the converter's range.</summary>
    /// <param name="millivolts">At the battery's terminals, mV.</param>
    public int Count(int millivolts)
    {
        long pin = millivolts / Divider - OffsetMillivolts;
        if (pin < 0) return 0;
        long count = (pin * 65536 + _slope / 2) / _slope; // divisor: the reference is at least 1000 mV
        return count > MostCounts ? MostCounts : (int)count;
    }
}
