using Intervalometer.Coast.Tide;

namespace Intervalometer.Coast.Place;

/// <summary>
/// What is taken off the flood heights and the leave-by time for the errors of the tide's source. A sum of constituents is too low by the
/// constituents that were left out. A half cosine between printed turns is late where the tide does not rise evenly.
/// </summary>
/// <remarks>
/// The figures for a table hold on ten coasts over half a year, with the turns rounded to the minute and to 0.1 m and a margin of
/// 0.5 m: Newlyn, Boston, Saint John, Avonmouth, San Francisco, Philadelphia, Darwin, Le Havre, Weymouth and Southampton. A test
/// sends each through the memory of the box and requires that no flood is predicted late. Le Havre, whose high water stands for hours,
/// needs 61 minutes, Southampton 45, and the other eight 5.
/// </remarks>
public static class TideAllowance
{
    /// <summary>Minutes taken off for printed turns of a tide whose shape nobody has named.</summary>
    public const int AnyTableMinutes = 65;

    /// <summary>Minutes taken off for printed turns of a tide that rises and falls evenly, without a stand or double high or low water.</summary>
    public const int PlainTableMinutes = 10;

    /// <summary>Centimetres taken off for printed turns, whose heights are printed to 0.1 m.</summary>
    public const int TableCentimetres = 5;

    /// <summary>Minutes taken off for a sum of constituents.</summary>
    public const int SumMinutes = 2;

    /// <summary>Centimetres taken off for a sum of constituents, besides those for constituents that were left out: node factors by another rule change a tide of 13 m by as much.</summary>
    public const int SumCentimetres = 3;

    /// <summary>The most that constituents left out may amount to, centimetres.</summary>
    public const int MostLeftOutCentimetres = 250;

    /// <summary>
    /// Minutes taken off for printed turns between which the tide follows the sum of the place's own constituents. On the ten coasts none was
    /// late even with no minutes off. With the constituents of a port 2 to 60 km away, Le Havre was late by 52 minutes, so in that case as much
    /// is taken off as for any table.
    /// </summary>
    public const int ShapedTableMinutes = 10;

    /// <summary>Minutes taken off the leave-by time. A table that should follow a sum but does not counts as one of any shape.</summary>
    /// <param name="tide">The source of the heights.</param>
    /// <param name="shape">What a person has said of its shape.</param>
    public static int Minutes(TideSource tide, TideShape shape)
    {
        PrintedTide? table = tide as PrintedTide;
        if (table == null) return SumMinutes;
        return shape == TideShape.AsSum && table.IsShaped ? ShapedTableMinutes : shape == TideShape.Plain ? PlainTableMinutes : AnyTableMinutes;
    }

    /// <summary>Centimetres taken off every flood height.</summary>
    /// <param name="tide">The source of the heights.</param>
    /// <param name="leftOutCentimetres">By how much the sum may be too low because constituents were left out.</param>
    public static int Centimetres(TideSource tide, int leftOutCentimetres) =>
        tide is PrintedTide table ? TableCentimetres + (table.IsShaped ? leftOutCentimetres : 0) : SumCentimetres + leftOutCentimetres;

    /// <summary>What is taken off at a place, such as "table: 65 min taken off"; at most 26 characters.</summary>
    public static string Words(CoastPlace place)
    {
        if (place.Tide is PrintedTide) return "table: " + place.AllowanceMinutes.ToString() + " min taken off";
        return "sum: " + place.AllowanceMinutes.ToString() + " min, " + place.AllowanceCentimetres.ToString() + " cm off";
    }
}
