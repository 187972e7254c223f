using System;

namespace Intervalometer.Core.Optics;

/// <summary>
/// The size of the film or sensor, and with it the circle of confusion: the largest blur that still counts as sharp in a print seen
/// as a whole.
/// </summary>
/// <remarks>The circles are those in common use, about the diagonal divided by 1440 (common practice, no source). A print that is looked at from close by needs smaller ones.</remarks>
public readonly struct FilmFormat
{
    /// <summary>How many formats there are; an index runs from 0 to one less.</summary>
    public const int Count = 8;

    /// <summary>Full frame, 36 x 24 mm.</summary>
    public const int FullFrame = 2;

    /// <summary>Creates a format from its index, 0 to 7. Throws outside.</summary>
    public FilmFormat(int index)
    {
        if (index < 0 || index >= Count) throw new ArgumentException("Film format " + index.ToString() + ": outside 0 to 7. Use 2 for 36 x 24 mm.");
        Index = index;
    }

    /// <summary>Place in the list, which begins with the smallest format.</summary>
    public int Index { get; }

    /// <summary>The size in words, such as "36 x 24 mm".</summary>
    public string Label => Index switch
    {
        0 => "17 x 13 mm",
        1 => "24 x 16 mm",
        2 => "36 x 24 mm",
        3 => "44 x 33 mm",
        4 => "6 x 4.5 cm",
        5 => "6 x 6 cm",
        6 => "6 x 7 cm",
        _ => "4 x 5 inch",
    };

    /// <summary>The circle of confusion.</summary>
    public BlurCircle Circle => new BlurCircle(Index switch
    {
        0 => 15,
        1 => 20,
        2 => 30,
        3 => 38,
        4 => 48,
        5 => 55,
        6 => 62,
        _ => 105,
    });
}
