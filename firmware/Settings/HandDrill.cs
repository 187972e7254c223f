using Intervalometer.Core.Numerics;

namespace Intervalometer.Settings;

/// <summary>
/// Measures how exactly a person presses. A block on the display runs up, slows down, turns and runs back, as the edge of a wave does, and the
/// person presses Mark when it turns. A dozen presses give the lag and the spread from which the chances of frames after a mark are worked out.
/// </summary>
/// <remarks>
/// The run-up is ballistic (Shen and Meyer 1963). Its length and reach vary, so that no rhythm helps. One press in each run counts, from
/// 1.2 s before the turn to 1.5 s after it. The spread is that of one more press by the same hand: the sample's standard deviation, times
/// the root of 1 + 1/n because the mean is itself known from n presses only. It is never less than what is assumed of a hand that was not
/// measured, because water turns less sharply than a block. The lag is drawn towards the assumed one as if six more presses had shown it, because
/// a lucky dozen would otherwise promise too much. It has no clock of its own and allocates nothing.
/// </remarks>
public sealed class HandDrill
{
    /// <summary>How many presses make up a drill.</summary>
    public const int PressesNeeded = 12;

    /// <summary>The range of the lag and the spread that are measured and stored, ms.</summary>
    public const int LeastLagMs = -1000, MostLagMs = 1500, LeastSpreadMs = 150, MostSpreadMs = 1500;

    private const int AssumedLagMs = 100;
    private const int AssumedPresses = 6;

    // A press counts from this long before the turn to this long after it, µs.
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

    /// <summary>How many presses have counted so far.</summary>
    public int Count { get; private set; }

    /// <summary>True when <see cref="LagMs"/> and <see cref="SpreadMs"/> have been measured.</summary>
    public bool Done => Count >= PressesNeeded;

    /// <summary>The time of the last press less that of the turn, ms; positive when the press came late.</summary>
    public int LastMs { get; private set; }

    /// <summary>When the block turns, or last turned, µs.</summary>
    public long TurnUs => _beginUs + _upUs;

    /// <summary>The mean of press time less turn time, ms, drawn towards the assumed lag.</summary>
    // divisor: AssumedPresses and a count
    public int LagMs => (int)Elementary.Clamp(Elementary.Round((AssumedPresses * AssumedLagMs + Count * _mean) / (AssumedPresses + Count)), LeastLagMs, MostLagMs);

    /// <summary>The spread (standard deviation) of one more press about that mean, ms.</summary>
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

    /// <summary>Begins a new drill with no press counted.</summary>
    public void Begin(long nowUs)
    {
        Count = 0;
        LastMs = 0;
        _mean = 0;
        _squares = 0;
        _chance = (uint)nowUs | 1;
        NextRun(nowUs + RestUs);
    }

    /// <summary>Sends the block up again when it has come back. Call it often.</summary>
    public void Pass(long nowUs)
    {
        if (!Done && nowUs >= _beginUs + 2 * _upUs) NextRun(nowUs + RestUs);
    }

    /// <summary>Handles a press of Mark. Returns true when the press counts.</summary>
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

    /// <summary>How far up the block is, from 0 to a given number of columns.</summary>
    /// <param name="atUs">When, µs.</param>
    /// <param name="columns">How many columns the whole way has, 1 to 200.</param>
    public int Place(long atUs, int columns)
    {
        // divisor: a run up takes ShortestUpUs at least once the drill was begun
        double away = _upUs == 0 ? 1 : (atUs - TurnUs) / (double)_upUs;
        double height = 1 - away * away;
        // divisor: a constant
        return height <= 0 ? 0 : (int)(height * columns * _reach / 100);
    }

    // The pseudo-random steps follow Numerical Recipes (Press et al. 2007), 7.1: a linear congruential generator modulo 2^32.
    private void NextRun(long beginUs)
    {
        _chance = _chance * 1664525u + 1013904223u;
        _beginUs = beginUs;
        _upUs = ShortestUpUs + (_chance >> 16) % 13 * 100_000;
        _reach = 60 + (int)((_chance >> 24) % 41);
        _pressed = false;
    }
}
