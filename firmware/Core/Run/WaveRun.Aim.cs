using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Run;

/// <summary>The moment at which a wave run opens the shutter: how it is found, and when it changes.</summary>
public sealed partial class WaveRun
{
    private const int MostAhead = 20;

    // A press this close to the expected turn of the wave before, as a share of the learned delay, may mark that turn and no arrival.
    private const double AtTurnShare = 0.25;
    private const int TappedTurnsDoubted = 3;

    // While a forecast is awaited, its chance is worked out again at this interval, µs.
    private const long RenewUs = 500_000;

    // A mark this close to the awaited forecast, as a share of the period, counts as the mark of that very wave.
    private const double SameWaveShare = 0.35;

    // Two presses this close, as a share of the learned delay, mark the same arrival; see WaveRhythm.ShortestPeriodSeconds too.
    private const double SameArrivalShare = 0.2;

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
        // The wave before this one has been fired on, or is skipped because of EveryWave.
        double share = _order.EveryWave - 0.5;
        _earliestTurnUs = _lastTurnUs == 0 ? 0 : _lastTurnUs + (long)(share * Rhythm.PeriodSeconds * 1e6);
        _ahead = 0;
        TryNextWave();
    }

    // Aims at the next wave that can be reached. Its best moment is searched for, one step in each pass.
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
            AwaitWave(turn, open);
            RenewChance(_askedUs);
            return;
        }
        Ask();
    }

    // Does one step of the search for the best moment.
    private void Think(long nowUs)
    {
        if (!Search.Step()) return;
        _thinking = false;
        if (Search.ReleaseUs < _earliestUs) TryNextWave();
        else
        {
            // The search took some passes of the thread, in which a moment that was close may have passed.
            long soonest = LinesReadyUs(nowUs);
            ShowChance(Search.Chance, nowUs);
            AwaitWave(_aimedTurnUs, Search.ReleaseUs > soonest ? Search.ReleaseUs : soonest);
        }
    }

    // The absence of a mark also says something, so the chance is worked out again while a forecast is awaited.
    private void RenewChance(long nowUs) => ShowChance(Search.ChanceNow(Rhythm, nowUs, TargetUs, SpanUs / 1e6, _order.BestMoment), nowUs);

    private void ShowChance(double chance, long nowUs)
    {
        ChancePercent = Rhythm.Lengths.Ready ? FiringAdvice.WholePercent(chance) : -1;
        _chanceUs = nowUs + RenewUs;
    }

    private void AwaitWave(long turnUs, long openUs)
    {
        _aimedTurnUs = turnUs;
        TargetUs = openUs;
        State = RunState.AwaitWave;
    }

    // Handles a new mark during the wait. It is the mark of the awaited wave, a little off its forecast, or that of an earlier one.
    private void ReAim(long atUs, long nowUs)
    {
        long off = _aimedTurnUs - atUs;
        if (off < 0) off = -off;
        if (off < (long)(SameWaveShare * Rhythm.PeriodSeconds * 1e6))
        {
            _chanceUs = 0;
            if (Aim(_order.BestMoment ? 0 : atUs + _order.FromTurnMs * 1000L, atUs, nowUs)) ReckonAfterPress(TargetUs - atUs);
        }
        else AimAtRhythm(nowUs);
    }

    private void MarkArrival(long atUs, long nowUs)
    {
        double sameSeconds = Elementary.Max(WaveRhythm.ShortestPeriodSeconds, SameArrivalShare * Delay.DelaySeconds);
        if (_arrivalUs != 0 && atUs - _arrivalUs < sameSeconds * 1e6) return;
        // divisor: a constant
        if (_arrivalUs != 0) WatchForTappedTurns((atUs - _arrivalUs) / 1e6);
        _arrivalUs = atUs;
        Delay.Arrival(atUs);
        if (State == RunState.AwaitMark)
        {
            AimAtArrival(atUs, nowUs);
            return;
        }
        // The wave before is still awaited or being taken.
        if (_waitingArrivalUs != 0 && _order.EveryWave == 1) WavesMissed++;
        _waitingArrivalUs = atUs;
    }

    // Arrivals come at any time. When every other press falls on the moment at which the wave before should turn, those presses mark turns.
    private void WatchForTappedTurns(double sinceSeconds)
    {
        double off = sinceSeconds - Delay.DelaySeconds;
        if (off < 0) off = -off;
        bool atTurn = Delay.Ready && off < AtTurnShare * Delay.DelaySeconds;
        if (atTurn == _tappedAtTurn) _tappedTurns = 0;
        else if (atTurn && _tappedTurns < TappedTurnsDoubted) _tappedTurns++;
        _tappedAtTurn = atTurn;
    }

    private void AimAtArrival(long arrivalUs, long nowUs)
    {
        if (!Delay.TryForecast(arrivalUs, out long turn, out double spread) || !Delay.TryRelease(arrivalUs, SpanUs / 1e6, out long best, out double chance)) return;
        _marksSinceFire++;
        if (_marksSinceFire < _order.EveryWave) return;
        long open = _order.BestMoment ? best : turn + _order.FromTurnMs * 1000L;
        // When a wave arrived while the one before was being taken, its moment may have passed meanwhile.
        if (LinesReadyUs(nowUs) > open + LateUs)
        {
            WavesMissed++;
            return;
        }
        if (Doubtful) chance /= 2;
        ChancePercent = _order.BestMoment && Delay.Timed ? FiringAdvice.WholePercent(chance) : -1;
        Aim(open, turn, nowUs);
    }

    // Sets the moment of opening. With 0, or a moment that has passed, the shutter opens as soon as the lines and the camera allow.
    private bool Aim(long openUs, long turnUs, long nowUs)
    {
        long linesUs = LinesReadyUs(nowUs);
        long wanted = openUs > linesUs ? openUs : linesUs;
        long ready = CameraReadyToOpenUs;
        if (ready > wanted + LateUs)
        {
            WavesMissed++;
            return false;
        }
        TargetUs = ready > wanted ? ready : wanted;
        _thinking = false;
        _aimedTurnUs = turnUs;
        State = RunState.AwaitWave;
        HandOverWhenDue(nowUs);
        return true;
    }

    // A frame that would be delayed by more than this has missed its wave.
    private const long LateUs = 300_000;

    private long CameraReadyToOpenUs => _player.CameraReadyUs + _camera.ShutterLagMs * 1000L;

    // The soonest that the shutter could open as far as the limiter, half-press and the camera's lag allow.
    private long LinesReadyUs(long nowUs)
    {
        long from = nowUs > _notBeforeUs ? nowUs : _notBeforeUs;
        return from + PlanCompiler.SoonestOpenUs(_camera, _player.HalfPressClosed);
    }

    private bool TryTakeBack()
    {
        if (!_handedOver) return true;
        if (!_player.TryTakeBack()) return false;
        _handedOver = false;
        return true;
    }
}
