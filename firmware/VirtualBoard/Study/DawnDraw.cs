using System.Globalization;
using Intervalometer.Coast.Sky;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>A dawn of the study: where, under which sky, and what the photographer does. The same number and seed give the same dawn.</summary>
/// <param name="Sky">The sky.</param>
/// <param name="Latitude">Degrees, north positive.</param>
/// <param name="Longitude">Degrees, east positive.</param>
/// <param name="Start">When the box is switched on, UTC.</param>
/// <param name="MeteredThirds">The metered time without glass, thirds of a stop from 1 s.</param>
/// <param name="WaitSeconds">From metering to Fire, seconds.</param>
public sealed record DawnDraw(SkyChoice Sky, double Latitude, double Longitude, DateTime Start, int MeteredThirds, double WaitSeconds)
{
    /// <summary>The metered time is set so long after the box was switched on, seconds.</summary>
    public const double MeteringAt = 15;

    // Ten stops make 40 s to four minutes of these: longer than a camera's dial goes.
    private const int ShortestThirds = -14, LongestThirds = -6;
    private const double LowestSun = -11, HighestSun = 8;
    // The measured dawn begins a little below this.
    private const double LowestMeasuredSun = -1;
    private const double FarthestLatitude = 55;
    private const double ShortestWait = 5, LongestWait = 300;
    private const double LookSeconds = 30;

    /// <summary>Draws a dawn.</summary>
    /// <param name="seed">Seed of the study.</param>
    /// <param name="number">Number of the dawn; the kinds of sky take turns.</param>
    /// <param name="lowestSun">The sun stands at least so high when the light is metered, degrees.</param>
    /// <param name="highestSun">And at most so high.</param>
    public static DawnDraw Draw(int seed, int number, double lowestSun = LowestSun, double highestSun = HighestSun)
    {
        var dice = new Dice((ulong)seed << 32 | (uint)number);
        string kind = SkyChoice.Kinds[number % SkyChoice.Kinds.Count];
        SkyRecord? record = SkyRecord.Names.Contains(kind) ? SkyRecord.Read(kind) : null;
        while (true)
        {
            double latitude = FarthestLatitude * (2 * dice.Fraction() - 1);
            DateTime day = new DateTime(2031, 1, 1, 0, 0, 0, DateTimeKind.Utc).AddDays(dice.Whole(0, 364));
            double lowest = record is null ? lowestSun : LowestMeasuredSun;
            double sun = lowest + (highestSun - lowest) * dice.Fraction();
            var sky = new SkyChoice(kind, (int)dice.Whole(0, 1_000_000), 180 * dice.Fraction());
            int thirds = (int)dice.Whole(ShortestThirds, LongestThirds);
            double wait = ShortestWait + (LongestWait - ShortestWait) * dice.Fraction();
            GeoPosition place = record?.Place ?? new GeoPosition(Math.Round(latitude, 2), 0);
            if (record is not null) day = new DateTime(day.Year, record.First.Month, record.First.Day, 0, 0, 0, DateTimeKind.Utc);
            if (Rising(place, day, sun) is not double rising) continue;
            DateTime start = day.AddSeconds(Math.Floor(rising - MeteringAt));
            return new DawnDraw(sky, place.LatitudeDegrees, place.LongitudeDegrees, start, thirds, wait);
        }
    }

    /// <summary>The place that the box is set to.</summary>
    public Site Place()
    {
        int hours = (int)Math.Round(Longitude / 15);
        var now = new Dictionary<string, string>
        {
            ["latitude"] = Latitude.ToString("F2", CultureInfo.InvariantCulture),
            ["longitude"] = Longitude.ToString("F2", CultureInfo.InvariantCulture),
            ["local-time"] = $"{(hours < 0 ? '-' : '+')}{Math.Abs(hours):00}:00",
        };
        IEnumerable<string> lines = DemoSite.Text.Split('\n').Select(line => now.TryGetValue(line.Split(':')[0], out string? value) ? $"{line.Split(':')[0]}: {value}" : line);
        return SiteFile.Parse(string.Join('\n', lines), "drawn place");
    }

    /// <summary>Altitude of the sun's centre, degrees.</summary>
    public double SunAt(double seconds) => new SunTrack(new GeoPosition(Latitude, Longitude), Start).AltitudeDegrees(seconds);

    // When the sun comes up through an altitude, seconds after midnight UTC; null when it does not that day.
    private static double? Rising(GeoPosition place, DateTime day, double altitude)
    {
        var track = new SunTrack(place, day);
        double before = track.AltitudeDegrees(LookSeconds);
        for (double at = 2 * LookSeconds; at < 86_400; at += LookSeconds)
        {
            double now = track.AltitudeDegrees(at);
            if (before < altitude && now >= altitude) return at;
            before = now;
        }
        return null;
    }
}
