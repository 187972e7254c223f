using Intervalometer.Core.Swash;
using MathNet.Numerics.LinearAlgebra;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>A design that could forecast the next turn from marks.</summary>
public interface IForecaster
{
    string Name { get; }

    void Mark(long atUs);

    /// <summary>Seconds from the last mark to the next turn; 0 when there is no forecast.</summary>
    double NextSeconds { get; }
}

/// <summary>The forecaster that the firmware uses.</summary>
public sealed class RenewalForecaster : IForecaster
{
    private readonly WaveRhythm _rhythm = new();

    public string Name => "renewal, shrunk (in the box)";

    public void Mark(long atUs) => _rhythm.Mark(atUs);

    public double NextSeconds =>
        _rhythm.TryForecast(_rhythm.LastMarkUs, 1, out long turn, out _) ? (turn - _rhythm.LastMarkUs) / 1e6 : 0;
}

/// <summary>A tracker of phase and period with fixed gains (alpha-beta, the steady state of a Kalman filter with constant period).</summary>
/// <param name="alpha">Share of the deviation of a mark that corrects the phase.</param>
/// <param name="beta">Share of it that corrects the period.</param>
public sealed class PhaseTracker(double alpha, double beta) : IForecaster
{
    private double _phase, _period, _last;
    private int _count;

    public string Name => "phase and period tracker";

    public double NextSeconds => _count < 3 ? 0 : _phase + _period - _last;

    public void Mark(long atUs)
    {
        double now = atUs / 1e6, gap = now - _last;
        if (_count > 0 && gap < Math.Max(1.2, 0.2 * _period)) return;
        _count++;
        _last = now;
        if (_count <= 2)
        {
            _period = _count == 2 ? gap : 0;
            _phase = now;
            return;
        }
        double waves = Math.Clamp(Math.Round((now - _phase) / _period), 1, 4);
        double departure = now - (_phase + waves * _period);
        _phase += waves * _period + alpha * departure;
        _period = Math.Max(1.5, _period + beta * departure / waves);
    }
}

/// <summary>Autoregressive periods, recursive least squares with forgetting, shrunk towards no link.</summary>
public sealed class AutoregressiveForecaster(int order, double forgetting, double shrink) : IForecaster
{
    private readonly double[] _departures = new double[order];
    private Matrix<double> _information = Matrix<double>.Build.Dense(order, order);
    private Vector<double> _cross = Vector<double>.Build.Dense(order);
    private double _mean, _weight, _variance, _last;
    private int _count;

    public string Name => $"autoregressive, order {order}, shrunk";

    public double NextSeconds { get; private set; }

    public void Mark(long atUs)
    {
        double now = atUs / 1e6, gap = now - _last;
        if (_count > 0 && gap < Math.Max(1.2, 0.2 * _mean)) return;
        _count++;
        _last = now;
        if (_count == 1) return;
        if (_count == 2) _mean = gap;
        double waves = gap < 1.75 * _mean ? 1 : Math.Round(gap / _mean);
        double period = gap / waves;
        _weight = 0.975 * _weight + 1;
        double departure = period - _mean;
        _mean += departure / _weight;
        _variance += (departure * departure - _variance) / _weight;
        var row = Vector<double>.Build.Dense(_departures);
        _information = _information * forgetting + row.OuterProduct(row);
        _cross = _cross * forgetting + row * departure;
        for (int i = order - 1; i > 0; i--) _departures[i] = _departures[i - 1];
        _departures[0] = waves > 1 ? 0 : departure;
        if (_count < 4) return;
        var ridge = _information + Matrix<double>.Build.DenseIdentity(order) * (shrink * _variance + 1e-9);
        NextSeconds = Math.Max(0.3 * _mean, _mean + ridge.Solve(_cross) * Vector<double>.Build.Dense(_departures));
    }
}
