namespace Intervalometer.VirtualBoard.Sea;

/// <summary>A sea of which only the path of the water's edge is known. It repeats after its last sample.</summary>
/// <remarks>
/// A turn is a highest position of the edge before which it has risen, and after which it falls, by a fifth of the spread of the whole
/// trace; a smaller movement does not count as a turn. The backwash ends where the edge begins to rise again, or
/// where it falls back faster than water could run, because there the person who traced it has gone on to the next bore. A
/// turn after which the trace jumps at once is left out, because nothing of its backwash was traced.
/// </remarks>
public sealed class TracedSea : IRepeatingSea
{
    private const double SeenShare = 0.2;

    private readonly double[] _edge;
    private readonly double _step;
    private readonly Swash[] _seen;

    /// <param name="name">Short name.</param>
    /// <param name="seed">Told by <see cref="Seed"/>.</param>
    /// <param name="edgeMetres">Place of the edge along the face, metres, larger up the beach.</param>
    /// <param name="stepSeconds">Time between samples, seconds.</param>
    /// <param name="fastestFall">Fall faster than this, m/s, is no backwash; infinite where the edge is followed without jumps.</param>
    public TracedSea(string name, int seed, double[] edgeMetres, double stepSeconds, double fastestFall = double.PositiveInfinity)
    {
        Name = name;
        Seed = seed;
        double lowest = edgeMetres.Min();
        _edge = [.. edgeMetres.Select(e => e - lowest)];
        _step = stepSeconds;
        double mean = _edge.Average();
        _seen = [.. Turns(SeenShare * Math.Sqrt(_edge.Average(e => (e - mean) * (e - mean))), fastestFall * stepSeconds)];
        if (_seen.Length < 2) throw new ArgumentException($"The trace of {name} shows {_seen.Length} turns: give a longer one.");
    }

    public string Name { get; }

    public int Seed { get; }

    public string Description => $"{Name}, seed {Seed}";

    public int Count => _seen.Length;

    public long LapUs => (long)(_edge.Length * _step * 1e6);

    public Swash this[long index]
    {
        get
        {
            Swash s = _seen[index % _seen.Length];
            long offset = index / _seen.Length * LapUs;
            return new Swash(offset + s.ArrivalUs, offset + s.TurnUs, offset + s.EndUs, s.RunUpMetres);
        }
    }

    public double EdgeMetres(long nowUs)
    {
        double place = nowUs / 1e6 / _step;
        double floor = Math.Floor(place);
        int i = (int)(((long)floor % _edge.Length + _edge.Length) % _edge.Length);
        return _edge[i] + (place - floor) * (_edge[(i + 1) % _edge.Length] - _edge[i]);
    }

    public Swash? LastBefore(long nowUs) => Laps.LastBefore(this, nowUs);

    public Swash NextAfter(long nowUs) => this[Laps.IndexBefore(this, nowUs) + 1];

    // Highest places between falls of a given size, each with the lowest place before it.
    private IEnumerable<Swash> Turns(double seen, double jump)
    {
        int low = 0, high = 0;
        bool rising = false;
        for (int i = 1; i < _edge.Length - 1; i++)
        {
            if (rising)
            {
                if (_edge[i] > _edge[high]) high = i;
                if (_edge[high] - _edge[i] < seen && _edge[i - 1] - _edge[i] < jump) continue;
                int end = EndOf(high, jump);
                if (end > high) yield return new Swash(Us(ArrivalOf(low, high)), Us(high + Between(high)), Us(end), _edge[high]);
                rising = false;
                low = end;
                i = Math.Max(i, end);
            }
            else
            {
                if (_edge[i] <= _edge[low]) low = i;
                if (_edge[i] - _edge[low] < seen) continue;
                rising = true;
                high = i;
            }
        }
    }

    // Where the edge rises again, or jumps; small wavering on the way down is not the end.
    private int EndOf(int high, double jump)
    {
        int lowest = high;
        double wavering = SeenShare / 2 * (_edge[high] - _edge.Average());
        for (int i = high + 1; i < _edge.Length; i++)
        {
            if (_edge[i - 1] - _edge[i] >= jump) return i - 1;
            if (_edge[i] < _edge[lowest]) lowest = i;
            else if (_edge[i] - _edge[lowest] > Math.Max(wavering, 0.1)) return lowest;
        }
        return lowest;
    }

    // The bore arrives where the edge begins its rise; a pause before it is not part of it.
    private double ArrivalOf(int low, int high)
    {
        double begun = _edge[low] + 0.05 * (_edge[high] - _edge[low]);
        int i = low;
        while (i < high && _edge[i + 1] < begun) i++;
        return i;
    }

    // A parabola through three samples places the highest point between them.
    private double Between(int i)
    {
        double bend = _edge[i - 1] - 2 * _edge[i] + _edge[i + 1];
        return bend >= 0 ? 0 : Math.Clamp(0.5 * (_edge[i - 1] - _edge[i + 1]) / bend, -0.5, 0.5);
    }

    private long Us(double samples) => (long)Math.Round(samples * _step * 1e6);
}
