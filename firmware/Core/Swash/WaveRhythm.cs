using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// Learns the rhythm of the waves from marks ("a wave has just turned") and forecasts the next turns, with a spread that says how uncertain they are.
/// </summary>
/// <remarks>
/// Turns are treated as a renewal process with slow forgetting: the mean period, its spread drawn towards a prior, and the share
/// of waves that went by without a mark. Each gap is weighted by how well one, two or three periods explain it. After run-up and pressing,
/// the link between one period and the next is too weak to be worth modelling; the study on the PC compares this with trackers
/// that model it. Every call takes constant time and memory and allocates nothing. A mark costs about 2,000 IL instructions
/// (counted, with calls weighted), and at most 10,000 in the first seven marks.
/// A mark at or before the last one is ignored.
/// </remarks>
public sealed class WaveRhythm
{
    /// <summary>How many marks are needed before anything is forecast.</summary>
    public const int MarksNeeded = 3;

    /// <summary>A press sooner than this after a mark, seconds, is a double press. So is one within a fifth of the period.</summary>
    public const double ShortestPeriodSeconds = 1.2;

    /// <summary>
    /// A gap longer than this, seconds, is a pause. The pause is not learned from. The rhythm from before is kept, but it is not fired on
    /// until <see cref="GapsToConfirm"/> gaps have confirmed it. When as many gaps contradict it, the rhythm begins again.
    /// </summary>
    public const double LongestGapSeconds = 90.0;

    /// <summary>How many gaps in a row confirm the rhythm from before a pause, or discard it.</summary>
    public const int GapsToConfirm = 2;

    /// <summary>A forecast whose spread is above this share of the period is too uncertain to fire on.</summary>
    public const double WidestSpreadShare = 0.6;

    // On simulated and traced seas the backwash took 26 to 52 % of the time from turn to turn.
    private const double LongestBackwashShare = 0.75;

    // When the correlation of neighbouring gaps is below this, long and short ones alternate. On the seas it was -0.12 to 0.25.
    private const double Alternating = -0.6;
    private const double LinkShare = 0.05;

    private const int StartGaps = 6;
    // A gap within this many spreads of one period confirms a rhythm.
    private const double BornOut = 2.0;
    private const double Forgetting = 0.975;
    private const double PriorWeight = 3.0;
    private const double PriorVariation = 0.28;
    private const double PriorPassed = 0.05;
    private const double PassedWeight = 60.0;
    private const double OftenPassed = 0.5;
    private const double LatelyShare = 0.25;
    // The roots as Elementary.Sqrt gives them, to the last bit.
    private const double RootOf2 = 1.414213562373095;
    private const double RootOf3 = 1.7320508075688772;

    private readonly double[] _startGaps = new double[StartGaps];
    private readonly double[] _sorted = new double[StartGaps];
    private readonly TurnDensity _density = new TurnDensity();
    private readonly BackwashLengths _lengths = new BackwashLengths();
    private ReleaseSearch? _search;
    private int _gapCount;
    private double _time;
    private double _waves;
    private double _squares;
    private double _gaps;
    private double _passed;
    private double _mean;
    private double _spread;
    private double _strangeGap;
    private int _toConfirm;
    private double _departure;
    private double _gapMean;
    private double _gapSquares;
    private double _neighbours;
    private double _lately;

    /// <summary>Creates a rhythm that has seen nothing.</summary>
    public WaveRhythm() => Reset();

    /// <summary>How many marks were accepted since <see cref="Reset"/>; double presses do not count.</summary>
    public int MarkCount { get; private set; }

    /// <summary>Time of the last accepted mark, µs; 0 before the first.</summary>
    public long LastMarkUs { get; private set; }

    /// <summary>True when there are enough marks for a forecast.</summary>
    public bool Ready => MarkCount >= MarksNeeded && _gapCount >= MarksNeeded - 1;

    /// <summary>Learned mean period, seconds; 0 before two marks.</summary>
    public double PeriodSeconds => _mean;

    /// <summary>Learned spread (standard deviation) of one period, seconds; 0 before two marks.</summary>
    public double PeriodSpreadSeconds => _spread;

    /// <summary>How steadily the waves come: an index for <see cref="Steadiness.Words"/>.</summary>
    public int SteadinessIndex => Steadiness.Index(Ready ? _mean : 0, _spread);

    /// <summary>Mean length of the backwash, seconds. Until one was timed it is a third of the period, or 3 s when that is not known either.</summary>
    public double BackwashSeconds => _lengths.Count > 0 ? _lengths.MeanSeconds : _mean > 0 ? _mean / 3 : 3.0;

    /// <summary>Spread of the length of the backwash, seconds, as timed and drawn towards 30 % of its mean.</summary>
    public double BackwashSpreadSeconds => _lengths.SpreadSeconds(BackwashSeconds);

    /// <summary>The backwashes that were timed.</summary>
    public BackwashLengths Lengths => _lengths;

    /// <summary>
    /// True while the marks contradict each other, so that some of them cannot have been turns: the timed backwash takes more of the
    /// period than on any beach, or long and short gaps alternate. Every chance is then halved.
    /// </summary>
    public bool Doubtful => Ready && ((_lengths.Ready && _lengths.MeanSeconds > LongestBackwashShare * _mean) || _neighbours < Alternating * _gapSquares);

    /// <summary>The share of the last few gaps in which a wave went by without a mark, 0..1.</summary>
    public double LatelyPassed => _lately;

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        _departure = 0;
        _gapMean = 0;
        _gapSquares = 0;
        _neighbours = 0;
        _lately = 0;
        MarkCount = 0;
        LastMarkUs = 0;
        _gapCount = 0;
        _toConfirm = 0;
        _strangeGap = 0;
        _lengths.Reset();
        _density.Reset();
        ClearSums();
        _mean = 0;
        _spread = 0;
    }

    /// <summary>Learns how long a backwash lasted. Values outside [0.3, 30] s are ignored.</summary>
    /// <param name="seconds">From the turn to the end of the backwash, seconds.</param>
    public void LearnBackwash(double seconds) => _lengths.Learn(seconds);

    /// <summary>Takes a mark: a wave has turned.</summary>
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
            _toConfirm = Ready ? GapsToConfirm : 0;
            _strangeGap = 0;
            return;
        }
        if (_toConfirm > 0 && !Confirm(gap)) return;
        if (_gapCount < StartGaps)
        {
            _startGaps[_gapCount++] = gap;
            LearnFromStart();
            return;
        }
        _gapCount++;
        double waves = LearnGap(gap);
        Compare(gap);
        // Where many waves go by without a mark, a long gap says nothing about the turns in it.
        if (waves > 1.5 && _lately > OftenPassed) _density.Break();
        // divisor: _mean is above zero once a gap was learned
        else _density.Learn(gap / _mean);
    }

    /// <summary>
    /// True when the rhythm cannot be fired on: it is not ready, no mark came for three periods, it is not yet confirmed after a pause, or
    /// the spread of the next turn's forecast is above <see cref="WidestSpreadShare"/> of the period.
    /// </summary>
    /// <param name="nowUs">Now, µs.</param>
    public bool Stale(long nowUs) =>
        !Ready || _toConfirm > 0 || nowUs - LastMarkUs > (long)(3e6 * _mean) || SpreadSeconds(1) > WidestSpreadShare * _mean;

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
        turnUs = TurnForecast.TurnUs(LastMarkUs, _mean, nowUs, wavesAhead, out double index);
        spreadSeconds = SpreadSeconds(index);
        return true;
    }

    /// <summary>Works out the likeliest release on a coming wave, and its chance, with a whole <see cref="ReleaseSearch"/>.</summary>
    /// <param name="nowUs">Now, µs. No earlier release is considered.</param>
    /// <param name="wavesAhead">As for <see cref="TryForecast"/>.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    /// <param name="releaseUs">When to open the shutter, µs; 0 when there is no forecast.</param>
    /// <param name="chance">Probability that the exposure lies inside a backwash from start to end, 0..1.</param>
    /// <returns>False when there is no forecast.</returns>
    public bool TryRelease(long nowUs, int wavesAhead, double exposureSeconds, out long releaseUs, out double chance)
    {
        ReleaseSearch search = Search();
        if (search.Begin(this, nowUs, wavesAhead, exposureSeconds))
        {
            while (!search.Step()) { }
        }
        releaseUs = search.ReleaseUs;
        chance = search.Chance;
        return search.Found;
    }

    /// <summary>Probability that an exposure lies inside some backwash after the last mark from start to end, 0..1; 0 while the rhythm is not ready.</summary>
    /// <remarks>See <see cref="ReleaseSearch.ChanceAt"/>.</remarks>
    /// <param name="nowUs">Now, µs. No mark has come between the last one and now.</param>
    /// <param name="releaseUs">When the shutter opens, µs, not before now.</param>
    /// <param name="exposureSeconds">How long it stays open, seconds.</param>
    public double ChanceInBackwash(long nowUs, long releaseUs, double exposureSeconds)
    {
        ReleaseSearch search = Search();
        search.Watch(this, nowUs, exposureSeconds);
        return search.ChanceAt(releaseUs);
    }

    // Created at first use. The firmware uses a search of its own instead, one step at a time.
    private ReleaseSearch Search() => _search ??= new ReleaseSearch();

    internal TurnDensity Density => _density;

    // How many waves the mean rests on, after forgetting.
    internal double Waves => _waves;

    private double SpreadSeconds(double index) => TurnForecast.SpreadSeconds(_spread, _waves, index);

    private void ClearSums()
    {
        _time = 0;
        _waves = 0;
        _squares = 0;
        _gaps = 0;
        _passed = 0;
    }

    // Among few gaps the first may be the odd one, so the rhythm is learned again from their lower median each time.
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
        // divisor: the median of gaps, each at least ShortestPeriodSeconds
        for (int i = 0; i < _gapCount; i++) _density.Learn(_startGaps[i] / _mean);
    }

    // Whether to learn from a gap after a pause. A gap that confirms the old rhythm is learned from at once. The first one that does not may
    // contain a wave that was not marked, so only a second one begins the rhythm again, from both.
    private bool Confirm(double gap)
    {
        double departure = gap - _mean;
        if (departure < 0) departure = -departure;
        if (departure <= BornOut * _spread)
        {
            _toConfirm--;
            _strangeGap = 0;
            return true;
        }
        _toConfirm = GapsToConfirm;
        if (_strangeGap == 0)
        {
            _strangeGap = gap;
            return false;
        }
        _toConfirm = 0;
        _gapCount = 1;
        _startGaps[0] = _strangeGap;
        _strangeGap = 0;
        MarkCount = MarksNeeded;
        return true;
    }

    // Finds whether long gaps follow short ones: the product of neighbouring departures from the mean gap, and the square of one, with slow forgetting.
    private void Compare(double gap)
    {
        if (_gapMean == 0)
        {
            // It begins with a square and no product, so that a few gaps that happen to alternate prove nothing.
            _gapMean = gap;
            _gapSquares = _spread * _spread;
        }
        double departure = gap - _gapMean;
        _gapMean += LinkShare * departure;
        _neighbours += LinkShare * (departure * _departure - _neighbours);
        _gapSquares += LinkShare * (departure * departure - _gapSquares);
        _departure = departure;
    }

    // Returns how many waves the gap is taken for.
    private double LearnGap(double gap)
    {
        // divisor: a constant above zero and a count
        double passRate = (PriorPassed * PassedWeight + _passed) / (PassedWeight + _gaps);
        double spread = Elementary.Max(_spread, 0.05 * _mean);
        double prior = 1 - passRate;
        double total = 0, waves = 0, square = 0;
        for (int n = 1; n <= 3; n++)
        {
            double departure = gap - n * _mean;
            double perWave = departure * departure / n;
            // divisor: n is 1 to 3 and spread at least 0.05 of a mean above zero
            double weight = prior * Elementary.Exp(-perWave / (2 * spread * spread)) / (n == 1 ? 1.0 : n == 2 ? RootOf2 : RootOf3) + (n == 1 ? 1e-9 : 0);
            total += weight;
            waves += n * weight;
            square += perWave * weight;
            prior *= passRate;
        }
        // divisor: the first wave adds at least 1e-9
        waves /= total;
        // divisor: the first wave adds at least 1e-9
        square /= total;
        // One gap far from the mean must not drive up the spread.
        square = Elementary.Min(square, 9 * spread * spread);
        _time = Forgetting * _time + gap;
        _waves = Forgetting * _waves + waves;
        _squares = Forgetting * _squares + square;
        _gaps = Forgetting * _gaps + 1;
        double passed = Elementary.Min(1, waves - 1);
        _passed = Forgetting * _passed + passed;
        _lately += LatelyShare * (passed - _lately);
        // divisor: at least one gap was added, as one wave or more
        _mean = _time / _waves;
        double priorSpread = PriorVariation * _mean;
        _spread = Elementary.Sqrt((_squares + PriorWeight * priorSpread * priorSpread) / (_gaps + PriorWeight));
        return waves;
    }
}
