using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Link;

/// <summary>
/// The only place where the two threads meet. The panel thread offers an order for the next press of Fire, or none, and reads the
/// reports. The release thread samples Fire and decides at once: it stops the run that is on, or else starts what is offered. Each field
/// is written by one thread only, and neither thread waits for the other.
/// </summary>
/// <remarks>
/// An offer counts only when the panel has handled every earlier press that could change it. A Fire that comes sooner waits for the panel,
/// for <see cref="WaitUs"/> at most, and a second Fire or Back cancels it. The panel withdraws its offer before it fills the order in
/// again, and it never fills in an order that has been taken.
/// </remarks>
public sealed class RunLink
{
    /// <summary>How long a press of Fire waits for the panel to handle the presses before it, µs. After that the press is dropped.</summary>
    public const long WaitUs = 3_000_000;

    /// <summary>Back stops a run when it is held for this long, µs, so that a slip or a sleeve does not.</summary>
    public const long BackHoldUs = 1_000_000;

    // Another press so soon after a stop is taken for the same wish to stop: it closes no message and starts nothing.
    private const long SameStopUs = 300_000;

    private const long PublishUs = 20_000;
    private const long AdviceAgainUs = 5_000_000;
    private const int None = -1;

    // Pin events arrive a scheduler tick late and carry no time. A press found this soon after the threads stood still may have been two presses, µs.
    private const long HeldUpUs = 100_000;

    // Nobody presses twice in a standstill shorter than this, µs (own choice: six presses a second).
    private const long TwoPressesUs = 150_000;

    private readonly FireOrder _order = new FireOrder();
    private readonly RunDesk _desk;
    private readonly ReleasePlayer _player;
    private readonly FiringAdvice _advice;

    // These fields are written by the panel thread.
    private bool _offered;
    private int _offeredRun;
    private int _through;
    private int _declined;
    private int _readRun;
    private int _endRun;
    private int _lightWords;
    private int _lightRun;
    private long _lightUs;
    private double _wantedSeconds;
    private double _soonestSeconds;
    private double _handLag;
    private double _handSpread;

    // These fields are written by the release thread.
    private bool _taken;
    private int _waitingFrom = None;
    private long _waitingUs;
    private long _backUs = long.MaxValue;
    private long _stoppedUs = long.MinValue / 2;
    private long _publishedUs;
    private double _adviceSeconds;
    private int _adviceLearned = None;
    private int _learned;
    private long _stoodUs = long.MinValue / 2;
    private bool _pressHeldUp;
    private long _adviceUs;
    private int _stuckButton = None;
    private LimiterTrouble _limiter;
    private int _lightTaken;

    /// <summary>Creates the link, and behind it the run desk and the advice.</summary>
    /// <param name="lines">The two contacts to the camera.</param>
    public RunLink(IReleaseLines lines)
    {
        _desk = new RunDesk(lines, Frames);
        _player = _desk.Player;
        _advice = new FiringAdvice(_desk.Waves.Search);
    }

    /// <summary>The frames that were taken.</summary>
    public FrameRing Frames { get; } = new FrameRing();

    /// <summary>The button events on their way to the panel.</summary>
    public PressRing Presses { get; } = new PressRing();

    /// <summary>How the run stands.</summary>
    public RunReport Report { get; } = new RunReport();

    /// <summary>What the marks have taught about the waves.</summary>
    public SeaReport Sea { get; } = new SeaReport();

    /// <summary>What plays now. Only the release thread and tests may use it.</summary>
    public RunDesk Desk => _desk;

    // From here on: members that the panel thread calls.

    /// <summary>The state that the panel shows: that of the run, and Ready once the user has closed the screen of a run that ended.</summary>
    public RunState State
    {
        get
        {
            RunState state = Report.State;
            return state >= RunState.Done && _readRun == Report.Run ? RunState.Ready : state;
        }
    }

    /// <summary>True while a run is on or a press of Fire waits. Nothing that goes into an order may change in that time.</summary>
    public bool Busy => _waitingFrom != None || Report.Running;

    /// <summary>True when the event that was taken out last is the press of Fire that waits.</summary>
    public bool WaitsForLast => _waitingFrom == Presses.Taken - 1;

    /// <summary>True while the buttons are locked. The panel thread sets it.</summary>
    public bool Locked { get; set; }

    /// <summary>True while the drill is shown, in which a press of Mark outside a run does not mark a wave. The panel thread sets it.</summary>
    public bool Drilling { get; set; }

    /// <summary>The button that is stuck, in the order of the board's buttons; -1 when none is.</summary>
    public int StuckButton => _stuckButton;

    /// <summary>What is wrong with the limiter or with a line. No run starts while anything is.</summary>
    public LimiterTrouble Limiter => _limiter;

    /// <summary>How long the limiter fed the couplers after its last heartbeat, µs; 0 until it has let go for the first time. The release thread sets it.</summary>
    public long LetGoUs { get; set; }

    /// <summary>The order to fill in and then to offer; null while it is taken, or while the end of a run has yet to be read. It withdraws any earlier offer.</summary>
    public FireOrder? TryFill()
    {
        // The number of the run is read first: if a run begins in between, the number no longer fits and the offer does not count.
        int run = Report.Run;
        _offered = false;
        bool may = !_taken && State == RunState.Ready;
        _offeredRun = may ? run : None;
        return may ? _order : null;
    }

    /// <summary>Offers the order that was filled in: the next press of Fire starts it.</summary>
    public void Offer()
    {
        _offered = true;
        _through = Presses.Taken;
    }

    /// <summary>Offers nothing: the next press of Fire waits until the panel has handled it.</summary>
    public void Withhold()
    {
        _offered = false;
        _through = Presses.Taken;
    }

    /// <summary>Refuses the press of Fire that waits, so that it starts nothing.</summary>
    public void Decline()
    {
        _offered = false;
        _declined = Presses.Taken;
    }

    /// <summary>Notes that the user has read how the run ended.</summary>
    public void Acknowledge()
    {
        int run = Report.Run;
        if (Report.State >= RunState.Done) _readRun = run;
    }

    /// <summary>Asks for no further frame in the present run. A frame under way is exposed as planned; then the run ends with both lines open.</summary>
    public void EndBetweenFrames() => _endRun = Report.Run;

    /// <summary>Announces that the open frame of the present run will have collected enough light at a moment a little ahead. It is called once in a run and can only end the frame sooner.</summary>
    /// <param name="endUs">When, µs.</param>
    public void EndFrameAt(long endUs) => SayOfLight(endUs);

    /// <summary>Says which exposure the light calls for now. The frames of the present run that have not started get it, if they follow the light. It may be said again and again.</summary>
    /// <param name="exposureUs">The exposure, µs.</param>
    public void FollowTo(long exposureUs) => SayOfLight(exposureUs);

    // The count is written last, because the release thread looks at it first. What is said of a run means one thing only, which its plan decides.
    private void SayOfLight(long us)
    {
        _lightUs = us;
        _lightRun = Report.Run;
        _lightWords++;
    }

    /// <summary>Says for which exposure advice is wanted.</summary>
    /// <param name="seconds">From the first opening of the shutter to the last closing on a wave, seconds; 0 when no advice is wanted.</param>
    /// <param name="soonestSeconds">From a press to the earliest possible opening, seconds: the camera's lag.</param>
    /// <param name="lagSeconds">How late this photographer presses on average, seconds.</param>
    /// <param name="handSpreadSeconds">The spread (standard deviation) of the photographer's presses, seconds.</param>
    public void WantAdvice(double seconds, double soonestSeconds, double lagSeconds = FiringAdvice.PressLagSeconds, double handSpreadSeconds = FiringAdvice.PressSpreadSeconds)
    {
        _handLag = lagSeconds;
        _handSpread = handSpreadSeconds;
        _soonestSeconds = soonestSeconds;
        _wantedSeconds = seconds;
    }

    // From here on: members that the release thread calls.

    /// <summary>When the next edge must be written, µs; long.MaxValue when none waits.</summary>
    public long NextEdgeUs => _player.NextEdgeUs;

    /// <summary>Handles a press of Fire: it stops the run that is on, cancels a start that waits, starts what is offered, or waits for the panel.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>The bits for the panel: <see cref="PressRing.Spent"/>, <see cref="PressRing.Started"/>, or 0.</returns>
    public int Fire(long nowUs)
    {
        if (Stop(nowUs)) return PressRing.Spent;
        _pressHeldUp = nowUs - _stoodUs <= HeldUpUs;
        if (_through - Presses.Asked >= 0 && TryStart(nowUs)) return PressRing.Started;
        _waitingUs = nowUs;
        _waitingFrom = Presses.Put;
        return 0;
    }

    /// <summary>Handles Back going down: it cancels a Fire that waits. It stops a run only when it stays down for <see cref="BackHoldUs"/> and the buttons are not locked.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>True when the press has cancelled something, or belongs to the stop just before.</returns>
    public bool Back(long nowUs)
    {
        if (!_desk.Running) return Stop(nowUs);
        if (!Locked) _backUs = nowUs;
        return false;
    }

    /// <summary>Handles Back coming up.</summary>
    public void BackReleased() => _backUs = long.MaxValue;

    /// <summary>Stops the run that is on, or cancels a Fire that waits. Returns false when there was neither and no stop just before.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public bool Stop(long nowUs)
    {
        if (_desk.Running)
        {
            _desk.StopNow(nowUs);
            _stoppedUs = nowUs;
            Publish(nowUs);
        }
        else if (_waitingFrom != None)
        {
            _waitingFrom = None;
            _stoppedUs = nowUs;
        }
        return nowUs - _stoppedUs < SameStopUs;
    }

    /// <summary>Handles Mark going down.</summary>
    /// <param name="atUs">When, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Mark(long atUs, long nowUs)
    {
        _learned++;
        _desk.Mark(atUs, nowUs);
        Sea.Take(_desk.Waves.Rhythm);
    }

    /// <summary>Handles Mark coming up again after it was held.</summary>
    /// <param name="heldUs">How long it was down, µs.</param>
    public void MarkReleased(long heldUs)
    {
        _learned++;
        _desk.MarkReleased(heldUs);
        Sea.Take(_desk.Waves.Rhythm);
    }

    /// <summary>Notes which button is stuck, or with -1 that none is.</summary>
    public void NoteStuck(int button) => _stuckButton = button;

    /// <summary>Notes that the limiter or a line has failed, so that nothing starts from now on. A run on a limiter that never lets go is finished; any other run is ended, because its contacts do not do what they are told.</summary>
    /// <param name="trouble">What has failed.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void NoteLimiter(LimiterTrouble trouble, long nowUs)
    {
        _limiter = trouble;
        if (trouble == LimiterTrouble.StaysOn || !_desk.Running) return;
        _desk.LimiterIsOff(nowUs);
        Publish(nowUs);
    }

    /// <summary>Notes that the release thread stood still, and the heartbeat with it.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="forUs">How long, µs.</param>
    public void StoodStill(long nowUs, long forUs)
    {
        if (forUs >= TwoPressesUs) _stoodUs = nowUs;
        _player.StoodStill(nowUs, forUs);
    }

    /// <summary>Plays the edges that are due and does nothing else. It serves the last moment before an edge, and <see cref="Pass"/> must follow.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void PlayDue(long nowUs)
    {
        if (_player.PlayDue(nowUs)) Publish(nowUs);
    }

    /// <summary>Does one pass of the release thread: takes what the panel has asked for, plays the edges that are due, advances the run and reports.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Pass(long nowUs)
    {
        if (_waitingFrom != None) Wait(nowUs);
        bool running = _desk.Running;
        if (running && nowUs - _backUs >= BackHoldUs) Stop(nowUs);
        if (!running && _readRun == _desk.Runs) _desk.Acknowledge();
        if (running && _endRun == _desk.Runs) _desk.EndBetweenFrames();
        long edge = _desk.NextEdgeUs;
        RunState state = _desk.State;
        if (_lightWords != _lightTaken) TakeLight(nowUs);
        _desk.Pass(nowUs);
        if (!_desk.Running)
        {
            _taken = false;
            Advise(nowUs);
        }
        if (state != Report.State || _desk.State != state || _desk.NextEdgeUs != edge || (running && nowUs - _publishedUs >= PublishUs && edge - nowUs >= PublishUs)) Publish(nowUs);
    }

    /// <summary>Notes that an error outside has ended the run and that the lines have been opened.</summary>
    public void Fail()
    {
        _waitingFrom = None;
        _desk.Fail();
        Publish(0);
    }

    // What was said of an earlier run does not count.
    private void TakeLight(long nowUs)
    {
        _lightTaken = _lightWords;
        if (_lightRun != _desk.Runs) return;
        if (_order.Plan.FollowsUpToUs > 0) _desk.FollowTo(_lightUs, nowUs);
        else _desk.EndFrameAt(_lightUs, nowUs);
    }

    private void Wait(long nowUs)
    {
        if (_declined - _waitingFrom > 0 || nowUs - _waitingUs > WaitUs) _waitingFrom = None;
        else if (_through - _waitingFrom > 0)
        {
            TryStart(nowUs);
            _waitingFrom = None;
        }
    }

    // The order is taken before the offer is looked at, because the panel withdraws its offer before it looks whether the order is taken.
    private bool TryStart(long nowUs)
    {
        _taken = true;
        if (_limiter != LimiterTrouble.None || !_offered || _offeredRun != _desk.Runs)
        {
            _taken = false;
            return false;
        }
        if (_order.OnWaves) _desk.StartWaves(_order.Waves, _order.Plan, _order.Camera, nowUs);
        else _desk.StartPlan(_order.Plan, _order.Camera, nowUs);
        _adviceLearned = None;
        _backUs = long.MaxValue;
        Publish(nowUs);
        Report.Begin(_desk.Runs, _order, _pressHeldUp);
        return true;
    }

    // Does one step of the advice, while no run is on and advice is wanted. Each mark, and the end of each hold, starts it again, so that one advice rests on one set of marks.
    private void Advise(long nowUs)
    {
        double seconds = _wantedSeconds;
        if (seconds <= 0) return;
        bool same = _learned == _adviceLearned && seconds == _adviceSeconds;
        if (!same || (_advice.Done && nowUs - _adviceUs >= AdviceAgainUs))
        {
            _adviceLearned = _learned;
            _adviceSeconds = seconds;
            _adviceUs = nowUs;
            _advice.Begin(_desk.Waves.Rhythm, _desk.Waves.Delay, nowUs, seconds, _soonestSeconds, _handLag, _handSpread);
        }
        else if (!_advice.Done && _advice.Step()) Sea.Take(_advice, seconds);
    }

    private void Publish(long nowUs)
    {
        _publishedUs = nowUs;
        Report.Take(_desk);
    }
}
