using MathNet.Numerics.LinearRegression;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The best linear predictor of one sea: least squares over many lags on training records of that very sea.</summary>
public sealed class LinearBound
{
    private const int Lags = 20;
    private readonly double[] _coefficients;

    /// <param name="records">Training marks and, for each, the true next turn, µs.</param>
    public LinearBound(IEnumerable<(long[] Marks, long[] NextTurns)> records)
    {
        List<double[]> rows = [];
        List<double> targets = [];
        foreach (var (marks, turns) in records)
        {
            for (int i = Lags; i < marks.Length; i++)
            {
                rows.Add(Row(marks, i));
                targets.Add((turns[i] - marks[i]) / 1e6);
            }
        }
        _coefficients = MultipleRegression.NormalEquations([.. rows], [.. targets]);
    }

    /// <summary>Marks before the first that can be forecast from.</summary>
    public static int Needed => Lags;

    /// <summary>Seconds from mark i to the next turn.</summary>
    public double NextSeconds(long[] marks, int i) => Dot(_coefficients, Row(marks, i));

    internal static double Dot(double[] a, double[] b) => a.Zip(b, (x, y) => x * y).Sum();

    private static double[] Row(long[] marks, int i) =>
        [1, .. Enumerable.Range(1, Lags).Select(k => (marks[i - k + 1] - marks[i - k]) / 1e6)];
}

/// <summary>How well the turn of a wave can be predicted from its arrival and every mark before it.</summary>
/// <param name="Rms">RMS error of the turn, seconds.</param>
/// <param name="HitPercent">Frames wholly on the backwash when fired on it, percent.</param>
public sealed record ArrivalBound(double Rms, double HitPercent);

/// <summary>
/// The best linear predictor of a turn at the arrival of its bore: least squares on training records of that very sea over
/// ten earlier arrivals and turns. The shutter opens at the moment after the predicted turn that does best on the training records.
/// </summary>
public sealed class ArrivalPredictor
{
    private const int Lags = 10;
    private readonly double[] _coefficients;
    private readonly double _share, _offset;

    /// <param name="records">Training waves, each with whether an exposure that opens then lies wholly on a backwash.</param>
    public ArrivalPredictor(IReadOnlyList<(WatchedWave[] Waves, Func<long, bool> Hit)> records)
    {
        List<double[]> rows = [];
        List<double> targets = [];
        foreach (var (waves, _) in records)
        {
            for (int i = Needed; i < waves.Length; i++)
            {
                rows.Add(Row(waves, i));
                targets.Add((waves[i].Swash.TurnUs - waves[i].ArrivalMarkUs) / 1e6);
            }
        }
        _coefficients = MultipleRegression.NormalEquations([.. rows], [.. targets]);
        int best = -1;
        foreach (double share in new[] { 1, 1.1, 1.2, 1.3, 1.4 })
            foreach (double offset in new[] { -0.6, -0.4, -0.2, 0, 0.2, 0.4 })
            {
                int hits = 0;
                foreach (var (waves, hit) in records)
                    for (int i = Needed; i < waves.Length - 6; i += 3)
                        if (hit(waves[i].ArrivalMarkUs + (long)(1e6 * (offset + share * DelaySeconds(waves, i))))) hits++;
                if (hits <= best) continue;
                best = hits;
                _share = share;
                _offset = offset;
            }
    }

    /// <summary>Waves before the first that can be forecast.</summary>
    public static int Needed => Lags + 1;

    /// <summary>Seconds from the mark at the arrival of wave i to its turn.</summary>
    public double DelaySeconds(WatchedWave[] waves, int i) => LinearBound.Dot(_coefficients, Row(waves, i));

    /// <summary>When to open the shutter for wave i, µs.</summary>
    public long ReleaseUs(WatchedWave[] waves, int i) => waves[i].ArrivalMarkUs + (long)(1e6 * (_offset + _share * DelaySeconds(waves, i)));

    // Only what is known at the mark: a turn that has not come yet counts as coming now.
    private static double[] Row(WatchedWave[] waves, int i)
    {
        long now = waves[i].ArrivalMarkUs;
        double[] row = new double[1 + 2 * Lags];
        row[0] = 1;
        for (int k = 1; k <= Lags; k++)
        {
            row[2 * k - 1] = (Math.Min(now, waves[i - k].TurnMarkUs) - waves[i - k].ArrivalMarkUs) / 1e6;
            row[2 * k] = (waves[i - k + 1].ArrivalMarkUs - waves[i - k].ArrivalMarkUs) / 1e6;
        }
        return row;
    }
}
