using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Run;

/// <summary>The moment of a wave run: where it comes from, and when it moves.</summary>
public sealed partial class WaveRun
{
    private const int MostAhead = 20;

    // A press this close to the expected turn of the wave before, as a share of the learned delay, may be that turn.
    private const double AtTurnShare = 0.25;
    private const int TappedTurnsDoubted = 3;

    // The chance of an awaited forecast is renewed so often.
    private const long RenewUs = 500_000;

    // A mark this close to a pending forecast is taken as that very wave, as a share of the period.
    private const double SameWaveShare = 0.35;

    // Two presses this close are one arrival, as a share of the learned delay; see WaveRhythm.ShortestPeriodSeconds too.
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
            AwaitWave(turn, open);
            RenewChance(_askedUs);
            return;
        }
        Ask();
    }

    // One step of the search for the best moment.
    private void Think(long nowUs)
    {
        if (!Search.Step()) return;
        _thinking = false;
        if (Search.ReleaseUs < _earliestUs) TryNextWave();
        else
        {
            // The turns that went by meanwhile may have eaten up a moment that was close.
            long soonest = LinesReadyUs(nowUs);
            ShowChance(Search.Chance, nowUs);
            AwaitWave(_aimedTurnUs, Search.ReleaseUs > soonest ? Search.ReleaseUs : soonest);
        }
    }

    // That no mark comes is news as well, so the chance is worked out again while a forecast is awaited.
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

    // A fresh mark during the wait: either this is the awaited wave, a little off its forecast, or an earlier one.
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
        // The wave before is still being waited for or taken.
        if (_waitingArrivalUs != 0 && _order.EveryWave == 1) WavesMissed++;
        _waitingArrivalUs = atUs;
    }

    // Arrivals come when they come. Every other press at the moment when the wave before should turn is a turn that was tapped.
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
        // A wave that arrived while the one before was being taken may have had its moment meanwhile.
        if (LinesReadyUs(nowUs) > open + LateUs)
        {
            WavesMissed++;
            return;
        }
        if (Doubtful) chance /= 2;
        ChancePercent = _order.BestMoment && Delay.Timed ? FiringAdvice.WholePercent(chance) : -1;
        Aim(open, turn, nowUs);
    }

    // Sets the moment of opening; 0 or a moment that has gone by means as soon as the lines and the camera allow.
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

    // A frame put off by more than this has missed its wave.
    private const long LateUs = 300_000;

    private long CameraReadyToOpenUs => _player.CameraReadyUs + _camera.ShutterLagMs * 1000L;

    // The soonest that the shutter could open, as far as limiter, half-press and lag go.
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
