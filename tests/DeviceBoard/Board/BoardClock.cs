using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>
/// Microseconds since the start, from the host's clock, which the runtime gives in steps of 0.1 µs. The player controls this clock. It runs with the
/// host's clock up to a time that the player allows, and then stops there, so that a press is made at its time however busy the PC is.
/// A script may let it jump ahead over times when nothing happens. Only the player changes it.
/// </summary>
public static class BoardClock
{
    private static long _zeroUs;
    private static long _lastUs;
    private static long _allowedUs;

    /// <summary>The time now, µs. It never runs back, even when somebody sets the host's clock.</summary>
    public static long NowUs
    {
        get
        {
            long now = HostUs() - _zeroUs;
            long allowed = _allowedUs;
            if (now > allowed) now = allowed;
            if (now < _lastUs) return _lastUs;
            _lastUs = now;
            return now;
        }
    }

    /// <summary>For how long the clock has been stopped, µs.</summary>
    public static long StandsUs
    {
        get
        {
            long beyond = HostUs() - _zeroUs - _allowedUs;
            return beyond > 0 ? beyond : 0;
        }
    }

    /// <summary>The program starts now.</summary>
    public static void Begin()
    {
        _zeroUs = HostUs();
        _lastUs = 0;
        _allowedUs = long.MaxValue / 2;
    }

    /// <summary>Lets the clock run up to a time, µs, from where it stands; a time that has passed lets it stand where it is.</summary>
    public static void Allow(long untilUs)
    {
        _zeroUs += StandsUs;
        long now = NowUs;
        _allowedUs = untilUs > now ? untilUs : now;
    }

    /// <summary>Jumps ahead to a time, µs, and stands there; does nothing when it has passed.</summary>
    public static void JumpTo(long us)
    {
        long ahead = us - NowUs;
        if (ahead <= 0) return;
        Allow(us);
        _zeroUs -= ahead;
    }

    private static long HostUs() => DateTime.UtcNow.Ticks / 10;
}
