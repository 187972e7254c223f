using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Report;

/// <summary>Helpers that work out more about a sea than its interface gives.</summary>
public static class Waves
{
    /// <summary>Waves whose bore arrives within a time, µs, in order; the one before it too, since it may still be running back.</summary>
    public static IEnumerable<Swash> Between(ISea sea, long fromUs, long toUs)
    {
        Swash? wave = sea.LastBefore(fromUs);
        long at = fromUs;
        if (wave is Swash first) { yield return first; at = Math.Max(fromUs, first.ArrivalUs); }
        while (true)
        {
            Swash next = sea.NextAfter(at);
            if (next.ArrivalUs > toUs) yield break;
            yield return next;
            at = next.ArrivalUs;
        }
    }

    /// <summary>The first turn after a time, µs.</summary>
    public static long NextTurn(ISea sea, long atUs)
    {
        Swash? running = sea.LastBefore(atUs);
        if (running is Swash now && now.TurnUs > atUs) return now.TurnUs;
        long after = atUs;
        while (true)
        {
            Swash next = sea.NextAfter(after);
            if (next.TurnUs > atUs) return next.TurnUs;
            after = next.ArrivalUs;
        }
    }

    /// <summary>Share of an exposure that fell into a backwash, 0 to 1.</summary>
    public static double BackwashShare(ISea sea, long openUs, long closeUs)
    {
        if (closeUs <= openUs) return 0;
        long covered = 0, reached = openUs;
        foreach (Swash wave in Between(sea, openUs - 120_000_000, closeUs))
        {
            long from = Math.Max(reached, wave.TurnUs), to = Math.Min(closeUs, wave.EndUs);
            if (to <= from) continue;
            covered += to - from;
            reached = to;
        }
        return (double)covered / (closeUs - openUs);
    }

    /// <summary>From the nearest turn of a wave to a time, µs: above 0 after the turn.</summary>
    public static long FromNearestTurn(ISea sea, long atUs)
    {
        long best = long.MaxValue;
        foreach (Swash wave in Between(sea, atUs - 60_000_000, sea.NextAfter(atUs).ArrivalUs))
        {
            if (best == long.MaxValue || Math.Abs(atUs - wave.TurnUs) < Math.Abs(best)) best = atUs - wave.TurnUs;
        }
        return best;
    }
}
