using System;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// A shutter setting on the third-stop dial. The true time is t = 2^(Index/3) s, so the figure 1/60 is 2^-6 s and the
/// figure 30 is 2^5 = 32 s; the printed figures are the nominal series (common practice; whole stops as in ISO 516).
/// </summary>
public readonly struct ShutterSetting
{
    /// <summary>Index of the shortest figure, 1/8000 (2^-13 s).</summary>
    public const int MinIndex = -39;

    /// <summary>Index of the longest figure, 30 (2^5 s).</summary>
    public const int MaxIndex = 15;

    // The figures from 0.3 s on are printed in seconds.
    private const int FirstDecimal = -5;

    /// <summary>Creates a setting from its index, -39 (1/8000) to 15 (30 s), in third stops from 1 s.</summary>
    public ShutterSetting(int index)
    {
        if (index < MinIndex || index > MaxIndex)
            throw new ArgumentException("Shutter index " + index.ToString() + ": outside -39 (1/8000) to 15 (30 s).");
        Index = index;
    }

    /// <summary>Third stops from 1 s, -39 to 15; a longer time has the larger index.</summary>
    public int Index { get; }

    /// <summary>The true time in seconds, 2^(Index/3).</summary>
    public double Seconds => Elementary.Exp2(Index / 3.0);

    /// <summary>The printed figure, such as "1/60" or "15"; whole numbers and decimals are seconds.</summary>
    public string Label => Figure(Index - MinIndex);

    /// <summary>The figure with the trade's sign for seconds where it applies, such as 1/15 and 15", so that neither is mistaken for the other.</summary>
    public string Sign => Index >= FirstDecimal ? Label + "\"" : Label;

    /// <summary>The shortest setting, 1/8000.</summary>
    public static ShutterSetting Min => new ShutterSetting(MinIndex);

    /// <summary>The longest setting, 30.</summary>
    public static ShutterSetting Max => new ShutterSetting(MaxIndex);

    /// <summary>The setting this many third stops longer (shorter when negative). A step past the end of the dial gives the end.</summary>
    public ShutterSetting Step(int thirds) => new ShutterSetting(Elementary.Clamp(Index + thirds, MinIndex, MaxIndex));

    /// <summary>The setting nearest in stops to a time in seconds above zero. For a time beyond the dial it is the end of the dial.</summary>
    public static ShutterSetting Nearest(double seconds)
    {
        double thirds = Elementary.Clamp(3.0 * Elementary.Log2(seconds), MinIndex, MaxIndex);
        long index = Elementary.Round(thirds);
        return new ShutterSetting((int)index);
    }

    /// <summary>Reads "1/60", "1/60 s", "0.5" or "8s", and any other way to write the number of a figure ("1/2", "2.0").</summary>
    /// <param name="text">The text as given; null counts as empty.</param>
    /// <param name="value">The setting; 1 s when refused.</param>
    /// <param name="problem">Why the text is refused, with the nearest figures; empty when it is accepted.</param>
    public static bool TryParse(string? text, out ShutterSetting value, out string problem)
    {
        int position;
        bool found = DialFigures.TryFind("Shutter", "1/60, 0.5 or 8", "", "s", text, AllFigures(), out position, out problem);
        value = new ShutterSetting(found ? MinIndex + position : 0);
        return found;
    }

    // The figures are in code and not in an array, because an array and its texts would take up heap on the device for good.
    private static string Figure(int position) => position switch
    {
        0 => "1/8000",
        1 => "1/6400",
        2 => "1/5000",
        3 => "1/4000",
        4 => "1/3200",
        5 => "1/2500",
        6 => "1/2000",
        7 => "1/1600",
        8 => "1/1250",
        9 => "1/1000",
        10 => "1/800",
        11 => "1/640",
        12 => "1/500",
        13 => "1/400",
        14 => "1/320",
        15 => "1/250",
        16 => "1/200",
        17 => "1/160",
        18 => "1/125",
        19 => "1/100",
        20 => "1/80",
        21 => "1/60",
        22 => "1/50",
        23 => "1/40",
        24 => "1/30",
        25 => "1/25",
        26 => "1/20",
        27 => "1/15",
        28 => "1/13",
        29 => "1/10",
        30 => "1/8",
        31 => "1/6",
        32 => "1/5",
        33 => "1/4",
        34 => "0.3",
        35 => "0.4",
        36 => "0.5",
        37 => "0.6",
        38 => "0.8",
        39 => "1",
        40 => "1.3",
        41 => "1.6",
        42 => "2",
        43 => "2.5",
        44 => "3.2",
        45 => "4",
        46 => "5",
        47 => "6",
        48 => "8",
        49 => "10",
        50 => "13",
        51 => "15",
        52 => "20",
        53 => "25",
        _ => "30",
    };

    private static string[] AllFigures()
    {
        string[] figures = new string[MaxIndex - MinIndex + 1];
        for (int i = 0; i < figures.Length; i++) figures[i] = Figure(i);
        return figures;
    }
}
