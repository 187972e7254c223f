using System;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// How a film loses speed in long exposures (reciprocity failure), as classes that belong to no maker. Index 0 is no correction, which is
/// the default and right for a digital sensor. Then come powers of the time in rising order, and last a table.
/// </summary>
/// <remarks>
/// Power: beyond 1 s, t' = t^p with t in seconds. Today's black-and-white films have a p of 1.25 to 1.43 according to the sheet
/// "Compensating for reciprocity law failure" (read in reproductions). A film's own data sheet gives its p.
/// Table: log-log interpolation between the points of an old fast film, publication F-4017 (from memory). Beyond the last point the last slope is extended.
/// </remarks>
public readonly struct FilmCurve
{
    /// <summary>How many curves there are; an index runs from 0 to one less.</summary>
    public const int Count = 8;

    /// <summary>Metered times beyond this many seconds lie outside the table, so that their correction is a guess.</summary>
    public const double TableEndSeconds = 100;

    private const int Tabled = Count - 1;

    /// <summary>Creates a curve from its index, 0 (none) to 7. Throws outside.</summary>
    public FilmCurve(int index)
    {
        if (index < 0 || index >= Count)
            throw new ArgumentException("Film curve " + index.ToString() + ": outside 0 to 7. Use 0 for none.");
        Index = index;
    }

    /// <summary>Place in the list, 0 to 7.</summary>
    public int Index { get; }

    /// <summary>Short name of the class, such as "power 1.31"; "none" for index 0.</summary>
    public string Label => NameOf(Index);

    /// <summary>No correction.</summary>
    public static FilmCurve None => new FilmCurve(0);

    /// <summary>True when the metered time lies beyond the table, so that the corrected time is a guess.</summary>
    /// <param name="seconds">Metered time, above zero.</param>
    public bool IsGuess(double seconds) => Index == Tabled && seconds > TableEndSeconds;

    /// <summary>The time to give for a metered time, both in seconds above zero; never shorter than the metered time.</summary>
    public double Corrected(double seconds)
    {
        if (Index == Tabled) return FromTable(seconds);
        if (Index == 0 || seconds <= 1.0) return seconds;
        return Elementary.Pow(seconds, Exponent(Index));
    }

    // F-4017, from memory: 0.1 s needs no correction, 1 s becomes 2 s, 10 s becomes 50 s, 100 s becomes 1200 s. The points are a
    // decade apart, so the position between two of them is log10 of the time over the lower point.
    private static double FromTable(double seconds)
    {
        if (seconds <= 0.1) return seconds;
        if (seconds <= 1) return Between(seconds / 0.1, 0.1, 20);
        if (seconds <= 10) return Between(seconds, 2, 25);
        return Between(seconds / 10, 50, 24);
    }

    // The ratio runs from 1 at the lower point to 10 at the upper. Over that span the corrected time rises from low to low times rise.
    private static double Between(double ratio, double low, double rise) =>
        low * Elementary.Pow(rise, Elementary.Log10(ratio));

    /// <summary>The number by which the memory stores this curve, 0 to <see cref="LastKept"/>: its place in an older and longer list.</summary>
    public int Kept => Index switch
    {
        1 => 9,
        3 => 1,
        4 => 5,
        5 => 4,
        Tabled => LastKept,
        _ => Index,
    };

    /// <summary>The highest number by which the memory stores a curve.</summary>
    public const int LastKept = 10;

    /// <summary>The curve for a stored number, 0 to <see cref="LastKept"/>. Two numbers can give one curve, because the older list had films of equal power.</summary>
    public static FilmCurve FromKept(int kept) => new FilmCurve(kept switch
    {
        1 => 3,
        3 => 2,
        4 => 5,
        5 => 4,
        7 => 3,
        8 => 4,
        9 => 1,
        LastKept => Tabled,
        _ => kept,
    });

    // The names are in code and not in an array, because an array and its texts would take up heap on the device for good.
    private static string NameOf(int position) => position switch
    {
        0 => "none",
        1 => "power 1.25",
        2 => "power 1.26",
        3 => "power 1.31",
        4 => "power 1.33",
        5 => "power 1.41",
        6 => "power 1.43",
        _ => "table",
    };

    // The exponents stand in the order of the names.
    private static double Exponent(int index) => index switch
    {
        1 => 1.25,
        2 => 1.26,
        3 => 1.31,
        4 => 1.33,
        5 => 1.41,
        6 => 1.43,
        _ => 1,
    };
}
