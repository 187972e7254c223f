namespace Intervalometer.VirtualBoard.Sky;

/// <summary>A sky over the box and the scene that repeats exactly for the same seed. Asking never changes what it does.</summary>
public interface ISky
{
    /// <summary>What it is, in words, with its seed.</summary>
    string Description { get; }

    /// <summary>Illuminance on the chip of the box's light sensor, behind its pane, lux.</summary>
    double Lux(long nowUs);

    /// <summary>Luminance of the foreground that the camera is metered on, candela per square metre.</summary>
    double Luminance(long nowUs);
}
