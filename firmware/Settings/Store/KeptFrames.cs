namespace Intervalometer.Settings.Store;

/// <summary>
/// The frames from before the box was switched on, newest first, as far as the memory keeps them. A screen asks for one of them; the keeper
/// reads it in one of its own turns, when no run is on, so that no screen touches the bus.
/// </summary>
public sealed class KeptFrames
{
    private const int None = -1;

    private int _wanted = None;
    private int _read = None;
    private bool _found;

    /// <summary>How many there are. The oldest go when new frames take their pages.</summary>
    public int Count { get; private set; }

    /// <summary>The frame that was read last.</summary>
    public LogEntry Entry { get; } = new LogEntry();

    /// <summary>True while a frame that was asked for has not been read.</summary>
    public bool Waits => _wanted != _read;

    /// <summary>Asks for a frame. True when <see cref="Entry"/> holds it; false while it is on its way, and for one that cannot be read.</summary>
    /// <param name="back">0 for the newest.</param>
    public bool Has(int back)
    {
        _wanted = back;
        return _read == back && _found;
    }

    /// <summary>Reads what was asked for: one page.</summary>
    /// <param name="logbook">Where the frames are; its writer must be idle.</param>
    /// <param name="since">Frames that were kept since the box was switched on.</param>
    internal void Read(Logbook logbook, int since)
    {
        _read = _wanted;
        _found = logbook.Read(logbook.Count - 1 - since - _wanted, Entry);
    }

    /// <summary>Counts anew what is left of them.</summary>
    internal void Counted(Logbook logbook, int since)
    {
        Count = logbook.Count > since ? logbook.Count - since : 0;
    }
}
