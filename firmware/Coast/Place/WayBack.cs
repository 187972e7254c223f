using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Place;

/// <summary>
/// Looks ahead for the moment to set off on the way back. For each low point of the path this is the time at which the tide reaches the
/// flood height less the margin, less the walk to that point, and less what the tide's source may be wrong by
/// (<see cref="TideAllowance"/>). The earliest of these moments counts. It works a few steps at a time.
/// </summary>
/// <remarks>
/// The tide is read every 10 minutes and interpolated in between from heights and rates (cubic Hermite). The curve is examined every minute,
/// so that a short high over a limit is seen. What it costs, with enough memory and with little, is in tests/Budgets.
/// </remarks>
public sealed class WayBack
{
    private const int StepSeconds = 600;
    private const int StepsPerCall = 8;
    private const int SlowStepsPerCall = 2;

    private readonly CoastPlace _place;
    private readonly TideWalker _walker;
    private readonly int _horizonSteps;
    private UtcInstant _now;
    private bool _trusted;
    private bool _started;
    private int _step;
    private double _height;
    private double _rate;
    private bool _cutNow;
    private bool _decided;
    private long _leaveBy;
    private long _changes;
    private long _end;
    private double _lowest;
    private int _point;
    private WayBackState _state;

    /// <summary>Creates a calculation for a place that looks 1 to 48 hours ahead.</summary>
    public WayBack(CoastPlace place, int horizonHours)
    {
        _place = place;
        _walker = place.Tide.CreateWalker();
        _horizonSteps = Elementary.Clamp(horizonHours, 1, 48) * 3600 / StepSeconds;
        Result = new WayBackResult(WayBackState.Uncertain, new UtcInstant(0), new UtcInstant(0), new UtcInstant(0), -1);
        Done = true;
    }

    /// <summary>The last finished result; its state is uncertain before the first.</summary>
    public WayBackResult Result { get; private set; }

    /// <summary>How many bytes the next calculation will add to the heap.</summary>
    public int BytesToCome => _walker.BytesToCome;

    /// <summary>True when no calculation is under way.</summary>
    public bool Done { get; private set; }

    /// <summary>Begins to work out the way back as it is at a moment.</summary>
    /// <param name="now">The moment.</param>
    /// <param name="clockTrusted">False when the clock was not set, has stopped or has jumped.</param>
    public void Begin(UtcInstant now, bool clockTrusted)
    {
        _now = now;
        _trusted = clockTrusted;
        _step = 0;
        _started = false;
        _decided = false;
        _cutNow = false;
        _point = -1;
        Done = false;
    }

    /// <summary>Does the next part of the calculation. Returns true when the result is ready.</summary>
    public bool Step()
    {
        if (Done) return true;
        if (!_started)
        {
            // Placing the walker is work enough for one call.
            _started = true;
            return !Start();
        }
        int steps = _walker.IsSlow ? SlowStepsPerCall : StepsPerCall;
        for (int n = 0; n < steps && _step < _horizonSteps; n++)
        {
            if (Next()) return true;
        }
        if (_step < _horizonSteps) return false;
        long horizon = _now.Seconds + (long)_step * StepSeconds;
        if (_cutNow) Finish(WayBackState.CutOff, _now.Seconds, horizon, _point);
        else EndAt(WayBackState.BeyondHorizon, horizon);
        return true;
    }

    /// <summary>Works out the way back at once.</summary>
    public WayBackResult WorkOut(UtcInstant now, bool clockTrusted)
    {
        Begin(now, clockTrusted);
        while (!Step()) { }
        return Result;
    }

    private bool Start()
    {
        if (!_trusted || !_now.IsValid || _place.Tide.CertaintyAt(_now) == TideCertainty.None)
        {
            Finish(WayBackState.Uncertain, _now.Seconds, _now.Seconds, -1);
            return false;
        }
        _end = _place.Tide.ValidUntil.Seconds;
        _lowest = _place.LowestCutMetres;
        _walker.Start(_now, StepSeconds);
        _height = _walker.HeightMetres;
        _rate = _walker.RateMetresPerHour;
        for (int i = 0; i < _place.PathCount; i++)
        {
            if (_height < _place.CutMetres(i)) continue;
            if (_point < 0 || _place.CutMetres(i) < _place.CutMetres(_point)) _point = i;
            _cutNow = true;
        }
        return true;
    }

    // Goes on by 10 minutes. Returns true when the result is ready.
    private bool Next()
    {
        long before = _now.Seconds + (long)_step * StepSeconds;
        if (before + StepSeconds > _end)
        {
            if (_cutNow) Finish(WayBackState.CutOff, _now.Seconds, _end, _point);
            else EndAt(WayBackState.DataEnds, _end);
            return true;
        }
        double height = _height, rate = _rate, lowest = _lowest;
        _walker.Advance();
        _step++;
        double nextHeight = _walker.HeightMetres, nextRate = _walker.RateMetresPerHour;
        _height = nextHeight;
        _rate = nextRate;
        double last = height;
        for (int minute = 1; minute <= 10; minute++)
        {
            double here = Hermite(minute / 10.0, height, rate, nextHeight, nextRate);
            if (here >= lowest)
            {
                if (!_cutNow) Look(before, minute, last, here);
            }
            else if (_cutNow)
            {
                Finish(WayBackState.CutOff, _now.Seconds, before + (minute + _place.AllowanceMinutes) * 60, _point);
                return true;
            }
            last = here;
        }
        // Once the longest walk fits in between, no point that is cut later can require an earlier start.
        if (!_decided || before + StepSeconds - (_place.LongestWalkMinutes + _place.AllowanceMinutes) * 60 < _leaveBy) return false;
        Finish(_state, _leaveBy, _changes, _point);
        return true;
    }

    // Finds the points that the tide reaches in the minute that ends here.
    private void Look(long before, int minute, double last, double here)
    {
        for (int i = 0; i < _place.PathCount; i++)
        {
            double limit = _place.CutMetres(i);
            if (here < limit || last >= limit) continue;
            // divisor: the minute ends at or above the limit and begins below it
            double part = (limit - last) / (here - last);
            long cut = before + (minute - 1) * 60 + (long)(part * 60);
            long leave = cut - _place.BackMinutes(i) * 60;
            if (_decided && leave >= _leaveBy) continue;
            _decided = true;
            _leaveBy = leave;
            _changes = cut;
            _point = i;
            _state = leave <= _now.Seconds ? WayBackState.PastLeaveBy : WayBackState.Open;
        }
    }

    // At the end of what is known, or of the hours examined, the water is assumed to come at the point with the longest walk.
    private void EndAt(WayBackState state, long end)
    {
        // Beyond the horizon the prediction goes on and keeps its error. A table ends at a turn.
        int minutes = _place.LongestWalkMinutes + (state == WayBackState.BeyondHorizon ? _place.AllowanceMinutes : 0);
        long leave = end - minutes * 60;
        if (_decided && _leaveBy <= leave) Finish(_state, _leaveBy, _changes, _point);
        else if (leave <= _now.Seconds) Finish(WayBackState.Uncertain, _now.Seconds, end, -1);
        else Finish(state, leave, end, -1);
    }

    private void Finish(WayBackState state, long leaveBy, long changes, int point)
    {
        Result = new WayBackResult(state, _now, new UtcInstant(leaveBy), new UtcInstant(changes), point);
        Done = true;
    }

    private static double Hermite(double x, double h0, double r0, double h1, double r1)
    {
        double step = StepSeconds / 3600.0;
        double a = r0 * step - (h1 - h0);
        double b = (h1 - h0) - r1 * step;
        return h0 + x * (h1 - h0) + x * (1 - x) * ((1 - x) * a + x * b);
    }
}
