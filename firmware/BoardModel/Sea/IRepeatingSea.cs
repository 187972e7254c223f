namespace Intervalometer.VirtualBoard.Sea;

/// <summary>A sea of a fixed length, called a lap, that then repeats.</summary>
public interface IRepeatingSea : ISea
{
    /// <summary>Short name.</summary>
    string Name { get; }

    /// <summary>Any number; the same number gives the same waves, and the same presses of the photographer who watches them.</summary>
    int Seed { get; }

    /// <summary>Turns in one lap.</summary>
    int Count { get; }

    /// <summary>Time after which everything repeats, µs.</summary>
    long LapUs { get; }

    /// <summary>A turn by number, from 0, through any number of laps.</summary>
    Swash this[long index] { get; }
}

/// <summary>Finds turns of a repeating sea.</summary>
internal static class Laps
{
    /// <summary>The last turn whose bore had arrived by a time; -1 before the first.</summary>
    public static long IndexBefore(IRepeatingSea sea, long nowUs)
    {
        if (nowUs < 0) return -1;
        long lap = nowUs / sea.LapUs, within = nowUs - lap * sea.LapUs;
        int low = 0, high = sea.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (sea[middle].ArrivalUs <= within) low = middle + 1; else high = middle;
        }
        return lap * sea.Count + low - 1;
    }

    /// <summary>The last swash whose bore had arrived by a time; null before the first.</summary>
    public static Swash? LastBefore(IRepeatingSea sea, long nowUs)
    {
        long index = IndexBefore(sea, nowUs);
        return index < 0 ? null : sea[index];
    }
}
