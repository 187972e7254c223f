using Intervalometer.Coast.Time;

namespace Intervalometer.Settings.Shore;

/// <summary>Where the time of day comes from, or why there is none.</summary>
public enum ClockTrust
{
    /// <summary>Nothing has been read yet.</summary>
    Unread,

    /// <summary>The time comes from the clock chip.</summary>
    Chip,

    /// <summary>The time was set by hand and has not yet been read back from a chip.</summary>
    ByHand,

    /// <summary>The chip reports that its oscillator has stopped at some time.</summary>
    Stopped,

    /// <summary>No chip answers.</summary>
    NoAnswer,

    /// <summary>The chip holds no date, or one before this firmware was written.</summary>
    Nonsense,
}

/// <summary>
/// The time of day. It is taken from the clock chip now and then, and continued by the board's microsecond clock in between. It is universal
/// time throughout. This class does not use the bus: a driver hands readings in and fetches settings.
/// </summary>
public sealed class ShoreClock
{
    /// <summary>2026-01-01 00:00 UTC in seconds since 2000. A chip that claims an earlier time was never set.</summary>
    public const long EarliestSeconds = 9497 * UtcInstant.SecondsPerDay;

    private const long SameSeconds = 5;

    private UtcInstant _anchor;
    private long _anchorUs;
    private bool _write;

    /// <summary>Where the time comes from.</summary>
    public ClockTrust Trust { get; private set; }

    /// <summary>True when there is a time to use.</summary>
    public bool IsSet => Trust == ClockTrust.Chip || Trust == ClockTrust.ByHand;

    /// <summary>True when the time was set by hand since power-on.</summary>
    public bool WasSetByHand { get; private set; }

    /// <summary>Grows when the time was gained, lost or moved by more than 5 s. Everything that was worked out before is then void.</summary>
    public int Revision { get; private set; }

    /// <summary>The time, rounded down to the second. It means something only while <see cref="IsSet"/>.</summary>
    /// <param name="nowUs">The board's clock, µs.</param>
    public UtcInstant Now(long nowUs) => _anchor.PlusSeconds((nowUs - _anchorUs) / 1_000_000);

    /// <summary>Takes a reading of the chip.</summary>
    /// <param name="time">The time that the chip holds.</param>
    /// <param name="atUs">When it was read, µs.</param>
    public void Read(UtcInstant time, long atUs)
    {
        if (!time.IsValid || time.Seconds < EarliestSeconds)
        {
            Fail(ClockTrust.Nonsense);
            return;
        }
        Anchor(time, atUs, ClockTrust.Chip);
    }

    /// <summary>Notes that the chip could not be read, or that its time is worthless. A time that was set by hand stays valid when no chip answers.</summary>
    public void Fail(ClockTrust why)
    {
        if (why == ClockTrust.NoAnswer && Trust == ClockTrust.ByHand) return;
        if (IsSet) Revision++;
        Trust = why;
    }

    /// <summary>Takes a time that was set by hand. <see cref="TakeSetting"/> hands it on to the chip.</summary>
    /// <param name="time">The time, 2026 to 2099; any other is ignored.</param>
    /// <param name="atUs">The moment at which that time was right, µs.</param>
    public void SetByHand(UtcInstant time, long atUs)
    {
        if (!time.IsValid || time.Seconds < EarliestSeconds) return;
        Anchor(time, atUs, ClockTrust.ByHand);
        WasSetByHand = true;
        _write = true;
    }

    /// <summary>Returns true once after each setting by hand, with the time that is to be written to the chip at this moment.</summary>
    public bool TakeSetting(long nowUs, out UtcInstant time)
    {
        time = Now(nowUs);
        if (!_write) return false;
        _write = false;
        return true;
    }

    private void Anchor(UtcInstant time, long atUs, ClockTrust trust)
    {
        long moved = IsSet ? time.SecondsSince(Now(atUs)) : SameSeconds + 1;
        if (moved > SameSeconds || moved < -SameSeconds) Revision++;
        _anchor = time;
        _anchorUs = atUs;
        Trust = trust;
    }
}
