using System.Device.Gpio;
using Intervalometer.Drivers.Ssd1306;
using Intervalometer.Screens;

namespace Intervalometer.Drivers.Box;

/// <summary>
/// Where repeated fatal errors end: both contacts open, one screen that says so and what to do, and the lamp one second on and
/// one second off. The box stays there until it is switched off. Needs nothing of the rest of the box.
/// </summary>
public sealed class SafeState
{
    /// <summary>The lamp is lit for this long and dark for this long, µs: nothing else on the box blinks so slowly.</summary>
    public const long LampUs = 1_000_000;

    private const long ScreenAgainUs = 10_000_000;

    // Eight pages, and the command that lights the display.
    private const int Messages = 9;

    private readonly GpioController _gpio;
    private readonly BoxPins _pins;
    private readonly ITwoWireDevice _display;
    private readonly FaultWatch _watch;
    private GpioPin? _led;
    private bool _lit;
    private long _screenUs = long.MinValue;

    /// <summary>Takes what it needs; touches nothing yet.</summary>
    /// <param name="gpio">The pins, the ones the box had open included.</param>
    /// <param name="pins">Their numbers.</param>
    /// <param name="display">The display on its bus.</param>
    /// <param name="watch">Knows what happened.</param>
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

    /// <summary>Call it about every 10 ms: blinks, and shows the screen as soon as the display takes it. Never throws.</summary>
    public void Turn(long nowUs)
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
            // The lamp goes on; the screen is tried again.
        }
    }

    private GpioPin? Low(int number)
    {
        try
        {
            // The box may have opened it. A pin that is closed lets go, and the board pulls it down.
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
