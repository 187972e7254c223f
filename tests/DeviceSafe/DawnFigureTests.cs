using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The exposure at dawn against a plain sum of the light, second by second: a frame must collect what was metered.</summary>
[TestClass]
public class DawnFigureTests
{
    private static readonly int[] Minutes = new int[] { 0, 10, 29, 31, 70, -20 };

    private static GeoPosition Place() => new GeoPosition(50, -5);

    private static double Light(double seconds, double part)
    {
        UtcInstant at = new UtcInstant((long)seconds);
        double low = Sun.AltitudeDegrees(at, Place());
        double high = Sun.AltitudeDegrees(at.PlusSeconds(1), Place());
        return SkyLight.Lux(low + (high - low) * part);
    }

    // The light of a frame, in seconds of the light at the reading: pieces of a 12th, each by its middle.
    private static double Gathered(UtcInstant reading, UtcInstant start, double seconds)
    {
        double sum = 0;
        int pieces = seconds > 1_200 ? (int)(seconds / 30) : seconds > 60 ? (int)(seconds / 5) : 12;
        for (int i = 0; i < pieces; i++)
        {
            // divisor: twelve or more
            double at = seconds * (i + 0.5) / pieces;
            sum += Light(start.Seconds + Elementary.Floor(at), at - Elementary.Floor(at));
        }
        // divisor: twelve or more, and no sky is without light
        return sum * seconds / pieces / Light(reading.Seconds, 0);
    }

    /// <summary>Readings of a quarter of a second to a quarter of an hour, dawn and dusk, frames before the reading and long after it.</summary>
    [TestMethod]
    public void AFrameCollectsTheMeteredLight()
    {
        SunDay day = new SunDay(Place(), new LocalOffset(0), new CivilTime(2026, 3, 9, 12, 0, 0).AsUtc());
        double[] metered = new double[] { 0.25, 1, 8, 40, 120, 900 };
        for (int evening = 0; evening < 2; evening++)
        {
            DawnExposure dawn = new DawnExposure(Place());
            UtcInstant reading = evening == 0 ? day.CivilDawn.Time : day.Set.Time;
            for (int i = 0; i < metered.Length; i++)
            {
                dawn.Read(reading, metered[i]);
                for (int k = i % 2; k < Minutes.Length; k += 2)
                {
                    UtcInstant start = reading.PlusMinutes(Minutes[k]);
                    DawnFrame frame = dawn.FrameAt(start);
                    if (frame.State == DawnState.Fading)
                    {
                        Assert.IsTrue(evening == 1 && Gathered(reading, start, 7_200) < metered[i]);
                        continue;
                    }
                    // divisor: metered times are above zero, and so is the light
                    Check.Near(0, Elementary.Log2(Gathered(reading, start, frame.Seconds) / metered[i]), 0.001, "stops");
                    // divisor: metered times are above zero
                    Check.Near(Elementary.Log2(frame.Seconds / metered[i]), frame.StopsAgainstMetered, 1e-12, "stops told");
                    // divisor: no sky is without light
                    Check.Near(Elementary.Log2(Light(start.Seconds, 0) / Light(reading.Seconds, 0)), dawn.StopsSinceReading(start), 0.0005, "light since the reading");
                }
            }
        }
    }

    /// <summary>When the light fades before enough is collected, the answer says so, up to four hours.</summary>
    [TestMethod]
    public void LightThatFailsIsReported()
    {
        SunDay day = new SunDay(Place(), new LocalOffset(0), new CivilTime(2026, 3, 9, 12, 0, 0).AsUtc());
        DawnExposure dawn = new DawnExposure(Place());
        dawn.Read(day.Set.Time, 600);
        DawnFrame frame = dawn.FrameAt(day.NauticalDusk.Time);
        Assert.IsTrue(frame.State == DawnState.Fading && frame.Seconds == 600 && frame.StopsAgainstMetered == 0);
    }
}
