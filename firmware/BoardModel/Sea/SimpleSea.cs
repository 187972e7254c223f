using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Sea;

/// <summary>
/// A steady sea: waves at one period with a small spread, each a ballistic swash on a plane beach, x = u0 t - g sin(b) t²/2,
/// so that a run-up R lasts sqrt(8 R / (g sin b)) up and back (Shen and Meyer 1963, from memory).
/// </summary>
public sealed class SimpleSea : ISea
{
    private const double Gravity = 9.81;

    private readonly List<Swash> _waves = [];
    private readonly List<double> _swashSeconds = [];
    private readonly Dice _dice;
    private readonly double _pull;
    private long _nextArrivalUs;

    /// <summary>Makes a sea.</summary>
    /// <param name="seed">The same seed gives the same waves.</param>
    /// <param name="periodSeconds">Mean time between bores, 2 to 60 s.</param>
    /// <param name="spread">Standard deviation of that time as a fraction of it, 0 to 0.25.</param>
    /// <param name="runUpMetres">Mean reach along the beach face, above 0 m.</param>
    /// <param name="beachSlope">Sine of the beach angle, 0.02 to 0.3.</param>
    public SimpleSea(ulong seed, double periodSeconds = 9, double spread = 0.06, double runUpMetres = 4, double beachSlope = 0.1)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(periodSeconds, 2);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(periodSeconds, 60);
        ArgumentOutOfRangeException.ThrowIfNegative(spread);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(spread, 0.25);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(runUpMetres);
        ArgumentOutOfRangeException.ThrowIfLessThan(beachSlope, 0.02);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(beachSlope, 0.3);
        PeriodSeconds = periodSeconds;
        Spread = spread;
        RunUpMetres = runUpMetres;
        _dice = new Dice(seed);
        _pull = Gravity * beachSlope;
        _nextArrivalUs = (long)(periodSeconds * (0.3 + 0.4 * _dice.Fraction()) * 1e6);
        Description = FormattableString.Invariant($"steady swell, period {periodSeconds:0.##} s, spread {spread * 100:0.#} %, seed {seed}");
    }

    /// <summary>Mean time between bores, s.</summary>
    public double PeriodSeconds { get; }

    /// <summary>Standard deviation of the period as a fraction of it.</summary>
    public double Spread { get; }

    /// <summary>Mean reach along the beach face, m.</summary>
    public double RunUpMetres { get; }

    /// <inheritdoc />
    public string Description { get; }

    /// <inheritdoc />
    public double EdgeMetres(long nowUs)
    {
        int i = IndexBefore(nowUs);
        double edge = 0;
        for (int k = i; k >= 0 && k > i - 8; k--) edge = Math.Max(edge, Reach(k, nowUs));
        return edge;
    }

    /// <inheritdoc />
    public Swash? LastBefore(long nowUs)
    {
        int i = IndexBefore(nowUs);
        return i < 0 ? null : _waves[i];
    }

    /// <inheritdoc />
    public Swash NextAfter(long nowUs)
    {
        int i = IndexBefore(nowUs) + 1;
        GrowTo(i);
        return _waves[i];
    }

    private double Reach(int index, long nowUs)
    {
        double total = _swashSeconds[index];
        double t = (nowUs - _waves[index].ArrivalUs) / 1e6;
        return t <= 0 || t >= total ? 0 : _pull * t * (total - t) / 2;
    }

    private int IndexBefore(long nowUs)
    {
        while (_nextArrivalUs <= nowUs) GrowTo(_waves.Count);
        int low = 0, high = _waves.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (_waves[middle].ArrivalUs <= nowUs) low = middle + 1; else high = middle;
        }
        return low - 1;
    }

    private void GrowTo(int index)
    {
        while (_waves.Count <= index)
        {
            long arrival = _nextArrivalUs;
            double reach = RunUpMetres * (1 + Spread * _dice.Bell());
            double seconds = Math.Sqrt(8 * reach / _pull);
            _nextArrivalUs = arrival + (long)(PeriodSeconds * (1 + Spread * _dice.Bell()) * 1e6);
            long turn = arrival + (long)(seconds / 2 * 1e6);
            long end = Math.Max(turn, Math.Min(arrival + (long)(seconds * 1e6), _nextArrivalUs));
            _waves.Add(new Swash(arrival, turn, end, reach));
            _swashSeconds.Add(seconds);
        }
    }
}
