using System;

namespace Intervalometer.Core.Optics;

/// <summary>A lens's focal length in whole millimetres, 8 to 600.</summary>
public readonly struct FocalLength
{
    /// <summary>The shortest, millimetres.</summary>
    public const int Least = 8;

    /// <summary>The longest, millimetres.</summary>
    public const int Most = 600;

    /// <summary>Creates a focal length. Throws outside 8 to 600 mm.</summary>
    public FocalLength(int millimetres)
    {
        if (millimetres < Least || millimetres > Most)
            throw new ArgumentException("Focal length " + millimetres.ToString() + " mm: outside 8 to 600. Use one inside.");
        Millimetres = millimetres;
    }

    /// <summary>The focal length, millimetres.</summary>
    public int Millimetres { get; }
}
