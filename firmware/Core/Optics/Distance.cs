using System;

namespace Intervalometer.Core.Optics;

/// <summary>A distance from the lens: metres above zero, or infinity.</summary>
public readonly struct Distance
{
    /// <summary>Creates a finite distance. Throws unless it is above zero.</summary>
    /// <param name="metres">Metres, above zero.</param>
    public Distance(double metres)
    {
        if (metres <= 0) throw new ArgumentException("Distance: not above zero. Use metres from the lens.");
        Metres = metres;
        IsInfinite = false;
    }

    private Distance(bool infinite)
    {
        Metres = 0;
        IsInfinite = infinite;
    }

    /// <summary>Infinitely far.</summary>
    public static Distance Infinity => new Distance(true);

    /// <summary>True for infinity.</summary>
    public bool IsInfinite { get; }

    /// <summary>Metres; 0 for infinity.</summary>
    public double Metres { get; }
}
