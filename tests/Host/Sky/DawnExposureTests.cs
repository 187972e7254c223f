using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;

namespace Intervalometer.Tests.Host.Sky;

[TestClass]
public class DawnExposureTests
{
    public TestContext TestContext { get; set; } = null!;

    /// <summary>
    /// 200 random dawns and dusks: the light that the frame collects, summed in 4 thousand slices with the full sun position
    /// and the .NET maths library, against what the reading asked for.
    /// </summary>
    [TestMethod]
    public void FramesCollectTheMeteredLightWithinThreeThousandthsOfAStop()
    {
        var random = new Random(20260307);
        double worst = 0, worstNaive = 0, sumNaive = 0;
        int solved = 0, fading = 0;
        while (solved < 200)
        {
            var place = new GeoPosition(random.NextDouble() * 120 - 60, random.NextDouble() * 360 - 180);
            var day = new SunDay(place, new LocalOffset((int)(place.LongitudeDegrees * 4)), new CivilTime(2026, 1, 1, 12, 0, 0).AsUtc().PlusDays(random.Next(3650)));
            SunEvent anchor = random.Next(2) == 0 ? day.Rise : day.Set;
            if (!anchor.Happens) continue;
            UtcInstant reading = anchor.Time.PlusSeconds(random.Next(-3600, 1200));
            UtcInstant start = reading.PlusSeconds(random.Next(5, 300));
            double metered = Math.Pow(2, random.NextDouble() * 9 + 1);
            var dawn = new DawnExposure(place);
            dawn.Read(reading, metered);
            DawnFrame frame = dawn.FrameAt(start);
            if (frame.State == DawnState.Fading) { fading++; continue; }
            Assert.AreEqual(DawnState.Solved, frame.State);
            double wanted = metered * Lux(reading.Seconds, place);
            worst = Math.Max(worst, Math.Abs(Math.Log2(Collected(start.Seconds, frame.Seconds, place) / wanted)));
            double naive = Math.Abs(Math.Log2(Collected(start.Seconds, metered, place) / wanted));
            worstNaive = Math.Max(worstNaive, naive);
            sumNaive += naive;
            solved++;
        }
        TestContext.WriteLine($"{solved} frames: worst {worst:F4} stop; metered duration as it is: worst {worstNaive:F2}, mean {sumNaive / solved:F2} stop; {fading} fading");
        Assert.IsLessThan(0.003, worst);
        Assert.IsGreaterThan(0.5, worstNaive, "the dawns that are drawn must change the light a good deal");
    }

    [TestMethod]
    public void AFreshReadingTakesOver()
    {
        var place = new GeoPosition(50.2, -5.4);
        var day = new SunDay(place, new LocalOffset(0), new CivilTime(2026, 3, 20, 12, 0, 0).AsUtc());
        UtcInstant dawn = day.CivilDawn.Time;
        var exposure = new DawnExposure(place);
        Assert.AreEqual(DawnState.NoReading, exposure.FrameAt(dawn).State);
        exposure.Read(dawn, 240);
        DawnFrame first = exposure.FrameAt(dawn);
        Assert.IsLessThan(240.0, first.Seconds);
        Assert.IsLessThan(0.0, first.StopsAgainstMetered);
        UtcInstant next = DawnExposure.NextStart(dawn, first, 2);
        double asModelled = exposure.FrameAt(next).Seconds;
        // Cloud came: the meter asks for a stop more than the model thinks.
        exposure.Read(next, 240 * Math.Pow(2, 1 - exposure.StopsSinceReading(next)));
        Assert.IsInRange(1.5 * asModelled, 2 * asModelled, exposure.FrameAt(next).Seconds);
        exposure.IsOn = false;
        Assert.AreEqual(DawnState.Off, exposure.FrameAt(next).State);
        Assert.AreEqual(exposure.ReadingSeconds, exposure.FrameAt(next).Seconds);
    }

    [TestMethod]
    public void FadingLightIsReportedAndNotGuessed()
    {
        var place = new GeoPosition(10, 0);
        var day = new SunDay(place, new LocalOffset(0), new CivilTime(2026, 3, 20, 12, 0, 0).AsUtc());
        var exposure = new DawnExposure(place);
        exposure.Read(day.CivilDusk.Time, 1200);
        Assert.AreEqual(DawnState.Fading, exposure.FrameAt(day.CivilDusk.Time).State);
    }

    /// <summary>
    /// At -6 degrees at an equinox the light gains 0.41 stop a minute on the equator and 0.26 at latitude 50, worked out apart
    /// from this project's code.
    /// </summary>
    [TestMethod]
    [DataRow(0.0, 0.41)]
    [DataRow(50.0, 0.26)]
    public void TwilightGainsAsComputedElsewhere(double latitude, double stopsPerMinute)
    {
        var place = new GeoPosition(latitude, 0);
        UtcInstant dawn = new SunDay(place, new LocalOffset(0), new CivilTime(2026, 3, 20, 12, 0, 0).AsUtc()).CivilDawn.Time;
        var exposure = new DawnExposure(place);
        exposure.Read(dawn.PlusSeconds(-60), 1);
        Assert.AreEqual(stopsPerMinute, exposure.StopsSinceReading(dawn.PlusSeconds(60)) / 2, 0.015);
    }

    private static double Collected(double start, double seconds, GeoPosition place)
    {
        const int slices = 4_000;
        // The full sun position at every minute, straight in between.
        double sum = 0;
        for (int i = 0; i < slices; i++)
        {
            double at = start + seconds * (i + 0.5) / slices;
            double whole = Math.Floor(at / 60) * 60, x = (at - whole) / 60;
            double a = Altitude(whole, place), b = Altitude(whole + 60, place);
            sum += Math.Pow(2, SkyLight.Log2Lux(a + (b - a) * x));
        }
        return sum * seconds / slices;
    }

    private static readonly Dictionary<(double, double, double), double> Altitudes = new();

    private static double Altitude(double at, GeoPosition place)
    {
        var key = (at, place.LatitudeDegrees, place.LongitudeDegrees);
        if (!Altitudes.TryGetValue(key, out double altitude))
            Altitudes[key] = altitude = Sun.AltitudeDegrees(new UtcInstant((long)at), place);
        return altitude;
    }

    private static double Lux(double at, GeoPosition place) => Math.Pow(2, SkyLight.Log2Lux(Sun.AltitudeDegrees(new UtcInstant((long)at), place)));
}
