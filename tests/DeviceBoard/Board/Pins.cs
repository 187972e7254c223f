namespace Intervalometer.Tests.DeviceBoard;

/// <summary>A callback for an input that has changed.</summary>
public interface IPinListener
{
    /// <summary>The pin has a new level.</summary>
    void Changed(bool high);
}

/// <summary>
/// The pins of the chip: inputs are high until a contact pulls them down, outputs are low until they are written. What the chip
/// does not allow is a fault. Allocates at construction only.
/// </summary>
public sealed class Pins
{
    /// <summary>GPIO numbers run from 0 to 39.</summary>
    public const int Count = 40;

    private const int FirstInputOnly = 34;
    private const int FirstFlash = 6;
    private const int LastFlash = 11;
    private const int Heartbeat = 4;
    private const int Limiter = 39;
    private const int HalfPress = 18;
    private const int Shutter = 19;
    private const int HalfSense = 14;
    private const int ShutterSense = 36;
    private const long ChargeUs = 150_000;
    private const long HoldUs = 1_500_000;
    private const byte Open = 1;
    private const byte Output = 2;
    private const byte High = 4;

    private readonly byte[] _state = new byte[Count];
    private readonly IPinListener?[] _listeners = new IPinListener?[Count];
    private readonly EdgeLog _edges;
    private long _beatUs = -HoldUs;
    private long _beatsFromUs;

    /// <summary>All pins closed.</summary>
    public Pins(EdgeLog edges)
    {
        _edges = edges;
        for (int i = 0; i < Count; i++) _state[i] = High;
    }

    /// <summary>Opens a pin.</summary>
    public void OpenPin(int pin)
    {
        if (pin < 0 || pin >= Count || (pin >= FirstFlash && pin <= LastFlash)) Bench.Fault("pin " + pin.ToString() + " cannot be used");
        else if ((_state[pin] & Open) != 0) Bench.Fault("pin " + pin.ToString() + " was opened twice");
        else _state[pin] = (byte)(_state[pin] | Open);
    }

    /// <summary>Makes a pin an input or an output; an output begins low.</summary>
    public void SetOutput(int pin, bool output)
    {
        if (!output)
        {
            Faults.OnInput();
            _state[pin] = Open | High;
            return;
        }
        if (pin >= FirstInputOnly) Bench.Fault("pin " + pin.ToString() + " cannot be an output");
        _state[pin] = Open | Output;
    }

    /// <summary>The callback for changes of an input; null for none.</summary>
    public void Listen(int pin, IPinListener? listener) => _listeners[pin] = listener;

    /// <summary>Closes a pin.</summary>
    public void Close(int pin)
    {
        _state[pin] = High;
        _listeners[pin] = null;
    }

    /// <summary>True when a pin is high.</summary>
    public bool IsHigh(int pin)
    {
        if (pin == Limiter) return Fed(BoardClock.NowUs);
        // A driver that conducts pulls the pin that reads it back down.
        if (pin == HalfSense) return !IsHigh(HalfPress);
        if (pin == ShutterSense) return !IsHigh(Shutter);
        return (_state[pin] & High) != 0;
    }

    // The limiter supplies the optocouplers once the heartbeat has charged it, and for a while after the last edge.
    private bool Fed(long nowUs) => nowUs - _beatUs < HoldUs && _beatUs - _beatsFromUs >= ChargeUs;

    /// <summary>The firmware drives an output.</summary>
    public void Write(int pin, bool high)
    {
        byte state = _state[pin];
        if ((state & Output) == 0)
        {
            Bench.Fault("pin " + pin.ToString() + " was written and is no output");
            return;
        }
        if (((state & High) != 0) == high) return;
        if (pin == Heartbeat)
        {
            long nowUs = BoardClock.NowUs;
            if (nowUs - _beatUs >= HoldUs) _beatsFromUs = nowUs;
            _beatUs = nowUs;
        }
        _state[pin] = (byte)(high ? Open | Output | High : Open | Output);
        _edges.Note(pin, high);
    }

    /// <summary>A contact on the board pulls an input down, or lets it go.</summary>
    public void Pull(int pin, bool down)
    {
        byte state = _state[pin];
        if ((state & Output) != 0)
        {
            Bench.Fault("pin " + pin.ToString() + " is no input, and a button is at it");
            return;
        }
        _state[pin] = (byte)(down ? state & ~High : state | High);
        IPinListener? listener = _listeners[pin];
        if (listener != null) listener.Changed(!down);
    }
}
