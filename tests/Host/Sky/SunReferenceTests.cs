using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Tide;

namespace Intervalometer.Tests.Host.Sky;

/// <summary>Rise, set and twilight against a full ephemeris (astronomy-engine; see the script in Fixtures), 24 dates from 2026 to 2050.</summary>
[TestClass]
public class SunReferenceTests
{
    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void CrossingsMatchTheEphemeris()
    {
        var worst = new SortedDictionary<string, double>();
        int states = 0, times = 0;
        foreach (string[] f in TideFixtures.Rows("Sky", "sun.csv").Where(f => !f[3].StartsWith("limb")))
        {
            double latitude = TideFixtures.Number(f[0]);
            SunEvent ours = Event(Day(f), f[3]);
            string where = string.Join(",", f);
            if (f[4] is "above" or "below")
            {
                Assert.AreEqual(f[4] == "above" ? SunCrossing.StaysAbove : SunCrossing.StaysBelow, ours.Crossing, where);
                states++;
                continue;
            }
            Assert.AreEqual(SunCrossing.Crosses, ours.Crossing, where);
            double error = Math.Abs(ours.Time.Seconds - TideFixtures.Number(f[4]));
            double size = Math.Abs(latitude);
            string band = size <= 50 ? "to 50" : size <= 60 ? "to 60" : size <= 66 ? "to 66" : "polar";
            worst[band] = Math.Max(worst.GetValueOrDefault(band), error);
            double limit = size <= 60 ? 20 : size <= 66 ? 60 : 300;
            Assert.IsLessThanOrEqualTo(limit, error, where);
            double turned = Math.Abs(Math.IEEERemainder(ours.AzimuthDegrees - TideFixtures.Number(f[5]), 360));
            if (size <= 66) Assert.IsLessThan(0.3, turned, where);
            times++;
        }
        foreach (var (band, error) in worst) TestContext.WriteLine($"latitude {band}: worst {error:F1} s");
        TestContext.WriteLine($"{times} times, {states} days without a crossing");
        Assert.IsGreaterThan(1500, times);
        Assert.IsGreaterThan(60, states);
    }

    /// <summary>What the stated convention (-50' for the centre) costs against the true upper limb.</summary>
    [TestMethod]
    public void SunriseIsNearTheTrueUpperLimb()
    {
        double worst = 0;
        foreach (string[] f in TideFixtures.Rows("Sky", "sun.csv").Where(f => f[3] == "limb-dawn" && f[4] != "none"))
            worst = Math.Max(worst, Math.Abs(Day(f).Rise.Time.Seconds - TideFixtures.Number(f[4])));
        TestContext.WriteLine($"worst {worst:F1} s");
        Assert.IsLessThan(20.0, worst);
    }

    /// <summary>Polar day and night by name, at 78 degrees north on the solstices.</summary>
    [TestMethod]
    public void PolarDaysHaveWords()
    {
        var far = new GeoPosition(78, 15);
        var offset = new LocalOffset(60);
        Assert.AreEqual("Polar day: the sun does not set", new SunDay(far, offset, new CivilTime(2026, 6, 21, 12, 0, 0).AsUtc()).Words());
        Assert.AreEqual("Polar night: no civil twilight", new SunDay(far, offset, new CivilTime(2026, 12, 21, 12, 0, 0).AsUtc()).Words());
        Assert.AreEqual("Polar night: twilight, no sunrise", new SunDay(new GeoPosition(69, 18), offset, new CivilTime(2026, 12, 21, 12, 0, 0).AsUtc()).Words());
        Assert.AreEqual("", new SunDay(new GeoPosition(50, -5), offset, new CivilTime(2026, 12, 21, 12, 0, 0).AsUtc()).Words());
    }

    /// <summary>
    /// J. Meeus, Astronomical Algorithms, example 25.a: 1992 October 13.0 TD lies outside the span, so the same series is
    /// checked at the March equinox of 2026, 20 March 14:46 UTC (published by almanac offices; from memory): declination 0.
    /// </summary>
    [TestMethod]
    public void DeclinationIsZeroAtTheEquinox() =>
        Assert.AreEqual(0, Sun.At(new CivilTime(2026, 3, 20, 14, 46, 0).AsUtc(), new GeoPosition(0, 0)).DeclinationDegrees, 0.005);

    private static SunDay Day(string[] f)
    {
        double longitude = TideFixtures.Number(f[1]);
        return new SunDay(new GeoPosition(TideFixtures.Number(f[0]), longitude), new LocalOffset((int)(longitude * 4)), new UtcInstant((long)TideFixtures.Number(f[2])));
    }

    private static SunEvent Event(SunDay day, string kind) => kind switch
    {
        "rise-dawn" => day.Rise,
        "rise-dusk" => day.Set,
        "civil-dawn" => day.CivilDawn,
        "civil-dusk" => day.CivilDusk,
        "nautical-dawn" => day.NauticalDawn,
        "nautical-dusk" => day.NauticalDusk,
        _ => throw new ArgumentException(kind),
    };
}
