using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// Learns the rhythm of the waves from marks ("a wave turned just now") and forecasts the next turns with an honest spread.
/// </summary>
/// <remarks>
/// Turns are taken as a renewal process with slow forgetting: mean period, its spread shrunk towards a prior, and the share
/// of waves that went by without a mark, each weighed by how well one, two or three periods explain a gap. What is left of
/// the link between one period and the next after run-up and pressing is too weak to be worth carrying: the study on the PC
/// compares this with trackers that carry it. Every call takes constant time and memory and allocates nothing; a mark
/// costs about 1,500 IL instructions (estimated from the source), at most 10,000 in the first seven marks.
/// A mark at or before the last one is ignored.
/// </remarks>
public sealed class WaveRhythm
{
    /// <summary>Marks needed before anything is forecast.</summary>
    public const int MarksNeeded = 3;

    /// <summary>A press sooner than this after a mark, seconds, is a double press; so is one within a fifth of the period.</summary>
    public const double ShortestPeriodSeconds = 1.2;

    /// <summary>A gap longer than this, seconds, is a pause: the rhythm is kept, the gap is not learned from.</summary>
    public const double LongestGapSeconds = 90.0;

    /// <summary>A forecast spread above this share of the period is too wide to fire on.</summary>
    public const double WidestSpreadShare = 0.6;

    private const int StartGaps = 6;
    private const double Forgetting = 0.975;
    private const double PriorWeight = 3.0;
    private const double PriorVariation = 0.28;
    private const double PriorPassed = 0.05;
    private const double PassedWeight = 60.0;
    private const double ShapeWeight = 8.0;

    private readonly double[] _startGaps = new double[StartGaps];
    private readonly double[] _sorted = new double[StartGaps];
    private readonly TurnDensity _density = new TurnDensity();
    private int _gapCount;
    private double _time;
    private double _waves;
    private double _squares;
    private double _gaps;
    private double _passed;
    private double _mean;
    private double _spread;
    private double _backwash;
    private double _backwashVariance;
    private int _backwashCount;

    /// <summary>Creates a rhythm that has seen nothing.</summary>
    public WaveRhythm() => Reset();

    /// <summary>Marks accepted since <see cref="Reset"/>; double presses do not count.</summary>
    public int MarkCount { get; private set; }

    /// <summary>Time of the last accepted mark, µs; 0 before the first.</summary>
    public long LastMarkUs { get; private set; }

    /// <summary>Whether enough marks were seen to forecast.</summary>
    public bool Ready => MarkCount >= MarksNeeded && _gapCount >= MarksNeeded - 1;

    /// <summary>Learned mean period, seconds; 0 before two marks.</summary>
    public double PeriodSeconds => _mean;

    /// <summary>Learned spread (standard deviation) of one period, seconds; 0 before two marks.</summary>
    public double PeriodSpreadSeconds => _spread;

    /// <summary>How steady the waves come: an index for <see cref="Steadiness.Words"/>.</summary>
    public int SteadinessIndex => Steadiness.Index(Ready ? _mean : 0, _spread);

    /// <summary>Mean length of the backwash, seconds: as learned, else a third of the period, else 3 s.</summary>
    public double BackwashSeconds => _backwashCount > 0 ? _backwash : _mean > 0 ? _mean / 3 : 3.0;

    /// <summary>Spread of the length of the backwash, seconds: as learned from a prior of 30 % of its mean.</summary>
    public double BackwashSpreadSeconds
    {
        get
        {
            double prior = 0.3 * BackwashSeconds;
            return Elementary.Sqrt((2 * prior * prior + _backwashCount * _backwashVariance) / (2 + _backwashCount));
        }
    }

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        MarkCount = 0;
        LastMarkUs = 0;
        _gapCount = 0;
        _backwash = 0;
        _backwashVariance = 0;
        _backwashCount = 0;
        _density.Reset();
        ClearSums();
        _mean = 0;
        _spread = 0;
    }

    /// <summary>Tells how long a backwash lasted. Values outside [0.3, 30] s are ignored.</summary>
    /// <param name="seconds">From the turn to the end of the backwash, seconds.</param>
    public void LearnBackwash(double seconds)
    {
        if (seconds < 0.3 || seconds > 30) return;
        if (_backwashCount < 20) _backwashCount++;
        double departure = seconds - _backwash;
        if (_backwashCount == 1)
        {
            _backwash = seconds;
            return;
        }
        _backwash += departure / _backwashCount;
        _backwashVariance += (departure * (seconds - _backwash) - _backwashVariance) / _backwashCount;
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
        if (gap < Elementary.Max(ShortestPeriodSeconds, 0.2 * _mean)) return;
        LastMarkUs = atUs;
        MarkCount++;
        if (gap > LongestGapSeconds)
        {
            _density.Break();
            return;
        }
        if (_gapCount < StartGaps)
        {
            _startGaps[_gapCount++] = gap;
            LearnFromStart();
            return;
        }
        _gapCount++;
        LearnGap(gap);
        _density.Learn(gap / _mean);
    }

    /// <summary>
    /// Whether the rhythm cannot be fired on: not ready, no mark for three periods, or a forecast for the next turn wider
    /// than <see cref="WidestSpreadShare"/> of the period.
    /// </summary>
    /// <param name="nowUs">Now, µs.</param>
    public bool Stale(long nowUs) =>
        !Ready || nowUs - LastMarkUs > 3e6 * _mean || SpreadSeconds(1) > WidestSpreadShare * _mean;

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
        if (!Ready || wavesAhead < 1 || wavesAhead > 20) return false;
        double since = (nowUs - LastMarkUs) / 1e6;
        double passed = since <= 0 ? 0 : Elementary.Floor(since / _mean);
        double index = passed + wavesAhead;
        turnUs = LastMarkUs + Elementary.Round(index * _mean * 1e6);
        spreadSeconds = SpreadSeconds(index);
        return true;
    }

    /// <summary>The likeliest release for a coming turn, and its chance.</summary>
    /// <remarks>Tries eleven releases from half a period before to half a period after the forecast: about 25,000 IL instructions (estimated).</remarks>
    /// <param name="nowUs">Now, µs. No release before it is given.</param>
    /// <param name="wavesAhead">As for <see cref="TryForecast"/>.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    /// <param name="releaseUs">When to open the shutter, µs; 0 when there is no forecast.</param>
    /// <param name="chance">Probability that the exposure lies wholly inside a backwash, 0..1.</param>
    /// <returns>False when there is no forecast.</returns>
    public bool TryRelease(long nowUs, int wavesAhead, double exposureSeconds, out long releaseUs, out double chance)
    {
        releaseUs = 0;
        chance = 0;
        if (!TryForecast(nowUs, wavesAhead, out long turnUs, out double spread)) return false;
        double room = Elementary.Max(0, BackwashSeconds - exposureSeconds);
        long middleUs = turnUs + Elementary.Round(room / 2 * 1e6);
        // Outward from the middle, so that a tie goes to the forecast.
        for (int step = 0; step <= 10; step++)
        {
            int tenths = (step & 1) == 0 ? step / 2 : -(step + 1) / 2;
            long tryUs = middleUs + Elementary.Round(tenths * 0.1 * _mean * 1e6);
            if (tryUs < nowUs) continue;
            double tried = ChanceInBackwash(tryUs, exposureSeconds, BackwashSeconds);
            if (releaseUs == 0 || tried > chance)
            {
                releaseUs = tryUs;
                chance = tried;
            }
        }
        return releaseUs != 0;
    }

    /// <summary>Probability that an exposure lies wholly inside some backwash after the last mark, 0..1; 0 while not ready.</summary>
    /// <remarks>
    /// Normal part, summed over the next turns: P(turn before the release) - P(backwash over before the exposure ends), where
    /// the length of the backwash varies by <see cref="BackwashSpreadSeconds"/>. The learned histogram of turns after turns
    /// takes its place as marks come in.
    /// </remarks>
    /// <param name="releaseUs">When the shutter opens, µs.</param>
    /// <param name="exposureSeconds">How long it stays open, seconds.</param>
    /// <param name="backwashSeconds">How long the backwash lasts from its turn on average, seconds.</param>
    public double ChanceInBackwash(long releaseUs, double exposureSeconds, double backwashSeconds)
    {
        if (!Ready || exposureSeconds < 0 || backwashSeconds <= exposureSeconds) return 0;
        double release = (releaseUs - LastMarkUs) / 1e6;
        if (release < 0) return 0;
        double lengthSpread = BackwashSpreadSeconds;
        double near = Elementary.Round(release / _mean);
        double chance = 0;
        for (double index = Elementary.Max(0, near - 1); index <= near + 1; index++)
        {
            double spread = SpreadSeconds(index);
            double into = release - index * _mean;
            double left = into + exposureSeconds - backwashSeconds;
            double begun = spread > 0 ? Normal.Below(into / spread) : 1;
            double over = Normal.Below(left / Elementary.Sqrt(spread * spread + lengthSpread * lengthSpread + 1e-6));
            if (begun > over) chance += begun - over;
        }
        double lead = release / _mean;
        double earliest = (release + exposureSeconds - backwashSeconds) / _mean;
        if (earliest > 0.2 && lead < TurnDensity.LongestPeriods - 0.5)
        {
            double counted = _density.Between(earliest, lead);
            chance = (ShapeWeight * chance + _density.Weight * counted) / (ShapeWeight + _density.Weight);
        }
        return Elementary.Clamp(chance, 0, 1);
    }

    // Period variances add; not knowing the mean exactly adds with the square of the lead.
    private double SpreadSeconds(double index) => _spread * Elementary.Sqrt(index + index * index / (_waves + 1));

    private void ClearSums()
    {
        _time = 0;
        _waves = 0;
        _squares = 0;
        _gaps = 0;
        _passed = 0;
    }

    // With few gaps the first may be the odd one: begin again from their lower median each time.
    private void LearnFromStart()
    {
        for (int i = 0; i < _gapCount; i++)
        {
            double gap = _startGaps[i];
            int place = i;
            while (place > 0 && _sorted[place - 1] > gap)
            {
                _sorted[place] = _sorted[place - 1];
                place--;
            }
            _sorted[place] = gap;
        }
        ClearSums();
        _mean = _sorted[(_gapCount - 1) / 2];
        _spread = PriorVariation * _mean;
        for (int i = 0; i < _gapCount; i++) LearnGap(_startGaps[i]);
        _density.Reset();
        for (int i = 0; i < _gapCount; i++) _density.Learn(_startGaps[i] / _mean);
    }

    private void LearnGap(double gap)
    {
        double passRate = (PriorPassed * PassedWeight + _passed) / (PassedWeight + _gaps);
        double spread = Elementary.Max(_spread, 0.05 * _mean);
        double prior = 1 - passRate;
        double total = 0, waves = 0, square = 0;
        for (int n = 1; n <= 3; n++)
        {
            double departure = gap - n * _mean;
            double perWave = departure * departure / n;
            double weight = prior * Elementary.Exp(-perWave / (2 * spread * spread)) / Elementary.Sqrt(n) + (n == 1 ? 1e-9 : 0);
            total += weight;
            waves += n * weight;
            square += perWave * weight;
            prior *= passRate;
        }
        waves /= total;
        square /= total;
        // One gap far out must not run away with the spread.
        square = Elementary.Min(square, 9 * spread * spread);
        _time = Forgetting * _time + gap;
        _waves = Forgetting * _waves + waves;
        _squares = Forgetting * _squares + square;
        _gaps = Forgetting * _gaps + 1;
        _passed = Forgetting * _passed + Elementary.Min(1, waves - 1);
        _mean = _time / _waves;
        double priorSpread = PriorVariation * _mean;
        _spread = Elementary.Sqrt((_squares + PriorWeight * priorSpread * priorSpread) / (_gaps + PriorWeight));
    }
}
