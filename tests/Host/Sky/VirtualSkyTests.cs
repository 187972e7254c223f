using System.Text;
using Intervalometer.Coast.Sky;
using Intervalometer.Tests.Host.Tide;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.Tests.Host.Sky;

/// <summary>The virtual sky against published tables, an ephemeris and measurements, and what reports say of frames under it.</summary>
[TestClass]
public class VirtualSkyTests
{
    private static readonly GeoPosition Ledge = DemoSite.Load().Place.Position;
    private static readonly DateTime Dawn = new(2031, 3, 19, 5, 30, 0, DateTimeKind.Utc);

    public TestContext TestContext { get; set; } = null!;

    /// <summary>At each civil and nautical dawn and dusk of the ephemeris (astronomy-engine, see Fixtures) the sun stands at -6 and -12 degrees.</summary>
    [TestMethod]
    public void TheSunStandsWhereTheEphemerisSays()
    {
        double worst = 0;
        int times = 0;
        foreach (string[] f in TideFixtures.Rows("Sky", "sun.csv").Where(f => (f[3].StartsWith("civil") || f[3].StartsWith("nautical")) && f[4].Contains('.')))
        {
            var place = new GeoPosition(TideFixtures.Number(f[0]), TideFixtures.Number(f[1]));
            DateTime at = new DateTime(2000, 1, 1, 0, 0, 0, DateTimeKind.Utc).AddSeconds(TideFixtures.Number(f[4]));
            double altitude = new SunTrack(place, at).AltitudeDegrees(0);
            worst = Math.Max(worst, Math.Abs(altitude - (f[3].StartsWith("civil") ? -6 : -12)));
            times++;
        }
        TestContext.WriteLine($"{times} times, worst {worst:F4} degrees");
        Assert.IsGreaterThan(500, times);
        Assert.IsLessThan(0.02, worst);
    }

    /// <summary>Drawn out between whole seconds, the sun's altitude is what the formulas give, from the equator to the polar circle.</summary>
    [TestMethod]
    public void BetweenTwoSecondsTheSunMovesEvenly()
    {
        double worst = 0;
        for (int latitude = -60; latitude <= 60; latitude += 20)
        {
            var track = new SunTrack(new GeoPosition(latitude, 10), Dawn);
            for (double seconds = -0.25; seconds < 86_400; seconds += 613.3)
            {
                double altitude = track.AltitudeDegrees(seconds);
                if (altitude < 60) worst = Math.Max(worst, Math.Abs(track.BetweenSeconds(seconds) - altitude));
            }
        }
        TestContext.WriteLine($"worst {worst:E1} degrees");
        Assert.IsLessThan(2e-7, worst);
    }

    /// <summary>Illuminance as the Glossary of Meteorology (American Meteorological Society), entry twilight, has it, and by hand from Vallado's table 5-1.</summary>
    [TestMethod]
    [DataRow(0.0, 759, 759)]
    [DataRow(5.0, 4540, 4540)]
    [DataRow(-0.83, 410, 585)]
    [DataRow(-6.0, 2.0, 3.5)]
    [DataRow(-12.0, 0.0078, 0.0083)]
    public void AClearSkyGivesThePublishedLight(double altitude, double least, double most)
    {
        double lux = ClearSky.Lux(altitude);
        Assert.IsTrue(lux > least * 0.995 && lux < most * 1.005, $"{lux} lx at {altitude}");
    }

    /// <summary>
    /// A clear morning as it was measured: surface radiation station Alamosa, Colorado, 31 December 2015 (NOAA SURFRAD daily file
    /// slv15365.dat, public domain): the sun's zenith distance, its beam and the sky's own light, W/m².
    /// </summary>
    [TestMethod]
    public void AClearMorningBrightensAsMeasured()
    {
        double[][] measured = [[86.25, 506.6, 24.1], [85.29, 564.0, 27.8], [84.02, 636.2, 32.6], [82.45, 704.4, 38.1], [80.14, 785.0, 45.5], [78.06, 837.1, 54.3]];
        double Of(double[] m) => m[2] + m[1] * Math.Cos(m[0] * Math.PI / 180);
        foreach (double[] m in measured.Skip(1))
        {
            double grown = Math.Log2(Of(m) / Of(measured[0])), table = Math.Log2(ClearSky.Lux(90 - m[0]) / ClearSky.Lux(90 - measured[0][0]));
            TestContext.WriteLine($"{90 - m[0]:F2} degrees: measured {grown:F3} stops, table {table:F3}, {grown / table - 1:P1}");
            // The spread that the hazy skies are drawn with is 6 %.
            Assert.AreEqual(table, grown, 0.12 * table, $"at {90 - m[0]} degrees");
        }
    }

    [TestMethod]
    public void TheSameSeedGivesTheSameSkyToTheBitInAnyOrderOfAsking()
    {
        foreach (string kind in SkyChoice.Kinds)
        {
            ISky one = Sky(kind, 7), two = Sky(kind, 7);
            long[] times = [.. Enumerable.Range(0, 300).Select(i => i * 9_700_000L)];
            double[] forward = [.. times.Select(one.Lux)], backward = [.. times.Reverse().Select(two.Lux).Reverse()];
            CollectionAssert.AreEqual(forward, backward, kind);
            CollectionAssert.AreEqual(times.Select(one.Luminance).ToArray(), times.Select(two.Luminance).ToArray(), kind);
            bool drawn = kind != SkyChoice.Clear && !SkyRecord.Names.Contains(kind);
            Assert.AreEqual(drawn, !times.Select(Sky(kind, 8).Lux).SequenceEqual(forward), kind);
        }
    }

    /// <summary>
    /// From one minute to the next the light under drawn clouds changes rather more than under the measured ones, but not twice as much: a
    /// box that copes with the drawn ones copes with these.
    /// </summary>
    [TestMethod]
    public void BrokenCloudChangesTheLightAsMuchAsAMeasuredOne()
    {
        SkyRecord record = SkyRecord.Read("measured dawn");
        var start = new DateTime(2031, 1, 1, record.First.Hour, record.First.Minute, 0, DateTimeKind.Utc);
        double measured = Unrest(new SkyChoice("measured dawn").Make(record.Place, start), record.Minutes.Count);
        double[] drawn = [.. Enumerable.Range(1, 20).Select(seed => Unrest(new SkyChoice("broken cloud", seed).Make(record.Place, start), record.Minutes.Count)).Order()];
        TestContext.WriteLine($"root mean square of a minute's change: measured {measured:F3} stops, drawn {drawn[0]:F3} to {drawn[^1]:F3}, median {drawn[10]:F3}");
        Assert.IsGreaterThan(measured, drawn[10]);
        Assert.IsLessThan(2 * measured, drawn[10]);
    }

    [TestMethod]
    public void TheSunComesOutAboveItsBankWithinMinutes()
    {
        // Seen by a pane that leans towards the sun: on a level one the sun's edge is gentler.
        ISky sky = new SkyChoice("bank on the horizon", 3, 0, SensorWindow.LevelLegDegrees + 25).Make(Ledge, Dawn);
        double[] minutes = [.. Enumerable.Range(30, 90).Select(m => Math.Log2(sky.Lux((m + 1) * 60_000_000L) / sky.Lux(m * 60_000_000L)))];
        int edge = Array.IndexOf(minutes, minutes.Max());
        TestContext.WriteLine($"steepest minute {minutes[edge]:F2} stops");
        Assert.IsGreaterThan(0.5, minutes[edge]);
        Assert.IsLessThan(0.3, minutes[edge - 4]);
        Assert.IsLessThan(0.3, minutes[edge + 8]);
    }

    [TestMethod]
    public void AFrameUnderAnEvenSkyIsRightAndOneIntoTheDawnIsOver()
    {
        // By day a clear sky stands still; the same four minutes an hour before sunrise gather more than was metered.
        Assert.AreEqual(0, Frame("12:30", """{ "kind": "clear" }""").LightErrorStops!.Value, 0.02);
        FrameReport dawn = Frame("05:54", """{ "kind": "clear" }""");
        // At -6 degrees the light gains 0.26 stop a minute at 50 degrees (computed for this project): over four minutes, some 0.6 stop in the mean.
        Assert.AreEqual(0.6, dawn.LightErrorStops!.Value, 0.2);
        Assert.AreEqual(0, dawn.ExposureErrorStops!.Value, 0.001);
        Assert.AreNotEqual(dawn.LightErrorStops, Frame("05:54", """{ "kind": "broken cloud", "seed": 4 }""").LightErrorStops);
    }

    [TestMethod]
    public void TheReportNamesTheSky()
    {
        SessionReport report = Play("12:30", """{ "kind": "rain", "seed": 5, "sunAsideDegrees": 30 }""");
        Assert.AreEqual("rain, seed 5, sun 30 degrees aside", report.Sky);
        StringAssert.Contains(report.ToJson(), "\"lightErrorStops\": ");
    }

    /// <summary>
    /// The standard clear sky by its published formulas (S. Darula and R. Kittler, eSim 2002): the thirds of a level receiver make up the whole, the
    /// one around a low sun gives most, and what is upright and faces the sun gets more than what faces away.
    /// </summary>
    [TestMethod]
    public void ThePartsOfTheSkyMakeUpWhatLevelGroundGets()
    {
        double[] level = SkyDome.Shares(5, (_, _, up) => up);
        Assert.AreEqual(1, level.Sum(), 1e-12);
        Assert.AreEqual(level[1], level[2], 1e-12);
        Assert.IsGreaterThan(level[1], level[0]);
        double toward = SkyDome.Shares(5, (sun, _, _) => Math.Max(0, sun)).Sum(), away = SkyDome.Shares(5, (sun, _, _) => Math.Max(0, -sun)).Sum();
        Assert.IsGreaterThan(1.5 * away, toward);
    }

    /// <summary>Every cloud covers the box and the foreground alike: a level pane under a sky with the sun ahead follows the foreground all through a dawn.</summary>
    [TestMethod]
    public void WithTheSunAheadALevelPaneFollowsTheForeground()
    {
        foreach (int seed in Enumerable.Range(1, 6))
        {
            ISky sky = new SkyChoice("fields of cloud", seed, 30).Make(Ledge, Dawn);
            double[] apart = [.. Enumerable.Range(0, 60).Select(m => Math.Log2(sky.Luminance(m * 60_000_000L) / sky.Lux(m * 60_000_000L))).Order()];
            Assert.IsLessThan(0.35, apart[57] - apart[3], $"seed {seed}");
        }
    }

    private static ISky Sky(string kind, int seed) => new SkyChoice(kind, seed).Make(Ledge, Dawn);

    private static FrameReport Frame(string time, string sky) => Play(time, sky).Frames.Single();

    // Ten stops on 1/4: four minutes and a bit, fired two seconds after the metered time was set.
    private static SessionReport Play(string time, string sky) => ScenePlayer.Play(SceneReader.Parse("sky.json", Encoding.UTF8.GetBytes($$"""
        {
          "startUtc": "2031-03-19T{{time}}:00Z", "kit": [ { "printed": "ND 3.0" } ], "filters": [ "ND 3.0" ],
          "metered": { "shutter": "1/4", "aperture": "f/8" }, "sky": {{sky}},
          "presses": [ { "at": 2, "button": "fire" } ], "endAt": 270
        }
        """))).Report;

    // The means of minutes, since the record holds no more.
    private static double Unrest(ISky sky, int minutes)
    {
        double[] light = [.. Enumerable.Range(0, minutes).Select(m => Math.Log2(Enumerable.Range(0, 12).Average(i => sky.Luminance(m * 60_000_000L + i * 5_000_000L))))];
        double[] steps = [.. light.Zip(light.Skip(1), (a, b) => b - a)];
        double mean = steps.Average();
        return Math.Sqrt(steps.Average(s => (s - mean) * (s - mean)));
    }
}
