namespace Intervalometer.Drivers.Battery;

/// <summary>Measures the battery. Our own small interface, because the converter's class belongs to one board.</summary>
public interface IBatteryGauge
{
    /// <summary>One reading at the battery's terminals, mV; -1 when it cannot be read. Takes well under 1 ms and never throws.</summary>
    int ReadMillivolts();
}
