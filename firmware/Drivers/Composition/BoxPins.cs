using Intervalometer.Drivers.Ssd1306;

namespace Intervalometer.Drivers.Composition;

/// <summary>The board's GPIO numbers and its display. The composition of the board, which knows them, hands them in.</summary>
public sealed class BoxPins
{
    /// <summary>Creates the map.</summary>
    /// <param name="halfPress">Output to the half-press optocoupler; high closes the contact.</param>
    /// <param name="shutter">Output to the shutter optocoupler; high closes the contact.</param>
    /// <param name="buttons">Six inputs in the order of <see cref="Intervalometer.Settings.Button"/>; low while pressed.</param>
    /// <param name="led">Output to the status LED; high lights it.</param>
    /// <param name="heartbeat">Output to the limiter that opens both contacts when it is no longer toggled.</param>
    /// <param name="buzzer">Output to a buzzer that sounds while high; -1 where none is fitted.</param>
    /// <param name="limiter">Input that is high while the limiter feeds the couplers; -1 where it is not wired.</param>
    /// <param name="halfSense">Input that is low while the half-press driver conducts; -1 where it is not wired.</param>
    /// <param name="shutterSense">Input that is low while the shutter driver conducts; -1 where it is not wired.</param>
    /// <param name="display">The display that is fitted.</param>
    public BoxPins(int halfPress, int shutter, int[] buttons, int led, int heartbeat, int buzzer, int limiter = -1, int halfSense = -1, int shutterSense = -1, DisplayKind display = DisplayKind.Ssd1309)
    {
        Display = display;
        HalfSense = halfSense;
        ShutterSense = shutterSense;
        Limiter = limiter;
        Buzzer = buzzer;
        Heartbeat = heartbeat;
        HalfPress = halfPress;
        Shutter = shutter;
        Buttons = buttons;
        Led = led;
    }

    /// <summary>Output to the half-press optocoupler.</summary>
    public int HalfPress { get; }

    /// <summary>Output to the shutter optocoupler.</summary>
    public int Shutter { get; }

    /// <summary>Six inputs in the order of <see cref="Intervalometer.Settings.Button"/>.</summary>
    public int[] Buttons { get; }

    /// <summary>Output to the status LED.</summary>
    public int Led { get; }

    /// <summary>Output to the limiter that opens both contacts when it is no longer toggled.</summary>
    public int Heartbeat { get; }

    /// <summary>Output to a buzzer that sounds while high; -1 where none is fitted.</summary>
    public int Buzzer { get; }

    /// <summary>Input that is high while the limiter feeds the couplers; -1 where it is not wired.</summary>
    public int Limiter { get; }

    /// <summary>Input that is low while the half-press driver conducts; -1 where it is not wired.</summary>
    public int HalfSense { get; }

    /// <summary>Input that is low while the shutter driver conducts; -1 where it is not wired.</summary>
    public int ShutterSense { get; }

    /// <summary>The display that is fitted.</summary>
    public DisplayKind Display { get; }
}
