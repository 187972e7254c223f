using System;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// A film or sensor speed on the third-stop scale. The true speed is 100 * 2^(Index/3); the printed figures are the nominal series
/// (ISO 2240, ISO 5800 and ISO 12232 arithmetic speeds; 12800 and 25600 as cameras print them: common practice).
/// </summary>
public readonly struct IsoSetting
{
    /// <summary>Index of the lowest figure, 25.</summary>
    public const int MinIndex = -6;

    /// <summary>Index of the highest figure, 25600.</summary>
    public const int MaxIndex = 24;

    /// <summary>Creates a speed from its index, -6 (25) to 24 (25600), in third stops from 100.</summary>
    public IsoSetting(int index)
    {
        if (index < MinIndex || index > MaxIndex)
            throw new ArgumentException("ISO index " + index.ToString() + ": outside -6 (25) to 24 (25600).");
        Index = index;
    }

    /// <summary>Third stops from 100, -6 to 24; a higher speed has the larger index.</summary>
    public int Index { get; }

    /// <summary>The true arithmetic speed, 100 * 2^(Index/3).</summary>
    public double Speed => 100.0 * Elementary.Exp2(Index / 3.0);

    /// <summary>The printed figure, such as "100".</summary>
    public string Label => Figure(Index - MinIndex);

    /// <summary>The lowest speed, 25.</summary>
    public static IsoSetting Min => new IsoSetting(MinIndex);

    /// <summary>The highest speed, 25600.</summary>
    public static IsoSetting Max => new IsoSetting(MaxIndex);

    /// <summary>The speed this many third stops higher (lower when negative). A step past the end of the scale gives the end.</summary>
    public IsoSetting Step(int thirds) => new IsoSetting(Elementary.Clamp(Index + thirds, MinIndex, MaxIndex));

    /// <summary>Reads "ISO 100", "iso100" or "100".</summary>
    /// <param name="text">The text as given; null counts as empty.</param>
    /// <param name="value">The speed; 100 when refused.</param>
    /// <param name="problem">Why the text is refused, with the nearest figures; empty when it is accepted.</param>
    public static bool TryParse(string? text, out IsoSetting value, out string problem)
    {
        int position;
        bool found = DialFigures.TryFind("ISO", "ISO 100 or 400", "iso", "", text, AllFigures(), out position, out problem);
        value = new IsoSetting(found ? MinIndex + position : 0);
        return found;
    }

    // The figures are in code and not in an array, because an array and its texts would take up heap on the device for good.
    private static string Figure(int position) => position switch
    {
        0 => "25",
        1 => "32",
        2 => "40",
        3 => "50",
        4 => "64",
        5 => "80",
        6 => "100",
        7 => "125",
        8 => "160",
        9 => "200",
        10 => "250",
        11 => "320",
        12 => "400",
        13 => "500",
        14 => "640",
        15 => "800",
        16 => "1000",
        17 => "1250",
        18 => "1600",
        19 => "2000",
        20 => "2500",
        21 => "3200",
        22 => "4000",
        23 => "5000",
        24 => "6400",
        25 => "8000",
        26 => "10000",
        27 => "12800",
        28 => "16000",
        29 => "20000",
        _ => "25600",
    };

    private static string[] AllFigures()
    {
        string[] figures = new string[MaxIndex - MinIndex + 1];
        for (int i = 0; i < figures.Length; i++) figures[i] = Figure(i);
        return figures;
    }
}
