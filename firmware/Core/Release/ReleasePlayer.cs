namespace Intervalometer.Core.Release;

/// <summary>Where the player stands.</summary>
public enum PlayerState
{
    /// <summary>Nothing to play; both lines are open, or half-press is held on purpose.</summary>
    Idle = 0,

    /// <summary>Edges wait or play.</summary>
    Playing = 1,

    /// <summary>A plan has played to its end.</summary>
    Finished = 2,

    /// <summary>Stopped by the user; both lines were opened.</summary>
    Stopped = 3,

    /// <summary>Stopped by the player itself; both lines were opened. See <see cref="ReleasePlayer.Failure"/>.</summary>
    Failed = 4,
}

/// <summary>Why the player stopped by itself.</summary>
public enum PlayerFailure
{
    /// <summary>It did not.</summary>
    None = 0,

    /// <summary>A shutter-closing edge came up too late to be worth taking.</summary>
    TooLate = 1,

    /// <summary>The shutter contact was closed and nothing was queued to open it.</summary>
    NoOpeningEdge = 2,
}

/// <summary>
/// Plays edges from a compiler on the release lines. One caller, the release thread, calls <see cref="Turn"/> again and
/// again; between <see cref="Play"/> and the end it allocates nothing.
/// </summary>
public sealed class ReleasePlayer
{
    /// <summary>A shutter-closing edge later than this is a failure, µs.</summary>
    public const long LatestUs = 250_000;

    private readonly IReleaseLines _lines;
    private readonly EdgeQueue _queue = new EdgeQueue();
    private readonly PlanCompiler _compiler = new PlanCompiler();
    private readonly FrameLog _log;

    // The next edge, worked out as soon as it is the next, so that a turn that waits for it compares two numbers.
    private long _writeUs = long.MaxValue;
    private ReleaseLine _nextLine;
    private bool _nextCloses;
    private bool _nextClosesShutter;
    private bool _nextIsSound;

    /// <summary>Creates a player with both lines open.</summary>
    /// <param name="lines">The contacts.</param>
    /// <param name="log">Where planned frames are noted.</param>
    public ReleasePlayer(IReleaseLines lines, FrameLog log)
    {
        _lines = lines;
        _log = log;
    }

    /// <summary>Frames as they start.</summary>
    public FrameLog Log => _log;

    /// <summary>Where it stands.</summary>
    public PlayerState State { get; private set; }

    /// <summary>Why it failed, when it did.</summary>
    public PlayerFailure Failure { get; private set; }

    /// <summary>
    /// How much ahead of its moment an edge is begun to be written, µs, 0 to 5000; calibrate on the board. Estimate: 200 µs of
    /// instructions before the write, 300 µs for the write, and half a pass of the spinning loop, 125 µs.
    /// </summary>
    public long WriteAheadUs { get; set; } = 625;

    /// <summary>How long before its time the next edge is written, µs: the pin write and the optocoupler's usual delay.</summary>
    public long NextAheadUs => WriteAheadUs + (_nextCloses ? CloseDelayUs : OpenDelayUs);

    /// <summary>The optocoupler's usual delay when a contact closes, µs.</summary>
    public long CloseDelayUs { get; set; } = ReleaseLimits.CloseDelayNominalUs;

    /// <summary>The optocoupler's usual delay when a contact opens, µs.</summary>
    public long OpenDelayUs { get; set; } = ReleaseLimits.OpenDelayNominalUs;

    /// <summary>Time at which the next edge must be written, µs; long.MaxValue when none waits.</summary>
    public long NextEdgeUs => _writeUs;

    /// <summary>Worst lateness of a played edge since <see cref="Play"/>, µs.</summary>
    public long WorstLateUs { get; private set; }

    /// <summary>True while the shutter contact is closed.</summary>
    public bool ShutterClosed { get; private set; }

    /// <summary>True while the half-press contact is closed.</summary>
    public bool HalfPressClosed { get; private set; }

    /// <summary>Frames started since <see cref="Play"/>.</summary>
    public int FramesStarted { get; private set; }

    /// <summary>When the next frame's shutter contact is to close, µs; valid while frames are to come.</summary>
    public long NextFrameUs => _queue.NextFrameUs;

    /// <summary>When the camera can take the next frame, µs.</summary>
    public long CameraReadyUs => _compiler.CameraReadyUs;

    /// <summary>
    /// True from the first closing of the shutter contact for a frame, or for the mirror before it, to the planned end of the
    /// exposure. In between nothing is lost by stopping.
    /// </summary>
    /// <param name="nowUs">The time now, µs.</param>
    public bool FrameUnderWay(long nowUs) => ShutterClosed || _mirrorUp || (FramesStarted > 0 && nowUs < _log.LastEndUs);

    /// <summary>Starts a plan at the moment of a press. The plan must have passed <see cref="ShotPlan.Fault"/>.</summary>
    public void Play(ShotPlan plan, CameraProfile camera, long pressUs)
    {
        _queue.Clear();
        _compiler.Begin(plan, camera, pressUs, HalfPressClosed);
        Begin();
    }

    /// <summary>Starts a plan whose first frame's shutter should open at a set time.</summary>
    public void PlayAt(ShotPlan plan, CameraProfile camera, long openUs, bool leaveHalfPress)
    {
        _queue.Clear();
        _compiler.BeginAt(plan, camera, openUs, HalfPressClosed, leaveHalfPress);
        Begin();
    }

    /// <summary>Drops a plan of which nothing but half-press has happened yet. False, changing nothing, when it is too late for that.</summary>
    public bool TryTakeBack()
    {
        if (State != PlayerState.Playing || _shutterTouched) return false;
        Forget();
        _compiler.TakeBack();
        State = PlayerState.Idle;
        return true;
    }

    /// <summary>Closes half-press and leaves it so, or opens it, outside a plan.</summary>
    public void HoldHalfPress(bool closed)
    {
        if (State == PlayerState.Playing || HalfPressClosed == closed) return;
        _lines.Set(ReleaseLine.HalfPress, closed);
        HalfPressClosed = closed;
    }

    /// <summary>Opens both lines at once and forgets what was planned.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Stop(long nowUs)
    {
        bool cutShort = ShutterClosed;
        OpenAll();
        if (!_shutterTouched) _compiler.TakeBack();
        else _compiler.Interrupt(nowUs, _log.LastStartUs, _log.LastExposureUs, cutShort);
        State = PlayerState.Stopped;
    }

    /// <summary>Drops every edge that waits and touches no line; for when the lines were opened by someone else.</summary>
    public void Forget()
    {
        _queue.Clear();
        _writeUs = long.MaxValue;
    }

    /// <summary>Plays every edge that is due, and plans on while the next is far. Allocates nothing.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Turn(long nowUs)
    {
        if (State != PlayerState.Playing) return;
        if (nowUs >= _writeUs) PlayDue(nowUs);
        if (State != PlayerState.Playing) return;
        if (!_compiler.Finished && (_queue.Count == 0 || _queue.NextUs - nowUs > TopUpUs)) TopUp();
        if (_queue.Count == 0) State = PlayerState.Finished;
    }

    /// <summary>Plays every edge that is due and does nothing else: the line is written first, everything is noted after.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void PlayDue(long nowUs)
    {
        while (nowUs >= _writeUs)
        {
            if (_nextClosesShutter && (!_nextIsSound || nowUs - _writeUs > LatestUs))
            {
                Fail(_nextIsSound ? PlayerFailure.TooLate : PlayerFailure.NoOpeningEdge);
                return;
            }
            _lines.Set(_nextLine, _nextCloses);
            Note(nowUs - _writeUs);
        }
    }

    // Compiling a frame costs well under a millisecond on the device; it is kept this far from the next edge.
    private const long TopUpUs = 20_000;

    private bool _shutterTouched;

    private bool _mirrorUp;

    private void Begin()
    {
        Failure = PlayerFailure.None;
        WorstLateUs = 0;
        FramesStarted = 0;
        _shutterTouched = false;
        State = PlayerState.Playing;
        TopUp();
    }

    private void TopUp()
    {
        while (_compiler.AddFrame(_queue))
        {
        }
        Prepare();
    }

    // The edge at the head of the queue, as it will be needed when its time has come.
    private void Prepare()
    {
        if (_queue.Count == 0)
        {
            _writeUs = long.MaxValue;
            return;
        }
        _nextLine = _queue.NextLine;
        _nextCloses = _queue.NextCloses;
        _nextClosesShutter = _nextCloses && _nextLine == ReleaseLine.Shutter;
        _nextIsSound = !_nextClosesShutter || _queue.WillOpen(ReleaseLine.Shutter);
        _writeUs = _queue.NextUs - NextAheadUs;
    }

    // The edge at the head of the queue has been written.
    private void Note(long lateUs)
    {
        if (lateUs > WorstLateUs) WorstLateUs = lateUs;
        if (_nextLine == ReleaseLine.HalfPress) HalfPressClosed = _nextCloses;
        else
        {
            _shutterTouched = true;
            ShutterClosed = _nextCloses;
            EdgeStep step = _queue.NextStep;
            if (_nextCloses) _mirrorUp = step == EdgeStep.None;
            if (step == EdgeStep.FrameStarts)
            {
                FramesStarted++;
                _log.Add(_queue.NextUs + _compiler.LagUs, _queue.NextExposureUs);
            }
        }
        _queue.Drop();
        Prepare();
    }

    private void Fail(PlayerFailure failure)
    {
        OpenAll();
        Failure = failure;
        State = PlayerState.Failed;
    }

    private void OpenAll()
    {
        _lines.OpenAll();
        Forget();
        HalfPressClosed = false;
        ShutterClosed = false;
        _mirrorUp = false;
    }
}
