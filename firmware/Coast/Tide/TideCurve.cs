using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>
/// A stretch of tide that is worked out a few steps at a time: heights at even steps for a plot, and the high and low waters among
/// them. It serves a screen that must never delay a shutter edge.
/// </summary>
/// <remarks>
/// What a day costs is in tests/Budgets. The walker of a harmonic tide takes longer strides than the steps of the plot.
/// Each high and low water is worked out from the sum itself.
/// </remarks>
public sealed class TideCurve
{
    private const int StepsPerCall = 8;
    private const int MostTurns = 16;

    private readonly short[] _heights;
    private readonly long[] _turnSeconds = new long[MostTurns];
    private readonly double[] _turnMetres = new double[MostTurns];
    private readonly bool[] _turnIsHigh = new bool[MostTurns];
    private TideSource? _source;
    private TideWalker? _walker;
    private UtcInstant _start;
    private int _stepSeconds;
    private double _rate;
    private int _rateAt;
    // These are plain fields, because a property costs a call and each point would pay for a dozen.
    private int _wanted;
    private int _count;
    private double _lowest;
    private double _highest;

    /// <summary>Creates a curve with room for that many points.</summary>
    public TideCurve(int capacity) => _heights = new short[Elementary.Clamp(capacity, 2, 4096)];

    /// <summary>How many points were asked for.</summary>
    public int Wanted => _wanted;

    /// <summary>How many points are ready.</summary>
    public int Count => _count;

    /// <summary>How many high and low waters are ready.</summary>
    public int TurnCount { get; private set; }

    /// <summary>True when every point is ready.</summary>
    public bool Done => _count >= _wanted;

    /// <summary>Lowest height so far, metres; 0 before the first.</summary>
    public double LowestMetres => _lowest;

    /// <summary>Highest height so far, metres; 0 before the first.</summary>
    public double HighestMetres => _highest;

    /// <summary>The height of a point that is ready, metres. It is stored in whole millimetres, as the plot and the present height need no more, and limited to 32 m either way.</summary>
    public double HeightMetres(int index) => _heights[index] / 1000.0;

    /// <summary>The time of a point.</summary>
    public UtcInstant TimeAt(int index) => _start.PlusSeconds((long)index * _stepSeconds);

    /// <summary>The time of a high or low water that is ready, in order of time, as <see cref="UtcInstant.Seconds"/>.</summary>
    public long TurnSeconds(int index) => _turnSeconds[index];

    /// <summary>True when a turn is a high water.</summary>
    public bool TurnIsHigh(int index) => _turnIsHigh[index];

    /// <summary>A turn that is ready, in order of time.</summary>
    public TideTurn Turn(int index) => new TideTurn(new UtcInstant(_turnSeconds[index]), _turnMetres[index], _turnIsHigh[index]);

    /// <summary>Begins a new curve. Points beyond the capacity are left out.</summary>
    /// <param name="source">The tide to read.</param>
    /// <param name="start">The time of the first point.</param>
    /// <param name="stepSeconds">Seconds between points, 1 to 3600; 600 finds every turn of an ordinary tide.</param>
    /// <param name="points">How many points are wanted.</param>
    public void Begin(TideSource source, UtcInstant start, int stepSeconds, int points)
    {
        if (_walker == null || _source != source)
        {
            // The old walker is let go first, so that memory never holds two.
            _walker = null;
            _walker = source.CreateWalker();
        }
        _source = source;
        _start = start;
        _stepSeconds = Elementary.Clamp(stepSeconds, 1, 3600);
        _wanted = Elementary.Clamp(points, 1, _heights.Length);
        _count = 0;
        TurnCount = 0;
        _lowest = 0;
        _highest = 0;
    }

    /// <summary>Works out the next few points. Returns true when the curve is done.</summary>
    public bool Step()
    {
        TideWalker? walker = _walker;
        if (walker == null) return true;
        if (_count == 0)
        {
            // Placing the walker is work enough for one call.
            walker.Start(_start, _stepSeconds);
            Take(walker);
            return Done;
        }
        for (int n = 0; n < StepsPerCall && _count < _wanted; n++)
        {
            walker.Advance();
            Take(walker);
        }
        return Done;
    }

    private void Take(TideWalker walker)
    {
        int count = _count;
        double height = walker.HeightMetres;
        double rate = walker.RateMetresPerHour;
        if (count == 0 || height < _lowest) _lowest = height;
        if (count == 0 || height > _highest) _highest = height;
        if (count > 0 && rate != 0 && _rate != 0 && (rate > 0) != (_rate > 0) && TurnCount < MostTurns)
        {
            TakeTurn(rate);
        }
        if (rate != 0 || count == 0)
        {
            _rate = rate;
            _rateAt = count;
        }
        // A conversion to a whole number cuts off towards zero, so half a millimetre is added first.
        double millimetres = height > 32.0 ? 32_000.0 : height < -32.0 ? -32_000.0 : height * 1000.0;
        _heights[count] = (short)(millimetres < 0 ? millimetres - 0.5 : millimetres + 0.5);
        _count = count + 1;
        // The points stay. The walker, which holds two numbers for each constituent, is let go and created again for the next day.
        if (_count >= _wanted) _walker = null;
    }

    // Works out the high or low water between the last point whose rate was not zero and the present point.
    private void TakeTurn(double rate)
    {
        bool found;
        TideTurn turn;
        UtcInstant before = TimeAt(_rateAt);
        if (_source is HarmonicTide harmonic)
        {
            turn = harmonic.Refine(before, _rate, (_count - _rateAt) * _stepSeconds, rate);
            found = true;
        }
        else
        {
            found = _source!.TryNextTurn(before, out turn) && turn.Time <= TimeAt(_count);
        }
        if (!found) return;
        _turnSeconds[TurnCount] = turn.Time.Seconds;
        _turnMetres[TurnCount] = turn.HeightMetres;
        _turnIsHigh[TurnCount] = turn.IsHigh;
        TurnCount++;
        if (turn.HeightMetres < _lowest) _lowest = turn.HeightMetres;
        if (turn.HeightMetres > _highest) _highest = turn.HeightMetres;
    }
}
