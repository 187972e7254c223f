using Intervalometer.Tests.DeviceBoard;

namespace System.Device.Gpio;

public sealed class GpioPin : IDisposable
{
    private readonly PinListener _listener;
    private readonly int _number;
    private PinMode _mode;

    internal GpioPin(int number)
    {
        _number = number;
        Bench.Pins.OpenPin(number);
        _listener = new PinListener(this);
    }

    public TimeSpan DebounceTimeout { get; set; }
    public int PinNumber => _number;

    public event PinValueChangedEventHandler ValueChanged
    {
        add
        {
            _listener.Handlers += value;
            Bench.Pins.Listen(_number, _listener);
        }
        remove => _listener.Handlers -= value;
    }

    public PinMode GetPinMode() => _mode;

    public bool IsPinModeSupported(PinMode pinMode) => pinMode == PinMode.Input || pinMode == PinMode.Output || (pinMode == PinMode.InputPullUp && _number < 34);

    public void SetPinMode(PinMode value)
    {
        if (!IsPinModeSupported(value)) throw new ArgumentException("mode");
        _mode = value;
        Bench.Pins.SetOutput(_number, value == PinMode.Output);
    }

    public PinValue Read() => Bench.Pins.IsHigh(_number);

    public void Write(PinValue value) => Bench.Pins.Write(_number, (bool)value);

    public void Toggle() => Bench.Pins.Write(_number, !Bench.Pins.IsHigh(_number));

    public void Dispose() => Bench.Pins.Close(_number);
}

/// <summary>Hands changes of one pin on.</summary>
internal sealed class PinListener : IPinListener
{
    private readonly GpioPin _pin;

    public PinListener(GpioPin pin) => _pin = pin;

    public event PinValueChangedEventHandler Handlers;

    public void Changed(bool high) =>
        Handlers?.Invoke(_pin, new PinValueChangedEventArgs(high ? PinEventTypes.Rising : PinEventTypes.Falling, _pin.PinNumber));
}

public sealed class GpioController : IDisposable
{
    private readonly GpioPin[] _pins = new GpioPin[Pins.Count];

    public GpioController() => Bench.PowerOn();

    public int PinCount => Pins.Count;

    public GpioPin OpenPin(int pinNumber) => OpenPin(pinNumber, PinMode.Input);

    public GpioPin OpenPin(int pinNumber, PinMode mode)
    {
        GpioPin pin = new GpioPin(pinNumber);
        pin.SetPinMode(mode);
        _pins[pinNumber] = pin;
        return pin;
    }

    public void ClosePin(int pinNumber)
    {
        _pins[pinNumber].Dispose();
        _pins[pinNumber] = null;
    }

    public PinMode GetPinMode(int pinNumber) => _pins[pinNumber].GetPinMode();
    public void SetPinMode(int pinNumber, PinMode mode) => _pins[pinNumber].SetPinMode(mode);
    public bool IsPinModeSupported(int pinNumber, PinMode mode) => mode == PinMode.Input || (pinNumber < 34 && mode == PinMode.Output);
    public bool IsPinOpen(int pinNumber) => _pins[pinNumber] != null;
    public PinValue Read(int pinNumber) => _pins[pinNumber].Read();
    public void Write(int pinNumber, PinValue value) => _pins[pinNumber].Write(value);

    public void RegisterCallbackForPinValueChangedEvent(int pinNumber, PinEventTypes eventTypes, PinChangeEventHandler callback) => throw new NotSupportedException();
    public void UnregisterCallbackForPinValueChangedEvent(int pinNumber, PinChangeEventHandler callback) => throw new NotSupportedException();

    public void Dispose()
    {
        for (int i = 0; i < Pins.Count; i++)
        {
            if (_pins[i] != null) ClosePin(i);
        }
    }
}
