using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Run;

/// <summary>
/// A run on the waves: picks the wave, works out when the shutter should open, hands the frames to the player a moment
/// before, and moves the moment when a fresh mark says better. Times are those of the shutter opening, so the camera's lag
/// is made up for. Called by the release thread only; allocates nothing.
/// </summary>
public sealed class WaveRun
{
    // Frames are handed to the player this long before their first edge: until then a mark moves them freely.
    private const long HandOverUs = 200_000;

    // The best moment of a forecast takes seven turns of the release thread.
    private const long ThinkUs = 100_000;

    private const int MostAhead = 20;

    // A mark this close to a pending forecast is taken as that very wave, as a share of the period.
    private const double SameWaveShare = 0.35;

    // Two presses this close are one arrival, as a share of the learned delay; see WaveRhythm.ShortestPeriodSeconds too.
    private const double SameArrivalShare = 0.2;

    private readonly ReleasePlayer _player;
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

    /// <summary>Creates a run that knows no waves.</summary>
    public WaveRun(ReleasePlayer player)
    {
        _player = player;
    }

    /// <summary>The rhythm learned from marks; kept between runs.</summary>
    public WaveRhythm Rhythm { get; } = new WaveRhythm();

    /// <summary>The learned delay from arrival to turn; kept between runs.</summary>
    public TurnDelay Delay { get; } = new TurnDelay();

    /// <summary>The search for the best moment, free for others while no run is on.</summary>
    public ReleaseSearch Search { get; } = new ReleaseSearch();

    /// <summary>What the run is doing: one of the waiting states, <see cref="RunState.OnWave"/>, <see cref="RunState.Done"/> or <see cref="RunState.Failed"/>.</summary>
    public RunState State { get; private set; }

    /// <summary>When the shutter is to open next, µs; valid in <see cref="RunState.AwaitWave"/>. The forecast turn while the best moment is being looked for.</summary>
    public long TargetUs { get; private set; }

    /// <summary>Chance that the coming frames lie wholly on the backwash, percent; -1 when it is not known.</summary>
    public int ChancePercent { get; private set; } = -1;

    /// <summary>Waves fired on in this run.</summary>
    public int WavesFired { get; private set; }

    /// <summary>Waves that came while the camera was still busy with an earlier frame.</summary>
    public int WavesMissed { get; private set; }

    /// <summary>
    /// True while a run on arrivals cannot fire yet: Mark must be held from the arrival of a wave to its turn, until
    /// <see cref="TurnDelay.PairsNeeded"/> waves have taught how long that takes.
    /// </summary>
    public bool AsksForHolds => _order.Way == FiringWay.OnArrival && !Delay.Ready;

    /// <summary>Sets up a run. Nothing happens before <see cref="Start"/>.</summary>
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
        _thinking = false;
        ChancePercent = -1;
        _chanceDue = true;
        if (_order.Way == FiringWay.OnRhythm) AimAtRhythm(nowUs);
        else AwaitMark();
    }

    /// <summary>Takes a mark: of an arrival in a run on arrivals, else of a turn, whatever was pressed before.</summary>
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
        _chanceDue = true;
        if (!timing || Rhythm.MarkCount == before) return;
        if (_order.Way == FiringWay.OnRhythm)
        {
            // Working out the best moment takes too many turns to be begun close to an edge.
            bool edgeNear = _handedOver && _player.NextEdgeUs - nowUs < ThinkUs;
            if (State == RunState.AwaitWave && !edgeNear && TryTakeBack()) ReAim(atUs, nowUs);
            else if (State == RunState.AskMark) AimAtRhythm(nowUs);
            return;
        }
        if (State != RunState.AwaitMark) return;
        _marksSinceFire++;
        if (_marksSinceFire < _order.EveryWave) return;
        long open = _order.Way == FiringWay.AfterMark ? atUs + _order.DelayMs * 1000L : 0;
        Aim(open, atUs, nowUs);
    }

    /// <summary>
    /// Mark came up again. If it went down for an arrival, the wave turned just now. Otherwise it was held from a turn until the
    /// water had drained: that is how long the backwash lasts.
    /// </summary>
    /// <param name="heldUs">How long, µs; less than <see cref="ShortestRunUpUs"/> or <see cref="ShortestHoldUs"/> is only a press.</param>
    public void MarkHeld(long heldUs)
    {
        if (_heldSinceUs != 0)
        {
            if (heldUs >= ShortestRunUpUs) Delay.Turn(_heldSinceUs + heldUs);
            _heldSinceUs = 0;
            return;
        }
        if (heldUs < ShortestHoldUs) return;
        _chanceDue = true;
        Rhythm.LearnBackwash(heldUs / 1e6);
        Delay.LearnBackwash(heldUs / 1e6);
    }

    /// <summary>Mark held at least this long measures a backwash, µs.</summary>
    public const long ShortestHoldUs = 500_000;

    /// <summary>Mark held at least this long from an arrival teaches the turn, µs: longer than a press with a glove.</summary>
    public const long ShortestRunUpUs = 800_000;

    /// <summary>One turn.</summary>
    public void Turn(long nowUs)
    {
        if (_thinking) Think(nowUs);
        else if (State == RunState.AwaitWave && !_handedOver) HandOverWhenDue(nowUs);
        else if (State == RunState.AwaitMark && _chanceDue && KeepsAwake) ReckonChance();
        if (!_handedOver)
        {
            if (nowUs >= _endUs) Finish();
            return;
        }
        if (_player.ShutterClosed) State = RunState.OnWave;
        if (_player.State == PlayerState.Finished && nowUs >= _player.FrameEndUs) EndWave(nowUs);
    }

    // The camera is kept awake between waves so that a mark meets no half-press lead.
    private bool KeepsAwake => _order.Way == FiringWay.OnMark || _order.Way == FiringWay.AfterMark;

    // The chance of the two ways that fire on a mark at the turn does not depend on that mark: it is known before.
    private void ReckonChance()
    {
        _chanceDue = false;
        // divisor: a constant
        double after = _order.Way == FiringWay.AfterMark ? _order.DelayMs / 1000.0 : 0;
        ChancePercent = Rhythm.Ready ? FiringAdvice.WholePercent(FiringAdvice.ChanceAfterPress(Rhythm, after, SpanUs / 1e6)) : -1;
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
        _thinking = false;
        _player.HoldHalfPress(false);
        State = RunState.Done;
    }

    private void AwaitMark()
    {
        if (KeepsAwake) _player.HoldHalfPress(true);
        State = RunState.AwaitMark;
    }

    private void Ask()
    {
        _thinking = false;
        _player.HoldHalfPress(false);
        State = RunState.AskMark;
    }

    // From the first opening to the last closing on one wave.
    private long SpanUs => _plan.FrameCount * _plan.ExposureUs + (_plan.FrameCount - 1) * _plan.GapUs;

    private void AimAtRhythm(long nowUs)
    {
        if (Rhythm.Stale(nowUs))
        {
            Ask();
            return;
        }
        _askedUs = nowUs;
        _earliestUs = LinesReadyUs(nowUs);
        if (CameraReadyToOpenUs > _earliestUs) _earliestUs = CameraReadyToOpenUs;
        // A wave before this one has been fired on or is skipped on purpose.
        double share = _order.EveryWave - 0.5;
        _earliestTurnUs = _lastTurnUs == 0 ? 0 : _lastTurnUs + (long)(share * Rhythm.PeriodSeconds * 1e6);
        _ahead = 0;
        TryNextWave();
    }

    // Aims at the next wave that can be had; its best moment is looked for a turn at a time.
    private void TryNextWave()
    {
        long span = SpanUs;
        while (++_ahead <= MostAhead)
        {
            if (!Rhythm.TryForecast(_askedUs, _ahead, out long turn, out double spread)) break;
            if (turn < _earliestTurnUs || turn + span < _earliestUs) continue;
            if (_order.BestMoment)
            {
                if (!Search.Begin(Rhythm, _askedUs, _ahead, span / 1e6)) break;
                _thinking = true;
                AwaitWave(turn, turn);
                return;
            }
            long open = turn + _order.FromTurnMs * 1000L;
            if (open < _earliestUs) continue;
            _thinking = false;
            Search.Watch(Rhythm, _askedUs, span / 1e6);
            ChancePercent = FiringAdvice.WholePercent(Search.ChanceAt(open));
            AwaitWave(turn, open);
            return;
        }
        Ask();
    }

    // One step of the search for the best moment.
    private void Think(long nowUs)
    {
        if (!Search.Step()) return;
        _thinking = false;
        if (!Search.Found) Ask();
        else if (Search.ReleaseUs < _earliestUs) TryNextWave();
        else
        {
            // The turns that went by meanwhile may have eaten up a moment that was close.
            long soonest = LinesReadyUs(nowUs);
            ChancePercent = FiringAdvice.WholePercent(Search.Chance);
            AwaitWave(_aimedTurnUs, Search.ReleaseUs > soonest ? Search.ReleaseUs : soonest);
        }
    }

    private void AwaitWave(long turnUs, long openUs)
    {
        _aimedTurnUs = turnUs;
        TargetUs = openUs;
        State = RunState.AwaitWave;
    }

    // A fresh mark during the wait: either this is the awaited wave, a little off its forecast, or an earlier one.
    private void ReAim(long atUs, long nowUs)
    {
        long off = _aimedTurnUs - atUs;
        if (off < 0) off = -off;
        if (off < SameWaveShare * Rhythm.PeriodSeconds * 1e6)
        {
            ChancePercent = -1;
            Aim(_order.BestMoment ? 0 : atUs + _order.FromTurnMs * 1000L, atUs, nowUs);
        }
        else AimAtRhythm(nowUs);
    }

    private void MarkArrival(long atUs, long nowUs)
    {
        double sameSeconds = Elementary.Max(WaveRhythm.ShortestPeriodSeconds, SameArrivalShare * Delay.DelaySeconds);
        if (_arrivalUs != 0 && atUs - _arrivalUs < sameSeconds * 1e6) return;
        _arrivalUs = atUs;
        Delay.Arrival(atUs);
        if (State == RunState.AwaitMark)
        {
            AimAtArrival(atUs, nowUs);
            return;
        }
        // The wave before is still being waited for or taken.
        if (_waitingArrivalUs != 0 && _order.EveryWave == 1) WavesMissed++;
        _waitingArrivalUs = atUs;
    }

    private void AimAtArrival(long arrivalUs, long nowUs)
    {
        if (!Delay.TryForecast(arrivalUs, out long turn, out double spread) || !Delay.TryRelease(arrivalUs, SpanUs / 1e6, out long best, out double chance)) return;
        _marksSinceFire++;
        if (_marksSinceFire < _order.EveryWave) return;
        long open = _order.BestMoment ? best : turn + _order.FromTurnMs * 1000L;
        // A wave that arrived while the one before was being taken may have had its moment meanwhile.
        if (LinesReadyUs(nowUs) > open + LateUs)
        {
            WavesMissed++;
            return;
        }
        ChancePercent = _order.BestMoment ? FiringAdvice.WholePercent(chance) : -1;
        Aim(open, turn, nowUs);
    }

    // Sets the moment of opening; 0 or a moment that has gone by means as soon as the lines and the camera allow.
    private void Aim(long openUs, long turnUs, long nowUs)
    {
        long linesUs = LinesReadyUs(nowUs);
        long wanted = openUs > linesUs ? openUs : linesUs;
        long ready = CameraReadyToOpenUs;
        if (ready > wanted + LateUs)
        {
            WavesMissed++;
            return;
        }
        TargetUs = ready > wanted ? ready : wanted;
        _thinking = false;
        _aimedTurnUs = turnUs;
        State = RunState.AwaitWave;
        HandOverWhenDue(nowUs);
    }

    // A frame put off by more than this has missed its wave.
    private const long LateUs = 300_000;

    private long CameraReadyToOpenUs => _player.CameraReadyUs + _camera.ShutterLagMs * 1000L;

    // The soonest that the shutter could open, as far as limiter, half-press and lag go.
    private long LinesReadyUs(long nowUs)
    {
        long from = nowUs > _notBeforeUs ? nowUs : _notBeforeUs;
        return from + PlanCompiler.LeadInUs(_camera, _player.HalfPressClosed) + _camera.ShutterLagMs * 1000L;
    }

    private bool TryTakeBack()
    {
        if (!_handedOver) return true;
        if (!_player.TryTakeBack()) return false;
        _handedOver = false;
        return true;
    }
}
