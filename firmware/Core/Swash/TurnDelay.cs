using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// Learns how long after its bore arrives a wave turns, from marked pairs (arrival, then turn), so that a mark at the
/// arrival can fire on the turn of that same wave.
/// </summary>
public sealed class TurnDelay
{
    /// <summary>Pairs needed before anything is forecast.</summary>
    public const int PairsNeeded = 2;

    private const double Longest = 30.0;
    private const double PriorWeight = 3.0;
    private const double PriorVariation = 0.25;
    private const double Forgetting = 0.95;

    private long _arrivalUs;
    private bool _pending;
    private double _weight;
    private double _mean;
    private double _variance;

    /// <summary>Pairs learned since <see cref="Reset"/>.</summary>
    public int PairCount { get; private set; }

    /// <summary>Whether enough pairs were seen to forecast.</summary>
    public bool Ready => PairCount >= PairsNeeded;

    /// <summary>Learned delay from arrival to turn, seconds; 0 before the first pair.</summary>
    public double DelaySeconds => _mean;

    /// <summary>Learned spread (standard deviation) of the delay, seconds; 0 before the first pair.</summary>
    public double SpreadSeconds => Elementary.Sqrt(_variance);

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        PairCount = 0;
        _pending = false;
        _weight = 0;
        _mean = 0;
        _variance = 0;
    }

    /// <summary>A bore was seen to arrive.</summary>
    /// <param name="atUs">When, µs.</param>
    public void Arrival(long atUs)
    {
        _arrivalUs = atUs;
        _pending = true;
    }

    /// <summary>That wave was seen to turn. Without a matching arrival in the last 30 s, nothing is learned.</summary>
    /// <param name="atUs">When, µs.</param>
    public void Turn(long atUs)
    {
        if (!_pending) return;
        _pending = false;
        double delay = (atUs - _arrivalUs) / 1e6;
        if (delay < 0.3 || delay > Longest) return;
        PairCount++;
        if (_mean <= 0)
        {
            _mean = delay;
            _weight = 1;
            _variance = PriorVariation * PriorVariation * delay * delay;
            return;
        }
        double limit = 3 * SpreadSeconds;
        double departure = Elementary.Clamp(delay - _mean, -limit, limit);
        _weight = Forgetting * _weight + 1;
        _mean += departure / _weight;
        _variance += (departure * departure - _variance) / (PriorWeight + _weight);
    }

    /// <summary>Forecasts the turn of the wave that arrived.</summary>
    /// <param name="arrivalUs">When its bore arrived, µs.</param>
    /// <param name="turnUs">Expected time of its turn, µs; 0 when there is no forecast.</param>
    /// <param name="spreadSeconds">Standard deviation of that time, seconds; 0 when there is no forecast.</param>
    /// <returns>False until <see cref="PairsNeeded"/> pairs were learned.</returns>
    public bool TryForecast(long arrivalUs, out long turnUs, out double spreadSeconds)
    {
        turnUs = 0;
        spreadSeconds = 0;
        if (!Ready) return false;
        turnUs = arrivalUs + Elementary.Round(_mean * 1e6);
        spreadSeconds = SpreadSeconds * Elementary.Sqrt(1 + 1 / (PriorWeight + _weight));
        return true;
    }
}
