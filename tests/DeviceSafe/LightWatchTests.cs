using Intervalometer.Core.Light;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Which readings of the light are believed, and what they are set against.</summary>
[TestClass]
public class LightWatchTests
{
    private const long Second = 1_000_000;

    private static LightWatch Metered(double lux)
    {
        LightWatch watch = new LightWatch();
        watch.Meter(10 * Second);
        watch.Take(LightState.Trusted, lux, 11 * Second);
        return watch;
    }

    /// <summary>Nothing is fitted, nothing is known.</summary>
    [TestMethod]
    public void ItBeginsWithoutASensor()
    {
        LightWatch watch = new LightWatch();
        Assert.IsTrue(watch.State == LightState.Absent);
        Assert.IsFalse(watch.Usable || watch.HasReference);
        Check.Near(1, watch.Ratio, 0, "ratio");
        Check.Near(0, watch.Stops, 0, "stops");
    }

    /// <summary>The reading nearest to the press is the reference, whether it came just before or just after it.</summary>
    [TestMethod]
    public void TheReadingAtMeteringIsTheReference()
    {
        LightWatch watch = Metered(5);
        watch.Take(LightState.Trusted, 10, 15 * Second);
        Check.Near(1, watch.Stops, 1e-12, "stops");
        watch.Meter(16 * Second);
        Check.Near(0, watch.Stops, 1e-12, "stops after a new metering");
        watch.Take(LightState.Trusted, 20, 19 * Second);
        Check.Near(2, watch.Ratio, 1e-12, "ratio");
    }

    /// <summary>No reading within five seconds of the press: there is none from metering, however many come later.</summary>
    [TestMethod]
    public void ALateReadingIsNoReference()
    {
        LightWatch watch = new LightWatch();
        watch.Meter(10 * Second);
        watch.Take(LightState.Trusted, 5, 10 * Second + LightWatch.NearUs + 1);
        watch.Take(LightState.Trusted, 5, 20 * Second);
        Assert.IsFalse(watch.HasReference);
        Assert.IsTrue(watch.State == LightState.Trusted && !watch.Usable);
    }

    /// <summary>A hand over the sensor is no sky, and is forgiven when it goes; a step that a sky can make is believed.</summary>
    [TestMethod]
    public void AHandIsNotBelieved()
    {
        LightWatch watch = Metered(100);
        watch.Take(LightState.Trusted, 40, 11 * Second + Second / 2);
        Assert.IsTrue(watch.Usable, "1.3 stops in half a second");
        watch.Take(LightState.Trusted, 25, 12 * Second);
        watch.Take(LightState.Trusted, 4, 13 * Second);
        Assert.IsTrue(watch.State == LightState.Covered && !watch.Usable);
        watch.Take(LightState.TooDark, 0.1, 14 * Second);
        Assert.IsTrue(watch.State == LightState.Covered);
        watch.Take(LightState.Trusted, 4, 15 * Second);
        Assert.IsTrue(watch.State == LightState.Covered, "the sensor still counts as covered");
        Check.Near(40, watch.Lux, 0, "the last trusted: the hand was on its way at 25");
        Assert.AreEqual(11 * Second + Second / 2, watch.AtUs);
        watch.Take(LightState.Trusted, 45, 18 * Second);
        Assert.IsTrue(watch.Usable, "the measurement of the hand is gone");
    }

    /// <summary>A lamp, or a box that was turned: nothing is believed until the light is back or the camera's meter is read again.</summary>
    [TestMethod]
    public void ALampIsNotBelievedUntilTheMeterIsReadAgain()
    {
        LightWatch watch = Metered(1);
        watch.Take(LightState.Trusted, 8, 12 * Second);
        Assert.IsTrue(watch.State == LightState.Jumped);
        for (int i = 13; i < 200; i++) watch.Take(LightState.Trusted, 8, i * Second);
        Assert.IsTrue(watch.State == LightState.Jumped, "the jump still stands");
        watch.Meter(200 * Second);
        watch.Take(LightState.Trusted, 8, 201 * Second);
        Assert.IsTrue(watch.Usable);
        Check.Near(1, watch.Ratio, 1e-12, "ratio");
    }

    /// <summary>Darkness that comes slowly is darkness; darkness at once is a hand.</summary>
    [TestMethod]
    public void DarknessThatComesSlowlyIsNoHand()
    {
        LightWatch watch = Metered(0.2);
        watch.Take(LightState.TooDark, 0.1, 12 * Second);
        Assert.IsTrue(watch.State == LightState.TooDark);
        watch.Take(LightState.Trusted, 0.2, 13 * Second);
        Assert.IsTrue(watch.Usable);
    }

    /// <summary>One transfer that fails is no silence; five seconds without an answer are.</summary>
    [TestMethod]
    public void SilenceIsToldAfterFiveSeconds()
    {
        LightWatch watch = Metered(1);
        watch.Take(LightState.Silent, 0, 12 * Second);
        Assert.IsTrue(watch.Usable);
        watch.Take(LightState.Silent, 0, 16 * Second + 1);
        Assert.IsTrue(watch.State == LightState.Silent && !watch.Usable);
        watch.Take(LightState.Saturated, 0, 17 * Second);
        Assert.IsTrue(watch.State == LightState.Saturated);
        watch.Take(LightState.Trusted, 2, 18 * Second);
        Assert.IsTrue(watch.Usable);
    }

    /// <summary>After a long time without a look the sky may have changed by a lot, but not by any amount.</summary>
    [TestMethod]
    public void ALongPauseAllowsMoreAndNotEverything()
    {
        LightWatch watch = Metered(1);
        watch.Take(LightState.Trusted, Elementary.Exp2(4.5), 100 * Second);
        Assert.IsTrue(watch.Usable);
        watch.Take(LightState.Trusted, Elementary.Exp2(10), 1000 * Second);
        Assert.IsTrue(watch.State == LightState.Jumped);
    }
}
