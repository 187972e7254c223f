using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>What share of frames each way of firing is expected to put wholly on the backwash, and which to use.</summary>
/// <remarks>About 25,000 to 90,000 IL instructions, by how many backwashes were timed (counted, calls weighed in), in about 23 steps.</remarks>
public sealed class FiringAdvice
{
    /// <summary>Fire at once on the mark at the turn.</summary>
    public const int AtOnce = 0;

    /// <summary>Fire a set delay after the mark at the turn.</summary>
    public const int AfterMark = 1;

    /// <summary>Fire on the learned rhythm, without a mark for that wave.</summary>
    public const int OnRhythm = 2;

    /// <summary>Fire on a mark at the arrival plus the learned delay.</summary>
    public const int OnArrival = 3;

    /// <summary>Number of ways.</summary>
    public const int Count = 4;

    /// <summary>Mean press minus turn, seconds; assumed of a hand that was not measured.</summary>
    public const double PressLagSeconds = 0.10;

    /// <summary>Spread of a press about its mean, seconds; assumed of a hand that was not measured.</summary>
    public const double PressSpreadSeconds = 0.15;

    // While no backwash was timed, a third of the period is a guess: backwashes on hand-traced shorelines of Madeira Beach, Florida
    // (USGS), spread by 67 to 91 % of their mean.
    private const double UntimedVariation = 0.75;

    private const double WorthChanging = 0.03;

    // Opened this long after the press while nothing better is known, seconds.
    private const double UsualDelaySeconds = 0.3;
    private const int DelaySteps = 8;

    // The longest exposure that fits: so likely, opened so many spreads of the press after the turn, found by halving so often.
    private const double FitChance = 0.9;
    private const double FitSpreads = 5.0 / 3;
    private const int FitSteps = 6;

    private readonly double[] _chances = new double[Count];
    private readonly ReleaseSearch _search;
    private WaveRhythm? _rhythm;
    private TurnDelay? _delay;
    private long _nowUs;
    private double _exposure;
    private double _soonest;
    private double _lag;
    private double _handSpread;
    private int _delayStep;
    private bool _searching;
    private double _atOnce;
    private double _afterMark;
    private double _bestDelay;
    private int _fitStep;
    private double _fits;
    private double _fitsNot;

    /// <summary>Creates advice that knows nothing.</summary>
    public FiringAdvice() : this(new ReleaseSearch())
    {
    }

    /// <summary>Creates advice that knows nothing, with a search that nobody else uses while it works.</summary>
    /// <param name="search">The search.</param>
    public FiringAdvice(ReleaseSearch search)
    {
        _search = search;
        Forget();
    }

    /// <summary>True when nothing is being worked out.</summary>
    public bool Done { get; private set; } = true;

    /// <summary>
    /// The way with the highest chance; simpler ways win within three points. At once is never better than a little later, which asks
    /// for the same press. -1 while nothing is known.
    /// </summary>
    public int Recommended { get; private set; } = -1;

    /// <summary>Best delay after the mark, seconds, 0 or above.</summary>
    public double DelayAfterMarkSeconds { get; private set; }

    /// <summary>
    /// The longest exposure that lies wholly on the backwash nine times in ten when it opens a little after a press at the turn,
    /// seconds; 0 while no backwash was timed.
    /// </summary>
    public double LongestSeconds { get; private set; }

    /// <summary>Chance that a frame lies wholly on the backwash, 0..1; 0 when unknown.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public double Chance(int way) => way < 0 || way >= Count ? 0 : Elementary.Max(0, _chances[way]);

    /// <summary>The same in whole percent: 0 for what cannot be, -1 when unknown.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public int Percent(int way) => way < 0 || way >= Count || _chances[way] < 0 ? -1 : WholePercent(_chances[way]);

    /// <summary>A chance as every screen shows it: whole percent, at most 99, since nothing at sea is certain.</summary>
    /// <param name="chance">0..1.</param>
    public static int WholePercent(double chance) => (int)Elementary.Min(99, Elementary.Round(chance * 100));

    /// <summary>Plain words for a way.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public static string Words(int way) => way switch
    {
        AtOnce => "mark the turn, fires at once",
        AfterMark => "mark the turn, fires a little later",
        OnRhythm => "fires by itself on the rhythm",
        OnArrival => "mark the arrival, fires on the turn",
        _ => "mark a few waves first",
    };

    /// <summary>Works it out again, to the end.</summary>
    /// <param name="rhythm">What was learned of the rhythm.</param>
    /// <param name="delay">What was learned of the turn delay.</param>
    /// <param name="nowUs">Now, µs.</param>
    /// <param name="exposureSeconds">Length of the exposure, seconds.</param>
    /// <param name="soonestSeconds">From a press to the opening at the soonest, seconds: the camera's lag.</param>
    /// <param name="lagSeconds">How late this hand presses in the mean, seconds.</param>
    /// <param name="handSpreadSeconds">Spread of its presses, seconds, above 0.</param>
    public void Update(WaveRhythm rhythm, TurnDelay delay, long nowUs, double exposureSeconds, double soonestSeconds = 0, double lagSeconds = PressLagSeconds, double handSpreadSeconds = PressSpreadSeconds)
    {
        Begin(rhythm, delay, nowUs, exposureSeconds, soonestSeconds, lagSeconds, handSpreadSeconds);
        while (!Step()) { }
    }

    /// <summary>Begins to work it out again; what was found before stands until <see cref="Step"/> is done.</summary>
    /// <param name="rhythm">What was learned of the rhythm.</param>
    /// <param name="delay">What was learned of the turn delay.</param>
    /// <param name="nowUs">Now, µs.</param>
    /// <param name="exposureSeconds">Length of the exposure, seconds.</param>
    /// <param name="soonestSeconds">From a press to the opening at the soonest, seconds: the camera's lag.</param>
    /// <param name="lagSeconds">How late this hand presses in the mean, seconds.</param>
    /// <param name="handSpreadSeconds">Spread of its presses, seconds, above 0.</param>
    public void Begin(WaveRhythm rhythm, TurnDelay delay, long nowUs, double exposureSeconds, double soonestSeconds = 0, double lagSeconds = PressLagSeconds, double handSpreadSeconds = PressSpreadSeconds)
    {
        _soonest = soonestSeconds;
        _lag = lagSeconds;
        _handSpread = handSpreadSeconds;
        _rhythm = rhythm;
        _delay = delay;
        _nowUs = nowUs;
        _exposure = exposureSeconds;
        _atOnce = 0;
        _afterMark = 0;
        _bestDelay = rhythm.Ready ? 0 : UsualDelaySeconds;
        _delayStep = rhythm.Ready ? 0 : DelaySteps + 1;
        _searching = rhythm.Ready && !rhythm.Stale(nowUs) && _search.Begin(rhythm, nowUs, 1, exposureSeconds);
        _fitStep = rhythm.Ready && rhythm.Lengths.Ready ? 0 : FitSteps;
        _fits = 0;
        _fitsNot = rhythm.BackwashSeconds;
        Done = false;
    }

    /// <summary>Works on, at most 5,000 IL instructions. True when done.</summary>
    public bool Step()
    {
        if (Done || _rhythm == null || _delay == null) return true;
        if (_delayStep <= DelaySteps)
        {
            double room = Elementary.Max(0, _rhythm.BackwashSeconds - _exposure);
            // Later than the middle of the room is never likelier: presses spread less than the ends of backwashes.
            // divisor: a constant
            double after = Elementary.Max(_soonest, room / 2 * _delayStep / DelaySteps);
            double tried = ChanceAfterPress(_rhythm, after, _exposure, _lag, _handSpread);
            if (_delayStep == 0) _atOnce = tried;
            if (tried > _afterMark)
            {
                _afterMark = tried;
                _bestDelay = after;
            }
            _delayStep++;
            return false;
        }
        if (_fitStep < FitSteps)
        {
            double middle = (_fits + _fitsNot) / 2;
            if (ChanceAfterPress(_rhythm, Elementary.Max(_soonest, FitSpreads * _handSpread - _lag), middle, _lag, _handSpread) >= FitChance) _fits = middle;
            else _fitsNot = middle;
            _fitStep++;
            return false;
        }
        if (_searching && !_search.Step()) return false;
        // What fits is a guess until some backwashes were timed, and a guess is not told as a chance.
        bool ready = _rhythm.Ready && _rhythm.Lengths.Ready;
        _chances[AtOnce] = ready ? _atOnce : -1;
        _chances[AfterMark] = ready ? _afterMark : -1;
        DelayAfterMarkSeconds = _bestDelay;
        LongestSeconds = _fits;
        _chances[OnRhythm] = !_searching || !ready ? -1 : _search.Found ? _search.Chance : 0;
        _chances[OnArrival] = _delay.TryRelease(_nowUs, _exposure, out _, out double onArrival) && _delay.Timed ? onArrival : -1;
        Recommended = -1;
        double highest = 0;
        for (int i = AfterMark; i < Count && !_rhythm.Doubtful; i++)
        {
            if (_chances[i] <= highest + (Recommended < 0 ? 0 : WorthChanging)) continue;
            highest = _chances[i];
            Recommended = i;
        }
        Done = true;
        return true;
    }

    /// <summary>Chance that an exposure after a press at the turn lies wholly on the backwash, 0..1.</summary>
    /// <remarks>About 4,000 IL instructions with thirty-two backwashes timed (estimated).</remarks>
    /// <param name="rhythm">What was learned.</param>
    /// <param name="afterSeconds">From the press to the opening, seconds.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    /// <param name="lagSeconds">How late this hand presses in the mean, seconds.</param>
    /// <param name="handSpreadSeconds">Spread of its presses, seconds, above 0.</param>
    public static double ChanceAfterPress(WaveRhythm rhythm, double afterSeconds, double exposureSeconds, double lagSeconds = PressLagSeconds, double handSpreadSeconds = PressSpreadSeconds)
    {
        double into = afterSeconds + lagSeconds;
        double spread = Elementary.Max(handSpreadSeconds, 0.01);
        // divisor: at least 0.01
        double begun = Normal.Below(into / spread);
        double over = rhythm.Lengths.ChanceShorter(into + exposureSeconds, spread, rhythm.BackwashSeconds, UntimedVariation);
        double chance = begun > over ? begun - over : 0;
        return rhythm.Doubtful ? chance / 2 : chance;
    }

    private void Forget()
    {
        for (int i = 0; i < Count; i++) _chances[i] = -1;
    }
}
