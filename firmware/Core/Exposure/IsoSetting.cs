using System;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// A speed on the third-stop scale. The true speed is 100 * 2^(Index/3); the printed marks are the nominal series
/// (ISO 2240, ISO 5800 and ISO 12232 arithmetic speeds; 12800 and 25600 as cameras print them: common practice).
/// </summary>
public readonly struct IsoSetting
{
    /// <summary>Index of the lowest mark, 25.</summary>
    public const int MinIndex = -6;

    /// <summary>Index of the highest mark, 25600.</summary>
    public const int MaxIndex = 24;

    private static readonly string[] Labels =
    {
        "25", "32", "40", "50", "64", "80", "100", "125", "160", "200", "250", "320", "400", "500", "640",
        "800", "1000", "1250", "1600", "2000", "2500", "3200", "4000", "5000", "6400",
        "8000", "10000", "12800", "16000", "20000", "25600",
    };

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

    /// <summary>The printed mark, such as "100".</summary>
    public string Label => Labels[Index - MinIndex];

    /// <summary>The lowest speed, 25.</summary>
    public static IsoSetting Min => new IsoSetting(MinIndex);

    /// <summary>The highest speed, 25600.</summary>
    public static IsoSetting Max => new IsoSetting(MaxIndex);

    /// <summary>The speed so many third stops higher (or lower when negative), held at the ends of the scale.</summary>
    public IsoSetting Step(int thirds) => new IsoSetting(Elementary.Clamp(Index + thirds, MinIndex, MaxIndex));

    /// <summary>Reads "ISO 100", "iso100" or "100".</summary>
    /// <param name="text">The text as given; null counts as empty.</param>
    /// <param name="value">The speed; 100 when refused.</param>
    /// <param name="problem">Why it is refused and the nearest marks; empty when accepted.</param>
    public static bool TryParse(string? text, out IsoSetting value, out string problem)
    {
        int position;
        bool found = Marks.TryFind("ISO", "ISO 100 or 400", "iso", "", text, Labels, out position, out problem);
        value = new IsoSetting(found ? MinIndex + position : 0);
        return found;
    }
}
