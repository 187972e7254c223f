using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.Tests.Host.Sky;

/// <summary>A small study of drawn dawns through the whole box: what a frame collects with the light sensor, with the clear-sky model, with neither.</summary>
[TestClass]
public class DawnStudyTests
{
    // Three of each kind of sky; the verb's own seed is another.
    private const int Dawns = 24, Seed = 7;

    private static readonly Lazy<DawnStudy> Played = new(() => DawnStudy.Play(Seed, Dawns));

    public TestContext TestContext { get; set; } = null!;

    private static double[] Errors(LightHelp help) => [.. Played.Value.Seen.Select(d => d.With(help).ErrorStops)];

    /// <summary>Wherever the chip sees, the frame collects of the light that falls on the box what was metered.</summary>
    [TestMethod]
    public void WithTheSensorAFrameGetsTheMeteredLightThatFallsOnTheBox()
    {
        var text = new StringWriter();
        Played.Value.Write(text);
        TestContext.WriteLine(text.ToString());
        Assert.IsGreaterThan(Dawns / 2, Played.Value.Seen.Count);
        Assert.IsGreaterThanOrEqualTo(95, DawnStudy.RightPercent([.. Played.Value.Seen.Select(d => d.Sensor.AtBoxStops)]));
    }

    /// <summary>With the sun ahead of the camera the frame gets what was metered of the scene's light as well.</summary>
    [TestMethod]
    public void WithTheSunAheadAFrameGetsTheMeteredLightOfTheScene()
    {
        double[] ahead = [.. Played.Value.Seen.Where(d => d.Sensor.Draw.Sky.AsideDegrees < 90).Select(d => d.Sensor.ErrorStops)];
        Assert.IsGreaterThan(5, ahead.Length);
        Assert.IsGreaterThanOrEqualTo(95, DawnStudy.RightPercent(ahead));
    }

    [TestMethod]
    public void TheSensorIsNearerThanTheModelAndTheModelNearerThanNothing()
    {
        double sensor = DawnStudy.Size(Errors(LightHelp.Sensor), 0.5), model = DawnStudy.Size(Errors(LightHelp.ClearSky), 0.5), none = DawnStudy.Size(Errors(LightHelp.None), 0.5);
        Assert.IsLessThan(model, sensor);
        Assert.IsLessThan(none, model);
    }

    /// <summary>The chip's least count and the box's rule leave four tenths of a lux: a clear sky gives that at -8 degrees by the published table.</summary>
    [TestMethod]
    public void TheChipSeesAtNauticalDuskAndNotInTheNight()
    {
        Assert.IsTrue(Played.Value.Seen.All(d => d.Sensor.SunDegrees > -10));
        Assert.IsTrue(Played.Value.Dawns.Where(d => d.Sensor.SunDegrees > -5).All(d => d.Sensor.SensorEndedIt));
    }

    [TestMethod]
    public void TheSameDawnGivesTheSameFrame()
    {
        DawnDraw draw = DawnDraw.Draw(Seed, 3);
        Assert.AreEqual(DawnPlay.Play(draw, LightHelp.Sensor), DawnPlay.Play(draw, LightHelp.Sensor));
        Assert.AreNotEqual(draw, DawnDraw.Draw(Seed + 1, 3));
    }
}
