using Intervalometer.Coast.Time;

namespace Intervalometer.Coast.Place;

/// <summary>How urgent it is to leave, in rising order.</summary>
public enum WayBackLevel
{
    /// <summary>There is nothing to say.</summary>
    Quiet,

    /// <summary>Pack up soon.</summary>
    PackUpSoon,

    /// <summary>Pack up now.</summary>
    Warning,

    /// <summary>Nothing is known: act as if it were time to leave.</summary>
    Uncertain,

    /// <summary>The leave-by time has come.</summary>
    Leave,

    /// <summary>A low point is cut by the prediction.</summary>
    CutOff,
}

/// <summary>
/// Watches the leave-by time. It also turns the alarm on for everything that makes the time unsure: a clock that was never set, has
/// stopped or has been moved, a result from another day, or a tide table that has run out.
/// </summary>
/// <remarks>
/// All times are instants, so midnight needs no special case. The wall clock is compared with the board's microsecond clock. When the
/// difference grows beyond a minute, or falls by 3 s or more from one update to the next, one of the clocks was moved. The alarm then
/// stays on until <see cref="AcceptClock"/>. A difference of up to 2 s can come from the rounding of the two clocks. Allocates nothing.
/// </remarks>
public sealed class WayBackAlarm
{
    private const long JumpSeconds = 60;
    private const long BackSeconds = 2;
    private const long QuietUs = 300_000_000;

    private readonly int _soonSeconds;
    private readonly int _warningSeconds;
    private bool _anchored;
    private bool _moved;
    private UtcInstant _anchor;
    private long _anchorUs;
    private long _drift;
    private WayBackLevel _acknowledged;
    private long _quietUntilUs = long.MinValue;

    /// <summary>Creates an alarm that says to pack up soon, and then warns, so many minutes before the leave-by time; 0 or below leaves that level out.</summary>
    public WayBackAlarm(int soonMinutes, int warningMinutes)
    {
        _soonSeconds = soonMinutes * 60;
        _warningSeconds = warningMinutes * 60;
    }

    /// <summary>The level at the last update.</summary>
    public WayBackLevel Level { get; private set; } = WayBackLevel.Uncertain;

    /// <summary>True when the alarm should be heard: from <see cref="WayBackLevel.PackUpSoon"/> up, unless this level or a higher one was acknowledged in the last 5 minutes.</summary>
    public bool Sounding { get; private set; }

    /// <summary>True when the wall clock has been moved since it was accepted.</summary>
    public bool ClockMoved => _moved;

    /// <summary>Starts to watch the clock again, because the user has looked at it and says that it is right. Work the way back out again after this.</summary>
    public void AcceptClock(UtcInstant now, long nowUs)
    {
        _anchored = true;
        _moved = false;
        _anchor = now;
        _anchorUs = nowUs;
        _drift = 0;
    }

    /// <summary>Notes that the clock is not the one that was accepted. The alarm stays on until a clock is accepted again, whatever this one shows.</summary>
    public void Distrust()
    {
        _anchored = true;
        _moved = true;
    }

    /// <summary>Silences this level for 5 minutes. A higher level sounds at once.</summary>
    public void Acknowledge(long nowUs)
    {
        _acknowledged = Level;
        _quietUntilUs = nowUs + QuietUs;
        Sounding = false;
    }

    /// <summary>Decides the level. Call it about once a second.</summary>
    /// <param name="now">Wall clock.</param>
    /// <param name="clockTrusted">False when the clock chip reports that it stopped or was not set, or does not answer.</param>
    /// <param name="nowUs">The board's microsecond clock.</param>
    /// <param name="result">The last finished result for the way back.</param>
    public WayBackLevel Update(UtcInstant now, bool clockTrusted, long nowUs, WayBackResult result)
    {
        if (clockTrusted && now.IsValid)
        {
            if (!_anchored) AcceptClock(now, nowUs);
            long drift = now.SecondsSince(_anchor) - (nowUs - _anchorUs) / 1_000_000;
            if (drift > JumpSeconds || drift < -JumpSeconds || drift < _drift - BackSeconds) _moved = true;
            _drift = drift;
        }
        Level = Decide(now, clockTrusted, result);
        Sounding = Level >= WayBackLevel.PackUpSoon && (Level > _acknowledged || nowUs >= _quietUntilUs);
        return Level;
    }

    private WayBackLevel Decide(UtcInstant now, bool clockTrusted, WayBackResult result)
    {
        if (!clockTrusted || !now.IsValid || _moved) return WayBackLevel.Uncertain;
        if (result.State == WayBackState.Uncertain) return WayBackLevel.Uncertain;
        // A result from the future was worked out with another clock. One from before the clock was accepted may have been.
        if (result.WorkedOutAt > now.PlusSeconds(JumpSeconds)) return WayBackLevel.Uncertain;
        if (result.WorkedOutAt < _anchor.PlusSeconds(-JumpSeconds)) return WayBackLevel.Uncertain;
        if (result.State == WayBackState.CutOff) return now < result.ChangesAt ? WayBackLevel.CutOff : WayBackLevel.Uncertain;
        long left = result.LeaveBy.SecondsSince(now);
        if (left <= 0) return result.State == WayBackState.DataEnds || result.State == WayBackState.BeyondHorizon ? WayBackLevel.Uncertain : WayBackLevel.Leave;
        if (left <= _warningSeconds) return WayBackLevel.Warning;
        if (left <= _soonSeconds) return WayBackLevel.PackUpSoon;
        return WayBackLevel.Quiet;
    }
}
