using System;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// An aperture on the third-stop scale. The true f-number is N = 2^(Index/6); the printed figures are the nominal series
/// (common practice; whole stops as in ISO 517).
/// </summary>
public readonly struct ApertureSetting
{
    /// <summary>Index of the widest figure, f/1.</summary>
    public const int MinIndex = 0;

    /// <summary>Index of the smallest opening, f/64.</summary>
    public const int MaxIndex = 36;

    /// <summary>Creates an aperture from its index, 0 (f/1) to 36 (f/64), in third stops of light.</summary>
    public ApertureSetting(int index)
    {
        if (index < MinIndex || index > MaxIndex)
            throw new ArgumentException("Aperture index " + index.ToString() + ": outside 0 (f/1) to 36 (f/64).");
        Index = index;
    }

    /// <summary>Third stops of light from f/1, 0 to 36; a smaller opening has the larger index.</summary>
    public int Index { get; }

    /// <summary>The true f-number, 2^(Index/6).</summary>
    public double Number => Elementary.Exp2(Index / 6.0);

    /// <summary>The printed figure without "f/", such as "5.6".</summary>
    public string Label => Figure(Index - MinIndex);

    /// <summary>The widest opening, f/1.</summary>
    public static ApertureSetting Min => new ApertureSetting(MinIndex);

    /// <summary>The smallest opening, f/64.</summary>
    public static ApertureSetting Max => new ApertureSetting(MaxIndex);

    /// <summary>The aperture this many third stops smaller (wider when negative). A step past the end of the scale gives the end.</summary>
    public ApertureSetting Step(int thirds) => new ApertureSetting(Elementary.Clamp(Index + thirds, MinIndex, MaxIndex));

    /// <summary>Reads "f/8", "f8", "F 8" or "8".</summary>
    /// <param name="text">The text as given; null counts as empty.</param>
    /// <param name="value">The aperture; f/1 when refused.</param>
    /// <param name="problem">Why the text is refused, with the nearest figures; empty when it is accepted.</param>
    public static bool TryParse(string? text, out ApertureSetting value, out string problem)
    {
        int position;
        bool found = DialFigures.TryFind("Aperture", "f/8 or 5.6", "f", "", text, AllFigures(), out position, out problem);
        value = new ApertureSetting(found ? MinIndex + position : 0);
        return found;
    }

    // The figures are in code and not in an array, because an array and its texts would take up heap on the device for good.
    private static string Figure(int position) => position switch
    {
        0 => "1",
        1 => "1.1",
        2 => "1.2",
        3 => "1.4",
        4 => "1.6",
        5 => "1.8",
        6 => "2",
        7 => "2.2",
        8 => "2.5",
        9 => "2.8",
        10 => "3.2",
        11 => "3.5",
        12 => "4",
        13 => "4.5",
        14 => "5",
        15 => "5.6",
        16 => "6.3",
        17 => "7.1",
        18 => "8",
        19 => "9",
        20 => "10",
        21 => "11",
        22 => "13",
        23 => "14",
        24 => "16",
        25 => "18",
        26 => "20",
        27 => "22",
        28 => "25",
        29 => "29",
        30 => "32",
        31 => "36",
        32 => "40",
        33 => "45",
        34 => "51",
        35 => "57",
        _ => "64",
    };

    private static string[] AllFigures()
    {
        string[] figures = new string[MaxIndex - MinIndex + 1];
        for (int i = 0; i < figures.Length; i++) figures[i] = Figure(i);
        return figures;
    }
}
