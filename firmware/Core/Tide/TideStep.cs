using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Tide;

/// <summary>How far each constituent turns in one step of a walk, as cosine and sine. Never changed once made.</summary>
internal sealed class TideStep
{
    /// <summary>For constituents of these speeds, radians an hour, and a step of 1 to 3600 seconds.</summary>
    internal TideStep(double[] speeds, int seconds)
    {
        Seconds = seconds;
        double[] cos = new double[speeds.Length];
        double[] sin = new double[speeds.Length];
        double hours = seconds / 3600.0;
        for (int k = 0; k < speeds.Length; k++)
        {
            double angle = speeds[k] * hours;
            cos[k] = Elementary.Cos(angle);
            sin[k] = Elementary.Sin(angle);
        }
        Cos = cos;
        Sin = sin;
    }

    /// <summary>Length of the step, seconds.</summary>
    internal int Seconds { get; }

    /// <summary>Cosine of each constituent's turn.</summary>
    internal double[] Cos { get; }

    /// <summary>Sine of each constituent's turn.</summary>
    internal double[] Sin { get; }
}
