using Intervalometer.Core.Light;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Tests.Host.Architecture;

namespace Intervalometer.Tests.Host.Readme;

/// <summary>The figures of the light sensor in the manual of the cards. Those of the dawn are held by the test that plays it (SeriesLightTests).</summary>
[TestClass]
public class SensorManualTests
{
    private static readonly string Manual = ReadmeText.ProseOf(File.ReadAllText(Repository.At("firmware/Screens/README.md")).ReplaceLineEndings("\n"));

    [TestMethod]
    public void TheManualHasTheFiguresOfTheFirmware()
    {
        var box = new BoxSettings();
        string[] words =
        [
            $"one frame on bulb of {Figure.Plain(SensedLight.LeastSeconds)} s or more",
            $"less than a {(LightSum.ShortestShare == 0.25 ? "quarter" : "?")} of the answer",
            $"follows the sensor by {Figure.Plain(LightTrend.FastestStops)} stop a second at most",
            $"changes by less than {Figure.Plain(LightTrend.SteepestStops)} stop a second",
            $"from frame to frame, 0.1 to {Figure.Plain(BoxSettings.MostSeriesTenths / 10.0)} stop. A new box has {Figure.Plain(box.SeriesTenths / 10.0)}.",
            $"shorter than {Figure.Plain(ShotPlan.ShortestBoxTimedUs / 1e6)} s",
            $"takes one stop is spread over {(Math.Round(1 / LightTrend.FastestStops / 30) == 1 ? "half a minute" : "?")}",
        ];
        foreach (string line in words) Assert.Contains(line, Manual);
    }
}
