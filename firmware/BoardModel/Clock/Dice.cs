namespace Intervalometer.VirtualBoard.Clock;

/// <summary>
/// Seeded random numbers that are the same on every machine and runtime version (SplitMix64, Steele, Lea and Flood 2014;
/// the constants are from memory and pinned by a test).
/// </summary>
public sealed class Dice(ulong seed)
{
    private ulong _state = seed;

    /// <summary>64 random bits.</summary>
    public ulong Next()
    {
        ulong z = _state += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    /// <summary>A number from 0 up to but not including 1.</summary>
    public double Fraction() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public long Whole(long low, long high) => low + (long)(Fraction() * (high - low + 1));

    /// <summary>Symmetric about 0 with standard deviation 1 and no value beyond 3.47: the sum of four uniforms, scaled.</summary>
    public double Bell() => (Fraction() + Fraction() + Fraction() + Fraction() - 2) * Math.Sqrt(3);
}
