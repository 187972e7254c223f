using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// Learns the rhythm of the waves from marks ("a wave turned just now") and forecasts the next turns with an honest spread.
/// </summary>
/// <remarks>
/// A renewal forecast with shrinkage: the mean period and its spread are learned with slow forgetting from a weak prior,
/// and part of the last period's departure is carried into the next one. Every call takes constant time and memory and
/// allocates nothing. Marks must not go back in time; a mark at or before the last one is ignored.
/// </remarks>
public sealed class WaveRhythm
{
    /// <summary>Marks needed before anything is forecast.</summary>
    public const int MarksNeeded = 3;

    /// <summary>Shortest period taken for a wave, seconds; a mark sooner than this after the last is a double press.</summary>
    public const double ShortestPeriodSeconds = 2.0;

    /// <summary>Longest period taken for one wave, seconds.</summary>
    public const double LongestPeriodSeconds = 30.0;

    private const double Forgetting = 0.93;
    private const double PriorWeight = 4.0;
    private const double PriorVariation = 0.25;
    private const double CarriedOver = 0.30;

    private double _weight;
    private double _mean;
    private double _relativeVarianceSum;
    private double _lastDeparture;

    /// <summary>Creates a rhythm that has seen nothing.</summary>
    public WaveRhythm() => Reset();

    /// <summary>Marks accepted since <see cref="Reset"/>; double presses do not count.</summary>
    public int MarkCount { get; private set; }

    /// <summary>Time of the last accepted mark, µs; 0 before the first.</summary>
    public long LastMarkUs { get; private set; }

    /// <summary>Whether enough marks were seen to forecast.</summary>
    public bool Ready => MarkCount >= MarksNeeded;

    /// <summary>Learned mean period, seconds; 0 before two marks.</summary>
    public double PeriodSeconds => _mean;

    /// <summary>Learned spread (standard deviation) of one period, seconds; 0 before two marks.</summary>
    public double PeriodSpreadSeconds => _mean * Elementary.Sqrt(_relativeVarianceSum / (PriorWeight + _weight));

    /// <summary>Length of the backwash, seconds: what <see cref="LearnBackwash"/> was told, else a third of the period.</summary>
    public double BackwashSeconds => _backwash > 0 ? _backwash : _mean > 0 ? _mean / 3 : 3.0;

    /// <summary>How steady the waves come: an index for <see cref="Steadiness.Words"/>.</summary>
    public int SteadinessIndex => Steadiness.Index(_mean, PeriodSpreadSeconds);

    private double _backwash;

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        MarkCount = 0;
        LastMarkUs = 0;
        _weight = 0;
        _mean = 0;
        _relativeVarianceSum = PriorWeight * PriorVariation * PriorVariation;
        _lastDeparture = 0;
        _backwash = 0;
    }

    /// <summary>Tells how long a backwash lasted. Values outside [0.5, 30] s are ignored.</summary>
    /// <param name="seconds">From the turn to the end of the backwash, seconds.</param>
    public void LearnBackwash(double seconds)
    {
        if (seconds < 0.5 || seconds > 30) return;
        _backwash = _backwash > 0 ? _backwash + 0.2 * (seconds - _backwash) : seconds;
    }

    /// <summary>A wave was seen to turn.</summary>
    /// <param name="atUs">When, µs on the board's clock.</param>
    public void Mark(long atUs)
    {
        if (MarkCount == 0)
        {
            LastMarkUs = atUs;
            MarkCount = 1;
            return;
        }
        double gap = (atUs - LastMarkUs) / 1e6;
        double shortest = _mean > 0 ? Elementary.Max(ShortestPeriodSeconds, 0.3 * _mean) : ShortestPeriodSeconds;
        if (gap < shortest) return;
        LastMarkUs = atUs;
        MarkCount++;
        if (gap > 5 * LongestPeriodSeconds) return;
        if (_mean <= 0)
        {
            if (gap > LongestPeriodSeconds) return;
            _mean = gap;
            _weight = 1;
            return;
        }
        double ratio = gap / _mean;
        int waves = ratio < 1.7 ? 1 : (int)(ratio + 0.5);
        if (waves > 4) return;
        double period = gap / waves;
        double departure = Elementary.Clamp((period - _mean) / _mean, -0.8, 0.8);
        _weight = Forgetting * _weight + 1;
        _mean += _mean * departure / _weight;
        double square = departure * departure * waves;
        double relative = _relativeVarianceSum / (PriorWeight + _weight - 1);
        _relativeVarianceSum = (PriorWeight + _weight) * (relative + (square - relative) / (PriorWeight + _weight));
        _lastDeparture = waves == 1 ? departure : 0;
    }

    /// <summary>Whether the rhythm is too old to fire on: no mark for three periods, or not ready.</summary>
    /// <param name="nowUs">Now, µs.</param>
    public bool Stale(long nowUs) => !Ready || nowUs - LastMarkUs > 3e6 * _mean;

    /// <summary>Forecasts a coming turn.</summary>
    /// <param name="nowUs">Now, µs.</param>
    /// <param name="wavesAhead">1 for the first forecast turn after now, 2 for the one after it, up to 20.</param>
    /// <param name="turnUs">Expected time of the turn, µs; 0 when there is no forecast.</param>
    /// <param name="spreadSeconds">Standard deviation of that time, seconds; 0 when there is no forecast.</param>
    /// <returns>False while not <see cref="Ready"/> or for a wave out of range.</returns>
    public bool TryForecast(long nowUs, int wavesAhead, out long turnUs, out double spreadSeconds)
    {
        turnUs = 0;
        spreadSeconds = 0;
        if (!Ready || _mean <= 0 || wavesAhead < 1 || wavesAhead > 20) return false;
        int index = 1;
        double since = (nowUs - LastMarkUs) / 1e6;
        if (since > LeadSeconds(1))
        {
            index = (int)Elementary.Min((since - LeadSeconds(0)) / _mean, 1e6);
            if (index < 1) index = 1;
            while (LeadSeconds(index) <= since) index++;
        }
        index += wavesAhead - 1;
        turnUs = LastMarkUs + Elementary.Round(LeadSeconds(index) * 1e6);
        spreadSeconds = SpreadSeconds(index);
        return true;
    }

    /// <summary>Probability that an exposure lies wholly inside a backwash, 0..1; 0 while not ready.</summary>
    /// <param name="releaseUs">When the shutter opens, µs.</param>
    /// <param name="exposureSeconds">How long it stays open, seconds.</param>
    /// <param name="backwashSeconds">How long the backwash lasts from its turn, seconds.</param>
    public double ChanceInBackwash(long releaseUs, double exposureSeconds, double backwashSeconds)
    {
        if (!Ready || _mean <= 0 || exposureSeconds < 0 || backwashSeconds <= exposureSeconds) return 0;
        double release = (releaseUs - LastMarkUs) / 1e6;
        double earliest = release + exposureSeconds - backwashSeconds;
        double chance = earliest <= 0 && release >= 0 ? 1 : 0;
        for (int index = 1; index <= 24; index++)
        {
            double lead = LeadSeconds(index);
            double spread = SpreadSeconds(index);
            if (lead - 5 * spread > release) break;
            chance += Normal.Below((release - lead) / spread) - Normal.Below((earliest - lead) / spread);
        }
        return Elementary.Clamp(chance, 0, 1);
    }

    private double LeadSeconds(int index)
    {
        double carried = 0;
        double factor = CarriedOver;
        for (int i = 0; i < index && i < 12; i++)
        {
            carried += factor;
            factor *= CarriedOver;
        }
        return _mean * (index + carried * _lastDeparture);
    }

    private double SpreadSeconds(int index) => PeriodSpreadSeconds * Elementary.Sqrt(index * (1 + index / (PriorWeight + _weight)));
}
