using Intervalometer.Core;

namespace Intervalometer.Drivers.Composition;

/// <summary>
/// Remembers that the bus hangs. One transfer on a hung bus blocks the runtime for up to 1 s (the platform's public sources), including the
/// release thread. After the first such transfer the bus is left alone for a while, and during a run altogether.
/// </summary>
internal sealed class BusGuard
{
    /// <summary>A failed transfer that took this long met a hung bus, µs. A chip that merely does not answer fails within 1 ms.</summary>
    public const long HungUs = 100_000;

    /// <summary>A hung bus is tried again after this long, µs.</summary>
    public const long RestUs = 10_000_000;

    private readonly IMicrosClock _clock;
    private bool _hung;
    private long _hungUs;

    /// <summary>Creates a guard for a bus that works so far.</summary>
    public BusGuard(IMicrosClock clock)
    {
        _clock = clock;
    }

    /// <summary>True while a run is on. The box keeps it up to date.</summary>
    public bool RunIsOn { get; set; }

    /// <summary>True when a transfer may be tried.</summary>
    public bool MayTry => !_hung || (!RunIsOn && _clock.NowUs - _hungUs >= RestUs);

    /// <summary>Notes the result of a transfer, and returns it.</summary>
    public bool Note(bool answered, long beganUs)
    {
        long now = _clock.NowUs;
        if (answered) _hung = false;
        else if (now - beganUs > HungUs)
        {
            _hung = true;
            _hungUs = now;
        }
        return answered;
    }

    /// <summary>The time now, µs.</summary>
    public long NowUs => _clock.NowUs;
}

/// <summary>A chip whose transfers go through the guard.</summary>
internal sealed class GuardedWire : ITwoWireDevice
{
    private readonly ITwoWireDevice _wire;
    private readonly BusGuard _guard;

    /// <summary>Creates a guarded chip.</summary>
    public GuardedWire(ITwoWireDevice wire, BusGuard guard)
    {
        _wire = wire;
        _guard = guard;
    }

    /// <inheritdoc/>
    public bool Write(byte[] data)
    {
        long began = _guard.NowUs;
        return _guard.MayTry && _guard.Note(_wire.Write(data), began);
    }

    /// <inheritdoc/>
    public bool Read(byte[] data)
    {
        long began = _guard.NowUs;
        return _guard.MayTry && _guard.Note(_wire.Read(data), began);
    }

    /// <inheritdoc/>
    public bool WriteRead(byte[] output, byte[] input)
    {
        long began = _guard.NowUs;
        return _guard.MayTry && _guard.Note(_wire.WriteRead(output, input), began);
    }
}
