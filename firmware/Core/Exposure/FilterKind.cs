namespace Intervalometer.Core.Exposure;

/// <summary>What a filter does to the frame.</summary>
public enum FilterKind
{
    /// <summary>Neutral density: the whole frame alike.</summary>
    Nd = 0,

    /// <summary>Graduated with a hard edge: about half the frame.</summary>
    HardGrad = 1,

    /// <summary>Graduated with a soft edge: about half the frame.</summary>
    SoftGrad = 2,

    /// <summary>Graduated with its densest band at the horizon.</summary>
    ReverseGrad = 3,

    /// <summary>Polariser: its loss depends on how it is turned.</summary>
    Polariser = 4,

    /// <summary>Any other filter of known strength.</summary>
    Other = 5,
}

/// <summary>The figure a maker prints on a filter.</summary>
public enum FilterScale
{
    /// <summary>Stops, held in hundredths, 0.00 to 20.00.</summary>
    Stops = 0,

    /// <summary>Optical density, held in hundredths, 0.00 to 6.00.</summary>
    Density = 1,

    /// <summary>Filter factor, a whole number 1 to 1000000.</summary>
    Factor = 2,
}

/// <summary>Words and facts for kinds of filter.</summary>
public static class FilterKinds
{
    /// <summary>How many kinds there are: the first that has no word is no kind.</summary>
    public static int Count
    {
        get
        {
            int count = 0;
            while (Words((FilterKind)count).Length > 0) count++;
            return count;
        }
    }

    /// <summary>The trade's word for a kind; empty for none.</summary>
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
