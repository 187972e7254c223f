namespace Intervalometer.Core.Release;

/// <summary>
/// Writes the edges of a compiled plan to the release lines. The release thread alone calls <see cref="Pass"/>, again and again. Between
/// <see cref="Play"/> and the end of the plan nothing is allocated.
/// </summary>
/// <remarks>
/// An edge that comes late delays everything after it by as much, so that no closure and no gap is shorter than planned. When
/// the board stood still for so long that its limiter may have let go, no contact closes until the heartbeat has charged the limiter again.
/// What is reported of a frame is what was written to the contacts, and when.
/// </remarks>
public sealed class ReleasePlayer
{
    /// <summary>An edge that closes a contact ends the run when it is later than this, µs.</summary>
    public const long LatestUs = 2_000_000;

    /// <summary>An edge that is later than this delays what follows, µs. The clock is read before the write, so a shorter delay cannot be known for sure.</summary>
    public const long MoveFromUs = 3_000;

    /// <summary>An edge is never brought forward to less than this from now, µs, because the last pass before an edge does nothing else.</summary>
    public const long LeastNoticeUs = 20_000;

    // The limiter may let go after half a second without a heartbeat. Of that, 0.1 s is kept as a margin.
    private const long LetGoUs = ReleaseLimits.HeartbeatHoldShortestUs - 100_000;

    // An edge is written a little before its time. That alone must not make it wait for the limiter.
    private const long ChargeUs = PlanCompiler.LimiterUs - 10_000;

    private readonly IReleaseLines _lines;
    private readonly IFrameNotes _frames;
    private readonly EdgeQueue _queue = new EdgeQueue();
    private readonly PlanCompiler _compiler = new PlanCompiler();

    // The next edge is prepared as soon as it is known, so that a pass that waits for it only compares two numbers.
    private long _writeUs = long.MaxValue;
    private ReleaseLine _nextLine;
    private bool _nextCloses;
    private bool _nextIsSound;

    private long _chargedUs = long.MinValue;
    private long _closedUs;
    private long _plannedUs;
    private long _lateUs;
    private long _startLateUs;
    private bool _frameOn;
    private bool _inDoubt;
    private bool _shutterTouched;

    /// <summary>Creates a player with both lines open.</summary>
    /// <param name="lines">The contacts.</param>
    /// <param name="frames">Where frames are noted.</param>
    public ReleasePlayer(IReleaseLines lines, IFrameNotes frames)
    {
        _lines = lines;
        _frames = frames;
    }

    /// <summary>What the player is doing.</summary>
    public PlayerState State { get; private set; }

    /// <summary>Why the player failed, if it did.</summary>
    public PlayerFailure Failure { get; private set; }

    /// <summary>
    /// How long before its moment the writing of an edge begins, µs, 0 to 5000; calibrate it on the board. Estimate: 200 µs of
    /// instructions before the write, 300 µs for the write, and half a pass of the waiting loop, 125 µs.
    /// </summary>
    public long WriteAheadUs { get; set; } = 625;

    /// <summary>How long before its time the next edge is written, µs: the time of the pin write and the optocoupler's usual delay.</summary>
    public long NextAheadUs => WriteAheadUs + (_nextCloses ? CloseDelayUs : OpenDelayUs);

    /// <summary>The optocoupler's usual delay when a contact closes, µs.</summary>
    public long CloseDelayUs { get; set; } = ReleaseLimits.CloseDelayNominalUs;

    /// <summary>The optocoupler's usual delay when a contact opens, µs.</summary>
    public long OpenDelayUs { get; set; } = ReleaseLimits.OpenDelayNominalUs;

    /// <summary>When the next edge must be written, µs; long.MaxValue when none waits.</summary>
    public long NextEdgeUs => _writeUs;

    /// <summary>True while the shutter contact is closed.</summary>
    public bool ShutterClosed { get; private set; }

    /// <summary>True while the half-press contact is closed.</summary>
    public bool HalfPressClosed { get; private set; }

    /// <summary>True from the pulse that raises the mirror to the frame that follows. It stays true when a stop came in between.</summary>
    public bool MirrorUp { get; private set; }

    /// <summary>How many frames have started since <see cref="Play"/>.</summary>
    public int FramesStarted { get; private set; }

    /// <summary>When the shutter last opened, µs; 0 before the first frame.</summary>
    public long FrameStartUs { get; private set; }

    /// <summary>When that exposure is to end or has ended, µs; 0 before the first frame.</summary>
    public long FrameEndUs { get; private set; }

    /// <summary>When the shutter contact closes for the next frame, µs; valid while frames are to come.</summary>
    public long NextFrameUs => _queue.NextFrameUs;

    /// <summary>When the camera can take the next frame, µs.</summary>
    public long CameraReadyUs => _compiler.CameraReadyUs;

    /// <summary>True while a frame is open that a person ends, so that a stop is its planned end.</summary>
    public bool HandEndsFrame => _frameOn && _compiler.ByHand;

    /// <summary>
    /// True from the first closing of the shutter contact, for a frame or for the mirror before it, to the end of the exposure. At any
    /// other time a stop costs no frame.
    /// </summary>
    /// <param name="nowUs">The time now, µs.</param>
    public bool FrameUnderWay(long nowUs) => ShutterClosed || MirrorUp || (FramesStarted > 0 && nowUs < FrameEndUs);

    /// <summary>
    /// Begins a run: from now on the heartbeat charges the limiter, and what is reported belongs to this run. How the run before it ended
    /// is forgotten.
    /// </summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Arm(long nowUs)
    {
        Forget();
        Failure = PlayerFailure.None;
        _chargedUs = nowUs + ChargeUs;
        _frames.BeginRun();
    }

    /// <summary>Starts a plan now. <see cref="ShotPlan.Fault"/> must have accepted it.</summary>
    /// <param name="plan">The plan, which must not change while it plays.</param>
    /// <param name="camera">The camera.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Play(ShotPlan plan, CameraProfile camera, long nowUs)
    {
        Arm(nowUs);
        _compiler.Begin(plan, camera, nowUs, HalfPressClosed);
        Begin();
        // One frame is enough to begin with, and the press of Fire is answered sooner. The next pass puts out the others.
        _compiler.AddFrame(_queue);
        Prepare();
    }

    /// <summary>Starts a plan whose first frame opens the shutter at a set time, in a run that <see cref="Arm"/> has begun.</summary>
    public void PlayAt(ShotPlan plan, CameraProfile camera, long openUs, bool leaveHalfPress)
    {
        _queue.Clear();
        _compiler.BeginAt(plan, camera, openUs, HalfPressClosed, leaveHalfPress);
        Begin();
        TopUp();
    }

    /// <summary>Drops a plan of which nothing but half-press has happened. Returns false and changes nothing when it is too late for that.</summary>
    public bool TryTakeBack()
    {
        if (State != PlayerState.Playing || _shutterTouched) return false;
        Forget();
        _compiler.TakeBack();
        return true;
    }

    /// <summary>Closes half-press and leaves it closed, or opens it. Does nothing while a plan plays.</summary>
    public void HoldHalfPress(bool closed)
    {
        if (State == PlayerState.Playing || HalfPressClosed == closed) return;
        _lines.Set(ReleaseLine.HalfPress, closed);
        HalfPressClosed = closed;
    }

    /// <summary>Opens both lines at once and drops what was planned. A second stop changes nothing.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Stop(long nowUs)
    {
        OpenAll(nowUs);
        State = PlayerState.Stopped;
    }

    /// <summary>
    /// Ends the open frame sooner, because it has collected enough light at a moment. The edge that ends it is brought forward to that moment. It is
    /// never delayed, and never brought to less than <see cref="LeastNoticeUs"/> from now. Any other frame is left alone.
    /// </summary>
    /// <param name="endUs">When the exposure should end, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void EndFrameAt(long endUs, long nowUs)
    {
        if (!_frameOn || !_compiler.ByLight || _queue.Count == 0) return;
        long sooner = FrameEndUs - endUs;
        long most = _queue.NextUs - nowUs - LeastNoticeUs;
        if (sooner > most) sooner = most;
        if (sooner <= 0) return;
        _queue.Shift(-sooner);
        _compiler.EndSooner(sooner, _plannedUs);
        _plannedUs -= sooner;
        FrameEndUs -= sooner;
        Prepare();
    }

    /// <summary>
    /// Gives the frames that have not started another exposure, in a plan whose frames follow the light. Nothing changes while the next edge
    /// is nearer than <see cref="LeastNoticeUs"/>.
    /// </summary>
    /// <param name="exposureUs">The exposure, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void FollowTo(long exposureUs, long nowUs)
    {
        if (State != PlayerState.Playing || !_compiler.Follows || _writeUs - nowUs < LeastNoticeUs) return;
        _compiler.FollowTo(_queue, exposureUs, FramesStarted < _compiler.FramesGiven);
    }

    /// <summary>Drops every edge that waits or is yet to be planned, and touches no line. It is for a caller that has opened the lines already.</summary>
    public void Forget()
    {
        _queue.Clear();
        _writeUs = long.MaxValue;
        State = PlayerState.Idle;
    }

    /// <summary>Notes that the release thread stood still, and the heartbeat with it.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="forUs">How long, µs.</param>
    public void StoodStill(long nowUs, long forUs)
    {
        if (forUs > LetGoUs || nowUs - forUs < _chargedUs) _chargedUs = nowUs + ChargeUs;
        if (forUs > LetGoUs && _frameOn) _inDoubt = true;
    }

    /// <summary>Writes every edge that is due, and compiles further frames while the next edge is far away. Allocates nothing.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Pass(long nowUs)
    {
        if (nowUs >= _writeUs) PlayDue(nowUs);
        if (State != PlayerState.Playing) return;
        if (!_compiler.Finished && (_queue.Count == 0 || _queue.NextUs - nowUs > TopUpUs)) TopUp();
        if (_queue.Count == 0) State = PlayerState.Finished;
    }

    /// <summary>Writes every edge that is due and does nothing else. The line is written first, and everything is noted after that.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>True when an edge was due.</returns>
    public bool PlayDue(long nowUs)
    {
        if (nowUs < _writeUs) return false;
        do
        {
            if (_nextCloses && !MayClose(nowUs)) return true;
            _lines.Set(_nextLine, _nextCloses);
            Note(nowUs);
        }
        while (nowUs >= _writeUs);
        return true;
    }

    // Compiling a frame takes up to about 10 ms on the device (estimate; tests/Budgets counts it), so it is done only while the next edge is further away than this.
    private const long TopUpUs = 20_000;

    private void Begin()
    {
        Failure = PlayerFailure.None;
        FramesStarted = 0;
        _shutterTouched = false;
        _lateUs = 0;
        MirrorUp = false;
        State = PlayerState.Playing;
    }

    // A frame that follows the light is put out when the one before it has begun, so that at most one waits whose exposure may change.
    private void TopUp()
    {
        while ((!_compiler.Follows || FramesStarted == _compiler.FramesGiven) && _compiler.AddFrame(_queue))
        {
        }
        Prepare();
    }

    // Prepares the edge at the head of the queue, so that it can be written at once when its time has come.
    private void Prepare()
    {
        if (_queue.Count == 0)
        {
            _writeUs = long.MaxValue;
            return;
        }
        _nextLine = _queue.NextLine;
        _nextCloses = _queue.NextCloses;
        _nextIsSound = !_nextCloses || _nextLine == ReleaseLine.HalfPress || _queue.WillOpen(ReleaseLine.Shutter);
        _writeUs = _queue.NextUs - NextAheadUs;
    }

    // Whether the next edge, which closes a contact, may be written now. If not, the edge has been delayed or the run has ended.
    private bool MayClose(long nowUs)
    {
        if (_nextIsSound && nowUs >= _chargedUs && nowUs - _writeUs <= MoveFromUs) return true;
        if (!_nextIsSound || nowUs - _writeUs > LatestUs)
        {
            Fail(nowUs, _nextIsSound ? PlayerFailure.TooLate : PlayerFailure.NoOpeningEdge);
            return false;
        }
        if (nowUs >= _chargedUs) return true;
        // The limiter has to be charged first. If it let go of half-press, the camera has to be woken again as well. While half-press
        // is closed, the edge that closes a contact is the shutter's.
        long late = _chargedUs + (HalfPressClosed ? _compiler.LeadUs : 0) - _writeUs;
        Move(late);
        Prepare();
        return false;
    }

    private void Move(long us)
    {
        _lateUs += us;
        _queue.Shift(us);
        _compiler.Shift(us);
    }

    // Notes what follows from the edge at the head of the queue, which has just been written.
    private void Note(long nowUs)
    {
        long late = nowUs - _writeUs;
        if (late > MoveFromUs) Move(late);
        long contactUs = _queue.NextUs;
        if (_nextLine == ReleaseLine.HalfPress) HalfPressClosed = _nextCloses;
        else
        {
            _shutterTouched = true;
            ShutterClosed = _nextCloses;
            EdgeStep step = _queue.NextStep;
            if (_nextCloses) MirrorUp = step == EdgeStep.None;
            if (step == EdgeStep.FrameStarts) StartFrame(contactUs, _queue.NextExposureUs);
            else if (step == EdgeStep.FrameReleased) EndFrame(contactUs, false);
        }
        _queue.Drop();
        Prepare();
    }

    private void StartFrame(long closedUs, long plannedUs)
    {
        FramesStarted++;
        _frameOn = true;
        _inDoubt = false;
        _closedUs = closedUs;
        _plannedUs = plannedUs;
        _startLateUs = _lateUs;
        FrameStartUs = closedUs + _compiler.LagUs;
        FrameEndUs = FrameStartUs + plannedUs;
    }

    // The shutter contact has opened. The frame is as long as the contact was closed, or as the camera's own dial makes it.
    private void EndFrame(long openedUs, bool cut)
    {
        _frameOn = false;
        long exposureUs = _compiler.BoxTimed ? openedUs - _closedUs : _plannedUs;
        FrameEndUs = FrameStartUs + exposureUs;
        long held = _compiler.HeldUs;
        long over = held > 0 ? openedUs - _closedUs - held : exposureUs - _plannedUs;
        _frames.Add(FrameStartUs, exposureUs, _startLateUs, over, cut, _inDoubt);
        // A dark frame is as long as its exposure was.
        if (over > MoveFromUs && _compiler.DarkFrameAfter(exposureUs)) Move(over);
        // What follows is planned from this end, so the lateness before it no longer counts.
        _lateUs = 0;
    }

    /// <summary>Ends the run because of an error: opens both lines at once and drops what was planned.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="failure">Which error.</param>
    public void Fail(long nowUs, PlayerFailure failure)
    {
        OpenAll(nowUs);
        Failure = failure;
        State = PlayerState.Failed;
    }

    private void OpenAll(long nowUs)
    {
        _lines.OpenAll();
        bool frameOn = _frameOn;
        if (State == PlayerState.Playing)
        {
            if (!_shutterTouched) _compiler.TakeBack();
            else if (FramesStarted == 0) _compiler.InterruptMirror(nowUs);
            else _compiler.Interrupt(nowUs, FrameStartUs, FrameEndUs - FrameStartUs, frameOn);
        }
        Forget();
        if (frameOn) EndFrame(nowUs, _compiler.BoxTimed && !_compiler.ByHand);
        HalfPressClosed = false;
        ShutterClosed = false;
    }
}
