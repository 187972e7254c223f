// This contract is declaration-only: it never runs and is not for flashing. See ../README.md.
#nullable disable

namespace System.Device.Gpio;

public enum PinMode
{
    Input,
    InputPullDown,
    InputPullUp,
    Output,
    OutputOpenDrain,
    OutputOpenDrainPullUp,
    OutputOpenSource,
    OutputOpenSourcePullDown,
}

[Flags]
public enum PinEventTypes
{
    None = 0,
    Rising = 1,
    Falling = 2,
}

public readonly struct PinValue
{
    public static PinValue High => throw new NotImplementedException();
    public static PinValue Low => throw new NotImplementedException();
    public static implicit operator PinValue(int value) => throw new NotImplementedException();
    public static implicit operator PinValue(bool value) => throw new NotImplementedException();
    public static explicit operator byte(PinValue value) => throw new NotImplementedException();
    public static explicit operator int(PinValue value) => throw new NotImplementedException();
    public static explicit operator bool(PinValue value) => throw new NotImplementedException();
    public static bool operator ==(PinValue a, PinValue b) => throw new NotImplementedException();
    public static bool operator !=(PinValue a, PinValue b) => throw new NotImplementedException();
    public bool Equals(PinValue other) => throw new NotImplementedException();
    public override bool Equals(object obj) => throw new NotImplementedException();
    public override int GetHashCode() => throw new NotImplementedException();
    public override string ToString() => throw new NotImplementedException();
}

// The real class derives from a runtime event class, which no code here needs.
public class PinValueChangedEventArgs
{
    public PinValueChangedEventArgs(PinEventTypes changeType, int pinNumber) => throw new NotImplementedException();
    public PinEventTypes ChangeType => throw new NotImplementedException();
    public int PinNumber => throw new NotImplementedException();
}

public delegate void PinChangeEventHandler(object sender, PinValueChangedEventArgs pinValueChangedEventArgs);

public delegate void PinValueChangedEventHandler(object sender, PinValueChangedEventArgs e);

public sealed class GpioPin : IDisposable
{
    internal GpioPin() => throw new NotImplementedException();
    public TimeSpan DebounceTimeout { get => throw new NotImplementedException(); set => throw new NotImplementedException(); }
    public int PinNumber => throw new NotImplementedException();
    public event PinValueChangedEventHandler ValueChanged { add => throw new NotImplementedException(); remove => throw new NotImplementedException(); }
    public PinMode GetPinMode() => throw new NotImplementedException();
    public bool IsPinModeSupported(PinMode pinMode) => throw new NotImplementedException();
    public void SetPinMode(PinMode value) => throw new NotImplementedException();
    public PinValue Read() => throw new NotImplementedException();
    public void Write(PinValue value) => throw new NotImplementedException();
    public void Toggle() => throw new NotImplementedException();
    public void Dispose() => throw new NotImplementedException();
}

public sealed class GpioController : IDisposable
{
    public GpioController() => throw new NotImplementedException();
    public int PinCount => throw new NotImplementedException();
    public GpioPin OpenPin(int pinNumber) => throw new NotImplementedException();
    public GpioPin OpenPin(int pinNumber, PinMode mode) => throw new NotImplementedException();
    public void ClosePin(int pinNumber) => throw new NotImplementedException();
    public PinMode GetPinMode(int pinNumber) => throw new NotImplementedException();
    public void SetPinMode(int pinNumber, PinMode mode) => throw new NotImplementedException();
    public bool IsPinModeSupported(int pinNumber, PinMode mode) => throw new NotImplementedException();
    public bool IsPinOpen(int pinNumber) => throw new NotImplementedException();
    public PinValue Read(int pinNumber) => throw new NotImplementedException();
    public void Write(int pinNumber, PinValue value) => throw new NotImplementedException();
    public void RegisterCallbackForPinValueChangedEvent(int pinNumber, PinEventTypes eventTypes, PinChangeEventHandler callback) => throw new NotImplementedException();
    public void UnregisterCallbackForPinValueChangedEvent(int pinNumber, PinChangeEventHandler callback) => throw new NotImplementedException();
    public void Dispose() => throw new NotImplementedException();
}
