using Intervalometer.Settings;

namespace Intervalometer.Settings;

/// <summary>The six buttons, in the order of their bits and pins.</summary>
public enum Button
{
    /// <summary>Up: the card above, or a larger value.</summary>
    Up = 0,

    /// <summary>Down: the card below, or a smaller value.</summary>
    Down = 1,

    /// <summary>Back: out one level.</summary>
    Back = 2,

    /// <summary>Select: into a card, or on to its next field.</summary>
    Select = 3,

    /// <summary>Mark (large): a wave turned just now.</summary>
    Mark = 4,

    /// <summary>Fire (large): starts a run; any press of it during a run stops at once.</summary>
    Fire = 5,
}
