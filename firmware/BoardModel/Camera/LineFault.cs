namespace Intervalometer.VirtualBoard.Camera;

/// <summary>What may be wrong with one release line; hardware/faults.md says which part does it.</summary>
public enum LineFault
{
    /// <summary>Nothing is wrong.</summary>
    None = 0,

    /// <summary>Its driver conducts whatever the pin says: the pin is stuck high, or the driver's transistor is shorted.</summary>
    Stuck = 1,

    /// <summary>Its driver never conducts: the pin is stuck low, or a part of the driver is open.</summary>
    Dead = 2,
}
