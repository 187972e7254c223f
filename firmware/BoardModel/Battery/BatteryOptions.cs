namespace Intervalometer.VirtualBoard.Battery;

/// <summary>The cell and its gauge.</summary>
public sealed record BatteryOptions
{
    /// <summary>Terminal voltage at time 0, mV; the default is a full lithium cell a while off the charger.</summary>
    public double Millivolts { get; init; } = 4100;

    /// <summary>Change in an hour, mV; negative while it runs down.</summary>
    public double PerHour { get; init; }

    /// <summary>False leaves the converter without an answer.</summary>
    public bool GaugeFitted { get; init; } = true;
}
