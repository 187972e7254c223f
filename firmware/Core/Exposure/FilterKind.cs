namespace Intervalometer.Core.Exposure;

/// <summary>What a filter does to the frame.</summary>
public enum FilterKind
{
    /// <summary>Neutral density: it darkens the whole frame evenly.</summary>
    Nd = 0,

    /// <summary>Graduated with a hard edge: it darkens about half the frame.</summary>
    HardGrad = 1,

    /// <summary>Graduated with a soft edge: it darkens about half the frame.</summary>
    SoftGrad = 2,

    /// <summary>Graduated with its densest band at the horizon (reverse grad).</summary>
    ReverseGrad = 3,

    /// <summary>Polariser: the light it takes depends on how it is turned.</summary>
    Polariser = 4,

    /// <summary>Any other filter of known strength.</summary>
    Other = 5,
}

/// <summary>The scale of the figure that a maker prints on a filter.</summary>
public enum FilterScale
{
    /// <summary>Stops, stored in hundredths, 0.00 to 20.00.</summary>
    Stops = 0,

    /// <summary>Optical density, stored in hundredths, 0.00 to 6.00.</summary>
    Density = 1,

    /// <summary>Filter factor, a whole number from 1 to 1000000.</summary>
    Factor = 2,
}

/// <summary>The names and properties of the kinds of filter.</summary>
public static class FilterKinds
{
    /// <summary>How many kinds there are. They are counted up to the first number that has no name.</summary>
    public static int Count
    {
        get
        {
            int count = 0;
            while (Words((FilterKind)count).Length > 0) count++;
            return count;
        }
    }

    /// <summary>The trade's name of a kind; empty when the number is no kind.</summary>
    public static string Words(FilterKind kind) => kind switch
    {
        FilterKind.Nd => "ND",
        FilterKind.HardGrad => "hard grad",
        FilterKind.SoftGrad => "soft grad",
        FilterKind.ReverseGrad => "reverse grad",
        FilterKind.Polariser => "polariser",
        FilterKind.Other => "other",
        _ => "",
    };

    /// <summary>True for the three graduated kinds.</summary>
    public static bool IsGrad(FilterKind kind) =>
        kind == FilterKind.HardGrad || kind == FilterKind.SoftGrad || kind == FilterKind.ReverseGrad;
}
