using Intervalometer.Coast.Place;
using Intervalometer.Settings;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>How bright the display is by day, by night and in a run, and how long it is until the next wipe.</summary>
[TestClass]
public class DisplayLightFigureTests
{
    private const long Second = 1_000_000;

    [TestMethod]
    public void InARunTheDisplayDimsHalfwayAndGoesDarkAfterTheTimeSet()
    {
        BoxSettings settings = new BoxSettings { Brightness = 7, DarkSeconds = 30 };
        DisplayLight light = new DisplayLight(settings);
        light.Touched(100 * Second);
        Assert.IsFalse(light.Pass(115 * Second - 1, false, true));
        Assert.AreEqual(7, light.Level);
        light.Pass(115 * Second, false, true);
        Assert.AreEqual(0, light.Level);
        light.Pass(130 * Second - 1, false, true);
        Assert.AreEqual(0, light.Level);
        light.Pass(130 * Second, false, true);
        Assert.IsTrue(light.IsDark);
        Assert.IsTrue(light.Touched(131 * Second), "the press has lit the display");
        Assert.IsFalse(light.IsDark);
        Assert.IsFalse(light.Touched(132 * Second));
        light.Pass(133 * Second, false, true);
        Assert.AreEqual(7, light.Level);
    }

    [TestMethod]
    public void WhatMustBeSeenLightsTheDisplay()
    {
        DisplayLight light = new DisplayLight(new BoxSettings());
        light.Pass(60 * Second, false, true);
        Assert.IsTrue(light.IsDark);
        Assert.IsTrue(light.Pass(61 * Second, false, false));
        Assert.IsFalse(light.IsDark);
        Assert.IsFalse(light.Pass(62 * Second, false, false));
    }

    [TestMethod]
    public void ZeroSecondsIsNever()
    {
        DisplayLight light = new DisplayLight(new BoxSettings { DarkSeconds = 0 });
        light.Pass(10_000 * Second, false, true);
        Assert.AreEqual(4, light.Level);
    }

    [TestMethod]
    public void TheNightMakesItDarkerAndNeverBrighter()
    {
        BoxSettings settings = new BoxSettings { Brightness = 4, NightBrightness = 2 };
        DisplayLight light = new DisplayLight(settings);
        light.Pass(Second, true, false);
        Assert.AreEqual(2, light.Level);
        settings.NightBrightness = 9;
        light.Pass(Second, true, false);
        Assert.AreEqual(4, light.Level);
        light.Pass(Second, false, false);
        Assert.AreEqual(4, light.Level);
    }

    [TestMethod]
    public void TheTimeToTheNextWipeIsReportedAndNeverBelowZero()
    {
        SprayTimer timer = new SprayTimer(120, 10 * Second);
        Assert.AreEqual(120 * Second, timer.LeftUs(10 * Second));
        Assert.AreEqual(Second, timer.LeftUs(129 * Second));
        Assert.AreEqual(0L, timer.LeftUs(500 * Second));
        timer.Looked(500 * Second);
        Assert.AreEqual(120 * Second, timer.LeftUs(500 * Second));
        Assert.AreEqual(-1L, new SprayTimer(0, 0).LeftUs(Second));
    }
}
