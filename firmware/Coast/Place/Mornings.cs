using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Place;

/// <summary>
/// Searches the coming days for mornings and evenings that fit a wish, and lists the best. It works in small steps, so that a screen can
/// show progress and no shutter edge has to wait.
/// </summary>
/// <remarks>
/// Sunrise and sunset are found from those of the day before. The tide is read every 5 minutes inside the window. Only where it falls
/// through the band for long enough there, the tide during the walk to the stand and in the hours after the window is read as well. What
/// a search costs is in tests/Budgets. The list is kept as rows of numbers, because on the device every field of an object takes 12 bytes.
/// </remarks>
public sealed class Mornings
{
    private const int StepSeconds = 300;
    private const int StepsPerCall = 36;
    // Room for the longest windows, 180 min on each side, with the longest walk, 600 min there and back, and the largest allowance.
    private const int MostSamples = 420;
    private const int BeyondMinutes = 60;
    private const int FarMinutes = 360;

    // How many numbers a row has: times in seconds from the search's first instant, and other numbers.
    private const int Times = 5;
    private const int Numbers = 4;
    private const int Score = 3;
    private const int Evening = 1;
    private const int Closes = 2;

    // The stages of the search: what the next call does.
    private const int PlaceSun = 0;
    private const int TimeSun = 1;
    private const int PlaceTide = 2;
    private const int WalkTide = 3;

    // The parts of the tide that are read.
    private const int Window = 0;
    private const int Behind = 1;
    private const int WayIn = 2;

    private readonly CoastPlace _place;
    private readonly MorningWish _wish;
    private readonly UtcInstant _from;
    private readonly int _days;
    // There is one row more than can be kept, so that the next find has room before it is ranked.
    private readonly byte[] _kind;
    private readonly int[] _times;
    private readonly double[] _numbers;
    private readonly short[] _order;
    private readonly int _longestWalk;
    private readonly int _longestBack;
    private TideWalker? _walker;
    // A float holds a height below 20 m to 0.001 mm.
    private float[] _heights;
    private bool[] _falling;
    private SunDay? _sunDay;
    // For sunrise and for sunset: when it was on the day before (0 for unknown), and by how much more or less than a day that was after the one before it.
    private readonly double[] _sunSeconds = new double[2];
    private readonly double[] _sunShift = new double[2];
    private int _minutes;
    private int _day;
    private bool _evening;
    private int _stage;
    private long _sun;
    private long _start;
    private int _firstInWindow;
    private int _lastInWindow;
    private int _wanted;
    private int _part;
    private int _count;
    private int _to;

    /// <summary>Creates a search.</summary>
    /// <param name="place">The place.</param>
    /// <param name="wish">What is wanted.</param>
    /// <param name="from">An instant within the first local day.</param>
    /// <param name="days">How many days, 1 to 366.</param>
    /// <param name="capacity">How many of the best are kept, 1 to 732: two a day for a year.</param>
    public Mornings(CoastPlace place, MorningWish wish, UtcInstant from, int days, int capacity)
    {
        _place = place;
        _wish = wish;
        _from = place.Offset.MidnightBefore(from).PlusHours(12);
        _days = Elementary.Clamp(days, 1, 366);
        _longestWalk = place.LongestWalkMinutes;
        _longestBack = _longestWalk + place.AllowanceMinutes;
        int most = Elementary.Clamp((wish.BeforeMinutes + wish.AfterMinutes + _longestWalk + _longestBack + BeyondMinutes + FarMinutes) * 60 / StepSeconds + 1, 1, MostSamples);
        _heights = new float[most];
        _falling = new bool[most];
        int rows = Elementary.Clamp(capacity, 1, 732) + 1;
        _kind = new byte[rows];
        _times = new int[rows * Times];
        _numbers = new double[rows * Numbers];
        _order = new short[rows];
        for (int i = 0; i < rows; i++) _order[i] = (short)i;
        _evening = !wish.Mornings;
    }

    /// <summary>True when every day has been examined.</summary>
    public bool Done => _day >= _days;

    /// <summary>Progress in per cent, 0 to 100.</summary>
    public int Percent => _day * 100 / _days;

    /// <summary>How many fitting ones are listed so far, at most the capacity.</summary>
    public int Count { get; private set; }

    /// <summary>How many mornings and evenings could not be judged, because the tide is not known then.</summary>
    public int Unknown { get; private set; }

    /// <summary>How many mornings and evenings have no sunrise or sunset.</summary>
    public int WithoutSun { get; private set; }

    /// <summary>The morning or evening of a rank, best first, at present: another may take the rank while the search runs. Every call creates an object.</summary>
    public Morning this[int rank]
    {
        get
        {
            int row = _order[rank];
            int t = row * Times, n = row * Numbers;
            Morning morning = new Morning();
            morning.IsEvening = (_kind[row] & Evening) != 0;
            morning.PathCloses = (_kind[row] & Closes) != 0;
            morning.SetTimes(Instant(t), Instant(t + 1), Instant(t + 2), Instant(t + 3), Instant(t + 4));
            morning.SunAzimuthDegrees = _numbers[n];
            morning.FromMetres = _numbers[n + 1];
            morning.ToMetres = _numbers[n + 2];
            morning.Score = _numbers[n + Score];
            return morning;
        }
    }

    /// <summary>Does the next step of the search. Returns true when it is done.</summary>
    public bool Step()
    {
        if (Done) return true;
        if (!_wish.Mornings && !_wish.Evenings) _day = _days;
        else if (_stage == PlaceSun) PlaceDay();
        else if (_stage == TimeSun) TimeDay();
        else if (_stage == PlaceTide) StartWalk();
        else Walk();
        if (!Done) return false;
        // The list stays; what the search needed to find it is let go.
        _walker = null;
        _sunDay = null;
        _heights = new float[0];
        _falling = new bool[0];
        return true;
    }

    // An evening uses the day that was worked out for its morning.
    private void PlaceDay()
    {
        UtcInstant noon = _from.PlusDays(_day);
        int minutes = _place.Offset.MinutesAt(noon);
        int kind = _evening ? 1 : 0;
        // On a day with another offset the noon may be elsewhere, so that day is worked out in full.
        if (minutes != _minutes) _sunSeconds[0] = _sunSeconds[1] = 0;
        _minutes = minutes;
        double last = _sunSeconds[kind];
        if (last != 0 && SunDay.TryNear(_place.Position, last + UtcInstant.SecondsPerDay + _sunShift[kind], !_evening, out double at))
        {
            _sunShift[kind] = at - last - UtcInstant.SecondsPerDay;
            _sunSeconds[kind] = at;
            SetWindow(Elementary.Round(at));
            return;
        }
        if (_sunDay == null) _sunDay = new SunDay(_place.Position, _place.Offset, noon);
        _stage = TimeSun;
    }

    private void TimeDay()
    {
        SunEvent sun = _evening ? _sunDay!.Set : _sunDay!.Rise;
        int kind = _evening ? 1 : 0;
        _sunSeconds[kind] = sun.Happens ? sun.Time.Seconds : 0;
        _sunShift[kind] = 0;
        if (sun.Happens)
        {
            SetWindow(sun.Time.Seconds);
            return;
        }
        WithoutSun++;
        Next();
    }

    private void SetWindow(long sun)
    {
        _sun = sun;
        long windowStart = _sun - _wish.BeforeMinutes * 60;
        long windowEnd = _sun + _wish.AfterMinutes * 60;
        _start = windowStart - _longestWalk * 60;
        // The tide must be known for the window, the walk back and one hour. Where it is known for six hours more, they show the leave-by time.
        long end = windowEnd + (_longestBack + BeyondMinutes) * 60;
        if (!_place.Tide.Covers(new UtcInstant(_start), new UtcInstant(end)))
        {
            Unknown++;
            Next();
            return;
        }
        long far = end + FarMinutes * 60;
        long known = _place.Tide.ValidUntil.Seconds;
        if (far >= known) far = known;
        _wanted = Elementary.Clamp((int)((far - _start) / StepSeconds) + 1, 1, _heights.Length);
        _firstInWindow = (_longestWalk * 60 + StepSeconds - 1) / StepSeconds;
        _lastInWindow = (int)((windowEnd - _start) / StepSeconds);
        _part = Window;
        _count = _firstInWindow;
        _to = _lastInWindow + 1;
        _stage = PlaceTide;
    }

    private void StartWalk()
    {
        if (_walker == null) _walker = _place.Tide.CreateWalker();
        _walker.Start(new UtcInstant(_start + (long)_count * StepSeconds), StepSeconds);
        Sample(_walker);
        _stage = WalkTide;
    }

    private void Walk()
    {
        TideWalker walker = _walker!;
        for (int n = 0; n < StepsPerCall && _count < _to; n++)
        {
            walker.Advance();
            Sample(walker);
        }
        if (_count < _to) return;
        if (_part == Window)
        {
            // The other parts matter only where the tide falls through the band for long enough.
            if (!WorthTheWalk())
            {
                Next();
                return;
            }
            _part = Behind;
            _to = _wanted;
            return;
        }
        if (_part == Behind && _firstInWindow > 0)
        {
            _part = WayIn;
            _count = 0;
            _to = _firstInWindow;
            _stage = PlaceTide;
            return;
        }
        Judge();
        Next();
    }

    // True when the samples of the window hold a wanted stretch that is as long as the work.
    private bool WorthTheWalk()
    {
        int run = 0;
        for (int i = _firstInWindow; i <= _lastInWindow; i++)
        {
            run = Wanted(i) ? run + 1 : 0;
            if ((run - 1) * StepSeconds >= _wish.WorkMinutes * 60) return true;
        }
        return false;
    }

    private void Sample(TideWalker walker)
    {
        _heights[_count] = (float)walker.HeightMetres;
        _falling[_count] = walker.RateMetresPerHour < 0;
        _count++;
    }

    private void Next()
    {
        _stage = PlaceSun;
        if (!_evening && _wish.Evenings)
        {
            _evening = true;
            return;
        }
        _evening = !_wish.Mornings;
        _sunDay = null;
        _day++;
    }

    private void Judge()
    {
        int walk = (_longestWalk * 60 + StepSeconds - 1) / StepSeconds;
        double limit = _place.LowestCutMetres;
        float[] heights = _heights;
        int clear = 0;
        for (int first = 0; first <= _lastInWindow; first++)
        {
            clear = heights[first] < limit ? clear + 1 : 0;
            if (clear <= walk || !Wanted(first)) continue;
            int leave = LeaveSample(first, out bool closes);
            int last = first;
            while (last + 1 <= leave && Wanted(last + 1)) last++;
            if ((last - first) * StepSeconds < _wish.WorkMinutes * 60)
            {
                // The stretch is too short, so the search goes on after it. Up to the time to leave every low point is clear.
                clear += last - first;
                first = last;
                continue;
            }
            Keep(first, last, leave, closes);
            return;
        }
    }

    private bool Wanted(int sample)
    {
        if (sample < _firstInWindow || sample > _lastInWindow || !_falling[sample]) return false;
        double height = _heights[sample];
        return height <= _wish.HighMetres && height >= _wish.LowMetres;
    }

    // The last sample at which one can set off and still pass every low point in time. The search begins at a sample where all are clear.
    private int LeaveSample(int from, out bool closes)
    {
        closes = false;
        int count = _wanted;
        float[] heights = _heights;
        int leave = count - 1;
        for (int i = 0; i < _place.PathCount; i++)
        {
            int walk = (_place.BackMinutes(i) * 60 + StepSeconds - 1) / StepSeconds;
            double limit = _place.CutMetres(i);
            for (int k = from; k < count; k++)
            {
                if (heights[k] < limit) continue;
                // The point is cut somewhere in the five minutes before this sample.
                int by = k - 1 - walk;
                if (by < leave) leave = by;
                closes = true;
                break;
            }
        }
        return leave;
    }

    private void Keep(int first, int last, int leave, bool closes)
    {
        int spare = _order[_order.Length - 1];
        long workStart = _start + (long)first * StepSeconds, workEnd = _start + (long)last * StepSeconds;
        int t = spare * Times, n = spare * Numbers;
        _kind[spare] = (byte)((_evening ? Evening : 0) | (closes ? Closes : 0));
        _times[t] = FromStart(_sun);
        _times[t + 1] = FromStart(workStart - _place.WalkInMinutes * 60);
        _times[t + 2] = FromStart(workStart);
        _times[t + 3] = FromStart(workEnd);
        _times[t + 4] = FromStart(_start + (long)leave * StepSeconds);
        _numbers[n] = Sky.Sun.At((double)_sun, _place.Position).AzimuthDegrees;
        _numbers[n + 1] = _heights[first];
        _numbers[n + 2] = _heights[last];
        double middle = (workStart - _sun + (workEnd - _sun)) / 120.0;
        double over = Elementary.Min((leave - last) * (StepSeconds / 60.0), 60.0);
        double score = (int)((workEnd - workStart) / 60) - Elementary.Abs(middle) / 4 + over / 4;
        _numbers[n + Score] = score;

        int at = Count;
        while (at > 0 && _numbers[_order[at - 1] * Numbers + Score] < score) at--;
        if (at >= _order.Length - 1) return;
        int end = _order.Length - 2;
        // The row that falls off the end of the list, or that was free, becomes the spare one.
        short free = _order[end];
        for (int i = end; i > at; i--) _order[i] = _order[i - 1];
        _order[at] = (short)spare;
        _order[_order.Length - 1] = free;
        if (Count < _order.Length - 1) Count++;
    }

    private int FromStart(long seconds) => (int)(seconds - _from.Seconds);

    private long Instant(int index) => _from.Seconds + _times[index];
}
