using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

[TestClass]
public class SkyTests
{
    private static SunDay Day(double latitude, int month) =>
        new SunDay(new GeoPosition(latitude, -5), new LocalOffset(0), new CivilTime(2026, month, 9, 12, 0, 0).AsUtc());

    [TestMethod]
    public void PolarDayAndNightAreNamed()
    {
        Assert.AreEqual("Polar day: the sun does not set", Day(78, 6).Words());
        Assert.AreEqual("Polar night: no civil twilight", Day(78, 12).Words());
        Assert.AreEqual("", Day(50, 6).Words());
        Assert.IsTrue(Day(78, 6).Rise.Crossing == SunCrossing.StaysAbove);
        Assert.IsTrue(Day(78, 12).Rise.Crossing == SunCrossing.StaysBelow);
    }

    /// <summary>Full ephemeris (npm astronomy-engine 2.1.19), 9 March 2026 at 50 N 5 W: civil dawn 06:14:33, -50' rising 06:46:43 and setting 18:15:08 UTC.</summary>
    [TestMethod]
    public void RiseAndSetMatchTheEphemeris()
    {
        SunDay day = Day(50, 3);
        Check.Near(6 * 3600 + 14 * 60 + 33, day.CivilDawn.Time.SecondOfDay, 5, "civil dawn");
        Check.Near(6 * 3600 + 46 * 60 + 43, day.Rise.Time.SecondOfDay, 5, "rise");
        Check.Near(18 * 3600 + 15 * 60 + 8, day.Set.Time.SecondOfDay, 5, "set");
    }

    [TestMethod]
    public void TheDayGoesInOrder()
    {
        SunDay day = Day(50, 3);
        Assert.IsTrue(day.NauticalDawn.Time < day.CivilDawn.Time);
        Assert.IsTrue(day.CivilDawn.Time < day.Morning(SunDay.GoldenLowDegrees).Time);
        Assert.IsTrue(day.Morning(SunDay.GoldenLowDegrees).Time < day.Rise.Time);
        Assert.IsTrue(day.Rise.Time < day.Morning(SunDay.GoldenHighDegrees).Time);
        Assert.IsTrue(day.Morning(SunDay.GoldenHighDegrees).Time < day.Noon);
        Assert.IsTrue(day.Noon < day.Set.Time);
        Assert.IsTrue(day.Set.Time < day.CivilDusk.Time);
        // Early March: the sun rises a little south of east.
        Check.Near(97, day.Rise.AzimuthDegrees, 2, "azimuth");
    }

    /// <summary>Published fit, values worked out apart from this code: 759 lx at the horizon, 3.41 at -6 degrees.</summary>
    [TestMethod]
    public void LightIsAsPublished()
    {
        Check.Near(759, SkyLight.Lux(0), 3, "0 degrees");
        Check.Near(3.41, SkyLight.Lux(-6), 0.02, "-6 degrees");
    }

    [TestMethod]
    public void TheNextFrameOpensAtAWholeSecondAndNeverTooSoon()
    {
        DawnExposure off = new DawnExposure(new GeoPosition(50, -5)) { IsOn = false };
        UtcInstant start = new CivilTime(2026, 3, 9, 6, 0, 0).AsUtc();
        off.Read(start, 10.25);
        DawnFrame frame = off.FrameAt(start);
        Assert.AreEqual(11, (int)DawnExposure.NextStart(start, frame, 0).SecondsSince(start));
        Assert.AreEqual(11, (int)DawnExposure.NextStart(start, frame, 0.75).SecondsSince(start));
        Assert.AreEqual(12, (int)DawnExposure.NextStart(start, frame, 1).SecondsSince(start));
        Assert.AreEqual(11, (int)DawnExposure.NextStart(start, frame, -5).SecondsSince(start));
    }

    [TestMethod]
    public void ABrighteningSkyShortensTheFrame()
    {
        SunDay day = Day(50, 3);
        DawnExposure dawn = new DawnExposure(new GeoPosition(50, -5));
        dawn.Read(day.CivilDawn.Time, 120);
        DawnFrame frame = dawn.FrameAt(day.CivilDawn.Time);
        Assert.IsTrue(frame.State == DawnState.Solved);
        Assert.IsTrue(frame.Seconds > 60 && frame.Seconds < 120);
        Check.Near(Elementary.Log2(frame.Seconds / 120), frame.StopsAgainstMetered, 1e-12, "stops");
        Assert.IsTrue(frame.StopsAgainstMetered < 0);
        dawn.IsOn = false;
        Assert.IsTrue(dawn.FrameAt(day.CivilDawn.Time).Seconds == 120);
    }
}
