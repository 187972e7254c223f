using System;

namespace Intervalometer.Core.Optics;

/// <summary>The spot on film or sensor that a point becomes: one out of focus, or the largest that still counts as sharp (the circle of confusion).</summary>
public readonly struct BlurCircle
{
    /// <summary>Creates it. Throws unless the diameter is above zero.</summary>
    /// <param name="micrometres">Diameter, micrometres.</param>
    public BlurCircle(double micrometres)
    {
        if (micrometres <= 0) throw new ArgumentException("Blur circle: not above zero. Use its diameter in micrometres.");
        Micrometres = micrometres;
    }

    /// <summary>Diameter, micrometres.</summary>
    public double Micrometres { get; }

    /// <summary>How often another circle goes into this one's diameter: what is up to 1 circle of confusion counts as sharp.</summary>
    public double Times(BlurCircle other) => Micrometres / other.Micrometres; // divisor: no circle is zero.
}
