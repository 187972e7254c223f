using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// How long backwashes last. It keeps the last thirty-two that were timed, one by one. Following bores cut many short, so a mean
/// and a spread say too little about the short ones, and those are the ones that ruin a frame.
/// </summary>
/// <remarks>Time and memory are constant. A length costs about 400 IL instructions (estimated).</remarks>
public sealed class BackwashLengths
{
    /// <summary>How many lengths are kept; the oldest is dropped first.</summary>
    public const int Kept = 32;

    /// <summary>How many lengths are needed before a chance is given. With fewer, what fits is a guess.</summary>
    public const int Needed = 3;

    /// <summary>The shortest length that is accepted, seconds.</summary>
    public const double ShortestSeconds = 0.3;

    /// <summary>The longest length that is accepted, seconds.</summary>
    public const double LongestSeconds = 30.0;

    /// <summary>The spread that is assumed before anything was timed, as a share of the mean.</summary>
    public const double PriorVariation = 0.3;

    /// <summary>How many lengths that assumption goes on counting for.</summary>
    public const double PriorWeight = 2.0;

    /// <summary>
    /// The width of the curve around each length, as a share of the spread of all. It falls with the fifth root of their number (Silverman
    /// 1986, Density Estimation, formula 3.28). The study of the waves weighs this and the two constants above on model seas alone.
    /// </summary>
    public const double SmoothingShare = 1.06;

    private readonly double _priorVariation;
    private readonly double _priorWeight;
    private readonly double _smoothingShare;
    private readonly float[] _seconds = new float[Kept];
    private int _next;
    private double _variance;
    private double _smoothing;
    private double _drawnIn;
    private int _watched;
    private double _tooShort;

    /// <summary>Creates lengths with the box's constants.</summary>
    public BackwashLengths() : this(PriorVariation, PriorWeight, SmoothingShare)
    {
    }

    /// <summary>Creates lengths with other constants, to compare them with the box's.</summary>
    /// <param name="priorVariation">In place of <see cref="PriorVariation"/>, above 0.</param>
    /// <param name="priorWeight">In place of <see cref="PriorWeight"/>, above 0.</param>
    /// <param name="smoothingShare">In place of <see cref="SmoothingShare"/>, above 0.</param>
    public BackwashLengths(double priorVariation, double priorWeight, double smoothingShare)
    {
        _priorVariation = priorVariation;
        _priorWeight = priorWeight;
        _smoothingShare = smoothingShare;
    }

    /// <summary>How many lengths are held, 0 to <see cref="Kept"/>.</summary>
    public int Count { get; private set; }

    /// <summary>True when enough backwashes were timed to give a chance.</summary>
    public bool Ready => Count >= Needed;

    /// <summary>Mean of the lengths held, seconds; 0 when there is none.</summary>
    public double MeanSeconds { get; private set; }

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        Count = 0;
        _next = 0;
        MeanSeconds = 0;
        _variance = 0;
        _watched = 0;
        _tooShort = 0;
    }

    /// <summary>
    /// Share of waves that run back for less time than a hand can time, 0..1, among the waves that were reported to <see cref="Watch"/>. It
    /// counts as if one more wave had been longer, so that one short wave among few does not reduce every chance to nothing.
    /// </summary>
    // divisor: a count and one
    public double TooShortShare => _tooShort * _watched / (1 + _watched);

    /// <summary>Notes a wave that went by while every wave was being timed. About the last <see cref="Kept"/> of them count.</summary>
    /// <param name="tooShort">True when its backwash was over too soon to be timed. A longer one is also learned by <see cref="Learn"/>.</param>
    public void Watch(bool tooShort)
    {
        if (_watched < Kept) _watched++;
        // divisor: just made 1 or more
        _tooShort += ((tooShort ? 1 : 0) - _tooShort) / _watched;
    }

    /// <summary>Learns from a backwash that was timed. Lengths outside [0.3, 30] s are ignored.</summary>
    /// <param name="seconds">From the turn to the end of the backwash, seconds.</param>
    public void Learn(double seconds)
    {
        if (seconds < ShortestSeconds || seconds > LongestSeconds) return;
        _seconds[_next] = (float)seconds;
        _next = (_next + 1) % Kept;
        if (Count < Kept) Count++;
        double sum = 0;
        for (int i = 0; i < Count; i++) sum += _seconds[i];
        // divisor: Count was just made 1 or more
        MeanSeconds = sum / Count;
        double squares = 0;
        for (int i = 0; i < Count; i++) squares += (_seconds[i] - MeanSeconds) * (_seconds[i] - MeanSeconds);
        // divisor: Count was just made 1 or more
        _variance = squares / Count;
        Smooth();
    }

    /// <summary>Spread (standard deviation) of the lengths, seconds, drawn towards 30 % of the mean.</summary>
    /// <param name="meanSeconds">The mean to use while nothing was timed, seconds.</param>
    public double SpreadSeconds(double meanSeconds)
    {
        double prior = _priorVariation * (Count > 0 ? MeanSeconds : meanSeconds);
        // divisor: the weight is above zero and a count never below it
        return Elementary.Sqrt((_priorWeight * prior * prior + Count * _variance) / (_priorWeight + Count));
    }

    /// <summary>Probability that a backwash is over sooner than this after a press at its turn, 0..1.</summary>
    /// <remarks>
    /// A dozen lengths alone would give a chance in steps of 8 points, so each is spread to a curve of its own. <see cref="TooShortShare"/> of
    /// all waves are over at once. A length that was timed contains the error of a press at its beginning and of another at its end. That is more
    /// than affects a frame after one press, so only half of its variance is added again. About 2,000 IL instructions (estimated).
    /// </remarks>
    /// <param name="seconds">Seconds after the turn.</param>
    /// <param name="errorSeconds">Spread of the press about the turn, seconds, above 0.</param>
    /// <param name="meanSeconds">The mean to use while nothing was timed, seconds.</param>
    /// <param name="untimedVariation">The spread to use while nothing was timed, as a share of that mean.</param>
    public double ChanceShorter(double seconds, double errorSeconds, double meanSeconds, double untimedVariation = PriorVariation)
    {
        double smoothing = Count > 0 ? _smoothing : untimedVariation * meanSeconds;
        double width = Elementary.Max(Elementary.Sqrt(smoothing * smoothing + 0.5 * errorSeconds * errorSeconds), 0.01);
        // divisor: width is at least 0.01
        if (Count == 0) return Normal.Below((seconds - meanSeconds) / width);
        float[] lengths = _seconds;
        int count = Count;
        double mean = MeanSeconds, drawnIn = _drawnIn, off = seconds - mean, sum = 0;
        // divisor: width is at least 0.01
        for (int i = 0; i < count; i++) sum += Normal.Below((off - drawnIn * (lengths[i] - mean)) / width);
        // divisor: the count was tested above
        double timed = sum / count;
        return timed + TooShortShare * (1 - timed);
    }

    // The curves would widen the whole distribution by their own width, so the lengths are drawn towards their mean by as much (Silverman
    // and Young 1987, The bootstrap: to smooth or not to smooth).
    private void Smooth()
    {
        double spread = SpreadSeconds(MeanSeconds);
        _smoothing = _smoothingShare * spread * Elementary.Pow(Count, -0.2);
        double left = Elementary.Max(0, spread * spread - _smoothing * _smoothing);
        // divisor: left is above zero here
        _drawnIn = left <= 0 ? 0 : Elementary.Sqrt(left / Elementary.Max(left, _variance));
    }
}
