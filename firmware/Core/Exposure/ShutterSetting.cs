using System;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// A shutter setting on the third-stop dial. The true time is t = 2^(Index/3) s, so the mark 1/60 is 2^-6 s and the
/// mark 30 is 2^5 = 32 s; the printed marks are the nominal series (common practice; whole stops as in ISO 516).
/// </summary>
public readonly struct ShutterSetting
{
    /// <summary>Index of the shortest mark, 1/8000 (2^-13 s).</summary>
    public const int MinIndex = -39;

    /// <summary>Index of the longest mark, 30 (2^5 s).</summary>
    public const int MaxIndex = 15;

    private static readonly string[] Labels =
    {
        "1/8000", "1/6400", "1/5000", "1/4000", "1/3200", "1/2500", "1/2000", "1/1600", "1/1250",
        "1/1000", "1/800", "1/640", "1/500", "1/400", "1/320", "1/250", "1/200", "1/160",
        "1/125", "1/100", "1/80", "1/60", "1/50", "1/40", "1/30", "1/25", "1/20",
        "1/15", "1/13", "1/10", "1/8", "1/6", "1/5", "1/4", "0.3", "0.4",
        "0.5", "0.6", "0.8", "1", "1.3", "1.6", "2", "2.5", "3.2",
        "4", "5", "6", "8", "10", "13", "15", "20", "25", "30",
    };

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

    /// <summary>The printed mark, such as "1/60" or "15"; whole numbers and decimals are seconds.</summary>
    public string Label => Labels[Index - MinIndex];

    /// <summary>The shortest setting, 1/8000.</summary>
    public static ShutterSetting Min => new ShutterSetting(MinIndex);

    /// <summary>The longest setting, 30.</summary>
    public static ShutterSetting Max => new ShutterSetting(MaxIndex);

    /// <summary>The setting so many third stops longer (or shorter when negative), held at the ends of the dial.</summary>
    public ShutterSetting Step(int thirds) => new ShutterSetting(Elementary.Clamp(Index + thirds, MinIndex, MaxIndex));

    /// <summary>The setting nearest in stops to a time in seconds above zero, held at the ends of the dial.</summary>
    public static ShutterSetting Nearest(double seconds)
    {
        double thirds = Elementary.Clamp(3.0 * Elementary.Log2(seconds), MinIndex, MaxIndex);
        long index = Elementary.Round(thirds);
        return new ShutterSetting((int)index);
    }

    /// <summary>Reads "1/60", "1/60 s", "0.5" or "8s"; any other way to write a mark's number is taken too ("1/2", "2.0").</summary>
    /// <param name="text">The text as given; null counts as empty.</param>
    /// <param name="value">The setting; 1 s when refused.</param>
    /// <param name="problem">Why it is refused and the nearest marks; empty when accepted.</param>
    public static bool TryParse(string? text, out ShutterSetting value, out string problem)
    {
        int position;
        bool found = Marks.TryFind("Shutter", "1/60, 0.5 or 8", "", "s", text, Labels, out position, out problem);
        value = new ShutterSetting(found ? MinIndex + position : 0);
        return found;
    }
}
