using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>When the coming waves turn by a learned rhythm. The rhythm, the search and the reports share this arithmetic.</summary>
internal static class TurnForecast
{
    /// <summary>The turn of a coming wave.</summary>
    /// <param name="lastMarkUs">The last mark, µs.</param>
    /// <param name="periodSeconds">Mean period, seconds; above zero.</param>
    /// <param name="nowUs">Now, µs.</param>
    /// <param name="wavesAhead">1 for the first turn after now.</param>
    /// <param name="index">How many periods lie between the last mark and that turn.</param>
    /// <returns>The expected time, µs.</returns>
    internal static long TurnUs(long lastMarkUs, double periodSeconds, long nowUs, int wavesAhead, out double index)
    {
        double since = (nowUs - lastMarkUs) / 1e6;
        // divisor: callers test that the period is above zero
        double passed = since <= 0 ? 0 : Elementary.Floor(since / periodSeconds);
        index = passed + wavesAhead;
        return lastMarkUs + Elementary.Round(index * periodSeconds * 1e6);
    }

    /// <summary>Standard deviation of a turn so many periods after a mark, seconds. Variances add, and the uncertainty of the mean adds with the square of the lead.</summary>
    /// <param name="spreadSeconds">Spread of one period, seconds.</param>
    /// <param name="waves">From how many waves it was learned, 0 or above.</param>
    /// <param name="index">Periods after the mark.</param>
    // divisor: a sum of counts, never below zero, and 1
    internal static double SpreadSeconds(double spreadSeconds, double waves, double index) => spreadSeconds * Elementary.Sqrt(index + index * index / (waves + 1));
}
