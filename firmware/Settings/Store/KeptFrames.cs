namespace Intervalometer.Settings.Store;

/// <summary>
/// The frames in the memory from before the box was switched on, newest first. A screen asks for one of them. The store keeper reads it in
/// one of its own passes while no run is on, so that no screen uses the bus.
/// </summary>
public sealed class KeptFrames
{
    private const int None = -1;

    private int _wanted = None;
    private int _read = None;
    private bool _found;

    /// <summary>How many there are. The oldest are lost when new frames take their pages.</summary>
    public int Count { get; private set; }

    /// <summary>The frame that was read last.</summary>
    public LogEntry Entry { get; } = new LogEntry();

    /// <summary>True while a frame that was asked for has not been read yet.</summary>
    public bool Waits => _wanted != _read;

    /// <summary>Asks for a frame. Returns true when <see cref="Entry"/> holds it; false until it has been read, and when it cannot be read.</summary>
    /// <param name="back">0 for the newest.</param>
    public bool Has(int back)
    {
        _wanted = back;
        return _read == back && _found;
    }

    /// <summary>Reads the frame that was asked for, which takes one page.</summary>
    /// <param name="logbook">The logbook, whose writer must be idle.</param>
    /// <param name="since">How many frames have been written since the box was switched on.</param>
    internal void Read(Logbook logbook, int since)
    {
        _read = _wanted;
        _found = logbook.Read(logbook.Count - 1 - since - _wanted, Entry);
    }

    /// <summary>Counts again how many of them are left.</summary>
    internal void Counted(Logbook logbook, int since)
    {
        Count = logbook.Count > since ? logbook.Count - since : 0;
    }
}
