using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>Works out what share of frames each way of firing is expected to put on the backwash from start to end, and which way to use.</summary>
/// <remarks>It costs 25,000 to 90,000 IL instructions, depending on how many backwashes were timed (counted, with calls weighted), in about 23 steps.</remarks>
public sealed class FiringAdvice
{
    /// <summary>Fires at once on the mark at the turn.</summary>
    public const int AtOnce = 0;

    /// <summary>Fires a set delay after the mark at the turn.</summary>
    public const int AfterMark = 1;

    /// <summary>Fires on the learned rhythm, without a mark for that wave.</summary>
    public const int OnRhythm = 2;

    /// <summary>Fires the learned delay after a mark at the arrival.</summary>
    public const int OnArrival = 3;

    /// <summary>How many ways of firing there are.</summary>
    public const int Count = 4;

    /// <summary>Mean of press time less turn time, seconds, assumed of a hand that was not measured.</summary>
    public const double PressLagSeconds = 0.10;

    /// <summary>Spread of a press about its mean, seconds, assumed of a hand that was not measured.</summary>
    public const double PressSpreadSeconds = 0.15;

    // While no backwash was timed, its length is guessed as a third of the period. The spread is taken from backwashes on hand-traced
    // shorelines of Madeira Beach, Florida (USGS), which spread by 67 to 91 % of their mean.
    private const double UntimedVariation = 0.75;

    private const double WorthChanging = 0.03;

    /// <summary>
    /// A frame whose chance in whole per cent is below this is likelier to fail than to succeed. It is too long for this sea, and no way of
    /// firing is recommended for it.
    /// </summary>
    public const int LeastPercent = 50;

    // When a frame opens after the turn less often than this, its chance is not worth working out.
    private const double LeastBegun = 1e-4;

    // When a frame opens this many spreads after the turn, it opens too soon less than once in three million.
    private const double SurelyBegun = 5.0;

    // While nothing better is known, the shutter opens this long after the press, seconds.
    private const double UsualDelaySeconds = 0.3;
    private const int DelaySteps = 8;

    // For the longest exposure that fits: the chance that it must have, how many spreads of the press after the turn it opens, and the number of bisections.
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

    /// <summary>Creates advice that has learned nothing.</summary>
    public FiringAdvice() : this(new ReleaseSearch())
    {
    }

    /// <summary>Creates advice that has learned nothing and uses a given search.</summary>
    /// <param name="search">The search, which nobody else may use while the advice is being worked out.</param>
    public FiringAdvice(ReleaseSearch search)
    {
        _search = search;
        Forget();
    }

    /// <summary>True when nothing is being worked out.</summary>
    public bool Done { get; private set; } = true;

    /// <summary>
    /// The way with the highest chance, except that simpler ways win within three points. Firing at once is never recommended, because firing a
    /// little later asks for the same press and is at least as good. Arrivals are never recommended, because an arrival does not tell how far its
    /// wave will run, so their chance is too uncertain to be compared with that of a marked turn. -1 while nothing is known, and when no way has
    /// a chance of <see cref="LeastPercent"/>.
    /// </summary>
    public int Recommended { get; private set; } = -1;

    /// <summary>The best delay after the mark, seconds, 0 or above.</summary>
    public double DelayAfterMarkSeconds { get; private set; }

    /// <summary>
    /// The longest exposure that lies on the backwash from start to end nine times in ten when it opens a little after a press at the turn,
    /// seconds; 0 while no backwash was timed.
    /// </summary>
    public double LongestSeconds { get; private set; }

    /// <summary>The chance that a frame lies on the backwash from start to end, 0..1; 0 when it is unknown.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public double Chance(int way) => way < 0 || way >= Count ? 0 : Elementary.Max(0, _chances[way]);

    /// <summary>The same in whole per cent: 0 for what is impossible, -1 when it is unknown.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public int Percent(int way) => way < 0 || way >= Count || _chances[way] < 0 ? -1 : WholePercent(_chances[way]);

    /// <summary>A chance as every screen shows it, in whole per cent. It is at most 99, because nothing at sea is certain.</summary>
    /// <param name="chance">The chance, 0..1.</param>
    public static int WholePercent(double chance) => (int)Elementary.Min(99, Elementary.Round(chance * 100));

    /// <summary>A way of firing in plain words.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public static string Words(int way) => way switch
    {
        AtOnce => "mark the turn, fires at once",
        AfterMark => "mark the turn, fires a little later",
        OnRhythm => "fires by itself on the rhythm",
        OnArrival => "mark the arrival, fires on the turn",
        _ => "mark a few waves first",
    };

    /// <summary>Works the advice out again, from beginning to end.</summary>
    /// <param name="rhythm">The learned rhythm.</param>
    /// <param name="delay">The learned turn delay.</param>
    /// <param name="nowUs">Now, µs.</param>
    /// <param name="exposureSeconds">Length of the exposure, seconds.</param>
    /// <param name="soonestSeconds">From a press to the earliest possible opening, seconds: the camera's lag.</param>
    /// <param name="lagSeconds">How late this photographer presses on average, seconds.</param>
    /// <param name="handSpreadSeconds">The spread of the photographer's presses, seconds, above 0.</param>
    public void Update(WaveRhythm rhythm, TurnDelay delay, long nowUs, double exposureSeconds, double soonestSeconds = 0, double lagSeconds = PressLagSeconds, double handSpreadSeconds = PressSpreadSeconds)
    {
        Begin(rhythm, delay, nowUs, exposureSeconds, soonestSeconds, lagSeconds, handSpreadSeconds);
        while (!Step()) { }
    }

    /// <summary>Begins to work the advice out again. What was found before stays valid until <see cref="Step"/> is done.</summary>
    /// <param name="rhythm">The learned rhythm.</param>
    /// <param name="delay">The learned turn delay.</param>
    /// <param name="nowUs">Now, µs.</param>
    /// <param name="exposureSeconds">Length of the exposure, seconds.</param>
    /// <param name="soonestSeconds">From a press to the earliest possible opening, seconds: the camera's lag.</param>
    /// <param name="lagSeconds">How late this photographer presses on average, seconds.</param>
    /// <param name="handSpreadSeconds">The spread of the photographer's presses, seconds, above 0.</param>
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

    /// <summary>Does the next step, which costs at most 5,000 IL instructions. Returns true when the advice is done.</summary>
    public bool Step()
    {
        if (Done || _rhythm == null || _delay == null) return true;
        if (_delayStep <= DelaySteps)
        {
            double room = Elementary.Max(0, _rhythm.BackwashSeconds - _exposure);
            // A moment after the middle of the room is never likelier, because presses spread less than the ends of backwashes.
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
        // Until some backwashes were timed, what fits is a guess, and a guess is not shown as a chance.
        bool ready = _rhythm.Ready && _rhythm.Lengths.Ready;
        _chances[AtOnce] = ready ? _atOnce : -1;
        _chances[AfterMark] = ready ? _afterMark : -1;
        DelayAfterMarkSeconds = _bestDelay;
        LongestSeconds = _fits;
        _chances[OnRhythm] = !_searching || !ready ? -1 : _search.Found ? _search.Chance : 0;
        _chances[OnArrival] = _delay.TryRelease(_nowUs, _exposure, out _, out double onArrival) && _delay.Timed ? onArrival : -1;
        Recommended = -1;
        double highest = 0;
        for (int i = AfterMark; i < OnArrival && !_rhythm.Doubtful; i++)
        {
            if (Percent(i) < LeastPercent || _chances[i] <= highest + WorthChanging) continue;
            highest = _chances[i];
            Recommended = i;
        }
        Done = true;
        return true;
    }

    /// <summary>The chance that an exposure after a press at the turn lies on the backwash from start to end, 0..1. It is halved where the marks contradict each other.</summary>
    /// <remarks>About 4,100 IL instructions with thirty-two backwashes timed (estimated).</remarks>
    /// <param name="rhythm">The learned rhythm.</param>
    /// <param name="afterSeconds">From the press to the opening, seconds.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    /// <param name="lagSeconds">How late this photographer presses on average, seconds.</param>
    /// <param name="handSpreadSeconds">The spread of the photographer's presses, seconds, above 0.</param>
    public static double ChanceAfterPress(WaveRhythm rhythm, double afterSeconds, double exposureSeconds, double lagSeconds = PressLagSeconds, double handSpreadSeconds = PressSpreadSeconds)
    {
        double chance = ChanceOnBackwash(rhythm.Lengths, rhythm.BackwashSeconds, afterSeconds + lagSeconds, exposureSeconds, handSpreadSeconds);
        return rhythm.Doubtful ? chance / 2 : chance;
    }

    /// <summary>The chance that an exposure lies on the backwash from start to end, 0..1.</summary>
    /// <remarks>
    /// It is the chance that the frame opens after the turn, times the chance that the backwash then lasts. The presses of such frames come later
    /// and closer together than all presses do (mean and variance of a normal distribution cut off on one side; Johnson, Kotz and Balakrishnan
    /// 1994, Continuous Univariate Distributions, section 13.10; from memory). A frame longer than its backwash may open too soon and close too
    /// late at once, which is one miss and not two.
    /// </remarks>
    /// <param name="lengths">The backwashes that were timed.</param>
    /// <param name="meanSeconds">The mean to use while nothing was timed, seconds.</param>
    /// <param name="intoSeconds">The mean time from the turn to the opening, seconds.</param>
    /// <param name="exposureSeconds">How long the shutter stays open, seconds.</param>
    /// <param name="handSpreadSeconds">The spread of the opening about that mean, seconds.</param>
    public static double ChanceOnBackwash(BackwashLengths lengths, double meanSeconds, double intoSeconds, double exposureSeconds, double handSpreadSeconds)
    {
        double spread = Elementary.Max(handSpreadSeconds, 0.01);
        // divisor: at least 0.01
        double margin = intoSeconds / spread;
        double begun = 1, later = 0, left = spread;
        if (margin < SurelyBegun)
        {
            begun = Normal.Below(margin);
            if (begun < LeastBegun) return 0;
            // divisor: at least LeastBegun
            later = Normal.Density(margin) / begun;
            left *= Elementary.Sqrt(Elementary.Max(0, 1 - later * (later + margin)));
        }
        return begun * (1 - lengths.ChanceShorter(intoSeconds + spread * later + exposureSeconds, left, spread, meanSeconds, UntimedVariation));
    }

    private void Forget()
    {
        for (int i = 0; i < Count; i++) _chances[i] = -1;
    }
}
