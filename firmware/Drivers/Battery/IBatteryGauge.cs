namespace Intervalometer.Drivers.Battery;

/// <summary>Measures the battery. It is an interface of our own, because the converter's class belongs to one board.</summary>
public interface IBatteryGauge
{
    /// <summary>Takes one reading of the voltage at the battery's terminals, mV; -1 when it cannot be read. It takes well under 1 ms and never throws.</summary>
    int ReadMillivolts();
}
