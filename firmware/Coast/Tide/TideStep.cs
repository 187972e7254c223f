using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>The angle through which each constituent turns in one stride of a walk, as cosine and sine. It never changes after construction.</summary>
internal sealed class TideStep
{
    /// <summary>Creates the angles for constituents of these speeds, radians an hour, and a stride of so many seconds.</summary>
    internal TideStep(double[] speeds, int seconds)
    {
        Seconds = seconds;
        double[] cos = new double[speeds.Length];
        double[] sin = new double[speeds.Length];
        double hours = seconds / 3600.0;
        for (int k = 0; k < speeds.Length; k++)
        {
            Elementary.SinCos(speeds[k] * hours, out double s, out double c);
            sin[k] = s;
            cos[k] = c;
        }
        Cos = cos;
        Sin = sin;
    }

    /// <summary>Length of the stride, seconds.</summary>
    internal int Seconds { get; }

    /// <summary>Cosine of each constituent's angle.</summary>
    internal double[] Cos { get; }

    /// <summary>Sine of each constituent's angle.</summary>
    internal double[] Sin { get; }
}
