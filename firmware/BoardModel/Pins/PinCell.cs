using System.Device.Gpio;

namespace Intervalometer.VirtualBoard.Pins;

/// <summary>One pin of the chip: what the firmware set it to and what the board does to it from outside.</summary>
internal sealed class PinCell
{
    /// <summary>Opened by the firmware.</summary>
    public bool Open;

    /// <summary>Mode set by the firmware; the chip starts with inputs.</summary>
    public PinMode Mode = PinMode.Input;

    /// <summary>Level the firmware drives when the mode is output.</summary>
    public PinValue Output = PinValue.Low;

    /// <summary>A contact on the board pulls the pin hard to ground.</summary>
    public bool Grounded;

    /// <summary>A resistor on the board: true up, false down, null none.</summary>
    public bool? Resistor;

    /// <summary>The callbacks that are told of changes.</summary>
    public readonly List<(PinEventTypes Types, PinChangeEventHandler Handler)> Listeners = [];

    /// <summary>True when neither a resistor, a contact nor an output decides the level.</summary>
    public bool Floating => Mode == PinMode.Input && !Grounded && Resistor is null;

    /// <summary>Level on the pin.</summary>
    public PinValue Level => Mode == PinMode.Output ? Output
        : Grounded ? PinValue.Low
        : Resistor is bool up ? (up ? PinValue.High : PinValue.Low)
        : Mode == PinMode.InputPullUp ? PinValue.High
        : PinValue.Low;
}
