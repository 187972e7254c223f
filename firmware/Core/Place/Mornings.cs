using Intervalometer.Core.Numerics;
using Intervalometer.Core.Sky;
using Intervalometer.Core.Tide;
using Intervalometer.Core.Time;

namespace Intervalometer.Core.Place;

/// <summary>
/// Looks through the coming days for mornings and evenings that fit a wish and lists the best, a small step at a time so
/// that a screen can show progress and no shutter edge waits.
/// </summary>
/// <remarks>
/// The tide is read every 5 minutes. Cost by counting IL for one morning with 37 constituents: sun 80 thousand, about 110
/// steps of 2.2 thousand, one or two days prepared at 20 thousand: 0.36 million, 0.7 s at 500 thousand a second; 60 mornings
/// 45 s, in calls of at most 0.2 s. Allocates one small object a day.
/// </remarks>
public sealed class Mornings
{
    private const int StepSeconds = 300;
    private const int StepsPerCall = 12;
    private const int MostSamples = 192;

    private readonly CoastPlace _place;
    private readonly MorningWish _wish;
    private readonly UtcInstant _from;
    private readonly int _days;
    private readonly TideWalker _walker;
    private readonly Morning[] _ranked;
    private readonly double[] _heights = new double[MostSamples];
    private readonly bool[] _falling = new bool[MostSamples];
    private Morning _spare = new Morning();
    private int _day;
    private bool _evening;
    private bool _walking;
    private SunEvent _sun;
    private UtcInstant _start;
    private UtcInstant _windowStart;
    private UtcInstant _windowEnd;
    private int _wanted;
    private int _count;

    /// <summary>A search.</summary>
    /// <param name="place">Where.</param>
    /// <param name="wish">What for.</param>
    /// <param name="from">The first local day is the one that holds this instant.</param>
    /// <param name="days">How many days, 1 to 366.</param>
    /// <param name="capacity">How many of the best to keep, 1 to 400.</param>
    public Mornings(CoastPlace place, MorningWish wish, UtcInstant from, int days, int capacity)
    {
        _place = place;
        _wish = wish;
        _from = place.Offset.MidnightBefore(from).PlusHours(12);
        _days = Elementary.Clamp(days, 1, 366);
        _walker = place.Tide.CreateWalker();
        _ranked = new Morning[Elementary.Clamp(capacity, 1, 400)];
        for (int i = 0; i < _ranked.Length; i++) _ranked[i] = new Morning();
        _evening = !wish.Mornings;
    }

    /// <summary>True when every day has been looked at.</summary>
    public bool Done => _day >= _days;

    /// <summary>Progress in percent, 0 to 100.</summary>
    public int Percent => _day * 100 / _days;

    /// <summary>How many fit so far, at most the capacity.</summary>
    public int Count { get; private set; }

    /// <summary>Mornings and evenings that could not be judged because the tide is not known then.</summary>
    public int Unknown { get; private set; }

    /// <summary>One that fits, best first. It may be replaced while the search runs.</summary>
    public Morning this[int rank] => _ranked[rank];

    /// <summary>Works on. True when done.</summary>
    public bool Step()
    {
        if (Done) return true;
        if (!_wish.Mornings && !_wish.Evenings)
        {
            _day = _days;
            return true;
        }
        if (!_walking)
        {
            Begin();
            return Done;
        }
        for (int n = 0; n < StepsPerCall && _count < _wanted; n++)
        {
            if (_count > 0) _walker.Advance();
            _heights[_count] = _walker.HeightMetres;
            _falling[_count] = _walker.RateMetresPerHour < 0;
            _count++;
        }
        if (_count < _wanted) return false;
        Judge();
        Next();
        return Done;
    }

    private void Begin()
    {
        SunDay day = new SunDay(_place.Position, _place.Offset, _from.PlusDays(_day));
        _sun = _evening ? day.Set : day.Rise;
        if (!_sun.Happens)
        {
            Next();
            return;
        }
        _windowStart = _sun.Time.PlusMinutes(-_wish.BeforeMinutes);
        _windowEnd = _sun.Time.PlusMinutes(_wish.AfterMinutes);
        _start = _windowStart.PlusMinutes(-_place.LongestWalkMinutes);
        // The window, the walk back and an hour must be known; six hours more, where they are, name the leave-by time.
        UtcInstant end = _windowEnd.PlusMinutes(_place.LongestWalkMinutes + 60);
        if (!_place.Tide.Covers(_start, end))
        {
            Unknown++;
            Next();
            return;
        }
        UtcInstant far = end.PlusHours(6) < _place.Tide.ValidUntil ? end.PlusHours(6) : _place.Tide.ValidUntil;
        _wanted = Elementary.Clamp((int)(far.SecondsSince(_start) / StepSeconds) + 1, 1, MostSamples);
        _walker.Start(_start, StepSeconds);
        _count = 0;
        _walking = true;
    }

    private void Next()
    {
        _walking = false;
        if (!_evening && _wish.Evenings)
        {
            _evening = true;
            return;
        }
        _evening = !_wish.Mornings;
        _day++;
    }

    private UtcInstant At(int sample) => _start.PlusSeconds((long)sample * StepSeconds);

    private void Judge()
    {
        int walk = (_place.LongestWalkMinutes * 60 + StepSeconds - 1) / StepSeconds;
        double limit = _place.LowestLimitMetres;
        int clear = 0;
        for (int first = 0; first < _count; first++)
        {
            clear = _heights[first] < limit ? clear + 1 : 0;
            if (At(first) > _windowEnd) return;
            if (clear <= walk || !Wanted(first)) continue;
            int leave = LeaveSample(first, out bool closes);
            int last = first;
            while (last + 1 < _count && last + 1 <= leave && Wanted(last + 1)) last++;
            if ((last - first) * StepSeconds < _wish.WorkMinutes * 60)
            {
                // The run is too short: go on behind it.
                for (int k = first + 1; k <= last; k++) clear = _heights[k] < limit ? clear + 1 : 0;
                first = last;
                continue;
            }
            Keep(first, last, leave, closes);
            return;
        }
    }

    private bool Wanted(int sample) =>
        _falling[sample] && _heights[sample] <= _wish.HighMetres && _heights[sample] >= _wish.LowMetres
        && At(sample) >= _windowStart && At(sample) <= _windowEnd;

    // The last sample at which every low point can still be passed in time, seen from a sample where all are clear.
    private int LeaveSample(int from, out bool closes)
    {
        closes = false;
        int leave = _count - 1;
        for (int i = 0; i < _place.PathCount; i++)
        {
            PathPoint point = _place.PathPoint(i);
            int walk = (point.WalkMinutes * 60 + StepSeconds - 1) / StepSeconds;
            for (int k = from; k < _count; k++)
            {
                if (_heights[k] < point.LimitMetres) continue;
                // Cut somewhere in the five minutes before this sample.
                if (k - 1 - walk < leave) leave = k - 1 - walk;
                closes = true;
                break;
            }
        }
        return leave;
    }

    private void Keep(int first, int last, int leave, bool closes)
    {
        Morning morning = _spare;
        morning.IsEvening = _evening;
        morning.Sun = _sun.Time;
        morning.SunAzimuthDegrees = _sun.AzimuthDegrees;
        morning.WorkStart = At(first);
        morning.WorkEnd = At(last);
        morning.SetOffAt = At(first).PlusMinutes(-_place.WalkInMinutes);
        morning.LeaveBy = At(leave);
        morning.PathCloses = closes;
        morning.FromMetres = _heights[first];
        morning.ToMetres = _heights[last];
        double middle = (morning.WorkStart.SecondsSince(_sun.Time) + morning.WorkEnd.SecondsSince(_sun.Time)) / 120.0;
        double over = Elementary.Min((leave - last) * (StepSeconds / 60.0), 60.0);
        morning.Score = morning.WorkMinutes - Elementary.Abs(middle) / 4 + over / 4;

        int at = Count;
        while (at > 0 && _ranked[at - 1].Score < morning.Score) at--;
        if (at >= _ranked.Length) return;
        int end = Count < _ranked.Length ? Count : _ranked.Length - 1;
        _spare = _ranked[end];
        for (int i = end; i > at; i--) _ranked[i] = _ranked[i - 1];
        _ranked[at] = morning;
        if (Count < _ranked.Length) Count++;
    }
}
