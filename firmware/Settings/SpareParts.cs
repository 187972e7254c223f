namespace Intervalometer.Settings;

/// <summary>What the box can do without, in the order in which it is given up when memory runs short.</summary>
public enum SparePart
{
    /// <summary>The search for mornings.</summary>
    Mornings = 0,

    /// <summary>The day's tide curve, with the height now and the next high and low waters.</summary>
    DayCurve = 1,

    /// <summary>The list of the frames in the logbook. Frames are kept without it.</summary>
    FrameList = 2,

    /// <summary>What makes a walk along the tide quick. The way back is worked out without it, and takes some seconds.</summary>
    QuickTide = 3,
}

/// <summary>Says how much memory is free.</summary>
public interface IHeapGauge
{
    /// <summary>Free bytes after a collection; -1 when that is not known. May take tens of milliseconds: never near an edge.</summary>
    int FreeBytes { get; }
}

/// <summary>
/// Which parts were given up because memory ran short. Exposures, the stop and the way-back alarm are not among them. What was
/// given up comes back with the next start.
/// </summary>
public sealed class SpareParts
{
    /// <summary>How many parts there are.</summary>
    public const int Count = 4;

    // Left over for a press and a picture, which make 3.5 kB at the most (tests/Budgets), bytes.
    private const int ReserveBytes = 4_000;

    /// <summary>Knows the free memory; null when nobody does.</summary>
    public IHeapGauge? Gauge { get; set; }

    /// <summary>How many were given up, from the first on.</summary>
    public int GivenUp { get; private set; }

    /// <summary>True while a part was not given up.</summary>
    public bool Has(SparePart part) => (int)part >= GivenUp;

    /// <summary>Gives the next part up. False when none is left.</summary>
    public bool GiveUpNext()
    {
        if (GivenUp >= Count) return false;
        GivenUp++;
        return true;
    }

    /// <summary>False when so little memory is free that beginning a part would leave too little for everything else.</summary>
    /// <param name="bytes">What the part takes while it works.</param>
    public bool HasRoom(int bytes)
    {
        int free = Gauge == null ? -1 : Gauge.FreeBytes;
        return free < 0 || free >= bytes + ReserveBytes;
    }

    /// <summary>What was given up, in words for one line; empty when nothing was.</summary>
    public string Words => GivenUp switch
    {
        0 => "",
        1 => "no search for mornings",
        2 => "no mornings, no tide curve",
        3 => "no mornings, tide, frame list",
        _ => "no mornings, tide, list; PATH slow",
    };

    /// <summary>What still works, in words for one line.</summary>
    public const string Works = "exposure, stop, alarm work";
}
