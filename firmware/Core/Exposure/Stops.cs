using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// A difference of exposure in stops. One stop is a factor of two in light. Whether a positive number takes light away (a filter)
/// or asks for more time depends on the member that uses it.
/// </summary>
public readonly struct Stops
{
    /// <summary>Optical density of one stop, log10 2 = 0.30103 (density is log10 of 1/transmittance, ISO 5-1).</summary>
    public const double DensityOfOneStop = Elementary.Log10Of2;

    /// <summary>Creates a difference of so many stops. Any finite number.</summary>
    public Stops(double value)
    {
        Value = value;
    }

    /// <summary>The number of stops.</summary>
    public double Value { get; }

    /// <summary>No difference.</summary>
    public static Stops Zero => new Stops(0);

    /// <summary>The same difference as an optical density: stops * log10 2.</summary>
    public double Density => Value * DensityOfOneStop;

    /// <summary>The same difference as a factor of light, 2^stops, for stops in [-1022, 1023].</summary>
    public double Factor => Elementary.Exp2(Value);

    /// <summary>The stops of an optical density: density / log10 2, so 3.0 is 9.966 stops (ISO 5-1, definition of density).</summary>
    public static Stops FromDensity(double density) => new Stops(density / DensityOfOneStop);

    /// <summary>The stops of a filter factor: log2 of the factor, so 8 is 3 stops. The factor must be above zero.</summary>
    public static Stops FromFactor(double factor) => new Stops(Elementary.Log2(factor));

    /// <summary>Stops from whole third stops.</summary>
    public static Stops FromThirds(int thirds) => new Stops(thirds / 3.0);

    /// <summary>-1, 0 or 1 when this difference is less than, equal to or more than the other.</summary>
    public int CompareTo(Stops other) => Value < other.Value ? -1 : Value > other.Value ? 1 : 0;

    /// <summary>The sum of two differences.</summary>
    public static Stops operator +(Stops a, Stops b) => new Stops(a.Value + b.Value);

    /// <summary>The first difference less the second.</summary>
    public static Stops operator -(Stops a, Stops b) => new Stops(a.Value - b.Value);

    /// <summary>The opposite difference.</summary>
    public static Stops operator -(Stops a) => new Stops(-a.Value);

    /// <summary>True when the first is the smaller.</summary>
    public static bool operator <(Stops a, Stops b) => a.Value < b.Value;

    /// <summary>True when the first is the larger.</summary>
    public static bool operator >(Stops a, Stops b) => a.Value > b.Value;

    /// <summary>True when the first is not the larger.</summary>
    public static bool operator <=(Stops a, Stops b) => a.Value <= b.Value;

    /// <summary>True when the first is not the smaller.</summary>
    public static bool operator >=(Stops a, Stops b) => a.Value >= b.Value;
}
