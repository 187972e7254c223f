using System.Device.Gpio;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Pins;

/// <summary>
/// The pins of an ESP32 module, behind the GPIO library's own extension point. Illegal use throws as the library does and
/// is also kept in <see cref="Faults"/>. A write takes <see cref="WriteLatencyUs"/>, after which the pin changes.
/// </summary>
public class VirtualGpioDriver : GpioDriver
{
    /// <summary>GPIO numbers run from 0 to 39 (ESP32 datasheet, from memory).</summary>
    public const int Pins = 40;

    private readonly VirtualClock _clock;
    private readonly Dice _dice;
    private readonly PinCell[] _cells = new PinCell[Pins];
    private readonly List<string> _faults = [];
    private readonly Queue<(PinChangeEventHandler Handler, PinValueChangedEventArgs Args)> _pending = new();

    /// <summary>Makes the pins, all inputs with nothing attached.</summary>
    public VirtualGpioDriver(VirtualClock clock, Dice dice)
    {
        _clock = clock;
        _dice = dice;
        for (int i = 0; i < Pins; i++) _cells[i] = new PinCell();
    }

    /// <summary>Time one write takes, µs; an estimate for the interpreted runtime.</summary>
    public int WriteLatencyUs { get; init; } = 300;

    /// <summary>Half width of the even spread around the latency, µs; an estimate.</summary>
    public int WriteJitterUs { get; init; } = 20;

    /// <summary>What the firmware did that the chip does not allow, one line for each.</summary>
    public IReadOnlyList<string> Faults => _faults;

    /// <summary>Reading one of these pins throws an error, until the chip is reset.</summary>
    public IDictionary<int, Exception> Throwing { get; } = new Dictionary<int, Exception>();

    /// <summary>An output pin has a new level: pin, then high. Raised at the moment of the change.</summary>
    public event Action<int, bool>? OutputChanged;

    /// <inheritdoc />
    protected override int PinCount => Pins;

    /// <summary>Fits a resistor on the board to a pin.</summary>
    public void FitResistor(int pin, bool up) => _cells[pin].Resistor = up;

    /// <summary>A contact on the board closes to ground, or opens.</summary>
    public void Ground(int pin, bool closed)
    {
        PinCell cell = _cells[pin];
        PinValue before = cell.Level;
        cell.Grounded = closed;
        if (cell.Level != before) Announce(pin, cell);
    }

    /// <summary>The chip is reset: every pin becomes an input at once, and all callbacks are removed.</summary>
    public void Reset()
    {
        _pending.Clear();
        Throwing.Clear();
        for (int pin = 0; pin < Pins; pin++)
        {
            if (!_cells[pin].Open) continue;
            _cells[pin].Open = false;
            _cells[pin].Listeners.Clear();
            ChangeMode(pin, _cells[pin], PinMode.Input);
        }
    }

    /// <summary>True when a pin is high, read from outside.</summary>
    public bool IsHigh(int pin) => _cells[pin].Level == PinValue.High;

    /// <summary>Hands waiting change events to the firmware, as the runtime's event pump does once a tick.</summary>
    public void DeliverEvents(object sender)
    {
        while (_pending.TryDequeue(out var next)) next.Handler(sender, next.Args);
    }

    /// <inheritdoc />
    protected override void OpenPin(int pinNumber)
    {
        if (pinNumber is < 0 or >= Pins) Fail($"pin {pinNumber} does not exist");
        if (pinNumber is >= 6 and <= 11) Fail($"pin {pinNumber} belongs to the flash chip");
        _cells[pinNumber].Open = true;
    }

    /// <inheritdoc />
    protected override void ClosePin(int pinNumber)
    {
        PinCell cell = Opened(pinNumber);
        cell.Open = false;
        cell.Listeners.Clear();
        ChangeMode(pinNumber, cell, PinMode.Input);
    }

    /// <inheritdoc />
    protected override void SetPinMode(int pinNumber, PinMode mode)
    {
        PinCell cell = Opened(pinNumber);
        if (!IsPinModeSupported(pinNumber, mode)) Fail($"pin {pinNumber} cannot be {mode}");
        ChangeMode(pinNumber, cell, mode);
    }

    /// <inheritdoc />
    protected override void SetPinMode(int pinNumber, PinMode mode, PinValue initialValue)
    {
        SetPinMode(pinNumber, mode);
        if (mode == PinMode.Output) Write(pinNumber, initialValue);
    }

    /// <inheritdoc />
    protected override PinMode GetPinMode(int pinNumber) => Opened(pinNumber).Mode;

    /// <summary>34 to 39 are inputs only and have no pull resistors inside.</summary>
    protected override bool IsPinModeSupported(int pinNumber, PinMode mode) => mode switch
    {
        PinMode.Input => pinNumber is >= 0 and < Pins,
        PinMode.InputPullUp or PinMode.InputPullDown or PinMode.Output => pinNumber is >= 0 and < 34,
        _ => false,
    };

    /// <inheritdoc />
    protected override PinValue Read(int pinNumber)
    {
        PinCell cell = Opened(pinNumber);
        if (Throwing.TryGetValue(pinNumber, out Exception? error)) throw error;
        if (cell.Floating) Note($"pin {pinNumber} was read while nothing decides its level");
        return cell.Level;
    }

    /// <inheritdoc />
    protected override void Write(int pinNumber, PinValue value)
    {
        PinCell cell = Opened(pinNumber);
        if (cell.Mode != PinMode.Output) Fail($"pin {pinNumber} was written while it is {cell.Mode}");
        long jitter = WriteJitterUs > 0 ? _dice.Whole(-WriteJitterUs, WriteJitterUs) : 0;
        _clock.AdvanceTo(_clock.NowUs + Math.Max(0, WriteLatencyUs + jitter));
        if (cell.Output == value) return;
        cell.Output = value;
        OutputChanged?.Invoke(pinNumber, value == PinValue.High);
    }

    /// <inheritdoc />
    protected override void AddCallbackForPinValueChangedEvent(int pinNumber, PinEventTypes eventTypes, PinChangeEventHandler callback) =>
        Opened(pinNumber).Listeners.Add((eventTypes, callback));

    /// <inheritdoc />
    protected override void RemoveCallbackForPinValueChangedEvent(int pinNumber, PinChangeEventHandler callback) =>
        Opened(pinNumber).Listeners.RemoveAll(l => l.Handler == callback);

    /// <summary>Not on this board: blocking waits would stop the virtual clock.</summary>
    protected override WaitForEventResult WaitForEvent(int pinNumber, PinEventTypes eventTypes, CancellationToken cancellationToken) =>
        throw new NotSupportedException("The virtual board has no blocking wait; use ValueChanged or read the pin.");

    private PinCell Opened(int pin)
    {
        if (pin is < 0 or >= Pins || !_cells[pin].Open) Fail($"pin {pin} was used before it was opened");
        return _cells[pin];
    }

    private void ChangeMode(int pin, PinCell cell, PinMode mode)
    {
        bool wasHigh = cell.Mode == PinMode.Output && cell.Output == PinValue.High;
        cell.Mode = mode;
        cell.Output = PinValue.Low; // setting a mode resets the pin first
        if (wasHigh) OutputChanged?.Invoke(pin, false);
    }

    private void Announce(int pin, PinCell cell)
    {
        PinEventTypes type = cell.Level == PinValue.High ? PinEventTypes.Rising : PinEventTypes.Falling;
        foreach (var (types, handler) in cell.Listeners)
        {
            if ((types & type) != 0) _pending.Enqueue((handler, new PinValueChangedEventArgs(type, pin)));
        }
    }

    private void Note(string fault)
    {
        if (!_faults.Contains(fault)) _faults.Add(fault);
    }

    [System.Diagnostics.CodeAnalysis.DoesNotReturn]
    private void Fail(string fault)
    {
        Note(fault);
        throw new InvalidOperationException("Virtual board: " + fault + ".");
    }
}
