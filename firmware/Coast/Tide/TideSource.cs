using Intervalometer.Coast.Time;

namespace Intervalometer.Coast.Tide;

/// <summary>What a tide source knows about a time.</summary>
public enum TideCertainty
{
    /// <summary>Nothing is known for that time, so the water must be assumed to come.</summary>
    None,

    /// <summary>Interpolated between printed high and low waters.</summary>
    Interpolated,

    /// <summary>Summed from harmonic constituents.</summary>
    Harmonic,
}

/// <summary>
/// Predicted height of the tide at one place. A prediction does not include surge, swell, wind or rivers; see
/// <see cref="TideCaution"/>.
/// </summary>
public abstract class TideSource
{
    /// <summary>The first instant that the source covers.</summary>
    public abstract UtcInstant ValidFrom { get; }

    /// <summary>The last instant that the source covers.</summary>
    public abstract UtcInstant ValidUntil { get; }

    /// <summary>What is known about a time; <see cref="TideCertainty.None"/> outside the span.</summary>
    public abstract TideCertainty CertaintyAt(UtcInstant time);

    /// <summary>Height above the place's datum, metres. Outside the span, the height at the nearer end.</summary>
    public abstract double HeightMetres(UtcInstant time);

    /// <summary>Rate in metres an hour, negative while the tide falls. Outside the span, 0.</summary>
    public abstract double RateMetresPerHour(UtcInstant time);

    /// <summary>Finds the first high or low water after a time. Returns false when the source knows none within 48 hours.</summary>
    public abstract bool TryNextTurn(UtcInstant after, out TideTurn turn);

    /// <summary>The largest difference between the heights of a walker and those of the source itself, metres.</summary>
    public virtual double WalkErrorMetres => 0;

    /// <summary>Creates a walker over this source, which is the cheap way to read many heights at even steps. Keep it and start it again, because it holds memory of its own.</summary>
    public abstract TideWalker CreateWalker();

    /// <summary>
    /// Saves memory: from now on and for good, the source and its walkers keep only what they cannot do without. Their heights stay as exact,
    /// but each costs more.
    /// </summary>
    public virtual void SpareMemory()
    {
    }

    /// <summary>True when the source covers the whole of a span.</summary>
    public bool Covers(UtcInstant from, UtcInstant until) => from >= ValidFrom && until <= ValidUntil && from <= until;
}

/// <summary>Reads a tide source forward at even steps.</summary>
public abstract class TideWalker
{
    /// <summary>Places the walker at a time. Each <see cref="Advance"/> then goes on by that many seconds, 1 to 3600.</summary>
    public abstract void Start(UtcInstant time, int stepSeconds);

    /// <summary>Goes on by one step.</summary>
    public abstract void Advance();

    /// <summary>True when a height costs as much as one that the source itself works out.</summary>
    public virtual bool IsSlow => false;

    /// <summary>How many bytes the next start will add to the heap.</summary>
    public virtual int BytesToCome => 0;

    /// <summary>The walker's present time.</summary>
    public abstract UtcInstant Time { get; }

    /// <summary>The height at that time above the place's datum, metres.</summary>
    public abstract double HeightMetres { get; }

    /// <summary>The rate at that time in metres an hour, negative while the tide falls.</summary>
    public abstract double RateMetresPerHour { get; }
}
