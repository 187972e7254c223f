using System.Device.Gpio;
using Intervalometer.Core.Release;

namespace Intervalometer.Drivers.Lines;

/// <summary>
/// The two release contacts through optocouplers. A high pin lights the LED and closes the contact. Both pins are low from the
/// constructor on. Setting the output mode resets a pin first, so the board has pull-down resistors that keep the contacts open.
/// </summary>
public sealed class OptoLines : IReleaseLines
{
    private readonly GpioPin _halfPress;
    private readonly GpioPin _shutter;
    private readonly PinValue _closed = PinValue.High;
    private readonly PinValue _open = PinValue.Low;

    /// <summary>Opens the two pins as outputs, low.</summary>
    public OptoLines(GpioController gpio, int halfPressPin, int shutterPin)
    {
        _halfPress = gpio.OpenPin(halfPressPin, PinMode.Output);
        _halfPress.Write(_open);
        _shutter = gpio.OpenPin(shutterPin, PinMode.Output);
        _shutter.Write(_open);
    }

    /// <summary>True while the half-press contact is told to be closed.</summary>
    public bool HalfPressClosed { get; private set; }

    /// <summary>True while the shutter contact is told to be closed.</summary>
    public bool ShutterClosed { get; private set; }

    /// <inheritdoc/>
    public void Set(ReleaseLine line, bool closed)
    {
        GpioPin pin = line == ReleaseLine.Shutter ? _shutter : _halfPress;
        pin.Write(closed ? _closed : _open);
        if (line == ReleaseLine.Shutter) ShutterClosed = closed;
        else HalfPressClosed = closed;
    }

    /// <inheritdoc/>
    public void OpenAll()
    {
        try
        {
            _shutter.Write(_open);
            ShutterClosed = false;
        }
        finally
        {
            _halfPress.Write(_open);
            HalfPressClosed = false;
        }
    }
}
