using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Link;

/// <summary>
/// The only crossing of the two threads. The panel thread offers an order for the next press of Fire, or none, and reads the
/// reports. The release thread decides, where Fire is sampled: it starts what is offered, or stops what is on. Every field is
/// written by one thread alone, and nothing waits for the other.
/// </summary>
/// <remarks>
/// An offer counts only while the panel has dealt with every press before it that could change it; a Fire that comes sooner
/// waits for the panel, for <see cref="WaitUs"/> at most, and another Fire or Back calls it off. The panel takes its offer back before
/// it fills the order in anew, and never fills in one that is taken.
/// </remarks>
public sealed class RunLink
{
    /// <summary>A press of Fire waits this long for the panel to deal with the presses before it, µs; then it is forgotten.</summary>
    public const long WaitUs = 3_000_000;

    /// <summary>Back stops a run when it is held for this long, µs: a slip or a sleeve does not.</summary>
    public const long BackHoldUs = 1_000_000;

    // Another press so soon after a stop means the same stop: it takes no words down and starts nothing.
    private const long SameStopUs = 300_000;

    private const long PublishUs = 20_000;
    private const long AdviceAgainUs = 5_000_000;
    private const int None = -1;

    // A press that is found this soon after the threads stood still may have been two, µs: pin events come a tick later and carry no time.
    private const long HeldUpUs = 100_000;

    // In a shorter standstill nobody presses twice, µs (own choice: six presses a second).
    private const long TwoPressesUs = 150_000;

    private readonly FireOrder _order = new FireOrder();
    private readonly RunDesk _desk;
    private readonly ReleasePlayer _player;
    private readonly FiringAdvice _advice;

    // Written by the panel thread.
    private bool _offered;
    private int _offeredRun;
    private int _through;
    private int _declined;
    private int _readRun;
    private int _endRun;
    private double _wantedSeconds;
    private double _soonestSeconds;
    private double _handLag;
    private double _handSpread;

    // Written by the release thread.
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

    /// <summary>Creates the link and what is behind it.</summary>
    /// <param name="lines">The two contacts.</param>
    public RunLink(IReleaseLines lines)
    {
        _desk = new RunDesk(lines, Frames);
        _player = _desk.Player;
        _advice = new FiringAdvice(_desk.Waves.Search);
    }

    /// <summary>The frames taken.</summary>
    public FrameRing Frames { get; } = new FrameRing();

    /// <summary>The presses.</summary>
    public PressRing Presses { get; } = new PressRing();

    /// <summary>The run.</summary>
    public RunReport Report { get; } = new RunReport();

    /// <summary>The sea.</summary>
    public SeaReport Sea { get; } = new SeaReport();

    /// <summary>The release thread's own side of the link, for the release thread and for tests.</summary>
    public RunDesk Desk => _desk;

    // The panel thread's side.

    /// <summary>What the panel shows: the state of the run, and ready once the end of a run has been read.</summary>
    public RunState State
    {
        get
        {
            RunState state = Report.State;
            return state >= RunState.Done && _readRun == Report.Run ? RunState.Ready : state;
        }
    }

    /// <summary>True while a run is on or a press of Fire waits: what an order is made of must not change.</summary>
    public bool Busy => _waitingFrom != None || Report.Running;

    /// <summary>True when the event that was taken last is the press of Fire that waits.</summary>
    public bool WaitsForLast => _waitingFrom == Presses.Taken - 1;

    /// <summary>True while the buttons are locked. The panel thread sets it.</summary>
    public bool Locked { get; set; }

    /// <summary>True while the drill is shown: a press of Mark at rest then marks no wave. The panel thread sets it.</summary>
    public bool Drilling { get; set; }

    /// <summary>The button that is stuck, in the order of the board's buttons; -1 when none is.</summary>
    public int StuckButton => _stuckButton;

    /// <summary>What is wrong with the limiter or a line; no run starts while something is.</summary>
    public LimiterTrouble Limiter => _limiter;

    /// <summary>How long the limiter held after its last beats, µs; 0 until it has let go once. The release thread sets it.</summary>
    public long LetGoUs { get; set; }

    /// <summary>The order to fill in, then to be offered; null while it is taken, or another end has to be read first. Takes back what was offered.</summary>
    public FireOrder? TryFill()
    {
        // In this order: a run that begins meanwhile has another number, and its end has yet to be read.
        int run = Report.Run;
        _offered = false;
        bool may = !_taken && State == RunState.Ready;
        _offeredRun = may ? run : None;
        return may ? _order : null;
    }

    /// <summary>The order that was filled in is what the next press of Fire starts.</summary>
    public void Offer()
    {
        _offered = true;
        _through = Presses.Taken;
    }

    /// <summary>The next press of Fire starts nothing by itself: the panel has to look at it.</summary>
    public void Withhold()
    {
        _offered = false;
        _through = Presses.Taken;
    }

    /// <summary>The press of Fire that waits starts nothing.</summary>
    public void Decline()
    {
        _offered = false;
        _declined = Presses.Taken;
    }

    /// <summary>The end of the run has been read.</summary>
    public void Acknowledge()
    {
        int run = Report.Run;
        if (Report.State >= RunState.Done) _readRun = run;
    }

    /// <summary>Take no further frame in the present run. A frame under way is exposed to its plan; then the run ends with both lines open.</summary>
    public void EndBetweenFrames() => _endRun = Report.Run;

    /// <summary>Which exposure advice is wanted for; 0 when none is.</summary>
    /// <param name="seconds">From the first opening to the last closing on a wave, seconds.</param>
    /// <param name="soonestSeconds">From a press to the opening at the soonest, seconds: the camera's lag.</param>
    /// <param name="lagSeconds">How late this hand presses in the mean, seconds.</param>
    /// <param name="handSpreadSeconds">Spread of its presses, seconds.</param>
    public void WantAdvice(double seconds, double soonestSeconds, double lagSeconds = FiringAdvice.PressLagSeconds, double handSpreadSeconds = FiringAdvice.PressSpreadSeconds)
    {
        _handLag = lagSeconds;
        _handSpread = handSpreadSeconds;
        _soonestSeconds = soonestSeconds;
        _wantedSeconds = seconds;
    }

    // The release thread's side.

    /// <summary>When the next edge must be written, µs; long.MaxValue when none waits.</summary>
    public long NextEdgeUs => _player.NextEdgeUs;

    /// <summary>Fire was pressed: stops what is on, calls off what waits, starts what is offered, or waits for the panel.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>The bits for the panel: <see cref="PressRing.Spent"/>, <see cref="PressRing.Started"/> or none of them.</returns>
    public int Fire(long nowUs)
    {
        if (Stop(nowUs)) return PressRing.Spent;
        _pressHeldUp = nowUs - _stoodUs <= HeldUpUs;
        if (_through - Presses.Asked >= 0 && TryStart(nowUs)) return PressRing.Started;
        _waitingUs = nowUs;
        _waitingFrom = Presses.Put;
        return 0;
    }

    /// <summary>Back went down: calls off a press of Fire that waits, and stops a run once it has been held for <see cref="BackHoldUs"/>; a locked one stops nothing.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>True when the press has called something off, or means the stop just before.</returns>
    public bool Back(long nowUs)
    {
        if (!_desk.Running) return Stop(nowUs);
        if (!Locked) _backUs = nowUs;
        return false;
    }

    /// <summary>Back came up.</summary>
    public void BackReleased() => _backUs = long.MaxValue;

    /// <summary>Stops what is on, or calls off what waits. False when there was neither, and no stop just before.</summary>
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

    /// <summary>Mark went down.</summary>
    /// <param name="atUs">When, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Mark(long atUs, long nowUs)
    {
        _learned++;
        _desk.Mark(atUs, nowUs);
        Sea.Take(_desk.Waves.Rhythm);
    }

    /// <summary>Mark came up again after being held.</summary>
    /// <param name="heldUs">How long it was down, µs.</param>
    public void MarkReleased(long heldUs)
    {
        _learned++;
        _desk.MarkReleased(heldUs);
        Sea.Take(_desk.Waves.Rhythm);
    }

    /// <summary>A button is stuck, or none is.</summary>
    public void NoteStuck(int button) => _stuckButton = button;

    /// <summary>The limiter or a line has failed: nothing starts from now on. A run is ended whose contacts do not do what they are told; one on a limiter that never lets go is finished.</summary>
    /// <param name="trouble">How.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void NoteLimiter(LimiterTrouble trouble, long nowUs)
    {
        _limiter = trouble;
        if (trouble == LimiterTrouble.StaysOn || !_desk.Running) return;
        _desk.LimiterIsOff(nowUs);
        Publish(nowUs);
    }

    /// <summary>The release thread stood still: the heartbeat did, too.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="forUs">How long, µs.</param>
    public void StoodStill(long nowUs, long forUs)
    {
        if (forUs >= TwoPressesUs) _stoodUs = nowUs;
        _player.StoodStill(nowUs, forUs);
    }

    /// <summary>Plays the edges that are due and does nothing else: for the last moment before an edge. <see cref="Turn"/> must follow.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void PlayDue(long nowUs)
    {
        if (_player.PlayDue(nowUs)) Publish(nowUs);
    }

    /// <summary>One turn: takes what the panel has asked for, plays what is due, moves on and reports.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Turn(long nowUs)
    {
        if (_waitingFrom != None) Wait(nowUs);
        bool running = _desk.Running;
        if (running && nowUs - _backUs >= BackHoldUs) Stop(nowUs);
        if (!running && _readRun == _desk.Runs) _desk.Acknowledge();
        if (running && _endRun == _desk.Runs) _desk.EndBetweenFrames();
        long edge = _desk.NextEdgeUs;
        RunState state = _desk.State;
        _desk.Turn(nowUs);
        if (!_desk.Running)
        {
            _taken = false;
            Advise(nowUs);
        }
        if (state != Report.State || _desk.State != state || _desk.NextEdgeUs != edge || (running && nowUs - _publishedUs >= PublishUs && edge - nowUs >= PublishUs)) Publish(nowUs);
    }

    /// <summary>Notes that the run was ended by an error outside; the lines have been opened.</summary>
    public void Fail()
    {
        _waitingFrom = None;
        _desk.Fail();
        Publish(0);
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

    // Takes the order before it looks whether it is offered: the panel takes its offer back before it looks whether it is taken.
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

    // A step of the advice, at rest and while it is wanted. A mark, and the end of a hold, begin it anew, so that it rests on one state of the sea.
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
