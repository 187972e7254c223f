using System.Numerics;
using MathNet.Numerics.IntegralTransforms;
using MathNet.Numerics.Random;

namespace Intervalometer.VirtualBoard.Sea;

/// <summary>One wave between two zero up-crossings of the surface.</summary>
/// <param name="StartSeconds">The first up-crossing, seconds from the start of the record.</param>
/// <param name="PeriodSeconds">To the next up-crossing, seconds.</param>
/// <param name="CrestSeconds">Time of the highest point, seconds from the start of the record.</param>
/// <param name="HeightMetres">Crest to the following trough, metres.</param>
public readonly record struct SurfaceWave(double StartSeconds, double PeriodSeconds, double CrestSeconds, double HeightMetres);

/// <summary>A random sea surface at one point: linear superposition of a spectrum, exactly repeatable by seed and periodic.</summary>
/// <remarks>
/// Real and imaginary part of every component are independent normal values, so heights of groups are not scripted but
/// emerge (Rice 1944; Tucker, Challenor and Carter 1984). The sum is one inverse FFT.
/// </remarks>
public sealed class SurfaceRecord
{
    /// <param name="spectrum">What to superpose.</param>
    /// <param name="seconds">Wanted length; rounded up to a power of two steps.</param>
    /// <param name="seed">Any number; the same number gives the same bits.</param>
    /// <param name="stepSeconds">Sampling step, seconds.</param>
    public SurfaceRecord(WaveSpectrum spectrum, double seconds, int seed, double stepSeconds = 0.25)
    {
        int n = 1024;
        while (n * stepSeconds < seconds) n *= 2;
        StepSeconds = stepSeconds;
        var random = new MersenneTwister(seed, false);
        var bins = new Complex[n];
        double df = 1 / (n * stepSeconds);
        int last = Math.Min(n / 2 - 1, (int)(spectrum.HighestHz / df));
        for (int k = 1; k <= last; k++)
        {
            // Box and Muller 1958: one uniform pair gives the two independent normal parts of a component.
            double radius = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())), angle = 2 * Math.PI * random.NextDouble();
            double amplitude = Math.Sqrt(spectrum.Density(k * df) * df) * radius / 2;
            bins[k] = Complex.FromPolarCoordinates(amplitude, angle);
            bins[n - k] = Complex.Conjugate(bins[k]);
        }
        Fourier.Inverse(bins, FourierOptions.NoScaling);
        Level = new double[n];
        for (int i = 0; i < n; i++) Level[i] = bins[i].Real;
    }

    /// <summary>Sampling step, seconds.</summary>
    public double StepSeconds { get; }

    /// <summary>Surface level, metres, every <see cref="StepSeconds"/>.</summary>
    public double[] Level { get; }

    /// <summary>Length after which the record repeats, seconds.</summary>
    public double Seconds => Level.Length * StepSeconds;

    /// <summary>Level at any time, metres, by linear interpolation.</summary>
    public double At(double seconds)
    {
        double position = seconds / StepSeconds;
        double floor = Math.Floor(position);
        int n = Level.Length;
        int i = (int)(((long)floor % n + n) % n);
        double part = position - floor;
        return Level[i] * (1 - part) + Level[(i + 1) % n] * part;
    }

    /// <summary>The waves between zero up-crossings, in order.</summary>
    public List<SurfaceWave> Waves()
    {
        var waves = new List<SurfaceWave>();
        double start = -1, crest = 0, crestAt = 0, trough = 0;
        for (int i = 1; i < Level.Length - 1; i++)
        {
            double before = Level[i - 1], now = Level[i];
            if (before < 0 && now >= 0)
            {
                double crossing = (i - 1 + before / (before - now)) * StepSeconds;
                if (start >= 0) waves.Add(new SurfaceWave(start, crossing - start, crestAt, crest - trough));
                start = crossing;
                crest = 0;
                trough = 0;
            }
            // A parabola through three samples places the extreme between them.
            double bend = before - 2 * now + Level[i + 1];
            double shift = bend == 0 ? 0 : Math.Clamp(0.5 * (before - Level[i + 1]) / bend, -1, 1);
            double extreme = now - 0.25 * (before - Level[i + 1]) * shift;
            if (now > before && now >= Level[i + 1] && extreme > crest) { crest = extreme; crestAt = (i + shift) * StepSeconds; }
            if (now < before && now <= Level[i + 1] && extreme < trough) trough = extreme;
        }
        return waves;
    }
}
