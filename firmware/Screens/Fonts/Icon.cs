namespace Intervalometer.Screens;

/// <summary>Small signs drawn for this panel, in the order of the drawings in Icons.txt.</summary>
public enum Icon
{
    /// <summary>Something is above.</summary>
    Up = 0,

    /// <summary>Something is below.</summary>
    Down = 1,

    /// <summary>Something is to the right.</summary>
    Right = 2,

    /// <summary>A release contact that is open.</summary>
    ContactOpen = 3,

    /// <summary>A release contact that is closed.</summary>
    ContactClosed = 4,

    /// <summary>A padlock that is shut: the setting is held.</summary>
    Locked = 5,

    /// <summary>A padlock that is open: the setting may change.</summary>
    Unlocked = 6,

    /// <summary>A wave.</summary>
    Wave = 7,

    /// <summary>A strip of film.</summary>
    Film = 8,

    /// <summary>A filled dot: an exposure is running.</summary>
    BulbOn = 9,

    /// <summary>An empty dot: no exposure is running.</summary>
    BulbOff = 10,

    /// <summary>A warning triangle.</summary>
    Caution = 11,

    /// <summary>The sun over the horizon.</summary>
    Sun = 12,

    /// <summary>A tick.</summary>
    Tick = 13,
}
