using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Run;

/// <summary>
/// Decides what the release player plays: a plan, or a run on the waves that is timed by marks. One thread calls it, the release
/// thread. Nothing here allocates after construction.
/// </summary>
public sealed class RunDesk
{
    private readonly ReleasePlayer _player;
    private readonly WaveRun _waves;
    private bool _endAsked;

    /// <summary>Creates the desk.</summary>
    /// <param name="lines">The two contacts.</param>
    /// <param name="frames">Where frames are noted.</param>
    public RunDesk(IReleaseLines lines, IFrameNotes frames)
    {
        _player = new ReleasePlayer(lines, frames);
        _waves = new WaveRun(_player);
    }

    /// <summary>The player, to be read.</summary>
    public ReleasePlayer Player => _player;

    /// <summary>The run on the waves, to be read.</summary>
    public WaveRun Waves => _waves;

    /// <summary>What the box is doing.</summary>
    public RunState State { get; private set; }

    /// <summary>Runs begun.</summary>
    public int Runs { get; private set; }

    /// <summary>True while a run is on, so that Fire means stop.</summary>
    public bool Running => State >= RunState.Plan && State <= RunState.AskMark;

    /// <summary>True when the present or last run was on the waves.</summary>
    public bool LastRunOnWaves { get; private set; }

    /// <summary>True when the present or last run was ended between two frames, before its plan was done; see <see cref="EndBetweenFrames"/>.</summary>
    public bool EndedEarly { get; private set; }

    /// <summary>The next planned edge, µs; long.MaxValue when there is none.</summary>
    public long NextEdgeUs => _player.NextEdgeUs;

    /// <summary>Plays the edges that are due and does nothing else: for the last moment before an edge. <see cref="Turn"/> must follow.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>True when an edge was due.</returns>
    public bool PlayDue(long nowUs) => _player.PlayDue(nowUs);

    /// <summary>Starts a plan now. False when a run is on.</summary>
    /// <param name="plan">A plan without a <see cref="ShotPlan.Fault"/>; must not change during the run.</param>
    /// <param name="camera">The camera; must not change during the run.</param>
    /// <param name="nowUs">The time now, µs; its limiter, half-press and settling count from here, however long ago the press was.</param>
    public bool StartPlan(ShotPlan plan, CameraProfile camera, long nowUs)
    {
        if (Running) return false;
        Begin(false);
        _player.Play(plan, camera, nowUs);
        State = RunState.Plan;
        return true;
    }

    /// <summary>Begins to fire on the waves. False when a run is on.</summary>
    /// <param name="order">When to fire; must not change during the run.</param>
    /// <param name="burst">What to take on each wave; must not change during the run.</param>
    /// <param name="camera">The camera; must not change during the run.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public bool StartWaves(WaveOrder order, ShotPlan burst, CameraProfile camera, long nowUs)
    {
        if (Running) return false;
        Begin(true);
        _player.Arm(nowUs);
        _waves.Prepare(order, burst, camera);
        _waves.Start(nowUs);
        State = _waves.State;
        return true;
    }

    /// <summary>The end of a run has been read; back to ready. Changes nothing while a run is on.</summary>
    public void Acknowledge()
    {
        if (!Running) State = RunState.Ready;
    }

    /// <summary>Take no further frame. A frame under way is exposed to its plan; then the run ends with both lines open.</summary>
    public void EndBetweenFrames() => _endAsked = Running;

    /// <summary>The open frame of a plan has collected enough at a moment, which may be a little ahead; see <see cref="ReleasePlayer.EndFrameAt"/>.</summary>
    /// <param name="endUs">When, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void EndFrameAt(long endUs, long nowUs) => _player.EndFrameAt(endUs, nowUs);

    /// <summary>A wave was marked. Teaches the rhythm at all times, and times the run when one is on.</summary>
    /// <param name="atUs">When Mark went down, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Mark(long atUs, long nowUs)
    {
        bool timing = OnWaves;
        _waves.Mark(atUs, nowUs, timing);
        if (timing) State = _waves.State;
    }

    /// <summary>Mark came up again after being held.</summary>
    /// <param name="heldUs">How long it was down, µs.</param>
    public void MarkReleased(long heldUs) => _waves.MarkHeld(heldUs);

    /// <summary>Stops the run at once and opens both lines; a frame that a person ends is done by that. Nothing happens when no run is on.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void StopNow(long nowUs)
    {
        if (!Running) return;
        bool done = _player.HandEndsFrame;
        _player.Stop(nowUs);
        State = done ? RunState.Done : RunState.Stopped;
    }

    /// <summary>Notes that the run was ended by an error outside; the lines have been opened.</summary>
    public void Fail()
    {
        _player.Forget();
        State = RunState.Failed;
    }

    /// <summary>The limiter does not feed the couplers: a run that is on takes no frames, and is ended.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void LimiterIsOff(long nowUs)
    {
        if (!Running) return;
        _player.Fail(nowUs, PlayerFailure.LimiterOff);
        State = RunState.Failed;
    }

    /// <summary>One turn: plays what is due, and moves on.</summary>
    public void Turn(long nowUs)
    {
        _player.Turn(nowUs);
        if (_player.State == PlayerState.Failed && Running) State = RunState.Failed;
        if (State == RunState.Plan)
        {
            if (_player.State == PlayerState.Finished && nowUs >= _player.FrameEndUs) State = RunState.Done;
        }
        else if (OnWaves)
        {
            _waves.Turn(nowUs);
            State = _waves.State;
        }
        if (_endAsked) EndWhenBetween(nowUs);
    }

    private void Begin(bool onWaves)
    {
        Runs++;
        EndedEarly = false;
        _endAsked = false;
        LastRunOnWaves = onWaves;
    }

    private void EndWhenBetween(long nowUs)
    {
        if (!Running || _player.FrameUnderWay(nowUs)) return;
        _player.Stop(nowUs);
        EndedEarly = true;
        State = RunState.Done;
    }

    private bool OnWaves => State >= RunState.AwaitMark && State <= RunState.AskMark;
}
