using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// How long backwashes last: the last thirty-two that were timed, as they were. Following bores cut many short, so that a mean
/// and a spread say too little about the short ones, which are the ones that spoil a frame.
/// </summary>
/// <remarks>Constant time and memory: a length costs about 400 IL instructions (estimated).</remarks>
public sealed class BackwashLengths
{
    /// <summary>Lengths kept; the oldest goes first.</summary>
    public const int Kept = 32;

    /// <summary>Lengths needed before a chance is told: with fewer, what fits is a guess.</summary>
    public const int Needed = 3;

    /// <summary>Shortest length believed, seconds.</summary>
    public const double ShortestSeconds = 0.3;

    /// <summary>Longest length believed, seconds.</summary>
    public const double LongestSeconds = 30.0;

    // Before anything was timed a spread of 30 % is assumed, and goes on counting as much as two lengths.
    private const double PriorVariation = 0.3;
    private const double PriorWeight = 2.0;

    // A normal curve through the lengths counts as much as so many of them: a dozen alone would tell a chance to 10 points or worse.
    private const double CurveWeight = 8.0;

    private readonly float[] _seconds = new float[Kept];
    private int _next;
    private double _variance;

    /// <summary>Lengths held, 0 to <see cref="Kept"/>.</summary>
    public int Count { get; private set; }

    /// <summary>Whether enough were timed to tell a chance.</summary>
    public bool Ready => Count >= Needed;

    /// <summary>Mean of the lengths held, seconds; 0 without any.</summary>
    public double MeanSeconds { get; private set; }

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        Count = 0;
        _next = 0;
        MeanSeconds = 0;
        _variance = 0;
    }

    /// <summary>A backwash was timed. Lengths outside [0.3, 30] s are ignored.</summary>
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
    }

    /// <summary>Spread (standard deviation) of the lengths, seconds, shrunk towards 30 % of the mean.</summary>
    /// <param name="meanSeconds">The mean to use while nothing was timed, seconds.</param>
    public double SpreadSeconds(double meanSeconds)
    {
        double prior = PriorVariation * (Count > 0 ? MeanSeconds : meanSeconds);
        // divisor: PriorWeight is above zero and a count never below it
        return Elementary.Sqrt((PriorWeight * prior * prior + Count * _variance) / (PriorWeight + Count));
    }

    /// <summary>Probability that a backwash is over sooner than this after a press at its turn, 0..1.</summary>
    /// <remarks>Each length held counts once, a normal curve of their mean and spread as eight of them. About 2,000 IL instructions (estimated).</remarks>
    /// <param name="seconds">Seconds after the turn.</param>
    /// <param name="errorSeconds">Spread of the press about the turn, seconds, above 0.</param>
    /// <param name="meanSeconds">The mean to use while nothing was timed, seconds.</param>
    /// <param name="untimedVariation">The spread about it to use while nothing was timed, as a share of it.</param>
    public double ChanceShorter(double seconds, double errorSeconds, double meanSeconds, double untimedVariation = PriorVariation)
    {
        double mean = Count > 0 ? MeanSeconds : meanSeconds;
        double spread = Count > 0 ? SpreadSeconds(mean) : untimedVariation * mean;
        double error = Elementary.Max(errorSeconds, 0.01);
        // divisor: error is at least 0.01
        double sum = CurveWeight * Normal.Below((seconds - mean) / Elementary.Sqrt(spread * spread + error * error));
        // divisor: error is at least 0.01
        for (int i = 0; i < Count; i++) sum += Normal.Below((seconds - _seconds[i]) / error);
        // divisor: CurveWeight is above zero and a count never below it
        return sum / (CurveWeight + Count);
    }
}
