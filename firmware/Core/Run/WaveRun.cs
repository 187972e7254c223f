using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Run;

/// <summary>
/// A run on the waves. It chooses the wave, works out when the shutter should open, hands the frames to the player a moment before that, and
/// moves the moment when a new mark improves the forecast. All times are those at which the shutter opens, so the camera's lag is
/// compensated. Only the release thread calls it, and it allocates nothing.
/// </summary>
public sealed partial class WaveRun
{
    // Frames are handed to the player this long before their first edge. Until then a mark can move them freely.
    private const long HandOverUs = 200_000;

    // The search for the best moment of a forecast takes seven passes of the release thread.
    private const long ThinkUs = 100_000;

    private readonly ReleasePlayer _player;
    private readonly HeldMarks _holds;
    private WaveOrder _order = null!;
    private ShotPlan _plan = null!;
    private CameraProfile _camera = null!;
    private long _lastTurnUs;
    private int _marksSinceFire;
    private bool _handedOver;
    private bool _thinking;
    private bool _chanceDue;
    private int _ahead;
    private long _askedUs;
    private long _earliestUs;
    private long _earliestTurnUs;
    private long _aimedTurnUs;
    private long _notBeforeUs;
    private long _endUs;
    private long _arrivalUs;
    private long _waitingArrivalUs;
    private long _heldSinceUs;
    private long _chanceUs;
    private int _tappedTurns;
    private bool _tappedAtTurn;
    private bool _sameWave;
    private bool _markedInRun;

    /// <summary>Creates a run that has seen no waves.</summary>
    public WaveRun(ReleasePlayer player)
    {
        _player = player;
        Delay = new TurnDelay(Rhythm.Lengths);
        _holds = new HeldMarks(Rhythm.Lengths);
    }

    /// <summary>The rhythm learned from marks, which is kept from run to run.</summary>
    public WaveRhythm Rhythm { get; } = new WaveRhythm();

    /// <summary>The learned delay from arrival to turn, which is kept from run to run.</summary>
    public TurnDelay Delay { get; }

    /// <summary>The search for the best moment. Others may use it while no run is on.</summary>
    public ReleaseSearch Search { get; } = new ReleaseSearch();

    /// <summary>What the run is doing: one of the waiting states, <see cref="RunState.OnWave"/>, <see cref="RunState.Done"/> or <see cref="RunState.Failed"/>.</summary>
    public RunState State { get; private set; }

    /// <summary>When the shutter opens next, µs; valid in <see cref="RunState.AwaitWave"/>. It is the forecast turn while the best moment is being searched for.</summary>
    public long TargetUs { get; private set; }

    /// <summary>The chance that all coming frames lie on the backwash from start to end, per cent; -1 when it is not known.</summary>
    public int ChancePercent { get; private set; } = -1;

    /// <summary>How many waves were fired on in this run.</summary>
    public int WavesFired { get; private set; }

    /// <summary>How many waves came while the camera was still busy with an earlier frame.</summary>
    public int WavesMissed { get; private set; }

    /// <summary>
    /// True while a run on arrivals cannot fire yet. Mark must be held from the arrival of a wave to its turn until
    /// <see cref="TurnDelay.PairsNeeded"/> waves have taught how long that takes.
    /// </summary>
    public bool AsksForHolds => _order.Way == FiringWay.OnArrival && !Delay.Ready;

    /// <summary>
    /// True while the marks contradict each other, so that every chance is halved. Either some marks were no turns (<see cref="WaveRhythm.Doubtful"/>),
    /// or in a run on arrivals the turns are marked by presses as well, where only a hold tells a turn from an arrival.
    /// </summary>
    public bool Doubtful => _order.Way == FiringWay.OnArrival ? _tappedTurns >= TappedTurnsDoubted : Rhythm.Doubtful;

    /// <summary>How many frames have begun in this run.</summary>
    public int FramesTaken => WavesFired * _plan.FrameCount + (_handedOver ? _player.FramesStarted : 0);

    /// <summary>Sets a run up. Nothing happens before <see cref="Start"/>.</summary>
    public void Prepare(WaveOrder order, ShotPlan plan, CameraProfile camera)
    {
        _order = order;
        _plan = plan;
        _camera = camera;
    }

    /// <summary>Starts the run.</summary>
    public void Start(long nowUs)
    {
        _notBeforeUs = nowUs + PlanCompiler.LimiterUs;
        _endUs = _order.Minutes > 0 ? nowUs + _order.Minutes * 60_000_000L : long.MaxValue;
        WavesFired = 0;
        WavesMissed = 0;
        _marksSinceFire = _order.EveryWave;
        _lastTurnUs = 0;
        _aimedTurnUs = 0;
        _handedOver = false;
        _arrivalUs = 0;
        _waitingArrivalUs = 0;
        _heldSinceUs = 0;
        _tappedTurns = 0;
        _tappedAtTurn = false;
        _thinking = false;
        ChancePercent = -1;
        _chanceDue = true;
        if (_order.Way == FiringWay.OnRhythm) AimAtRhythm(nowUs);
        else AwaitMark();
    }

    /// <summary>Takes a mark. In a run on arrivals it marks an arrival, otherwise a turn, whatever was pressed before.</summary>
    /// <param name="atUs">When Mark went down, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="timing">True when this run is on and the mark may time it.</param>
    public void Mark(long atUs, long nowUs, bool timing)
    {
        if (timing && _order.Way == FiringWay.OnArrival)
        {
            _heldSinceUs = atUs;
            MarkArrival(atUs, nowUs);
            return;
        }
        _heldSinceUs = 0;
        int before = Rhythm.MarkCount;
        Rhythm.Mark(atUs);
        _sameWave = Rhythm.MarkCount == before;
        _markedInRun = timing;
        _chanceDue = true;
        if (!timing || _sameWave) return;
        if (_order.Way == FiringWay.OnRhythm)
        {
            // The search for the best moment takes so many passes that it must not begin close to an edge.
            bool edgeNear = _handedOver && _player.NextEdgeUs - nowUs < ThinkUs;
            if (State == RunState.AwaitWave && !edgeNear && TryTakeBack()) ReAim(atUs, nowUs);
            else if (State == RunState.AskMark) AimAtRhythm(nowUs);
        }
        // A run on the rhythm is never in this state.
        if (State != RunState.AwaitMark) return;
        _marksSinceFire++;
        if (_marksSinceFire < _order.EveryWave) return;
        long open = _order.Way == FiringWay.AfterMark ? atUs + _order.DelayMs * 1000L : 0;
        if (Aim(open, atUs, nowUs)) ReckonAfterPress(TargetUs - atUs);
    }

    /// <summary>
    /// Handles Mark coming up again. When it went down at an arrival, the wave has just turned. Otherwise it was held from a turn until the
    /// water had drained, which is how long the backwash lasts.
    /// </summary>
    /// <param name="heldUs">How long Mark was held, µs. At an arrival, less than <see cref="ShortestRunUpUs"/> is only a press; for a turn see <see cref="HeldMarks"/>.</param>
    public void MarkHeld(long heldUs)
    {
        if (_heldSinceUs != 0)
        {
            if (heldUs >= ShortestRunUpUs) Delay.Turn(_heldSinceUs + heldUs);
            _heldSinceUs = 0;
            return;
        }
        // A second press for the same wave is a slip, unless it was the one that was held.
        if (_sameWave && heldUs < HeldMarks.LongUs) return;
        _chanceDue = true;
        _holds.Take(heldUs, _markedInRun);
    }

    /// <summary>When Mark is held for at least this long from an arrival, its release teaches the turn, µs. That is longer than a press with a glove.</summary>
    public const long ShortestRunUpUs = 800_000;

    /// <summary>Does one pass of the release thread.</summary>
    public void Pass(long nowUs)
    {
        if (_thinking) Think(nowUs);
        else if (State == RunState.AwaitWave && !_handedOver)
        {
            if (_order.Way == FiringWay.OnRhythm && _chanceUs != 0 && nowUs >= _chanceUs) RenewChance(nowUs);
            else HandOverWhenDue(nowUs);
        }
        else if (State == RunState.AwaitMark && _chanceDue && KeepsAwake) ReckonChance();
        if (!_handedOver)
        {
            if (nowUs >= _endUs) Finish();
            return;
        }
        if (_player.ShutterClosed) State = RunState.OnWave;
        if (_player.State == PlayerState.Finished && nowUs >= _player.FrameEndUs) EndWave(nowUs);
    }

    // The camera is kept awake between waves, so that a mark need not wait for the half-press lead.
    private bool KeepsAwake => _order.Way == FiringWay.OnMark || _order.Way == FiringWay.AfterMark;

    // The chance of the two ways that fire after a mark at the turn does not depend on that mark, so it is known before.
    private void ReckonChance()
    {
        _chanceDue = false;
        long soonest = PlanCompiler.SoonestOpenUs(_camera, true);
        long delay = _order.Way == FiringWay.AfterMark ? _order.DelayMs * 1000L : 0;
        ReckonAfterPress(delay > soonest ? delay : soonest);
    }

    private void ReckonAfterPress(long afterUs)
    {
        // divisor: a constant
        double after = afterUs / 1e6;
        ChancePercent = Rhythm.Ready && Rhythm.Lengths.Ready ? FiringAdvice.WholePercent(FiringAdvice.ChanceAfterPress(Rhythm, after, SpanUs / 1e6, _order.HandLagMs / 1000.0, _order.HandSpreadMs / 1000.0)) : -1;
    }

    private void HandOverWhenDue(long nowUs)
    {
        long contact = TargetUs - _camera.ShutterLagMs * 1000L;
        long firstEdge = contact - PlanCompiler.LeadInUs(_camera, _player.HalfPressClosed);
        if (nowUs < firstEdge - HandOverUs) return;
        if (_order.Way == FiringWay.OnRhythm && Rhythm.Stale(nowUs))
        {
            Ask();
            return;
        }
        bool last = _order.Waves > 0 && WavesFired + 1 >= _order.Waves;
        _player.PlayAt(_plan, _camera, TargetUs, KeepsAwake && !last);
        _handedOver = true;
    }

    private void EndWave(long nowUs)
    {
        _handedOver = false;
        WavesFired++;
        _marksSinceFire = 0;
        _lastTurnUs = _aimedTurnUs;
        if ((_order.Waves > 0 && WavesFired >= _order.Waves) || nowUs >= _endUs) Finish();
        else if (_order.Way == FiringWay.OnRhythm) AimAtRhythm(nowUs);
        else
        {
            AwaitMark();
            long waiting = _waitingArrivalUs;
            _waitingArrivalUs = 0;
            if (waiting != 0) AimAtArrival(waiting, nowUs);
        }
    }

    private void Finish()
    {
        _player.HoldHalfPress(false);
        State = RunState.Done;
    }

    private void AwaitMark()
    {
        if (KeepsAwake) _player.HoldHalfPress(true);
        State = RunState.AwaitMark;
    }

    // A run on the rhythm holds no half-press between waves, so there is none to release.
    private void Ask()
    {
        _thinking = false;
        State = RunState.AskMark;
    }

    // The time from the first opening to the last closing of the shutter on one wave.
    private long SpanUs => _plan.FrameCount * _plan.ExposureUs + (_plan.FrameCount - 1) * _plan.GapUs;
}
