using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// Searches for the likeliest release on a coming wave. It tries one release in each step, so that a thread that also watches the stop buttons
/// is never delayed. It works with what was known when it began.
/// </summary>
/// <remarks>
/// It tries five releases a fifth of a period apart around the forecast, then one on either side of the best, at about 3,000
/// IL instructions a step. The best of several uncertain chances looks better than it is. So the chance that is given is that of the
/// best less a share of its standard error, which was fitted on simulated seas. One thread may use it; it allocates nothing after construction.
/// </remarks>
public sealed class ReleaseSearch
{
    private const int WideTries = 5;
    private const int Tries = WideTries + 2;
    private const double ShapeWeight = 8.0;
    private const double BestOfSeveral = 0.4;
    private const double LeastUnmarked = 0.2;

    private TurnDensity? _density;
    private long _nowUs;
    private long _lastMarkUs;
    private double _mean;
    private double _spread;
    private double _waves;
    private double _exposure;
    private double _length;
    private double _lengthSpread;
    private double _since;
    private double _gone;
    private double _gonePast;
    private double _unmarked;
    private double _trust = 1;
    private long _middleUs;
    private long _stepUs;
    private int _try = Tries;
    private int _best;
    private bool _settled = true;

    /// <summary>True when every release has been tried.</summary>
    public bool Done => _try >= Tries;

    /// <summary>True when a release has been found; until <see cref="Done"/>, a better one may follow.</summary>
    public bool Found => ReleaseUs != 0;

    /// <summary>When to open the shutter, µs; 0 when nothing was found. Until <see cref="Done"/>, it is the best so far.</summary>
    public long ReleaseUs { get; private set; }

    /// <summary>Probability that the exposure lies inside a backwash from start to end, 0..1; valid when <see cref="Done"/>.</summary>
    public double Chance { get; private set; }

    /// <summary>Begins the search. Returns false, with nothing found, when there is no forecast.</summary>
    /// <param name="rhythm">The learned rhythm.</param>
    /// <param name="nowUs">Now, µs. No earlier release is considered.</param>
    /// <param name="wavesAhead">As for <see cref="WaveRhythm.TryForecast"/>.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    public bool Begin(WaveRhythm rhythm, long nowUs, int wavesAhead, double exposureSeconds)
    {
        ReleaseUs = 0;
        Chance = 0;
        _best = 0;
        _try = Tries;
        _settled = true;
        if (!rhythm.TryForecast(nowUs, wavesAhead, out long turnUs, out double spread)) return false;
        Watch(rhythm, nowUs, exposureSeconds);
        double room = Elementary.Max(0, _length - exposureSeconds);
        _middleUs = turnUs + Elementary.Round(room / 2 * 1e6);
        _stepUs = Elementary.Round(0.1 * _mean * 1e6);
        _try = 0;
        _settled = false;
        return true;
    }

    /// <summary>Tries one more release. Returns true when the search is done.</summary>
    public bool Step()
    {
        bool tried = false;
        while (_try < Tries && !tried)
        {
            int n = _try++;
            if (n == WideTries && !Found) _try = Tries;
            // The first tries go outward from the middle, so that a tie goes to the forecast. The last two lie on either side of the best.
            int tenths = n < WideTries ? ((n & 1) == 0 ? n : -(n + 1)) : n == WideTries ? _best - 1 : _best + 1;
            long tryUs = _middleUs + tenths * _stepUs;
            tried = tryUs >= _nowUs && (n < WideTries || Found);
            if (tried) Try(tryUs, n < WideTries, tenths);
        }
        if (_try < Tries) return false;
        if (!_settled) Settle();
        return true;
    }

    /// <summary>Copies what was learned, for <see cref="ChanceAt"/>.</summary>
    /// <param name="rhythm">The learned rhythm.</param>
    /// <param name="nowUs">Now, µs. No mark has come between the last one and now.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    public void Watch(WaveRhythm rhythm, long nowUs, double exposureSeconds)
    {
        _density = rhythm.Ready ? rhythm.Density : null;
        _nowUs = nowUs;
        _lastMarkUs = rhythm.LastMarkUs;
        _mean = rhythm.PeriodSeconds;
        _spread = rhythm.PeriodSpreadSeconds;
        _waves = rhythm.Waves;
        _exposure = exposureSeconds;
        _unmarked = Elementary.Max(LeastUnmarked, rhythm.LatelyPassed);
        _trust = (rhythm.Doubtful ? 0.5 : 1) * (1 - rhythm.Lengths.TooShortShare);
        _length = rhythm.BackwashSeconds;
        _lengthSpread = rhythm.BackwashSpreadSeconds;
        _since = -1;
    }

    /// <summary>Probability that the exposure lies inside some backwash after the last mark from start to end, 0..1; 0 while the rhythm is not ready.</summary>
    /// <remarks>
    /// The normal part is summed over the next turns: P(turn before the release) - P(backwash over before the exposure ends), where
    /// the length of the backwash varies by <see cref="WaveRhythm.BackwashSpreadSeconds"/>. As marks come in, the learned histogram of the time from
    /// turn to turn replaces it. That no turn was marked since the last mark counts as evidence, but only as far as people mark each turn. Of
    /// the turns that come during a run, the learned share, and at least one in five, is assumed to go by without a mark.
    /// </remarks>
    /// <param name="releaseUs">When the shutter opens, µs, not before the moment given to <see cref="Watch"/>.</param>
    public double ChanceAt(long releaseUs)
    {
        TurnDensity? density = _density;
        double length = _length, exposure = _exposure, mean = _mean;
        if (density == null || exposure < 0 || length <= exposure) return 0;
        double release = (releaseUs - _lastMarkUs) / 1e6;
        if (release < 0) return 0;
        double since = Elementary.Clamp((_nowUs - _lastMarkUs) / 1e6, 0, release);
        if (since != _since)
        {
            _since = since;
            // divisor: the larger of a spread and 0.01
            _gone = Normal.Below((since - mean) / Elementary.Max(SpreadSeconds(1), 0.01));
            // divisor: the mean period is above zero once the rhythm is ready
            _gonePast = density.Next(0, since / mean);
        }
        // divisor: the mean period is above zero once the rhythm is ready
        double near = Elementary.Round(release / mean);
        double lengthSpread = _lengthSpread;
        double chance = 0;
        for (double index = near < 1 ? 0 : near - 1; index <= near + 1; index++)
        {
            double spread = SpreadSeconds(index);
            double begins = index * mean;
            double begun = spread > 0 ? Normal.Below((release - begins) / spread) : 1;
            double over = Normal.Below((release - begins + exposure - length) / Elementary.Sqrt(spread * spread + lengthSpread * lengthSpread + 1e-6));
            if (begun <= over) continue;
            if (index == 0)
            {
                chance += begun - over;
                continue;
            }
            // divisor: the spread of one wave or more is above zero once the rhythm is ready
            double unseen = Elementary.Clamp(Normal.Below((since - begins) / spread) - over, 0, begun - over);
            double mass = begun - over - (1 - _unmarked) * unseen;
            // divisor: at least LeastUnmarked
            chance += index == 1 ? mass / StillPossible(_gone) : mass;
        }
        return Elementary.Clamp(WithTurnsSeen(density, chance, release, since), 0, 1);
    }

    // The learned histogram of the time from turn to turn replaces the normal part as marks come in. This is a method of its own, because
    // both at once would need a large frame of the device's stack.
    private double WithTurnsSeen(TurnDensity density, double chance, double release, double since)
    {
        double mean = _mean;
        // divisor: the mean period is above zero once the rhythm is ready
        double lead = release / mean;
        // divisor: the mean period is above zero once the rhythm is ready
        double earliest = (release + _exposure - _length) / mean;
        if (earliest <= 0.2 || lead >= TurnDensity.LongestPeriods - 0.5) return chance;
        // divisor: the mean period is above zero once the rhythm is ready
        double past = since / mean;
        double from = Elementary.Max(earliest, past);
        double until = Elementary.Min(past, lead);
        double next = density.Next(from, lead) + _unmarked * density.Next(earliest, until);
        double second = density.Second(from, lead) + _unmarked * density.Second(earliest, until);
        // divisor: at least LeastUnmarked
        double counted = next / StillPossible(_gonePast) + second;
        // divisor: ShapeWeight is above zero and a weight is never below it
        return (ShapeWeight * chance + density.Weight * counted) / (ShapeWeight + density.Weight);
    }

    private void Try(long tryUs, bool wide, int tenths)
    {
        double tried = ChanceAt(tryUs);
        if (Found && tried <= Chance) return;
        ReleaseUs = tryUs;
        Chance = tried;
        if (wide) _best = tenths;
    }

    /// <summary>The chance to show for a release that was found earlier, with what is known now; see <see cref="ChanceAt"/>.</summary>
    /// <param name="rhythm">The learned rhythm.</param>
    /// <param name="nowUs">Now, µs. No mark has come between the last one and now.</param>
    /// <param name="releaseUs">When the shutter opens, µs, not before now.</param>
    /// <param name="exposureSeconds">How long it stays open, seconds.</param>
    /// <param name="searched">True when the release is the best of several.</param>
    public double ChanceNow(WaveRhythm rhythm, long nowUs, long releaseUs, double exposureSeconds, bool searched)
    {
        Watch(rhythm, nowUs, exposureSeconds);
        double chance = ChanceAt(releaseUs);
        return searched ? Shown(chance) : _trust * chance;
    }

    private void Settle()
    {
        _settled = true;
        Chance = Shown(Chance);
    }

    // The chance is reduced by how much the best of several looks better than it is, and by the waves too short to be timed. It is halved where the marks contradict each other.
    private double Shown(double chance)
    {
        if (_density == null) return 0;
        // divisor: ShapeWeight is above zero and a weight is never below it
        double error = Elementary.Sqrt(chance * (1 - chance) / (ShapeWeight + _density.Weight));
        return _trust * Elementary.Max(0, chance - BestOfSeveral * error);
    }

    // The probability that is left for the next turn when no mark has come, although with the probability "gone" it was due by now.
    private double StillPossible(double gone) => 1 - gone * (1 - _unmarked);

    private double SpreadSeconds(double index) => TurnForecast.SpreadSeconds(_spread, _waves, index);
}
