using Intervalometer.Coast.Time;

namespace Intervalometer.Coast.Tide;

/// <summary>How far a tide source can be leaned on at a time.</summary>
public enum TideCertainty
{
    /// <summary>Nothing is known for that time: treat the water as coming.</summary>
    None,

    /// <summary>Interpolated between printed high and low waters.</summary>
    Interpolated,

    /// <summary>Summed from harmonic constituents.</summary>
    Harmonic,
}

/// <summary>
/// Predicted height of the tide at one place. A prediction holds no surge, swell, wind or river; see
/// <see cref="TideCaution"/>.
/// </summary>
public abstract class TideSource
{
    /// <summary>The first instant that the source covers.</summary>
    public abstract UtcInstant ValidFrom { get; }

    /// <summary>The last instant that the source covers.</summary>
    public abstract UtcInstant ValidUntil { get; }

    /// <summary>What is known at a time; <see cref="TideCertainty.None"/> outside the span.</summary>
    public abstract TideCertainty CertaintyAt(UtcInstant time);

    /// <summary>Height above the place's datum, metres. Outside the span, the height at the nearer end.</summary>
    public abstract double HeightMetres(UtcInstant time);

    /// <summary>Rise in metres an hour, negative while the tide falls. Outside the span, 0.</summary>
    public abstract double RateMetresPerHour(UtcInstant time);

    /// <summary>The first high or low water after a time. False when the source knows none within 48 hours.</summary>
    public abstract bool TryNextTurn(UtcInstant after, out TideTurn turn);

    /// <summary>How far the heights of a walker may be from those of the source itself, metres.</summary>
    public virtual double WalkErrorMetres => 0;

    /// <summary>A walker over this source: the cheap way to read many heights at even steps. Keep it and start it again; it holds its own memory.</summary>
    public abstract TideWalker CreateWalker();

    /// <summary>
    /// Memory is short: from now on the source and its walkers hold only what they cannot do without. Their heights stay as right; each costs
    /// more. For good.
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
    /// <summary>Places the walker at a time; each <see cref="Advance"/> then goes that many seconds on, 1 to 3600.</summary>
    public abstract void Start(UtcInstant time, int stepSeconds);

    /// <summary>Goes one step on.</summary>
    public abstract void Advance();

    /// <summary>True when a height costs as much as one that is asked of the source.</summary>
    public virtual bool IsSlow => false;

    /// <summary>What the next start will add to the heap, bytes.</summary>
    public virtual int BytesToCome => 0;

    /// <summary>Where the walker stands.</summary>
    public abstract UtcInstant Time { get; }

    /// <summary>Height there above the place's datum, metres.</summary>
    public abstract double HeightMetres { get; }

    /// <summary>Rise there in metres an hour, negative while the tide falls.</summary>
    public abstract double RateMetresPerHour { get; }
}
