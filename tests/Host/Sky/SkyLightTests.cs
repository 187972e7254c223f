using Intervalometer.Coast.Sky;

namespace Intervalometer.Tests.Host.Sky;

[TestClass]
public class SkyLightTests
{
    /// <summary>Values of the published fit (Vallado table 5-1), worked out apart from this project's code.</summary>
    [TestMethod]
    [DataRow(5.0, 4540.0)]
    [DataRow(0.0, 759.0)]
    [DataRow(-6.0, 3.41)]
    [DataRow(-12.0, 0.00806)]
    public void LuxIsAsPublished(double altitude, double lux) => Assert.AreEqual(1.0, SkyLight.Lux(altitude) / lux, 0.01);

    /// <summary>AMS Glossary of Meteorology, twilight: 585 to 410 lx at sunset, 3.5 to 2 at -6 degrees, 0.008 at -12.</summary>
    [TestMethod]
    public void LuxLiesInTheGlossarysRanges()
    {
        Assert.IsInRange(410.0, 585.0, SkyLight.Lux(SunDay.RiseDegrees));
        Assert.IsInRange(2.0, 3.5, SkyLight.Lux(-6));
        Assert.AreEqual(0.008, SkyLight.Lux(-12), 0.0005);
    }

    [TestMethod]
    public void LightNeverFallsAsTheSunClimbsAndPiecesNearlyMeet()
    {
        double worst = 0;
        for (double a = -18; a < 90; a += 0.01)
        {
            double step = SkyLight.Log2Lux(a + 0.01) - SkyLight.Log2Lux(a);
            Assert.IsGreaterThan(-0.03, step, $"at {a:F2}");
        }
        foreach (double join in new[] { 20.0, 5, -0.8, -5, -12 })
            worst = Math.Max(worst, Math.Abs(SkyLight.Log2Lux(join) - SkyLight.Log2Lux(join - 1e-9)));
        Assert.IsLessThan(0.03, worst, $"largest step {worst:F4}");
    }
}
