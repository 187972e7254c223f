namespace Intervalometer.Core.Release;

/// <summary>What is wrong with the hardware limiter of the contacts, or with their lines.</summary>
public enum LimiterTrouble
{
    /// <summary>Nothing is known to be wrong.</summary>
    None = 0,

    /// <summary>The limiter feeds the couplers without a heartbeat, so that a program that hangs would hold a contact closed.</summary>
    StaysOn = 1,

    /// <summary>The limiter does not feed the couplers under a heartbeat, or not all the time, so that a contact that is told to close does not.</summary>
    StaysOff = 2,

    /// <summary>The half-press line is stuck or its driver is shorted: it conducts while the line is told to be low.</summary>
    HalfPressStuck = 3,

    /// <summary>The shutter line is stuck or its driver is shorted: it conducts while the line is told to be low.</summary>
    ShutterStuck = 4,

    /// <summary>The half-press driver does not conduct while its line is told to be high.</summary>
    HalfPressDead = 5,

    /// <summary>The shutter driver does not conduct while its line is told to be high.</summary>
    ShutterDead = 6,
}

/// <summary>
/// Judges the hardware limiter by reading back the supply that it gives the couplers. The supply must be off without a heartbeat, on with
/// one, and off again soon enough after the last beat. It judges every run. At power-on and once a day it also asks for beats of its own
/// while both contacts' lines are open. Only the release thread calls it, and it allocates nothing. A trouble stays until the box is switched off.
/// </summary>
public sealed class LimiterWatch
{
    /// <summary>The limiter is tried again this long after the last trial, µs: after a day.</summary>
    public const long AgainUs = 86_400_000_000;

    // No contact of a run closes sooner than this, so by then the limiter must feed the couplers.
    private const long UpUs = PlanCompiler.LimiterUs;

    private bool _beating;
    private bool _trying;
    private long _sinceUs;
    private long _lastBeatUs;
    private long _triedUs;

    /// <summary>What is wrong.</summary>
    public LimiterTrouble Trouble { get; private set; }

    /// <summary>True while a trial of the limiter, outside a run, needs beats.</summary>
    public bool WantsBeats => _trying;

    /// <summary>Starts the trial at power-on. The limiter may still be on from before a restart.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Begin(long nowUs)
    {
        _lastBeatUs = nowUs;
        Try(nowUs);
    }

    /// <summary>Notes that the beats stood still with the release thread: the limiter may have let go, and has to be charged again.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void StoodStill(long nowUs) => _sinceUs = nowUs;

    /// <summary>Takes one reading of the supply.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="beating">True while the heartbeat toggles.</param>
    /// <param name="up">True when the couplers' supply reads high.</param>
    public void Look(long nowUs, bool beating, bool up)
    {
        if (beating)
        {
            if (!_beating) _sinceUs = nowUs;
            _lastBeatUs = nowUs;
            if (nowUs - _sinceUs >= UpUs)
            {
                if (!up) Trouble = LimiterTrouble.StaysOff;
                _trying = false;
            }
        }
        else if (!up)
        {
            if (nowUs - _triedUs >= AgainUs) Try(nowUs);
        }
        else if (nowUs - _lastBeatUs >= ReleaseLimits.HeartbeatHoldLongestUs) Trouble = LimiterTrouble.StaysOn;
        _beating = beating;
    }

    private void Try(long nowUs)
    {
        _trying = Trouble == LimiterTrouble.None;
        _triedUs = nowUs;
    }
}
