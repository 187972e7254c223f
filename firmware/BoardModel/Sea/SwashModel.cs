namespace Intervalometer.VirtualBoard.Sea;

/// <summary>A bore at the waterline and the ballistic path of its edge.</summary>
/// <param name="Arrival">Seconds from the start.</param>
/// <param name="Speed">Starting speed of the edge along the face, m/s.</param>
/// <param name="Pull">Deceleration g sin(slope), m/s².</param>
public readonly record struct BallisticEdge(double Arrival, double Speed, double Pull)
{
    public double Turn => Arrival + Speed / Pull;

    public double Drained => Arrival + 2 * Speed / Pull;

    public double Reach => Speed * Speed / (2 * Pull);

    public double At(double seconds)
    {
        double t = seconds - Arrival;
        return t <= 0 ? 0 : Math.Max(0, Speed * t - Pull * t * t / 2);
    }

    /// <summary>Where two paths of the same pull meet; infinite when they do not.</summary>
    public double Meets(BallisticEdge later)
    {
        // Equal quadratic terms cancel in time measured from the earlier arrival when the pulls agree.
        double lag = later.Arrival - Arrival;
        double denominator = Speed - later.Speed - Pull * lag;
        if (Math.Abs(denominator) < 1e-12) return double.PositiveInfinity;
        double t = -(later.Speed * lag + Pull * lag * lag / 2) / denominator;
        return t < lag ? double.PositiveInfinity : Arrival + t;
    }
}

/// <summary>One turn that can be seen, with the path of its edge.</summary>
public readonly record struct SeenSwash(BallisticEdge Edge, double End);

/// <summary>From waves offshore to the turns that can be seen on the beach face.</summary>
/// <remarks>
/// Breaking height: Komar and Gaughan 1973. Travel to the waterline on a plane bottom: long-wave celerity sqrt(g h) up to
/// breaking at h = H/0.78, bore celerity 1.3 sqrt(g h) after it (Schaeffer, Madsen and Deigaard 1993), so higher waves
/// arrive a little sooner. Run-up of each wave by its own height and period: Hunt 1959, taken wave by wave (Battjes 1971), with
/// one factor fitted to the run-up of Stockdon et al. 2006. Swash: ballistic, Ts = 2 u0/(g sin slope)
/// (Shen and Meyer 1963). Up-rush that meets the backwash before it loses part of that backwash's speed, and may be
/// absorbed; a faster bore that catches an up-rush takes it over (after Erikson, Larson and Hanson 2005; the share lost is
/// this project's assumption). Formulas from memory.
/// </remarks>
public static class SwashModel
{
    public const double Gravity = 9.81;

    /// <summary>Share of Hunt's run-up kept on a natural beach above the set-up line; fitted (see the tests).</summary>
    public const double NaturalShare = 0.55;

    /// <summary>Share of the opposing backwash speed that an arriving bore loses; an assumption.</summary>
    public const double BackwashLoss = 0.5;

    /// <summary>Significant swash height of the long waves under the groups over sqrt(H0 L0): Stockdon et al. 2006.</summary>
    public const double LongWaveShare = 0.06;

    private const double BreakerIndex = 0.78;
    private const double BoreSpeedup = 1.3;

    /// <summary>Run-up of one wave above the mean waterline, metres of height.</summary>
    public static double RunUp(double heightMetres, double periodSeconds, double slope)
    {
        double length = Gravity * periodSeconds * periodSeconds / (2 * Math.PI);
        double iribarren = heightMetres <= 0 ? 0 : Math.Min(2.5, slope / Math.Sqrt(heightMetres / length));
        return NaturalShare * iribarren * heightMetres;
    }

    /// <summary>Seconds by which a wave arrives before one that never breaks.</summary>
    public static double Lead(double heightMetres, double periodSeconds, double surfSlope)
    {
        double breaking = 0.39 * Math.Pow(Gravity, 0.2) * Math.Pow(periodSeconds * heightMetres * heightMetres, 0.4);
        return (1 - 1 / BoreSpeedup) * 2 * Math.Sqrt(breaking / BreakerIndex / Gravity) / surfSlope;
    }

    /// <summary>The edges of all bores, in order of arrival, before they disturb each other.</summary>
    /// <param name="waves">Waves offshore.</param>
    /// <param name="slope">tan of the face at a time in seconds.</param>
    /// <param name="longWaveRise">Speed, m/s, at which the long waves lift the waterline at a time.</param>
    public static List<BallisticEdge> Bores(IReadOnlyList<SurfaceWave> waves, Func<double, double> slope, Func<double, double> longWaveRise)
    {
        var bores = new List<BallisticEdge>(waves.Count);
        foreach (SurfaceWave wave in waves)
        {
            if (wave.HeightMetres <= 0) continue;
            double face = slope(wave.CrestSeconds);
            double arrival = wave.CrestSeconds - Lead(wave.HeightMetres, wave.PeriodSeconds, face / 2);
            double sine = face / Math.Sqrt(1 + face * face);
            double speed = Math.Sqrt(2 * Gravity * RunUp(wave.HeightMetres, wave.PeriodSeconds, face)) + longWaveRise(arrival) / sine;
            if (arrival > 0 && speed > 0.1) bores.Add(new BallisticEdge(arrival, speed, Gravity * sine));
        }
        bores.Sort((a, b) => a.Arrival.CompareTo(b.Arrival));
        return bores;
    }

    /// <summary>The turns that can be seen: bores overtaken before their turn, or hidden under a larger one, are left out.</summary>
    public static List<SeenSwash> Seen(IReadOnlyList<BallisticEdge> bores)
    {
        var seen = new List<SeenSwash>(bores.Count);
        if (bores.Count == 0) return seen;
        BallisticEdge now = bores[0];
        for (int i = 1; i < bores.Count; i++)
        {
            BallisticEdge next = bores[i];
            double opposing = next.Arrival < now.Drained ? Math.Max(0, now.Pull * (next.Arrival - now.Turn)) : 0;
            next = next with { Speed = next.Speed - BackwashLoss * opposing, Pull = next.Arrival < now.Drained ? now.Pull : next.Pull };
            if (next.Speed < 0.1) continue;
            if (next.Arrival >= now.Drained)
            {
                seen.Add(new SeenSwash(now, now.Drained));
                now = next;
                continue;
            }
            double meets = now.Meets(next);
            if (meets >= next.Turn) continue;
            if (meets > now.Turn) seen.Add(new SeenSwash(now, Math.Min(meets, now.Drained)));
            now = next;
        }
        seen.Add(new SeenSwash(now, now.Drained));
        return seen;
    }
}
