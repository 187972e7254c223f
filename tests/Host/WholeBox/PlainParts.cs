using System.Device.Gpio;
using Intervalometer.Core;
using Intervalometer.Drivers;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>A clock that is set by hand.</summary>
internal sealed class HandClock : IMicrosClock
{
    public long NowUs { get; set; }
}

/// <summary>Pins that allocate nothing; a button is up while its pin is high.</summary>
internal sealed class PlainPins : GpioDriver
{
    private readonly PinValue[] _value = new PinValue[40];
    private readonly PinMode[] _mode = new PinMode[40];

    public PlainPins() => Array.Fill(_value, PinValue.High, 25, 15);

    public PinValue this[int pin] { get => _value[pin]; set => _value[pin] = value; }

    protected override int PinCount => 40;

    protected override void OpenPin(int pinNumber) { }

    protected override void ClosePin(int pinNumber) { }

    protected override void SetPinMode(int pinNumber, PinMode mode) => _mode[pinNumber] = mode;

    protected override PinMode GetPinMode(int pinNumber) => _mode[pinNumber];

    protected override bool IsPinModeSupported(int pinNumber, PinMode mode) => true;

    protected override PinValue Read(int pinNumber) => _value[pinNumber];

    public int Writes { get; private set; }

    protected override void Write(int pinNumber, PinValue value)
    {
        Writes++;
        _value[pinNumber] = value;
    }

    /// <summary>Toggles so far; they are no writes.</summary>
    public int Toggles { get; private set; }

    protected override void Toggle(int pinNumber)
    {
        Toggles++;
        _value[pinNumber] = !_value[pinNumber];
    }

    protected override WaitForEventResult WaitForEvent(int pinNumber, PinEventTypes eventTypes, CancellationToken cancellationToken) => throw new NotSupportedException();

    protected override void AddCallbackForPinValueChangedEvent(int pinNumber, PinEventTypes eventTypes, PinChangeEventHandler callback) { }

    protected override void RemoveCallbackForPinValueChangedEvent(int pinNumber, PinChangeEventHandler callback) { }
}

/// <summary>A bus on which everything is acknowledged.</summary>
internal sealed class PlainBus : ITwoWireDevice
{
    public long Bytes { get; private set; }

    public bool Write(byte[] data)
    {
        Bytes += data.Length;
        return true;
    }

    public bool Read(byte[] data) => true;

    public bool WriteRead(byte[] output, byte[] input) => true;
}
