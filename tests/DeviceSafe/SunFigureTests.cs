using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The sun against figures from outside, from 2000 to 2099 and all over the earth, and what a crossing of an altitude is.</summary>
[TestClass]
public class SunFigureTests
{
    // Seconds since 2000, latitude, longitude; altitude, azimuth, hour angle, declination. J. Meeus, Astronomical Algorithms, formulas 25.2 to 25.8, 12.4,
    // 13.5 and 13.6, with 70 s between the two times, worked out apart from the firmware by a script with another library's functions.
    private static double[] Positions() => new double[]
    {
        1, 0.0, 0.0, -66.9169347, 181.7898333, 179.2373657, -23.0711524,
        835327800, 50.25, -5.4, -5.5567692, 42.1018682, -133.3386686, 23.4379929,
        984592800, -42.5, 147.3, -23.213385, 117.0491888, -124.9919366, -2.3984813,
        1415272271, 69.0, 18.9, 4.7040932, 190.4123455, 10.7969924, -15.9451269,
        1898639999, -33.9, -179.5, 63.3724988, 5.6657898, -2.557215, -7.3774816,
        2452852800, 12.0, 179.75, -77.9486095, 7.7810154, -178.3801825, -0.0563463,
        3155695628, 60.0, -150.0, -35.2201197, 285.2879987, 121.075102, -23.0635258,
        2848059900, 78.0, 15.6, 8.7010964, 252.299741, 70.9362946, 4.9041164,
    };

    // Latitude, longitude, noon; rise, set, civil dawn and dusk, nautical dawn and dusk, in seconds since 2000, 0 for none; azimuth of rise and set.
    // A full ephemeris: npm astronomy-engine 2.1.19, crossings of -50', -6 and -12 degrees.
    private static double[] Crossings() => new double[]
    {
        -25, -98, 820607741.6, 820583152.6, 820632323.8, 820581611.2, 820633864.0, 820579762.2, 820635711.1, 115.946, 244.110,
        50, 25, 820578212.0, 820563511.5, 820592923.5, 820561219.9, 820595215.4, 820558739.6, 820597696.0, 126.196, 233.855,
        -60, 107, 820558525.6, 820524875.4, 820592126.4, 820519032.7, 820597876.7, 0, 0, 143.871, 216.328,
        66, -130, 820615424.1, 820609623.2, 820621243.2, 820603960.7, 820626906.6, 820599425.7, 820631443.0, 157.854, 202.217,
        70, -89, 820605580.9, 0, 0, 820597499.9, 820613683.7, 820591245.7, 820619939.7, 0, 0,
        -25, -31, 866124231.8, 866105144.7, 866143315.2, 866103646.5, 866144813.6, 866101939.0, 866146521.2, 64.724, 295.306,
    };

    [TestMethod]
    public void PositionsAreThoseOfTheTextbook()
    {
        double[] rows = Positions();
        for (int i = 0; i < rows.Length; i += 7)
        {
            SunPosition sun = Sun.At(new UtcInstant((long)rows[i]), new GeoPosition(rows[i + 1], rows[i + 2]));
            Check.Near(rows[i + 3], sun.AltitudeDegrees, 1e-6, "altitude");
            Check.Near(rows[i + 4], sun.AzimuthDegrees, 1e-6, "azimuth");
            Check.Near(rows[i + 5], sun.HourAngleDegrees, 1e-6, "hour angle");
            Check.Near(rows[i + 6], sun.DeclinationDegrees, 1e-6, "declination");
            Check.Near(rows[i + 3], Sun.AltitudeDegrees(new UtcInstant((long)rows[i]), new GeoPosition(rows[i + 1], rows[i + 2])), 1e-6, "altitude alone");
        }
    }

    [TestMethod]
    public void CrossingsAreThoseOfAFullEphemeris()
    {
        double[] rows = Crossings();
        for (int i = 0; i < rows.Length; i += 11)
        {
            SunDay day = new SunDay(new GeoPosition(rows[i], rows[i + 1]), new LocalOffset((int)(rows[i + 1] * 4)), new UtcInstant((long)rows[i + 2]));
            double most = rows[i] == 66 || rows[i] == -60 ? 60 : 20;
            Check.Near(rows[i + 2], day.Noon.Seconds, 5, "noon");
            Is(rows[i + 3], day.Rise, most);
            Is(rows[i + 4], day.Set, most);
            Is(rows[i + 5], day.CivilDawn, most);
            Is(rows[i + 6], day.CivilDusk, most);
            Is(rows[i + 7], day.NauticalDawn, most);
            Is(rows[i + 8], day.NauticalDusk, most);
            if (rows[i + 3] == 0) continue;
            Check.Near(rows[i + 9], day.Rise.AzimuthDegrees, 0.3, "azimuth of rise");
            Check.Near(rows[i + 10], day.Set.AzimuthDegrees, 0.3, "azimuth of set");
        }
    }

    private static void Is(double seconds, SunEvent found, double most)
    {
        Assert.AreEqual(seconds != 0, found.Happens);
        if (seconds != 0) Check.Near(seconds, found.Time.Seconds, most, "crossing");
    }

    /// <summary>
    /// Between the lower and the upper transit the sun climbs: it stands below the altitude until the moment that is told and above it from then on. Where there
    /// is no such moment, it is above at the lowest or below at the highest, and that moment is told.
    /// </summary>
    [TestMethod]
    public void ACrossingIsTheMomentAtWhichTheAltitudeIsReached()
    {
        double[] latitudes = new double[] { -75, -42, 0, 12, 50, 66.4, 78 };
        int crossed = 0, above = 0, below = 0;
        for (int i = 0; i < latitudes.Length; i++)
        {
            GeoPosition place = new GeoPosition(latitudes[i], i * 55 - 170);
            LocalOffset local = new LocalOffset((i * 55 - 170) * 4);
            for (int month = 3; month <= 12; month += 3)
            {
                UtcInstant within = new CivilTime(2031, month, 21, 12, 0, 0).AsUtc();
                SunDay day = new SunDay(place, local, within);
                Check.Near(0, Sun.At(day.Noon, place).HourAngleDegrees, 0.003, "noon");
                Assert.IsTrue(Elementary.Abs(day.Noon.Seconds - new LocalTime(local).MidnightBefore(within).Seconds - 43_200) < 1_200);
                for (int altitude = -12; altitude <= 6; altitude += 9)
                {
                    for (int side = -1; side <= 1; side += 2)
                    {
                        SunEvent found = side < 0 ? day.Morning(altitude) : day.Evening(altitude);
                        UtcInstant low = day.Noon.PlusSeconds(side * 43_200);
                        Check.Near(0, Elementary.Wrap(Sun.At(found.Time, place).AzimuthDegrees - found.AzimuthDegrees + 180, 360) - 180, 0.01, "azimuth");
                        if (found.Crossing == SunCrossing.StaysAbove)
                        {
                            above++;
                            Check.Near(low.Seconds, found.Time.Seconds, 40, "lower transit");
                            Assert.IsTrue(Sun.AltitudeDegrees(found.Time, place) >= altitude);
                            continue;
                        }
                        if (found.Crossing == SunCrossing.StaysBelow)
                        {
                            below++;
                            Assert.AreEqual(day.Noon.Seconds, found.Time.Seconds);
                            Assert.IsTrue(Sun.AltitudeDegrees(day.Noon, place) <= altitude);
                            continue;
                        }
                        crossed++;
                        Assert.IsTrue(Sun.AltitudeDegrees(found.Time.PlusSeconds(side), place) < altitude && Sun.AltitudeDegrees(found.Time.PlusSeconds(-side), place) > altitude);
                        long before = (found.Time.Seconds - low.Seconds) * -side;
                        Assert.IsTrue(before >= -40 && before <= 43_240);
                    }
                }
            }
        }
        Assert.IsTrue(crossed > 100 && above > 10 && below > 5, crossed.ToString() + " crossed, " + above.ToString() + " above, " + below.ToString() + " below");
    }

    [TestMethod]
    public void APolarNightWithTwilightHasItsOwnWords()
    {
        UtcInstant december = new CivilTime(2026, 12, 21, 12, 0, 0).AsUtc();
        Assert.AreEqual("Polar night: twilight, no sunrise", new SunDay(new GeoPosition(69, 18), new LocalOffset(60), december).Words());
    }

    /// <summary>A longitude is turned into -180 to 180, a latitude is held at the pole.</summary>
    [TestMethod]
    public void APlaceLiesOnTheEarth()
    {
        double[] asked = new double[] { -541, -180, -179.5, 0, 179.5, 180, 190, 540 };
        double[] kept = new double[] { 179, -180, -179.5, 0, 179.5, -180, -170, -180 };
        for (int i = 0; i < asked.Length; i++) Check.Near(kept[i], new GeoPosition(0, asked[i]).LongitudeDegrees, 1e-9, "longitude");
        Check.Near(-90, new GeoPosition(-91, 0).LatitudeDegrees, 0, "latitude");
        Check.Near(90, new GeoPosition(91, 0).LatitudeDegrees, 0, "latitude");
    }
}
