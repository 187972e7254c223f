using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Run;

/// <summary>
/// Decides what the release player plays: a plan, or a run on the waves that is timed by marks. The panel thread only
/// posts requests and reads; everything else happens in <see cref="Turn"/>, <see cref="Mark"/> and <see cref="StopNow"/>,
/// which one thread calls, the release thread. Nothing here allocates after construction.
/// </summary>
public sealed class RunDesk
{
    private const int NoRequest = 0;
    private const int PlanRequest = 1;
    private const int WaveRequest = 2;
    private const int ClearRequest = 3;

    private readonly ReleasePlayer _player;
    private readonly WaveRun _waves;
    private readonly ShotPlan _plan = new ShotPlan();
    private CameraProfile _camera = new CameraProfile();
    private long _pressUs;
    // One word written by the panel thread and taken by the release thread. The device interprets every read afresh.
    private int _request;
    private bool _endAsked;

    /// <summary>Creates the desk.</summary>
    /// <param name="lines">The two contacts.</param>
    public RunDesk(IReleaseLines lines)
    {
        Log = new FrameLog();
        _player = new ReleasePlayer(lines, Log);
        _waves = new WaveRun(_player);
    }

    /// <summary>Planned frames, newest last.</summary>
    public FrameLog Log { get; }

    /// <summary>The player, to be read.</summary>
    public ReleasePlayer Player => _player;

    /// <summary>The run on the waves, to be read.</summary>
    public WaveRun Waves => _waves;

    /// <summary>What the box is doing.</summary>
    public RunState State { get; private set; }

    /// <summary>The plan that plays, to be read while <see cref="State"/> is <see cref="RunState.Plan"/>.</summary>
    public ShotPlan Plan => _plan;

    /// <summary>True while a run is on, a request waits or a line is closed: settings that a run reads must not change.</summary>
    public bool Busy => Running || _request == PlanRequest || _request == WaveRequest;

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
    public void PlayDue(long nowUs) => _player.PlayDue(nowUs);

    /// <summary>Called by the panel thread: take this plan. Copies it. False when a run is on.</summary>
    /// <param name="plan">A plan without a <see cref="ShotPlan.Fault"/>.</param>
    /// <param name="camera">The camera; must not change during the run.</param>
    /// <param name="pressUs">When Fire was pressed, µs.</param>
    public bool RequestPlan(ShotPlan plan, CameraProfile camera, long pressUs)
    {
        if (Busy) return false;
        _plan.CopyFrom(plan);
        _camera = camera;
        _pressUs = pressUs;
        _request = PlanRequest;
        return true;
    }

    /// <summary>Called by the panel thread: fire on the waves. False when a run is on.</summary>
    /// <param name="order">When to fire; must not change during the run.</param>
    /// <param name="burst">What to take on each wave; copied.</param>
    /// <param name="camera">The camera; must not change during the run.</param>
    public bool RequestWaves(WaveOrder order, ShotPlan burst, CameraProfile camera)
    {
        if (Busy) return false;
        _plan.CopyFrom(burst);
        _camera = camera;
        _waves.Prepare(order, _plan, camera);
        _request = WaveRequest;
        return true;
    }

    /// <summary>Called by the panel thread: the end of a run has been read; back to ready.</summary>
    public void Acknowledge()
    {
        if (!Busy) _request = ClearRequest;
    }

    /// <summary>
    /// Called by the panel thread: take no further frame. A frame under way is exposed to its plan; then the run ends with both
    /// lines open.
    /// </summary>
    public void EndBetweenFrames() => _endAsked = true;

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

    /// <summary>Stops at once and opens both lines.</summary>
    public void StopNow(long nowUs)
    {
        _player.Stop(nowUs);
        _request = NoRequest;
        State = RunState.Stopped;
    }

    /// <summary>Notes that the run was ended by an error outside; the lines have been opened.</summary>
    public void Fail()
    {
        _player.Forget();
        _request = NoRequest;
        State = RunState.Failed;
    }

    /// <summary>One turn: takes a request, plays what is due, and moves on.</summary>
    public void Turn(long nowUs)
    {
        if (_request != NoRequest) TakeRequest(nowUs);
        _player.Turn(nowUs);
        if (_player.State == PlayerState.Failed && Running)
        {
            State = RunState.Failed;
            return;
        }
        if (State == RunState.Plan)
        {
            if (_player.State == PlayerState.Finished && nowUs >= Log.LastEndUs) State = RunState.Done;
        }
        else if (OnWaves)
        {
            _waves.Turn(nowUs);
            State = _waves.State;
        }
        if (_endAsked) EndWhenBetween(nowUs);
    }

    private void EndWhenBetween(long nowUs)
    {
        if (Running)
        {
            if (_player.FrameUnderWay(nowUs)) return;
            _player.Stop(nowUs);
            EndedEarly = true;
            State = RunState.Done;
        }
        _endAsked = false;
    }

    private bool OnWaves => State >= RunState.AwaitMark && State <= RunState.AskMark;

    private void TakeRequest(long nowUs)
    {
        int request = _request;
        if (request != ClearRequest)
        {
            EndedEarly = false;
            _endAsked = false;
        }
        if (request == PlanRequest)
        {
            _player.Play(_plan, _camera, _pressUs > nowUs ? nowUs : _pressUs);
            State = RunState.Plan;
            LastRunOnWaves = false;
        }
        else if (request == WaveRequest)
        {
            _waves.Start(nowUs);
            State = _waves.State;
            LastRunOnWaves = true;
        }
        else if (!Running)
        {
            State = RunState.Ready;
        }
        _request = NoRequest;
    }
}
