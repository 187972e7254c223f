namespace Intervalometer.Settings;

/// <summary>The parts that the box can do without, in the order in which they are given up when the heap runs short.</summary>
public enum SparePart
{
    /// <summary>The search for mornings.</summary>
    Mornings = 0,

    /// <summary>The day's tide curve, with the present height and the next high and low waters.</summary>
    DayCurve = 1,

    /// <summary>The list of the frames in the logbook. Frames are still stored without it.</summary>
    FrameList = 2,

    /// <summary>The memory that makes reading the tide fast. Without it the way back is still worked out, but takes some seconds.</summary>
    QuickTide = 3,
}

/// <summary>Reports how much of the heap is free.</summary>
public interface IHeapGauge
{
    /// <summary>The free bytes after a garbage collection; -1 when they are not known. It may take tens of milliseconds, so never call it near an edge.</summary>
    int FreeBytes { get; }
}

/// <summary>
/// Which parts were given up because the heap ran short. Exposures, the stop and the way-back alarm are never given up. What was given up
/// comes back at the next start.
/// </summary>
public sealed class SpareParts
{
    /// <summary>How many parts there are.</summary>
    public const int Count = 4;

    // These bytes stay free for handling a press and drawing a picture. On every card but DEPTH, which takes 6.2 kB, these allocate less (tests/Budgets).
    private const int ReserveBytes = 4_000;

    /// <summary>Knows how much of the heap is free; null when nothing does.</summary>
    public IHeapGauge? Gauge { get; set; }

    /// <summary>How many parts were given up, counted from the first of the list.</summary>
    public int GivenUp { get; private set; }

    /// <summary>True while a part has not been given up.</summary>
    public bool Has(SparePart part) => (int)part >= GivenUp;

    /// <summary>Gives the next part up. Returns false when none is left.</summary>
    public bool GiveUpNext()
    {
        if (GivenUp >= Count) return false;
        GivenUp++;
        return true;
    }

    /// <summary>False when so little of the heap is free that beginning a part would leave too little for everything else.</summary>
    /// <param name="bytes">How many bytes the part takes while it works.</param>
    public bool HasRoom(int bytes)
    {
        int free = Gauge == null ? -1 : Gauge.FreeBytes;
        return free < 0 || free >= bytes + ReserveBytes;
    }

    /// <summary>The parts that were given up, in words for one line; empty when there are none.</summary>
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
