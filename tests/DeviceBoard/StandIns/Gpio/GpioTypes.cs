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
    private readonly byte _value;

    private PinValue(byte value) => _value = value;

    public static PinValue High => new PinValue(1);
    public static PinValue Low => new PinValue(0);
    public static implicit operator PinValue(int value) => new PinValue(value == 0 ? (byte)0 : (byte)1);
    public static implicit operator PinValue(bool value) => new PinValue(value ? (byte)1 : (byte)0);
    public static explicit operator byte(PinValue value) => value._value;
    public static explicit operator int(PinValue value) => value._value;
    public static explicit operator bool(PinValue value) => value._value != 0;
    public static bool operator ==(PinValue a, PinValue b) => a._value == b._value;
    public static bool operator !=(PinValue a, PinValue b) => a._value != b._value;
    public bool Equals(PinValue other) => other._value == _value;
    public override bool Equals(object obj) => obj is PinValue && ((PinValue)obj)._value == _value;
    public override int GetHashCode() => _value;
    public override string ToString() => _value == 0 ? "Low" : "High";
}

public class PinValueChangedEventArgs
{
    public PinValueChangedEventArgs(PinEventTypes changeType, int pinNumber)
    {
        ChangeType = changeType;
        PinNumber = pinNumber;
    }

    public PinEventTypes ChangeType { get; }
    public int PinNumber { get; }
}

public delegate void PinChangeEventHandler(object sender, PinValueChangedEventArgs pinValueChangedEventArgs);

public delegate void PinValueChangedEventHandler(object sender, PinValueChangedEventArgs e);
