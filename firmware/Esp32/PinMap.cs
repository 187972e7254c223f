using Intervalometer.Drivers.Composition;
using Intervalometer.Drivers.Ssd1306;

namespace Intervalometer.Esp32;

/// <summary>GPIO numbers on the ESP32, as wired. Pins 34-39 are inputs without pull-ups; the levels at 0, 2, 5, 12 and 15 decide how the chip starts; 6-11 belong to its flash.</summary>
public static class PinMap
{
    /// <summary>Half-press optocoupler; high closes the contact.</summary>
    public const int HalfPress = 18;

    /// <summary>Shutter optocoupler; high closes the contact.</summary>
    public const int Shutter = 19;

    /// <summary>Button, low while pressed.</summary>
    public const int Up = 25;

    /// <summary>Button, low while pressed.</summary>
    public const int Down = 26;

    /// <summary>Button, low while pressed.</summary>
    public const int Back = 27;

    /// <summary>Button, low while pressed.</summary>
    public const int Select = 33;

    /// <summary>Button, low while pressed.</summary>
    public const int Mark = 32;

    /// <summary>Button, low while pressed; the pin has no pull-up of its own.</summary>
    public const int Fire = 35;

    /// <summary>Status LED; high lights it.</summary>
    public const int Led = 23;

    /// <summary>Heartbeat to the limiter, which opens both contacts when it stops.</summary>
    public const int Heartbeat = 4;

    /// <summary>Buzzer, an optional part for the way-back alarm only; high sounds it.</summary>
    public const int Buzzer = 13;

    /// <summary>Battery gauge, ADC1 channel 6 behind a divider by two.</summary>
    public const int Battery = 34;

    /// <summary>Read-back of the couplers' LED supply: high while the limiter feeds them.</summary>
    public const int Limiter = 39;

    /// <summary>Read-back of the half-press driver: low while it conducts.</summary>
    public const int HalfSense = 14;

    /// <summary>Read-back of the shutter driver: low while it conducts.</summary>
    public const int ShutterSense = 36;

    /// <summary>I2C data.</summary>
    public const int Sda = 21;

    /// <summary>I2C clock.</summary>
    public const int Scl = 22;

    /// <summary>The runtime's number for the bus on these two pins; bus numbers start at 1.</summary>
    public const int BusId = 1;

    /// <summary>7-bit I2C address of the display.</summary>
    public const int DisplayAddress = 0x3C;

    /// <summary>The display that is fitted. For the small one it is DisplayKind.Ssd1306.</summary>
    public const DisplayKind Display = DisplayKind.Ssd1309;

    /// <summary>7-bit I2C address of the clock.</summary>
    public const int ClockAddress = 0x68;

    /// <summary>7-bit I2C address of the memory.</summary>
    public const int MemoryAddress = 0x57;

    /// <summary>7-bit I2C address of the light sensor, an optional part.</summary>
    public const int LightAddress = 0x10;


    /// <summary>The same numbers in the form that the box takes.</summary>
    public static BoxPins ForBox() => new BoxPins(HalfPress, Shutter, new int[] { Up, Down, Back, Select, Mark, Fire }, Led, Heartbeat, Buzzer, Limiter, HalfSense, ShutterSense, Display);
}
