using System.Globalization;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Tide;

/// <summary>
/// A tide summed from every constituent of a coast, by other formulas than the firmware's. The box is compared with it.
/// </summary>
/// <remarks>
/// Arguments and members are those of the standard list of the International Hydrographic Organization's tidal committee
/// (Fixtures/list.csv, see the script beside it). Mean longitudes: J. Meeus, Astronomical Algorithms, chapters 25 and 47. Node
/// factors: the committee's series in the longitude of the node and the perigee, as public predictors carry them. The firmware
/// has Schureman's formulas for all of these.
/// </remarks>
internal sealed class FullSum
{
    private const double Rad = Math.PI / 180;
    private static readonly Dictionary<string, Entry> List = Read();

    private readonly (double Amplitude, double Phase, Entry Entry)[] _terms;

    public FullSum(IEnumerable<(string Name, double Amplitude, double Phase)> constants) =>
        _terms = constants.Select(c => (c.Amplitude, c.Phase, List[c.Name.ToUpperInvariant()])).ToArray();

    public sealed record Entry(string Name, string[] Aliases, double Speed, double[] Argument, (string Root, double F, double U)[] Nodes);

    /// <summary>Every name of the list, in capitals, and its entry.</summary>
    public static IReadOnlyDictionary<string, Entry> Names => List;

    /// <summary>Height above mean sea level, metres.</summary>
    public double Metres(UtcInstant time)
    {
        UtcInstant noon = new((long)time.DayNumber * 86400 + 43200);
        double[] now = Longitudes(time), then = Longitudes(noon);
        return _terms.Sum(t =>
        {
            (double f, double u) = Node(t.Entry, then);
            return t.Amplitude * f * Math.Cos((Angle(t.Entry, now) + u - t.Phase) * Rad);
        });
    }

    /// <summary>Heights at every minute of a row of days.</summary>
    public double[] Minutes(UtcInstant midnight, int days)
    {
        var heights = new double[days * 1440];
        for (int day = 0; day < days; day++)
        {
            UtcInstant start = midnight.PlusDays(day);
            double[] first = Longitudes(start), noon = Longitudes(start.PlusHours(12));
            foreach (var t in _terms)
            {
                (double f, double u) = Node(t.Entry, noon);
                double angle = (Angle(t.Entry, first) + u - t.Phase) * Rad, step = t.Entry.Speed * Rad / 60;
                double c = t.Amplitude * f * Math.Cos(angle), s = t.Amplitude * f * Math.Sin(angle), k = Math.Cos(step), m = Math.Sin(step);
                for (int i = day * 1440; i < (day + 1) * 1440; i++)
                {
                    heights[i] += c;
                    (c, s) = (c * k - s * m, s * k + c * m);
                }
            }
        }
        return heights;
    }

    // tau, s, h, p, minus N, p1, a quarter; degrees.
    private static double[] Longitudes(UtcInstant time)
    {
        double t = (time.JulianDate - 2451545.0) / 36525;
        double s = 218.3164591 + 481267.88134236 * t - 0.0013268 * t * t;
        double h = 280.46645 + 36000.76983 * t + 0.0003032 * t * t;
        double p = 83.353243 + 4069.0137111 * t - 0.0103238 * t * t;
        double n = 125.044555 - 1934.1361849 * t + 0.0020762 * t * t;
        double p1 = 282.93735 + 1.71946 * t + 0.00046 * t * t;
        // The hour angle of the mean sun, 180 degrees at midnight.
        double hour = time.SecondOfDay / 240.0 + 180;
        return [hour + h - s, s, h, p, -n, p1, 90];
    }

    private static double Angle(Entry entry, double[] longitudes) => entry.Argument.Zip(longitudes, (a, b) => a * b).Sum();

    private static (double F, double U) Node(Entry entry, double[] longitudes)
    {
        double f = 1, u = 0;
        foreach (var (root, power, times) in entry.Nodes)
        {
            (double one, double angle) = Root(root, -longitudes[4] * Rad, longitudes[3] * Rad);
            f *= Math.Pow(one, power);
            u += times * angle;
        }
        return (f, u);
    }

    private static (double F, double U) Root(string name, double n, double p) => name switch
    {
        "Mm" => (1 - 0.1311 * Math.Cos(n) + 0.0538 * Math.Cos(2 * p) + 0.0205 * Math.Cos(2 * p - n), 0),
        "Mf" => (1.084 + 0.415 * Math.Cos(n) + 0.039 * Math.Cos(2 * n), -23.7 * Math.Sin(n) + 2.7 * Math.Sin(2 * n) - 0.4 * Math.Sin(3 * n)),
        "O1" => (1.0176 + 0.1871 * Math.Cos(n) - 0.0147 * Math.Cos(2 * n), 10.8 * Math.Sin(n) - 1.34 * Math.Sin(2 * n) + 0.19 * Math.Sin(3 * n)),
        "K1" => (1.006 + 0.115 * Math.Cos(n) - 0.0088 * Math.Cos(2 * n) + 0.0006 * Math.Cos(3 * n), -8.86 * Math.Sin(n) + 0.68 * Math.Sin(2 * n) - 0.07 * Math.Sin(3 * n)),
        "J1" => (1.1029 + 0.1676 * Math.Cos(n) - 0.017 * Math.Cos(2 * n) + 0.0016 * Math.Cos(3 * n), -12.94 * Math.Sin(n) + 1.34 * Math.Sin(2 * n) - 0.19 * Math.Sin(3 * n)),
        "OO1" => (1.1027 + 0.6504 * Math.Cos(n) + 0.0317 * Math.Cos(2 * n) - 0.0014 * Math.Cos(3 * n), -36.68 * Math.Sin(n) + 4.02 * Math.Sin(2 * n) - 0.57 * Math.Sin(3 * n)),
        "M2" => (1.0007 - 0.0373 * Math.Cos(n) + 0.0002 * Math.Cos(2 * n), -2.14 * Math.Sin(n)),
        "K2" => (1.0246 + 0.2863 * Math.Cos(n) + 0.0083 * Math.Cos(2 * n) - 0.0015 * Math.Cos(3 * n), -17.74 * Math.Sin(n) + 0.68 * Math.Sin(2 * n) - 0.04 * Math.Sin(3 * n)),
        "M3" => (Math.Pow(1.0007 - 0.0373 * Math.Cos(n) + 0.0002 * Math.Cos(2 * n), 1.5), -3.21 * Math.Sin(n)),
        "L2" => Parts(-0.2505 * Math.Sin(2 * p) - 0.1102 * Math.Sin(2 * p - n) - 0.0156 * Math.Sin(2 * p - 2 * n) - 0.037 * Math.Sin(n),
            1 - 0.2505 * Math.Cos(2 * p) - 0.1102 * Math.Cos(2 * p - n) - 0.0156 * Math.Cos(2 * p - 2 * n) - 0.037 * Math.Cos(n)),
        // With the argument of the list, which holds the perigee: the series is in the mean motion of the moon's tide alone.
        "M1" => M1(n, p),
        _ => throw new InvalidOperationException(name),
    };

    private static (double F, double U) M1(double n, double p)
    {
        (double f, double u) = Parts(Math.Sin(p) + 0.2 * Math.Sin(p - n), 2 * (Math.Cos(p) + 0.2 * Math.Cos(p - n)));
        return (f, u - p / Rad);
    }

    private static (double F, double U) Parts(double sine, double cosine) => (Math.Sqrt(sine * sine + cosine * cosine), Math.Atan2(sine, cosine) / Rad);

    private static Dictionary<string, Entry> Read()
    {
        var names = new Dictionary<string, Entry>();
        foreach (string[] f in TideFixtures.Rows("Tide", "list.csv"))
        {
            double Number(int i) => double.Parse(f[i], CultureInfo.InvariantCulture);
            var nodes = f[10].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(n => n.Split(':'))
                .Select(n => (n[0], TideFixtures.Number(n[1]), TideFixtures.Number(n[2]))).ToArray();
            var entry = new Entry(f[0], f[1].Split(' ', StringSplitOptions.RemoveEmptyEntries), Number(2), Enumerable.Range(3, 7).Select(Number).ToArray(), nodes);
            foreach (string name in entry.Aliases.Prepend(entry.Name)) names.TryAdd(name.ToUpperInvariant(), entry);
        }
        return names;
    }
}

/// <summary>One of the ten coasts of Fixtures/coasts.csv.</summary>
internal sealed record RealCoast(string Id, string Name, double Latitude, double Longitude, (string Name, double Amplitude, double Phase)[] Constants)
{
    /// <summary>The constants as the firmware sums them, from mean level.</summary>
    public HarmonicConstants Sum()
    {
        var sum = new HarmonicConstants(0, Constants.Length);
        foreach ((string name, double amplitude, double phase) in Constants) sum.TrySet(ConstituentList.Recipe(name)!.Value, amplitude, phase);
        return sum;
    }

    /// <summary>Ports some 2 to 60 km from a coast, of Fixtures/neighbours.csv: from the same collection of constants, written by the same script.</summary>
    public static RealCoast[] Beside(RealCoast coast) => Read("neighbours.csv").Where(n => n.Id == coast.Id).ToArray();

    public static RealCoast[] All() => Read("coasts.csv");

    private static RealCoast[] Read(string file) => TideFixtures.Rows("Tide", file).Select(f => new RealCoast(f[0], f[1], TideFixtures.Number(f[2]), TideFixtures.Number(f[3]),
        f[4].Split(' ').Select(c => c.Split(':')).Select(c => (c[0], TideFixtures.Number(c[1]), TideFixtures.Number(c[2]))).ToArray())).ToArray();
}
