using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>The way in which a tide rises and falls, as a person has said.</summary>
public enum TideShape
{
    /// <summary>Nobody has said anything: the tide may stand at high water, or have double high or low waters.</summary>
    Any,

    /// <summary>The tide rises and falls evenly, with no stand and no double high or low water.</summary>
    Plain,

    /// <summary>There is one high water a day for part of the month, so that turns may be more than 16 hours apart.</summary>
    Daily,

    /// <summary>Between printed turns the tide rises and falls as the sum of the place's own constituents does between its turns.</summary>
    AsSum,

    /// <summary>The same with the constituents of a neighbouring port, which may have a stand where the place has none.</summary>
    AsNeighbour,
}

/// <summary>
/// The tide between high and low waters that were typed in from a printed table. It follows half a cosine from each turn to the next or,
/// on request, the sum of constituents between its own turns (<see cref="TakeShape"/>).
/// </summary>
/// <remarks>
/// The half cosine between turns is the common hand method of tide tables. Compared with a full prediction, its largest error has a
/// median of 3 % of the range at an open coast and 9 % in a river (computed for Boston and Philadelphia over a year).
/// Only the time between the first and the last turn is covered. Outside it nothing is known.
/// </remarks>
public sealed class PrintedTide : TideSource
{
    /// <summary>The most turns it can hold: four a day for a week, and one more.</summary>
    public const int Capacity = 29;

    // Two plain arrays, created with the first turn, because on the device every struct in an array is an object of its own. High and low
    // waters alternate, beginning with the first.
    private long[]? _seconds;
    private double[]? _metres;
    private bool _firstIsHigh;
    private TideLikeness? _like;

    /// <summary>How many turns are typed in.</summary>
    public int Count { get; private set; }

    /// <summary>A turn, 0 to <see cref="Count"/> - 1.</summary>
    public TideTurn this[int index] => new TideTurn(new UtcInstant(_seconds![index]), _metres![index], IsHigh(index));

    /// <summary>Removes every turn.</summary>
    public void Clear() => Count = 0;

    /// <summary>Removes every turn from the given one on.</summary>
    public void CutAt(int count)
    {
        if (count >= 0 && count < Count) Count = count;
    }

    /// <summary>The longest gap between two turns of a tide with two high waters a day, seconds. A longer gap may hide two turns that were left out.</summary>
    public const int UsualGapSeconds = 16 * 3600;

    // Small double waters turn within minutes. A tide with one high water a day turns within a little more than 25 h.
    private const int LeastGapSeconds = 300;
    private const int MostGapSeconds = 30 * 3600;

    /// <summary>The first turn, 1 and up, that comes so long after the one before that two turns may have been left out; 0 when there is none. It is always 0 for a tide with one high water a day.</summary>
    public int Doubtful(TideShape shape)
    {
        for (int i = 1; i < Count && shape != TideShape.Daily; i++)
            if (_seconds![i] - _seconds[i - 1] > UsualGapSeconds) return i;
        return 0;
    }

    /// <summary>
    /// Adds the next turn in order of time. Returns null when it was added, and otherwise one line that says why not. Turns must come in
    /// order, alternate between high and low, and be 5 minutes to 30 hours apart. A high must not be below its lows; equal heights are allowed.
    /// </summary>
    public string? Add(UtcInstant time, double heightMetres, bool isHigh)
    {
        if (!time.IsValid) return "The date is outside 2000 to 2099.";
        if (Count >= Capacity) return "No room for more than " + Capacity.ToString() + " turns.";
        if (Count > 0)
        {
            bool lastIsHigh = IsHigh(Count - 1);
            double lastMetres = _metres![Count - 1];
            long gap = time.Seconds - _seconds![Count - 1];
            if (gap <= 0) return "Turns must be typed in order of time.";
            if (isHigh == lastIsHigh) return isHigh ? "Two high waters in a row: one low is missing." : "Two low waters in a row: one high is missing.";
            if (gap < LeastGapSeconds || gap > MostGapSeconds) return "Turns are 5 min to 30 h apart.";
            if (isHigh ? heightMetres < lastMetres : heightMetres > lastMetres) return "A high water must stand above its low water.";
        }
        if (_seconds == null || _metres == null)
        {
            _seconds = new long[Capacity];
            _metres = new double[Capacity];
        }
        if (Count == 0) _firstIsHigh = isHigh;
        _seconds[Count] = time.Seconds;
        _metres[Count] = heightMetres;
        Count++;
        return null;
    }

    /// <summary>
    /// Asks for the shape of a sum between the turns, once all turns are there. Each turn must be found in the sum, one with each
    /// <see cref="ShapeStep"/>. The half cosine stays until all are found, and for good when one cannot be found.
    /// </summary>
    public void TakeShape(HarmonicTide like) => _like = new TideLikeness(this, like);

    /// <summary>True when no turn is left to look for in a sum.</summary>
    public bool ShapeDone => _like == null || _like.Done;

    /// <summary>True when the tide follows a sum between all its turns.</summary>
    public bool IsShaped => _like != null && _like.Found;

    /// <summary>Looks for the next turn in the sum.</summary>
    public void ShapeStep()
    {
        if (!ShapeDone) _like!.Step();
    }

    /// <inheritdoc/>
    public override double WalkErrorMetres => IsShaped ? _like!.WalkErrorMetres : 0;

    /// <inheritdoc/>
    public override UtcInstant ValidFrom => Count > 0 ? new UtcInstant(_seconds![0]) : new UtcInstant(0);

    /// <inheritdoc/>
    public override UtcInstant ValidUntil => Count > 0 ? new UtcInstant(_seconds![Count - 1]) : new UtcInstant(0);

    /// <inheritdoc/>
    public override TideCertainty CertaintyAt(UtcInstant time) =>
        Count >= 2 && time >= ValidFrom && time <= ValidUntil ? TideCertainty.Interpolated : TideCertainty.None;

    /// <inheritdoc/>
    public override double HeightMetres(UtcInstant time)
    {
        if (Count == 0) return 0;
        int i = Segment(time);
        if (i < 0) return time.Seconds < _seconds![0] ? _metres![0] : _metres![Count - 1];
        if (IsShaped) return _like!.HeightMetres(i, time.Seconds);
        double middle = (_metres![i] + _metres![i + 1]) / 2;
        double half = (_metres![i] - _metres![i + 1]) / 2;
        return middle + half * Elementary.Cos(Angle(i, time));
    }

    /// <inheritdoc/>
    public override double RateMetresPerHour(UtcInstant time)
    {
        int i = Segment(time);
        if (i < 0) return 0;
        if (IsShaped) return _like!.RateMetresPerHour(i, time.Seconds);
        double half = (_metres![i] - _metres![i + 1]) / 2;
        double hours = (_seconds![i + 1] - _seconds[i]) / 3600.0;
        return hours <= 0 ? 0 : -half * Elementary.Sin(Angle(i, time)) * Elementary.Pi / hours;
    }

    /// <inheritdoc/>
    public override bool TryNextTurn(UtcInstant after, out TideTurn turn)
    {
        turn = default;
        for (int i = 0; i < Count; i++)
        {
            if (_seconds![i] <= after.Seconds) continue;
            turn = this[i];
            return turn.Time.SecondsSince(after) <= 48 * 3600;
        }
        return false;
    }

    /// <inheritdoc/>
    public override void SpareMemory()
    {
        if (_like != null) _like.Sum.SpareMemory();
    }

    /// <inheritdoc/>
    public override TideWalker CreateWalker() => _like == null ? new PlainWalker(this) : new LikenessWalker(this, _like);

    private bool IsHigh(int index) => index % 2 == 0 ? _firstIsHigh : !_firstIsHigh;

    // The index of the turn before a time, or -1 outside the table.
    internal int Segment(UtcInstant time)
    {
        for (int i = 0; i + 1 < Count; i++)
            if (time.Seconds >= _seconds![i] && time.Seconds <= _seconds[i + 1]) return i;
        return -1;
    }

    private double Angle(int i, UtcInstant time)
    {
        long span = _seconds![i + 1] - _seconds[i];
        return span <= 0 ? 0 : Elementary.Pi * (time.Seconds - _seconds[i]) / span;
    }
}

/// <summary>A walker that asks its source at every step.</summary>
internal sealed class PlainWalker : TideWalker
{
    private readonly TideSource _source;
    private UtcInstant _time;
    private int _stepSeconds = 600;

    internal PlainWalker(TideSource source) => _source = source;

    public override UtcInstant Time => _time;

    public override double HeightMetres => _source.HeightMetres(_time);

    public override double RateMetresPerHour => _source.RateMetresPerHour(_time);

    public override void Start(UtcInstant time, int stepSeconds)
    {
        _time = time;
        _stepSeconds = Elementary.Clamp(stepSeconds, 1, 3600);
    }

    public override void Advance() => _time = _time.PlusSeconds(_stepSeconds);
}
