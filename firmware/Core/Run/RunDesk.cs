using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Run;

/// <summary>
/// Decides what the release player plays: a plan, or a run on the waves whose frames are timed by marks. Only the release thread calls it. Nothing
/// is allocated after construction.
/// </summary>
public sealed class RunDesk
{
    private readonly ReleasePlayer _player;
    private readonly WaveRun _waves;
    private bool _endAsked;

    /// <summary>Creates the desk.</summary>
    /// <param name="lines">The two contacts to the camera.</param>
    /// <param name="frames">Where the frames are noted.</param>
    public RunDesk(IReleaseLines lines, IFrameNotes frames)
    {
        _player = new ReleasePlayer(lines, frames);
        _waves = new WaveRun(_player);
    }

    /// <summary>The player, for reading only.</summary>
    public ReleasePlayer Player => _player;

    /// <summary>The run on the waves, for reading only.</summary>
    public WaveRun Waves => _waves;

    /// <summary>What the box is doing.</summary>
    public RunState State { get; private set; }

    /// <summary>How many runs have begun.</summary>
    public int Runs { get; private set; }

    /// <summary>True while a run is on, so that Fire means stop.</summary>
    public bool Running => State >= RunState.Plan && State <= RunState.AskMark;

    /// <summary>True when the present or last run was on the waves.</summary>
    public bool LastRunOnWaves { get; private set; }

    /// <summary>True when the present or last run was ended between two frames before its plan was complete; see <see cref="EndBetweenFrames"/>.</summary>
    public bool EndedEarly { get; private set; }

    /// <summary>When the next planned edge is due, µs; long.MaxValue when there is none.</summary>
    public long NextEdgeUs => _player.NextEdgeUs;

    /// <summary>Plays the edges that are due and does nothing else. It serves the last moment before an edge, and <see cref="Pass"/> must follow.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>True when an edge was due.</returns>
    public bool PlayDue(long nowUs) => _player.PlayDue(nowUs);

    /// <summary>Starts a plan now. Returns false when a run is on.</summary>
    /// <param name="plan">A plan without a <see cref="ShotPlan.Fault"/>, which must not change during the run.</param>
    /// <param name="camera">The times of the camera, which must not change during the run.</param>
    /// <param name="nowUs">The time now, µs. Limiter, half-press and settling are counted from here, however long ago the press was.</param>
    public bool StartPlan(ShotPlan plan, CameraProfile camera, long nowUs)
    {
        if (Running) return false;
        Begin(false);
        _player.Play(plan, camera, nowUs);
        State = RunState.Plan;
        return true;
    }

    /// <summary>Begins to fire on the waves. Returns false when a run is on.</summary>
    /// <param name="order">When to fire; it must not change during the run.</param>
    /// <param name="burst">What to take on each wave; it must not change during the run.</param>
    /// <param name="camera">The times of the camera, which must not change during the run.</param>
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

    /// <summary>Goes back to Ready after the end of a run has been read. Changes nothing while a run is on.</summary>
    public void Acknowledge()
    {
        if (!Running) State = RunState.Ready;
    }

    /// <summary>Takes no further frame. A frame under way is exposed as planned; then the run ends with both lines open.</summary>
    public void EndBetweenFrames() => _endAsked = Running;

    /// <summary>Ends the open frame of a plan at a moment, which may be a little ahead, because it has then collected enough light; see <see cref="ReleasePlayer.EndFrameAt"/>.</summary>
    /// <param name="endUs">When, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void EndFrameAt(long endUs, long nowUs) => _player.EndFrameAt(endUs, nowUs);

    /// <summary>Gives the frames of a plan that have not started another exposure, because the light has changed; see <see cref="ReleasePlayer.FollowTo"/>.</summary>
    /// <param name="exposureUs">The exposure, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void FollowTo(long exposureUs, long nowUs) => _player.FollowTo(exposureUs, nowUs);

    /// <summary>Takes a mark. It teaches the rhythm, or in a run on arrivals the delay from arrival to turn, and it times the run when one on the waves is on.</summary>
    /// <param name="atUs">When Mark went down, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Mark(long atUs, long nowUs)
    {
        bool timing = OnWaves;
        _waves.Mark(atUs, nowUs, timing);
        if (timing) State = _waves.State;
    }

    /// <summary>Handles Mark coming up again after it was held.</summary>
    /// <param name="heldUs">How long it was down, µs.</param>
    public void MarkReleased(long heldUs) => _waves.MarkHeld(heldUs);

    /// <summary>Stops the run at once and opens both lines. A frame that a person ends is complete by that. Does nothing when no run is on.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void StopNow(long nowUs)
    {
        if (!Running) return;
        bool done = _player.HandEndsFrame;
        _player.Stop(nowUs);
        State = done ? RunState.Done : RunState.Stopped;
    }

    /// <summary>Notes that an error outside has ended the run and that the lines have been opened.</summary>
    public void Fail()
    {
        _player.Forget();
        State = RunState.Failed;
    }

    /// <summary>Ends a run that is on because the limiter does not feed the couplers, so that the run would take no frames.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void LimiterIsOff(long nowUs)
    {
        if (!Running) return;
        _player.Fail(nowUs, PlayerFailure.LimiterOff);
        State = RunState.Failed;
    }

    /// <summary>Does one pass: plays the edges that are due, and advances the run.</summary>
    public void Pass(long nowUs)
    {
        _player.Pass(nowUs);
        if (_player.State == PlayerState.Failed && Running) State = RunState.Failed;
        if (State == RunState.Plan)
        {
            if (_player.State == PlayerState.Finished && nowUs >= _player.FrameEndUs) State = RunState.Done;
        }
        else if (OnWaves)
        {
            _waves.Pass(nowUs);
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
