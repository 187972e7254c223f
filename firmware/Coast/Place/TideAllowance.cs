using Intervalometer.Coast.Tide;

namespace Intervalometer.Coast.Place;

/// <summary>
/// What is taken off the flood heights and the leave-by time because of where the tide comes from: a sum of constituents is
/// short by the terms that were left out, and a half cosine between printed turns is late where the tide does not rise evenly.
/// </summary>
/// <remarks>
/// The figures of a table hold on ten coasts over half a year, with the turns rounded to the minute and to 0.1 m and a margin of
/// 0.5 m: Newlyn, Boston, Saint John, Avonmouth, San Francisco, Philadelphia, Darwin, Le Havre, Weymouth and Southampton. A test
/// sends each through the memory of the box and wants no flood called late. Le Havre, whose high water stands for hours, needs
/// 61 minutes, Southampton 45, the other eight 5.
/// </remarks>
public static class TideAllowance
{
    /// <summary>Minutes off for printed turns of a tide whose shape nobody has named.</summary>
    public const int AnyTableMinutes = 65;

    /// <summary>Minutes off for printed turns of a tide that rises and falls evenly: no stand, no double high or low water.</summary>
    public const int PlainTableMinutes = 10;

    /// <summary>Centimetres off for printed turns: heights are printed to 0.1 m.</summary>
    public const int TableCentimetres = 5;

    /// <summary>Minutes off for a sum of constituents.</summary>
    public const int SumMinutes = 2;

    /// <summary>Centimetres off for a sum of constituents, before the terms that were left out: node factors by another rule move a 13 m tide by as much.</summary>
    public const int SumCentimetres = 3;

    /// <summary>The most that terms left out may cost, centimetres.</summary>
    public const int MostLeftOutCentimetres = 250;

    /// <summary>
    /// Minutes off for printed turns that run along the place's own constituents between them. On the ten coasts none was late without them. Along a port
    /// beside, 2 to 60 km away, Le Havre was late by 52 minutes: there nothing less is taken off than for any table.
    /// </summary>
    public const int ShapedTableMinutes = 10;

    /// <summary>Minutes off the leave-by time. A table that was to run along a sum and does not is one of any shape.</summary>
    /// <param name="tide">Where heights come from.</param>
    /// <param name="shape">What is said of its shape.</param>
    public static int Minutes(TideSource tide, TideShape shape)
    {
        PrintedTide? table = tide as PrintedTide;
        if (table == null) return SumMinutes;
        return shape == TideShape.AsSum && table.IsShaped ? ShapedTableMinutes : shape == TideShape.Plain ? PlainTableMinutes : AnyTableMinutes;
    }

    /// <summary>Centimetres off every flood height.</summary>
    /// <param name="tide">Where heights come from.</param>
    /// <param name="leftOutCentimetres">By how much the sum may fall short for want of terms.</param>
    public static int Centimetres(TideSource tide, int leftOutCentimetres) =>
        tide is PrintedTide table ? TableCentimetres + (table.IsShaped ? leftOutCentimetres : 0) : SumCentimetres + leftOutCentimetres;

    /// <summary>What is taken off at a place, as "table: 65 min taken off"; at most 26 characters.</summary>
    public static string Words(CoastPlace place)
    {
        if (place.Tide is PrintedTide) return "table: " + place.AllowanceMinutes.ToString() + " min taken off";
        return "sum: " + place.AllowanceMinutes.ToString() + " min, " + place.AllowanceCentimetres.ToString() + " cm off";
    }
}
