namespace Intervalometer.Drivers.Ssd1306;

/// <summary>Which chip drives the display. Both are written alike; <see cref="Ssd1306Commands.Initialisation"/> says in what they differ.</summary>
public enum DisplayKind
{
    /// <summary>The 2.42 inch module: its own converter makes the voltage of the glass.</summary>
    Ssd1309 = 0,

    /// <summary>The 0.96 inch module: the chip's charge pump makes it.</summary>
    Ssd1306 = 1,
}
