using System;

namespace Intervalometer.Core.Optics;

/// <summary>The spot on film or sensor that a point becomes. It is that of a point out of focus, or the largest spot that still counts as sharp (the circle of confusion).</summary>
public readonly struct BlurCircle
{
    /// <summary>Creates a circle. Throws unless the diameter is above zero.</summary>
    /// <param name="micrometres">The diameter in micrometres.</param>
    public BlurCircle(double micrometres)
    {
        if (micrometres <= 0) throw new ArgumentException("Blur circle: not above zero. Use its diameter in micrometres.");
        Micrometres = micrometres;
    }

    /// <summary>Diameter, micrometres.</summary>
    public double Micrometres { get; }

    /// <summary>This circle's diameter as a multiple of another's. A blur of up to one circle of confusion counts as sharp.</summary>
    public double Times(BlurCircle other) => Micrometres / other.Micrometres; // divisor: no circle is zero.
}
