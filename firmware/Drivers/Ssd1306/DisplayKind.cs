namespace Intervalometer.Drivers.Ssd1306;

/// <summary>The chip that drives the display. Both chips are written in the same way; <see cref="Ssd1306Commands.Initialisation"/> says where they differ.</summary>
public enum DisplayKind
{
    /// <summary>The 2.42 inch module, whose own converter makes the supply voltage of the panel.</summary>
    Ssd1309 = 0,

    /// <summary>The 0.96 inch module, in which the chip's charge pump makes that voltage.</summary>
    Ssd1306 = 1,
}
