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
    /// 1986, Density Estimation, formula 3.28, which has 1.06). It is narrower than there, because backwashes are not spread like a normal distribution:
    /// a wide curve puts too many below the shortest that a surf has, and too many above the middle where following bores cut most of them short. The
    /// study of the waves weighs this and the two constants above on model seas alone.
    /// </summary>
    public const double SmoothingShare = 0.7;

    // The square of a hundredth of a second: no press is surer than that.
    private const double LeastVariance = 1e-4;

    private readonly double _priorVariation;
    private readonly double _priorWeight;
    private readonly double _smoothingShare;
    private readonly float[] _seconds = new float[Kept];
    private int _next;
    private double _variance;
    private double _drawn;
    private double _weight;
    private double _curve;
    private double _steepness;
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
    /// all waves are over at once. A length that was timed contains the error of a press at its beginning and of another at its end. Variances of
    /// errors that have nothing to do with each other add up, so twice the variance of a press is taken off that of the lengths, and that of
    /// the one press that counts is added. About 2,000 IL instructions (estimated).
    /// </remarks>
    /// <param name="seconds">Seconds after the turn.</param>
    /// <param name="errorSeconds">Spread of the press about the turn, seconds, above 0.</param>
    /// <param name="handSpreadSeconds">Spread of each of the presses by which the lengths were timed, seconds.</param>
    /// <param name="meanSeconds">The mean to use while nothing was timed, seconds.</param>
    /// <param name="untimedVariation">The spread to use while nothing was timed, as a share of that mean.</param>
    public double ChanceShorter(double seconds, double errorSeconds, double handSpreadSeconds, double meanSeconds, double untimedVariation = PriorVariation)
    {
        double variance = errorSeconds * errorSeconds + LeastVariance;
        int count = Count;
        if (count == 0)
        {
            double guessed = untimedVariation * meanSeconds;
            // divisor: the root of LeastVariance or more
            return Normal.Below((seconds - meanSeconds) / Elementary.Sqrt(guessed * guessed + variance));
        }
        double byHand = 2 * handSpreadSeconds * handSpreadSeconds, timedVariance = _variance;
        variance += _drawn - _weight * (byHand < timedVariance ? byHand : timedVariance);
        double width = _curve * variance, steepness = _steepness;
        // Few lengths that are alike vary by less than what is assumed. They stay where they are, and their curves are so much wider.
        bool asTimed = variance - width >= timedVariance;
        // divisor: the root of a share of LeastVariance or more
        double per = 1 / Elementary.Sqrt(asTimed ? variance - timedVariance : width);
        if (asTimed) steepness = per;
        float[] lengths = _seconds;
        double mean = MeanSeconds, off = (seconds - mean) * per, sum = 0;
        for (int i = 0; i < count; i++) sum += Normal.Below(off - steepness * (lengths[i] - mean));
        // divisor: the count was tested above
        double timed = sum / count;
        return timed + TooShortShare * (1 - timed);
    }

    // The curves would widen the whole distribution by their own width, so the lengths are drawn towards their mean by as much (Silverman
    // and Young 1987, The bootstrap: to smooth or not to smooth). How far a length then lies from the mean, in widths of the curve, does
    // not depend on the hand.
    private void Smooth()
    {
        // divisor: the weight is above zero and a count never below it
        _weight = Count / (_priorWeight + Count);
        double spread = SpreadSeconds(MeanSeconds);
        _drawn = spread * spread;
        double share = _smoothingShare * Elementary.Pow(Count, -0.2);
        _curve = Elementary.Min(1, share * share);
        // divisor: the curve is above zero, and a variance of LeastVariance or more is used here
        _steepness = Elementary.Sqrt((1 - _curve) / (_curve * Elementary.Max(_variance, LeastVariance)));
    }
}
