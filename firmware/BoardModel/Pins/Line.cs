namespace Intervalometer.VirtualBoard.Pins;

/// <summary>Every line the board records. The sensor and the busy line are the camera's own state; the rest follow the pins.</summary>
public enum Line
{
    /// <summary>Pin to the half-press optocoupler, 1 closes the contact.</summary>
    HalfPress,
    /// <summary>Pin to the shutter optocoupler, 1 closes the contact.</summary>
    Shutter,
    /// <summary>Up button, 1 while its contact is closed, bounce included.</summary>
    Up,
    /// <summary>Down button.</summary>
    Down,
    /// <summary>Back button.</summary>
    Back,
    /// <summary>Select button.</summary>
    Select,
    /// <summary>Mark button.</summary>
    Mark,
    /// <summary>Fire button.</summary>
    Fire,
    /// <summary>Status LED.</summary>
    Led,
    /// <summary>The camera's sensor is being exposed.</summary>
    SensorOpen,
    /// <summary>The camera would ignore a press.</summary>
    CameraBusy,
    /// <summary>Buzzer, 1 while it sounds.</summary>
    Buzzer,
}

/// <summary>One change of one line.</summary>
/// <param name="AtUs">µs on the virtual clock.</param>
/// <param name="Line">Which line.</param>
/// <param name="On">Its new state.</param>
public readonly record struct LineChange(long AtUs, Line Line, bool On);
