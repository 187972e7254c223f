namespace Intervalometer.Drivers.Battery;

/// <summary>
/// Converts the count of the analogue-to-digital converter into the battery's voltage. The converter is the ESP32's ADC1 with 12 bits at full
/// attenuation (called 11 or 12 dB), behind a divider of two equal resistors.
/// </summary>
/// <remarks>
/// The straight line is the maker's for an uncalibrated chip: slope 2.99991113 times the reference for 4096 counts, offset 142 mV
/// (esp-idf, esp_adc_cal, tables for ADC1 and 11 dB). The device runtime returns the raw count (nf-interpreter,
/// System.Device.Adc for the ESP32). The reference is 1100 mV by design and anything from 1000 to 1200 mV in one chip
/// (esp-idf, ADC calibration). That alone changes a reading by up to 9 %: 3500 mV may be shown as 3230 to 3820. So each board needs its
/// own reference before the thresholds mean anything. Measure the cell with a meter at the plug, and press Up or Down on the BENCH card
/// until it shows the same; the reference is then stored with the settings. Not measured on a board.
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
    /// <param name="referenceMillivolts">Its reference, mV, limited to 1000 to 1200.</param>
    public GaugeScale(int referenceMillivolts)
    {
        int reference = referenceMillivolts < 1000 ? 1000 : referenceMillivolts > 1200 ? 1200 : referenceMillivolts;
        _slope = reference * SlopeScale / 4096;
    }

    /// <summary>The battery's voltage, mV.</summary>
    /// <param name="count">The converter's count, 0 to <see cref="MostCounts"/>. Any other number is no reading and gives -1.</param>
    public int Millivolts(int count)
    {
        if (count < 0 || count > MostCounts) return -1;
        // A count at either end of the range says only that the voltage lies beyond it.
        long pin = (_slope * count + 32768) / 65536 + OffsetMillivolts;
        return (int)pin * Divider;
    }

    /// <summary>Corrects a voltage that was worked out with the reference by design for the chip's own reference, mV; -1 stays -1.</summary>
    /// <param name="millivolts">The voltage at the battery's terminals by the reference by design, mV.</param>
    /// <param name="referenceMillivolts">The chip's reference, mV.</param>
    public static int WithReference(int millivolts, int referenceMillivolts)
    {
        if (millivolts < 0) return millivolts;
        int above = millivolts - Divider * OffsetMillivolts;
        return above * referenceMillivolts / DesignReferenceMillivolts + Divider * OffsetMillivolts;
    }

    /// <summary>The count that a voltage gives, limited to the converter's range. It serves a model of the gauge.</summary>
    /// <param name="millivolts">The voltage at the battery's terminals, mV.</param>
    public int Count(int millivolts)
    {
        long pin = millivolts / Divider - OffsetMillivolts;
        if (pin < 0) return 0;
        long count = (pin * 65536 + _slope / 2) / _slope; // divisor: the reference is at least 1000 mV
        return count > MostCounts ? MostCounts : (int)count;
    }
}
