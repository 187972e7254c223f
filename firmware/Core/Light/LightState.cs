namespace Intervalometer.Core.Light;

/// <summary>What is known of the light that a sensor on the box sees.</summary>
public enum LightState
{
    /// <summary>No sensor is fitted.</summary>
    Absent = 0,

    /// <summary>The sensor does not answer.</summary>
    Silent = 1,

    /// <summary>There is too little light for the sensor to measure it.</summary>
    TooDark = 2,

    /// <summary>There is more light than the sensor can count.</summary>
    Saturated = 3,

    /// <summary>The light fell faster than under any sky, because of a hand or a cloth, or because the box was turned.</summary>
    Covered = 4,

    /// <summary>The light rose faster than under any sky, because of a lamp, or because the box was turned.</summary>
    Jumped = 5,

    /// <summary>The reading can be used.</summary>
    Trusted = 6,
}
