namespace Intervalometer.VirtualBoard.Study;

/// <summary>Hits, timing errors and announced chances of one way of firing on one sea.</summary>
public sealed class Tally(string sea, string way)
{
    private double _squares, _fourths;

    public string Sea => sea;

    public string Way => way;

    public int Frames { get; private set; }

    public int Hits { get; private set; }

    public double Announced { get; private set; }

    public int AnnouncedFrames { get; private set; }

    /// <summary>Timing error, release against what was aimed at, RMS in seconds.</summary>
    public double Rms => Frames == 0 ? 0 : Math.Sqrt(_squares / Frames);

    /// <summary>Half the 95 % interval of <see cref="Rms"/>, seconds (delta method on squared errors).</summary>
    public double RmsHalf
    {
        get
        {
            if (Frames < 2 || _squares <= 0) return 0;
            double mean = _squares / Frames, variance = _fourths / Frames - mean * mean;
            return 1.96 * Math.Sqrt(Math.Max(0, variance) / Frames) / (2 * Math.Sqrt(mean));
        }
    }

    public double HitPercent => Frames == 0 ? 0 : 100.0 * Hits / Frames;

    public double AnnouncedPercent => AnnouncedFrames == 0 ? double.NaN : 100 * Announced / AnnouncedFrames;

    /// <summary>95 % interval of the hit rate in percent (Wilson 1927).</summary>
    public (double Low, double High) HitInterval
    {
        get
        {
            if (Frames == 0) return (0, 100);
            const double Z = 1.96;
            double p = (double)Hits / Frames, n = Frames, d = 1 + Z * Z / n;
            double middle = (p + Z * Z / (2 * n)) / d, half = Z * Math.Sqrt(p * (1 - p) / n + Z * Z / (4 * n * n)) / d;
            return (100 * (middle - half), 100 * (middle + half));
        }
    }

    public void Add(bool hit, double errorSeconds, double announced = double.NaN)
    {
        Frames++;
        if (hit) Hits++;
        double square = errorSeconds * errorSeconds;
        _squares += square;
        _fourths += square * square;
        if (double.IsNaN(announced)) return;
        Announced += announced;
        AnnouncedFrames++;
    }
}

/// <summary>Announced against actual, in ten bins.</summary>
public sealed class Reliability
{
    private readonly double[] _announced = new double[10];
    private readonly int[] _hits = new int[10];
    private readonly int[] _frames = new int[10];

    public void Add(double chance, bool hit)
    {
        int bin = Math.Clamp((int)(chance * 10), 0, 9);
        _announced[bin] += chance;
        _frames[bin]++;
        if (hit) _hits[bin]++;
    }

    /// <summary>Bins with frames: number, frames, mean announced and actual in percent.</summary>
    public IEnumerable<(int Bin, int Frames, double Announced, double Actual)> Bins() =>
        from b in Enumerable.Range(0, 10)
        where _frames[b] > 0
        select (b, _frames[b], 100 * _announced[b] / _frames[b], 100.0 * _hits[b] / _frames[b]);
}
