using Intervalometer.Settings;

namespace Intervalometer.Settings;

/// <summary>The six buttons, in the order of their bits and pins.</summary>
public enum Button
{
    /// <summary>Up: goes to the card above, or to a larger value.</summary>
    Up = 0,

    /// <summary>Down: goes to the card below, or to a smaller value.</summary>
    Down = 1,

    /// <summary>Back: leaves a field or a card.</summary>
    Back = 2,

    /// <summary>Select: opens a card, or goes on to its next field.</summary>
    Select = 3,

    /// <summary>Mark (a large button): says that a wave has just turned.</summary>
    Mark = 4,

    /// <summary>Fire (a large button): starts a run. Any press of it during a run stops the run at once.</summary>
    Fire = 5,
}
