using Intervalometer.Coast.Sky;
using Intervalometer.Core.Light;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The smoothed light of a series: what moves it, how fast, and what it says of the next minutes.</summary>
[TestClass]
public class LightTrendTests
{
    private const long Second = 1_000_000;

    /// <summary>A light that grows steadily is followed without a lag, and its trend says where it will be.</summary>
    [TestMethod]
    public void ASteadyTwilightIsFollowedAndCarriedOn()
    {
        LightTrend trend = new LightTrend();
        for (int s = 0; s <= 300; s++) trend.Take(0.006 * s, s * Second);
        Check.Near(1.8, trend.At(300 * Second), 1e-9, "now");
        Check.Near(0.006, trend.Slope, 0.0001, "slope");
        Check.Near(1.8 + 0.36, trend.At(360 * Second), 0.005, "in a minute");
        Check.Near(trend.At(600 * Second), trend.At(2000 * Second), 1e-9, "never further ahead than five minutes");
    }

    /// <summary>Two stops for one second move the level by 0.03 stop, and the trend by next to nothing.</summary>
    [TestMethod]
    public void AGullHardlyMovesIt()
    {
        LightTrend trend = new LightTrend();
        for (int s = 0; s <= 60; s++) trend.Take(s == 50 ? -2 : 0, s * Second);
        Check.Near(0, trend.At(60 * Second), 0.003, "ten seconds later");
        trend.Take(-2, 61 * Second);
        Check.Near(-0.03, trend.At(61 * Second), 0.002, "at once");
        Check.Near(0, trend.Slope, 0.0003, "trend");
    }

    /// <summary>An edge of one stop is spread over a little more than half a minute.</summary>
    [TestMethod]
    public void AnEdgeIsSpread()
    {
        LightTrend trend = new LightTrend();
        trend.Take(0, 0);
        for (int s = 1; s <= 30; s++) trend.Take(-1, s * Second);
        Check.Near(-0.9, trend.At(30 * Second), 1e-9, "after half a minute");
        for (int s = 31; s <= 40; s++) trend.Take(-1, s * Second);
        Check.Near(-1, trend.At(40 * Second), 1e-9, "after forty seconds");
        Assert.IsTrue(trend.Slope >= -LightTrend.SteepestStops);
    }

    /// <summary>Without readings the level is carried on as it is told, and the next reading is reached at the same pace as any other.</summary>
    [TestMethod]
    public void WithoutReadingsItIsCarriedOn()
    {
        LightTrend trend = new LightTrend();
        trend.Take(1, 10 * Second);
        trend.Carry(0.005, 110 * Second);
        Check.Near(1.5, trend.At(110 * Second), 1e-9, "as under a clear sky");
        trend.Carry(0, 210 * Second);
        Check.Near(1.5, trend.At(300 * Second), 1e-9, "kept");
        trend.Take(0, 209 * Second);
        Check.Near(1.5, trend.At(210 * Second), 1e-9, "an older reading changes nothing");
        trend.Take(0, 220 * Second);
        Check.Near(1.2, trend.At(220 * Second), 1e-9, "ten seconds at 0.03 stop");
        trend.Clear();
        trend.Take(0, 221 * Second);
        Check.Near(0, trend.At(221 * Second), 1e-9, "metered again");
    }

    /// <summary>The steepest clear twilight: the sun moves 15 degrees an hour (the Earth's rotation), and the light is that of US Naval Observatory Circular 171 in <see cref="SkyLight"/>.</summary>
    [TestMethod]
    public void NoClearTwilightIsSteeperThanItsTrendMayBe()
    {
        double steepest = 0;
        for (int tenths = -150; tenths < 100; tenths++)
        {
            // divisor: a constant
            double change = SkyLight.Log2Lux((tenths + 1) / 10.0) - SkyLight.Log2Lux(tenths / 10.0);
            if (change > steepest) steepest = change;
        }
        // divisor: a constant
        double aSecond = steepest * 10 * 15 / 3600;
        Assert.IsTrue(aSecond < LightTrend.SteepestStops && aSecond > 0.8 * LightTrend.SteepestStops);
        Assert.IsTrue(LightTrend.FastestStops > 3 * aSecond);
    }
}
