namespace Intervalometer.VirtualBoard.Sea;

/// <summary>Variance density of the sea surface by frequency.</summary>
public abstract class WaveSpectrum
{
    /// <summary>In words.</summary>
    public abstract string Description { get; }

    /// <summary>Frequency of the highest peak, Hz.</summary>
    public abstract double PeakHz { get; }

    /// <summary>Variance density, m²/Hz, 0 outside (0, <see cref="HighestHz"/>].</summary>
    public abstract double Density(double hz);

    /// <summary>Frequency above which nothing is kept, Hz.</summary>
    public abstract double HighestHz { get; }

    /// <summary>Spectral moment of order n, m² Hz^n, by the midpoint rule.</summary>
    public double Moment(int n)
    {
        const int Steps = 40_000;
        double step = HighestHz / Steps, sum = 0;
        for (int i = 0; i < Steps; i++)
        {
            double f = (i + 0.5) * step;
            sum += Density(f) * Math.Pow(f, n) * step;
        }
        return sum;
    }

    /// <summary>Significant height 4 sqrt(m0), metres.</summary>
    public double SignificantHeight => 4 * Math.Sqrt(Moment(0));
}

/// <summary>Wind sea or swell: Hasselmann et al. 1973 (JONSWAP), scaled to a significant height.</summary>
public sealed class JonswapSpectrum : WaveSpectrum
{
    private readonly double _gamma;
    private readonly double _scale;
    private readonly double _height;

    /// <param name="heightMetres">Significant height, metres, above 0.</param>
    /// <param name="peakSeconds">Peak period, seconds, above 0.</param>
    /// <param name="gamma">Peak enhancement: 1 fully grown, 3.3 the mean of the experiment, 7 swell.</param>
    /// <param name="cutOff">Highest frequency kept, in peak frequencies.</param>
    public JonswapSpectrum(double heightMetres, double peakSeconds, double gamma, double cutOff = 5)
    {
        _gamma = gamma;
        _height = heightMetres;
        PeakHz = 1 / peakSeconds;
        HighestHz = cutOff * PeakHz;
        _scale = 1;
        _scale = heightMetres * heightMetres / 16 / Moment(0);
    }

    public override string Description => $"{1 / PeakHz:F0} s, {_height:F1} m, peak enhancement {_gamma:F1}";

    public override double PeakHz { get; }

    public override double HighestHz { get; }

    public override double Density(double hz)
    {
        if (hz <= 0 || hz > HighestHz) return 0;
        double r = hz / PeakHz;
        double sigma = r <= 1 ? 0.07 : 0.09;
        double peak = Math.Exp(-(r - 1) * (r - 1) / (2 * sigma * sigma));
        return _scale * Math.Pow(r, -5) * Math.Exp(-1.25 * Math.Pow(r, -4)) * Math.Pow(_gamma, peak);
    }
}

/// <summary>Old swell from far away: a narrow normal curve around its peak.</summary>
public sealed class NarrowSwellSpectrum(double heightMetres, double peakSeconds, double relativeWidth) : WaveSpectrum
{
    private readonly double _width = relativeWidth / peakSeconds;

    public override string Description => $"{1 / PeakHz:F0} s, {heightMetres:F1} m, spectral width {100 * relativeWidth:F0} %";

    public override double PeakHz { get; } = 1 / peakSeconds;

    public override double HighestHz => PeakHz + 6 * _width;

    public override double Density(double hz)
    {
        if (hz <= 0 || hz > HighestHz) return 0;
        double z = (hz - PeakHz) / _width;
        return heightMetres * heightMetres / 16 * Math.Exp(-z * z / 2) / (_width * Math.Sqrt(2 * Math.PI));
    }
}

/// <summary>Two wave trains from different directions, which add linearly at a point.</summary>
public sealed class CrossingSpectrum(WaveSpectrum first, WaveSpectrum second) : WaveSpectrum
{
    public override string Description => $"{first.Description} crossed by {second.Description}";

    public override double PeakHz => first.Density(first.PeakHz) >= second.Density(second.PeakHz) ? first.PeakHz : second.PeakHz;

    public override double HighestHz => Math.Max(first.HighestHz, second.HighestHz);

    public override double Density(double hz) => first.Density(hz) + second.Density(hz);
}
