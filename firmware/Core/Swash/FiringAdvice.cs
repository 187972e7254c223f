using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>What share of frames each way of firing is expected to put wholly on the backwash, and which to use.</summary>
/// <remarks>About 25,000 to 60,000 IL instructions, by how many backwashes were timed (counted, calls weighed in), in about 17 steps.</remarks>
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

    /// <summary>Mean press minus turn, seconds; assumed.</summary>
    public const double PressLagSeconds = 0.10;

    /// <summary>Spread of a press about its mean, seconds; assumed.</summary>
    public const double PressSpreadSeconds = 0.15;

    private const double WorthChanging = 0.03;
    private const int DelaySteps = 8;

    private readonly double[] _chances = new double[Count];
    private readonly ReleaseSearch _search = new ReleaseSearch();
    private WaveRhythm? _rhythm;
    private TurnDelay? _delay;
    private long _nowUs;
    private double _exposure;
    private int _delayStep;
    private bool _searching;
    private double _atOnce;
    private double _afterMark;
    private double _bestDelay;

    /// <summary>True when nothing is being worked out.</summary>
    public bool Done { get; private set; } = true;

    /// <summary>The way with the highest chance; simpler ways win within three points. -1 while nothing is known.</summary>
    public int Recommended { get; private set; } = -1;

    /// <summary>Best delay after the mark, seconds, 0 or above.</summary>
    public double DelayAfterMarkSeconds { get; private set; }

    /// <summary>Chance that a frame lies wholly on the backwash, 0..1; 0 when unknown.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public double Chance(int way) => way < 0 || way >= Count ? 0 : _chances[way];

    /// <summary>The same in whole percent; -1 when unknown.</summary>
    /// <param name="way">0 to <see cref="Count"/> - 1.</param>
    public int Percent(int way) => Chance(way) <= 0 ? -1 : WholePercent(Chance(way));

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
    public void Update(WaveRhythm rhythm, TurnDelay delay, long nowUs, double exposureSeconds)
    {
        Begin(rhythm, delay, nowUs, exposureSeconds);
        while (!Step()) { }
    }

    /// <summary>Begins to work it out again; what was found before stands until <see cref="Step"/> is done.</summary>
    /// <param name="rhythm">What was learned of the rhythm.</param>
    /// <param name="delay">What was learned of the turn delay.</param>
    /// <param name="nowUs">Now, µs.</param>
    /// <param name="exposureSeconds">Length of the exposure, seconds.</param>
    public void Begin(WaveRhythm rhythm, TurnDelay delay, long nowUs, double exposureSeconds)
    {
        _rhythm = rhythm;
        _delay = delay;
        _nowUs = nowUs;
        _exposure = exposureSeconds;
        _atOnce = 0;
        _afterMark = 0;
        _bestDelay = 0;
        _delayStep = rhythm.Ready ? 0 : DelaySteps + 1;
        _searching = rhythm.Ready && !rhythm.Stale(nowUs) && _search.Begin(rhythm, nowUs, 1, exposureSeconds);
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
            double after = room / 2 * _delayStep / DelaySteps;
            double tried = AfterPress(_rhythm, after, _exposure);
            if (_delayStep == 0) _atOnce = tried;
            if (tried > _afterMark)
            {
                _afterMark = tried;
                _bestDelay = after;
            }
            _delayStep++;
            return false;
        }
        if (_searching && !_search.Step()) return false;
        _chances[AtOnce] = _atOnce;
        _chances[AfterMark] = _afterMark;
        DelayAfterMarkSeconds = _bestDelay;
        _chances[OnRhythm] = _searching && _search.Found ? _search.Chance : 0;
        _chances[OnArrival] = _delay.TryRelease(_nowUs, _exposure, out long releaseUs, out double onArrival) ? onArrival : 0;
        Recommended = -1;
        double highest = 0;
        for (int i = 0; i < Count; i++)
        {
            if (_chances[i] <= highest + (Recommended < 0 ? 0 : WorthChanging)) continue;
            highest = _chances[i];
            Recommended = i;
        }
        Done = true;
        return true;
    }

    private static double AfterPress(WaveRhythm rhythm, double after, double exposure)
    {
        double into = after + PressLagSeconds;
        double begun = Normal.Below(into / PressSpreadSeconds);
        double over = rhythm.Lengths.ChanceShorter(into + exposure, PressSpreadSeconds, rhythm.BackwashSeconds);
        return begun > over ? begun - over : 0;
    }
}
