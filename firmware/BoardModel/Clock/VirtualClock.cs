using Intervalometer.Core;

namespace Intervalometer.VirtualBoard.Clock;

/// <summary>
/// The only clock of the virtual board, with the events that are still to come. Events run in order of time and, at the same
/// microsecond, in the order in which they were asked for, so a run repeats exactly.
/// </summary>
public sealed class VirtualClock : IMicrosClock
{
    private readonly PriorityQueue<Action, (long AtUs, long Order)> _events = new();
    private long _order;
    private bool _running;

    /// <inheritdoc />
    public long NowUs { get; private set; }

    /// <summary>Time of the next event, µs; long.MaxValue when none is waiting.</summary>
    public long NextUs => _events.TryPeek(out _, out var key) ? key.AtUs : long.MaxValue;

    /// <summary>Asks for <paramref name="what"/> at a time that is now or later, µs.</summary>
    public void At(long atUs, Action what)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(atUs, NowUs);
        _events.Enqueue(what, (atUs, _order++));
    }

    /// <summary>Runs the next event at its own time. Does nothing when none is waiting.</summary>
    public void RunNext()
    {
        if (!_events.TryDequeue(out Action? what, out var key)) return;
        if (_running) throw new InvalidOperationException("An event of the virtual world tried to move its clock.");
        NowUs = Math.Max(NowUs, key.AtUs);
        _running = true;
        try { what(); }
        finally { _running = false; }
    }

    /// <summary>Runs every event due up to and including a time, then stands at that time. Never goes back.</summary>
    public void AdvanceTo(long us)
    {
        while (NextUs <= us) RunNext();
        NowUs = Math.Max(NowUs, us);
    }
}
