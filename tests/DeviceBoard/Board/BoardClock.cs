using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>
/// Microseconds since the start, from the host's clock, which the runtime hands out in steps of 0.1 µs. A script may let it jump
/// ahead over times in which nothing happens.
/// </summary>
public static class BoardClock
{
    private static long _zeroUs;
    private static long _lastUs;

    /// <summary>The time now, µs. Never runs back, should somebody set the host's clock.</summary>
    public static long NowUs
    {
        get
        {
            long now = HostUs() - _zeroUs;
            if (now < _lastUs) return _lastUs;
            _lastUs = now;
            return now;
        }
    }

    /// <summary>The program starts now.</summary>
    public static void Begin()
    {
        _zeroUs = HostUs();
        _lastUs = 0;
    }

    /// <summary>Jumps ahead to a time, µs; does nothing when it has passed.</summary>
    public static void JumpTo(long us)
    {
        long ahead = us - NowUs;
        if (ahead > 0) _zeroUs -= ahead;
    }

    private static long HostUs() => DateTime.UtcNow.Ticks / 10;
}
