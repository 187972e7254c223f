namespace Intervalometer.VirtualBoard.Study;

/// <summary>Frames of one way of firing on one sea: how many lay wholly on the backwash, and what the box had announced.</summary>
public sealed class Tally(string sea, string way, double exposureSeconds)
{
    public string Sea => sea;

    public string Way => way;

    public double ExposureSeconds => exposureSeconds;

    /// <summary>Outings in which these frames were taken.</summary>
    public int Outings { get; set; }

    public int Frames { get; private set; }

    public int Hits { get; private set; }

    public int HitsAnnounced { get; private set; }

    /// <summary>Frames before which the run said that marking the turn would be surer.</summary>
    public int Surer { get; private set; }

    /// <summary>The same in percent.</summary>
    public double SurerPercent => Frames == 0 ? double.NaN : 100.0 * Surer / Frames;

    public double Announced { get; private set; }

    public int AnnouncedFrames { get; private set; }

    /// <summary>The frames in classes of the announced chance.</summary>
    public Reliability Classes { get; } = new();

    public double HitPercent => Frames == 0 ? double.NaN : 100.0 * Hits / Frames;

    /// <summary>Mean of the chances announced; not a number when none was.</summary>
    public double AnnouncedPercent => AnnouncedFrames == 0 ? double.NaN : 100 * Announced / AnnouncedFrames;

    /// <summary>Announced less happened, points, over the frames for which a chance was announced.</summary>
    public double Excess => AnnouncedFrames == 0 ? double.NaN : AnnouncedPercent - 100.0 * HitsAnnounced / AnnouncedFrames;

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

    /// <summary>Counts a frame.</summary>
    /// <param name="hit">Whether it lay wholly on the backwash.</param>
    /// <param name="announced">The chance shown for it, 0..1; not a number for none.</param>
    /// <param name="turnIsSurer">Whether the run said before this frame that marking the turn would be surer.</param>
    public void Add(bool hit, double announced, bool turnIsSurer = false)
    {
        Frames++;
        if (turnIsSurer) Surer++;
        if (hit) Hits++;
        if (double.IsNaN(announced)) return;
        if (hit) HitsAnnounced++;
        Announced += announced;
        AnnouncedFrames++;
        Classes.Add(announced, hit);
    }
}

/// <summary>Announced against actual, in ten classes of announced chance.</summary>
public sealed class Reliability
{
    private readonly double[] _announced = new double[10];
    private readonly int[] _hits = new int[10];
    private readonly int[] _frames = new int[10];

    public void Add(double chance, bool hit)
    {
        int bin = Math.Clamp((int)(chance * 10 + 1e-9), 0, 9);
        _announced[bin] += chance;
        _frames[bin]++;
        if (hit) _hits[bin]++;
    }

    /// <summary>Adds the counts of another tally.</summary>
    public Reliability With(Reliability other)
    {
        for (int b = 0; b < 10; b++)
        {
            _announced[b] += other._announced[b];
            _hits[b] += other._hits[b];
            _frames[b] += other._frames[b];
        }
        return this;
    }

    /// <summary>Classes with frames: number, frames, mean announced and actual in percent.</summary>
    public IEnumerable<(int Bin, int Frames, double Announced, double Actual)> Bins() =>
        from b in Enumerable.Range(0, 10)
        where _frames[b] > 0
        select (b, _frames[b], 100 * _announced[b] / _frames[b], 100.0 * _hits[b] / _frames[b]);
}
