using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>Says whether a frame lies wholly on the backwash of some wave of a sea.</summary>
public sealed class Judge
{
    private readonly Swash[] _waves;
    private readonly long[] _turns;

    /// <param name="sea">The sea, of which the first lap is used.</param>
    public Judge(IRepeatingSea sea)
    {
        _waves = [.. Enumerable.Range(0, sea.Count).Select(i => sea[i]).OrderBy(w => w.TurnUs)];
        _turns = [.. _waves.Select(w => w.TurnUs)];
    }

    /// <summary>Whether the whole of a frame lies between the turn of a wave and the end of its backwash.</summary>
    /// <param name="openUs">When the shutter opened, µs.</param>
    /// <param name="closeUs">When it closed, µs.</param>
    public bool OnBackwash(long openUs, long closeUs)
    {
        int at = Array.BinarySearch(_turns, openUs);
        if (at < 0) at = ~at - 1;
        // A wave that turned before the last one may still be running back beside it.
        for (int i = at; i >= 0 && i > at - 3; i--)
            if (closeUs <= _waves[i].EndUs) return true;
        return false;
    }
}
