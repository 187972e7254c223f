namespace Intervalometer.VirtualBoard.Sea;

/// <summary>A sea of which one lap is known beforehand, and which then repeats.</summary>
public interface IRepeatingSea : ISea
{
    /// <summary>Short name.</summary>
    string Name { get; }

    /// <summary>Any number; the same number gives the same waves, and the same presses of whoever watches them.</summary>
    int Seed { get; }

    /// <summary>Turns in one lap.</summary>
    int Count { get; }

    /// <summary>Time after which everything repeats, µs.</summary>
    long LapUs { get; }

    /// <summary>A turn by number, from 0, through any number of laps.</summary>
    Swash this[long index] { get; }
}
