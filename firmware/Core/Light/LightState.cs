namespace Intervalometer.Core.Light;

/// <summary>What can be said of the light that a sensor on the box sees.</summary>
public enum LightState
{
    /// <summary>No sensor is fitted.</summary>
    Absent = 0,

    /// <summary>The sensor does not answer.</summary>
    Silent = 1,

    /// <summary>Too little light for the sensor to tell how much.</summary>
    TooDark = 2,

    /// <summary>More light than the sensor can count.</summary>
    Saturated = 3,

    /// <summary>The light fell faster than under any sky: a hand, a cloth, or the box was turned.</summary>
    Covered = 4,

    /// <summary>The light rose faster than under any sky: a lamp, or the box was turned.</summary>
    Jumped = 5,

    /// <summary>The reading can be used.</summary>
    Trusted = 6,
}
