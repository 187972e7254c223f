namespace Intervalometer.Core.Release;

/// <summary>What is wrong with the hardware limiter of the contacts, or with their lines.</summary>
public enum LimiterTrouble
{
    /// <summary>Nothing that is known.</summary>
    None = 0,

    /// <summary>It feeds the couplers without a heartbeat: a program that hangs would hold a contact closed.</summary>
    StaysOn = 1,

    /// <summary>It does not feed the couplers under a heartbeat, or not all the time: a contact that is told to close does not.</summary>
    StaysOff = 2,

    /// <summary>The half-press line is stuck, or its driver shorted: it conducts while the line is told to be low.</summary>
    HalfPressStuck = 3,

    /// <summary>The shutter line is stuck, or its driver shorted: it conducts while the line is told to be low.</summary>
    ShutterStuck = 4,

    /// <summary>The half-press driver does not conduct while its line is told to be high.</summary>
    HalfPressDead = 5,

    /// <summary>The shutter driver does not conduct while its line is told to be high.</summary>
    ShutterDead = 6,
}

/// <summary>
/// Judges the hardware limiter by what is read back of the couplers' supply: it must be off without beats, up with them, and off again
/// in time after them. Looks at every run, and at power-on and once a day asks for beats of its own, with both contacts' lines open.
/// One caller, the release thread; allocates nothing. Trouble stays until the box is switched off.
/// </summary>
public sealed class LimiterWatch
{
    /// <summary>After this long without a run the limiter is tried again, µs: a day.</summary>
    public const long AgainUs = 86_400_000_000;

    // The first contact of a run closes after this at the soonest, so by then the limiter must be up.
    private const long UpUs = PlanCompiler.LimiterUs;

    private bool _beating;
    private bool _trying;
    private long _sinceUs;
    private long _lastBeatUs;
    private long _triedUs;

    /// <summary>What is wrong.</summary>
    public LimiterTrouble Trouble { get; private set; }

    /// <summary>True while beats are wanted to try the limiter at rest.</summary>
    public bool WantsBeats => _trying;

    /// <summary>Power-on: the limiter is tried. It may still be up from before a restart.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Begin(long nowUs)
    {
        _lastBeatUs = nowUs;
        Try(nowUs);
    }

    /// <summary>The beats stood still with the release thread: the limiter may have let go, and has to be charged again.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void StoodStill(long nowUs) => _sinceUs = nowUs;

    /// <summary>One look at the supply.</summary>
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
