using Intervalometer.Coast.Time;

namespace Intervalometer.Coast.Tide;

/// <summary>A high or low water.</summary>
public readonly struct TideTurn
{
    /// <summary>When the tide turns.</summary>
    public readonly UtcInstant Time;

    /// <summary>Height above the place's datum, metres.</summary>
    public readonly double HeightMetres;

    /// <summary>True for high water, false for low water.</summary>
    public readonly bool IsHigh;

    /// <summary>Creates a high or low water.</summary>
    public TideTurn(UtcInstant time, double heightMetres, bool isHigh)
    {
        Time = time;
        HeightMetres = heightMetres;
        IsHigh = isHigh;
    }
}
