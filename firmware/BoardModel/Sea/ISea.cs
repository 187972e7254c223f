namespace Intervalometer.VirtualBoard.Sea;

/// <summary>One wave on the beach face. The backwash runs from <paramref name="TurnUs"/> to <paramref name="EndUs"/>.</summary>
/// <param name="ArrivalUs">The bore reaches the still waterline, µs on the virtual clock.</param>
/// <param name="TurnUs">The run-up stops and begins to roll back, µs.</param>
/// <param name="EndUs">The backwash is over: it has drained or the next bore has overrun it, µs.</param>
/// <param name="RunUpMetres">Highest reach along the beach face from the still waterline, metres.</param>
public readonly record struct Swash(long ArrivalUs, long TurnUs, long EndUs, double RunUpMetres);

/// <summary>A sea that is exactly the same for the same seed. Reading it never changes it.</summary>
public interface ISea
{
    /// <summary>What it is, in words, with its seed.</summary>
    string Description { get; }

    /// <summary>Position of the water's edge along the beach face at a time, metres up from the still waterline; 0 when drained.</summary>
    double EdgeMetres(long nowUs);

    /// <summary>The last wave whose bore had arrived by that time, or null before the first.</summary>
    Swash? LastBefore(long nowUs);

    /// <summary>The first wave whose bore arrives after that time.</summary>
    Swash NextAfter(long nowUs);
}
