using Intervalometer.Core.Numerics;

namespace Intervalometer.Settings;

/// <summary>
/// Measures how a person presses. A mark runs up, slows down, turns and runs back, as the edge of a wave does; Mark is pressed as it
/// turns. A dozen presses give the lag and the spread with which every chance of a marked frame is reckoned.
/// </summary>
/// <remarks>
/// The run-up is ballistic (Shen and Meyer 1963), of an uneven length and reach, so that no rhythm helps. One press a run counts, from
/// 1.2 s before the turn to 1.5 s after it. The spread is that of one more press by the same hand: the sample's, times the
/// root of 1 + 1/n for a mean that is itself known from n presses; never less than is assumed of a hand that was not measured, because
/// water turns less sharply than a mark. The lag is shrunk towards the assumed one as by six presses more, or a lucky dozen would promise
/// too much. Holds no clock; allocates nothing.
/// </remarks>
public sealed class HandDrill
{
    /// <summary>Presses that make a drill.</summary>
    public const int PressesNeeded = 12;

    /// <summary>Range of what is learned and kept, ms.</summary>
    public const int LeastLagMs = -1000, MostLagMs = 1500, LeastSpreadMs = 150, MostSpreadMs = 1500;

    private const int AssumedLagMs = 100;
    private const int AssumedPresses = 6;

    // A press counts this long before and after the turn, µs.
    private const long EarlyUs = 1_200_000;
    private const long LateUs = 1_500_000;

    private const long ShortestUpUs = 1_600_000;
    private const long RestUs = 500_000;

    private uint _chance;
    private long _beginUs;
    private long _upUs;
    private int _reach;
    private bool _pressed;
    private double _mean;
    private double _squares;

    /// <summary>Presses counted so far.</summary>
    public int Count { get; private set; }

    /// <summary>True when <see cref="LagMs"/> and <see cref="SpreadMs"/> have been measured.</summary>
    public bool Done => Count >= PressesNeeded;

    /// <summary>The last press less the turn, ms; positive when it came late.</summary>
    public int LastMs { get; private set; }

    /// <summary>When the mark turns, or last turned, µs.</summary>
    public long TurnUs => _beginUs + _upUs;

    /// <summary>Press less the turn in the mean, ms, shrunk towards what is assumed.</summary>
    // divisor: AssumedPresses and a count
    public int LagMs => (int)Elementary.Clamp(Elementary.Round((AssumedPresses * AssumedLagMs + Count * _mean) / (AssumedPresses + Count)), LeastLagMs, MostLagMs);

    /// <summary>Spread (standard deviation) of one more press about that mean, ms.</summary>
    public int SpreadMs
    {
        get
        {
            if (Count < 2) return MostSpreadMs;
            // divisor: Count is 2 or more
            double variance = _squares / (Count - 1) * (1 + 1.0 / Count);
            return (int)Elementary.Clamp(Elementary.Round(Elementary.Sqrt(variance)), LeastSpreadMs, MostSpreadMs);
        }
    }

    /// <summary>Begins anew with no press counted.</summary>
    public void Begin(long nowUs)
    {
        Count = 0;
        LastMs = 0;
        _mean = 0;
        _squares = 0;
        _chance = (uint)nowUs | 1;
        NextRun(nowUs + RestUs);
    }

    /// <summary>Sends the mark up again when it has come back. Call it often.</summary>
    public void Turn(long nowUs)
    {
        if (!Done && nowUs >= _beginUs + 2 * _upUs) NextRun(nowUs + RestUs);
    }

    /// <summary>Mark was pressed. True when the press counts.</summary>
    public bool Press(long atUs)
    {
        long offUs = atUs - TurnUs;
        if (Done || _pressed || offUs < -EarlyUs || offUs > LateUs) return false;
        _pressed = true;
        LastMs = (int)(offUs / 1000);
        Count++;
        double off = LastMs - _mean;
        // divisor: Count was just made 1 or more
        _mean += off / Count;
        _squares += off * (LastMs - _mean);
        return true;
    }

    /// <summary>How far up the mark is, 0 to a given number of columns.</summary>
    /// <param name="atUs">When, µs.</param>
    /// <param name="columns">Columns of the whole way, 1 to 200.</param>
    public int Place(long atUs, int columns)
    {
        // divisor: a run up takes ShortestUpUs at least once the drill was begun
        double away = _upUs == 0 ? 1 : (atUs - TurnUs) / (double)_upUs;
        double height = 1 - away * away;
        // divisor: a constant
        return height <= 0 ? 0 : (int)(height * columns * _reach / 100);
    }

    // Steps of the chance after Numerical Recipes (Press et al. 2007), 7.1: a linear congruence modulo 2^32.
    private void NextRun(long beginUs)
    {
        _chance = _chance * 1664525u + 1013904223u;
        _beginUs = beginUs;
        _upUs = ShortestUpUs + (_chance >> 16) % 13 * 100_000;
        _reach = 60 + (int)((_chance >> 24) % 41);
        _pressed = false;
    }
}
