using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// Learns how long after the arrival of its bore a wave turns, from marked pairs of arrival and turn, so that a mark at the
/// arrival can fire on the backwash of that same wave.
/// </summary>
/// <remarks>
/// It keeps mean and spread with slow forgetting and clipped departures. Waves come in groups, so it also learns what share of one wave's
/// departure the next repeats, drawn towards none. Time and memory are constant; a pair costs about 4,000 IL
/// instructions (estimated). It works best when only waves of the usual size and above are marked.
/// </remarks>
public sealed class TurnDelay
{
    /// <summary>How many pairs are needed before anything is forecast.</summary>
    public const int PairsNeeded = 2;

    /// <summary>The longest time from arrival to turn that is accepted, seconds.</summary>
    public const double LongestSeconds = 60.0;

    private const double PriorWeight = 3.0;
    private const double PriorVariation = 0.2;
    private const double LinkWeight = 8.0;
    private const double Forgetting = 0.975;
    private const double EndLink = 0.5;
    private const double KeptWeight = 4.0;

    private readonly BackwashLengths _lengths;
    private long _arrivalUs;
    private bool _pending;
    private double _weight;
    private double _mean;
    private double _variance;
    private double _products;
    private double _squares;
    private double _departure;
    private double _promised;
    private double _kept;
    private double _exposure = 1;

    /// <summary>Creates a delay that has seen nothing.</summary>
    /// <param name="lengths">The backwashes that were timed, wherever they were learned.</param>
    public TurnDelay(BackwashLengths lengths) => _lengths = lengths;

    /// <summary>How many pairs were learned since <see cref="Reset"/>.</summary>
    public int PairCount { get; private set; }

    /// <summary>True when enough pairs were seen for a forecast.</summary>
    public bool Ready => PairCount >= PairsNeeded;

    /// <summary>Learned mean delay from arrival to turn, seconds; 0 before the first pair.</summary>
    public double DelaySeconds => _mean;

    /// <summary>Learned spread (standard deviation) of the delay, seconds; 0 before the first pair.</summary>
    public double SpreadSeconds => Elementary.Sqrt(_variance);

    /// <summary>Mean length of the backwash, seconds. Until one was timed it is nine tenths of the delay: as long down as up, with a little cut off.</summary>
    public double BackwashSeconds => _lengths.Count > 0 ? _lengths.MeanSeconds : 0.9 * _mean;

    /// <summary>True when enough backwashes were timed to give a chance.</summary>
    public bool Timed => _lengths.Ready;

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        PairCount = 0;
        _pending = false;
        _weight = 0;
        _mean = 0;
        _variance = 0;
        _products = 0;
        _squares = 0;
        _departure = 0;
        _promised = 0;
        _kept = 0;
    }

    /// <summary>Notes that a bore has arrived.</summary>
    /// <param name="atUs">When, µs.</param>
    public void Arrival(long atUs)
    {
        _arrivalUs = atUs;
        _pending = true;
    }

    /// <summary>Notes that this wave has turned. Without a matching arrival 0.3 to 60 s before, nothing is learned.</summary>
    /// <param name="atUs">When, µs.</param>
    public void Turn(long atUs)
    {
        if (!_pending) return;
        double delay = (atUs - _arrivalUs) / 1e6;
        if (delay < 0.3) return;
        _pending = false;
        if (delay > LongestSeconds) return;
        if (Ready) LearnOutcome(delay);
        PairCount++;
        if (PairCount == 1)
        {
            _mean = delay;
            _weight = 1;
            _variance = PriorVariation * PriorVariation * delay * delay;
            return;
        }
        double limit = 3 * SpreadSeconds;
        double departure = Elementary.Clamp(delay - _mean, -limit, limit);
        _weight = Forgetting * _weight + 1;
        // divisor: _weight was just made 1 or more
        _mean += departure / _weight;
        double missed = departure - Link * _departure;
        _variance += (missed * missed - _variance) / (PriorWeight + _weight);
        _products = Forgetting * _products + departure * _departure;
        _squares = Forgetting * _squares + departure * departure;
        _departure = departure;
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
        turnUs = arrivalUs + Elementary.Round(ExpectedSeconds * 1e6);
        spreadSeconds = ForecastSpread;
        return true;
    }

    /// <summary>Works out the likeliest release for the wave that arrived, and its chance.</summary>
    /// <remarks>
    /// The end of a backwash spreads more than its beginning, because a wave that turns later drains later (ballistic swash, Shen and
    /// Meyer 1963) and following bores cut some short. The release lies where both are equally many spreads away. The chance
    /// is that of two normal distributions, scaled by the outcome of earlier forecasts as far as marks at the turn showed it.
    /// About 1,500 IL instructions (estimated).
    /// </remarks>
    /// <param name="arrivalUs">When its bore arrived, µs.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    /// <param name="releaseUs">When to open the shutter, µs; 0 when there is no forecast.</param>
    /// <param name="chance">Probability that the exposure lies inside the backwash from start to end, 0..1.</param>
    /// <returns>False until <see cref="PairsNeeded"/> pairs were learned.</returns>
    public bool TryRelease(long arrivalUs, double exposureSeconds, out long releaseUs, out double chance)
    {
        releaseUs = 0;
        chance = 0;
        if (!Ready || exposureSeconds < 0) return false;
        double after = Plan(exposureSeconds, out double model);
        _exposure = exposureSeconds;
        releaseUs = arrivalUs + Elementary.Round(after * 1e6);
        // divisor: KeptWeight is above zero and a sum of chances never below it
        double kept = Elementary.Clamp((KeptWeight + _kept) / (KeptWeight + _promised), 0.5, 1.2);
        chance = Elementary.Clamp(model * kept, 0, 1);
        return true;
    }

    // When to open, in seconds after the arrival, and the chance by two normal distributions. It must be called only once Ready.
    private double Plan(double exposureSeconds, out double chance)
    {
        double delay = ExpectedSeconds;
        // divisor: the mean of accepted delays, each at least 0.3 s, once Ready
        double ratio = Elementary.Clamp(BackwashSeconds / _mean, 0.2, 1.5);
        double length = ratio * delay;
        double spread = Elementary.Max(ForecastSpread, 0.05);
        // A following bore that cuts the backwash short spreads its end by more than the delay does.
        double lengthSpread = Elementary.Max(ratio * spread, _lengths.SpreadSeconds(BackwashSeconds));
        double endSpread = Elementary.Sqrt(spread * spread + lengthSpread * lengthSpread + EndLink * 2 * spread * lengthSpread);
        // divisor: spread is at least 0.05
        double after = delay + Elementary.Max(0, length - exposureSeconds) * spread / (spread + endSpread);
        double begun = Normal.Below((after - delay) / spread);
        double over = Normal.Below((after + exposureSeconds - delay - length) / endSpread);
        chance = Elementary.Max(0, begun - over);
        return after;
    }

    // Learns the outcome of the release that would have been planned for this wave, as far as marks show it.
    private void LearnOutcome(double delay)
    {
        double after = Plan(_exposure, out double model);
        // A small wave turns sooner, and its backwash is shorter by half as much.
        // divisor: believed delays are at least 0.3 s
        double left = (after + _exposure - delay) * (0.5 + 0.5 * _mean / delay);
        double kept = delay > after ? 0 : 1 - _lengths.ChanceShorter(left, FiringAdvice.PressSpreadSeconds, FiringAdvice.PressSpreadSeconds, BackwashSeconds);
        _promised = Forgetting * _promised + model;
        _kept = Forgetting * _kept + kept;
    }

    private double Link => Elementary.Clamp(_variance <= 0 ? 0 : _products / (_squares + LinkWeight * _variance), 0, 0.8);

    private double ExpectedSeconds => _mean + Link * _departure;

    private double ForecastSpread => SpreadSeconds * Elementary.Sqrt(1 + 1 / (PriorWeight + _weight));
}
