using System.Device.Gpio;
using Intervalometer.Drivers.Ssd1306;
using Intervalometer.Screens;

namespace Intervalometer.Drivers.Composition;

/// <summary>
/// The state after repeated fatal errors. Both contacts are open, one screen says so and what to do, and the lamp is on for one second and
/// off for one second. The box stays in it until it is switched off. It needs nothing of the rest of the box.
/// </summary>
public sealed class SafeState
{
    /// <summary>The lamp is lit for this long and dark for this long, µs. Nothing else on the box blinks so slowly.</summary>
    public const long LampUs = 1_000_000;

    private const long ScreenAgainUs = 10_000_000;

    // How many messages a picture takes: eight pages, and the command that lights the display.
    private const int Messages = 9;

    private readonly GpioController _gpio;
    private readonly BoxPins _pins;
    private readonly ITwoWireDevice _display;
    private readonly FaultWatch _watch;
    private GpioPin? _led;
    private bool _lit;
    private long _screenUs = long.MinValue;

    /// <summary>Creates the state without touching anything yet.</summary>
    /// <param name="gpio">The pin controller, which may still have the pins of the box open.</param>
    /// <param name="pins">The numbers of the pins.</param>
    /// <param name="display">The display on its bus.</param>
    /// <param name="watch">Holds the note of what happened.</param>
    public SafeState(GpioController gpio, BoxPins pins, ITwoWireDevice display, FaultWatch watch)
    {
        _gpio = gpio;
        _pins = pins;
        _display = display;
        _watch = watch;
    }

    /// <summary>True when the display has shown the screen.</summary>
    public bool Told { get; private set; }

    /// <summary>Opens both contacts, silences the buzzer, and lets the next power-on try again. Never throws.</summary>
    public void Enter()
    {
        Low(_pins.Shutter);
        Low(_pins.HalfPress);
        Low(_pins.Heartbeat);
        if (_pins.Buzzer >= 0) Low(_pins.Buzzer);
        _led = Low(_pins.Led);
        _watch.Note.StaysDown();
        _watch.Write();
    }

    /// <summary>Blinks, and shows the screen as soon as the display answers. Call it about every 10 ms. Never throws.</summary>
    public void Pass(long nowUs)
    {
        try
        {
            // divisor: a constant above zero
            bool lit = nowUs / LampUs % 2 == 0;
            if (_led != null && lit != _lit) _led.Write(lit ? PinValue.High : PinValue.Low);
            _lit = lit;
            if (Told || (_screenUs != long.MinValue && nowUs - _screenUs < ScreenAgainUs)) return;
            _screenUs = nowUs;
            Told = Show();
        }
        catch
        {
            // The lamp goes on blinking, and the screen is tried again.
        }
    }

    private GpioPin? Low(int number)
    {
        try
        {
            // The box may have opened the pin. A closed pin is not driven, and the board pulls it down.
            if (_gpio.IsPinOpen(number)) _gpio.ClosePin(number);
            GpioPin pin = _gpio.OpenPin(number, PinMode.Output);
            pin.Write(PinValue.Low);
            return pin;
        }
        catch
        {
            return null;
        }
    }

    private bool Show()
    {
        Ssd1306Display display = new Ssd1306Display(_display, _pins.Display);
        if (!display.Initialise()) return false;
        Frame frame = new Frame();
        SafeScreen.Draw(frame, _watch.Note);
        for (int i = 0; i < Messages && display.SendNextChangedPage(frame); i++)
        {
        }
        return display.State == Ssd1306State.Ready;
    }
}
