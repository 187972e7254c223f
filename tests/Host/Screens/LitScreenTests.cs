using Intervalometer.Core.Light;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>What the screens say of the light sensor, before, in and after a frame that the light ends.</summary>
[TestClass]
public class LitScreenTests
{
    private const long Second = 1_000_000;

    // 1/60 metered, twelve stops longer: 64 s, on bulb.
    private static PanelRig Metered(Func<long, (LightState, double)> light)
    {
        var rig = new PanelRig { Light = light };
        rig.Settings.StepShutter(27);
        for (int i = 0; i < rig.Settings.Kit.Count; i++) rig.Settings.Kit[i].On = rig.Settings.Kit[i].Name == "ND 0.9";
        rig.Settings.Solve();
        return rig.Pass(2 * Second).Press(Button.Select, Button.Up, Button.Down, Button.Back).Pass(2 * Second);
    }

    [TestMethod]
    public void LightHasTwoFieldsMoreWithASensor()
    {
        PanelRig rig = Metered(_ => (LightState.Trusted, 20));
        rig.Press(Button.Select, Button.Select, Button.Select);
        GoldenPictures.Check(rig, "light-sensor-field");
        rig.Press(Button.Up);
        Assert.AreEqual(SensorUse.CarriesToo, rig.Settings.Sensor);
        rig.Press(Button.Down, Button.Down);
        Assert.AreEqual(SensorUse.Off, rig.Settings.Sensor);
        rig.Press(Button.Up, Button.Select);
        GoldenPictures.Check(rig, "light-sensor-longer");
        rig.Press(Button.Up);
        Assert.AreEqual(4, rig.Settings.SensorThirds);
    }

    /// <summary>Each state of the sensor in words on LIGHT, in the line that changes every few seconds.</summary>
    [TestMethod]
    [DataRow("trusted", LightState.Trusted, 26.0)]
    [DataRow("silent", LightState.Silent, 0.0)]
    [DataRow("dark", LightState.TooDark, 12.0)]
    [DataRow("glare", LightState.Saturated, 0.0)]
    [DataRow("covered", LightState.Trusted, 2.0)]
    [DataRow("jumped", LightState.Trusted, 200.0)]
    public void LightSaysWhatTheSensorSays(string name, LightState state, double lux)
    {
        PanelRig rig = Metered(at => at < 6 * Second ? (LightState.Trusted, 20) : (state, lux));
        rig.Pass(12 * Second);
        while (rig.Bench.NowUs / 3_000_000 % 2 != 0) rig.Pass(500_000);
        GoldenPictures.Check(rig, "light-sensor-" + name);
    }

    [TestMethod]
    public void LightSaysWhatWasMeteredAndWhatItIsNow()
    {
        PanelRig rig = new PanelRig { Light = at => (LightState.Trusted, at < 7 * Second ? 20 : 50) }.At("2031-03-14T05:40:00Z");
        rig.Settings.Sensor = SensorUse.CarriesToo;
        rig.Settings.StepShutter(12);
        rig.Press(Button.Select, Button.Up, Button.Down, Button.Back).Pass(10 * Second);
        while (rig.Bench.NowUs / 3_000_000 % 2 != 0) rig.Pass(500_000);
        GoldenPictures.Check(rig, "light-sensor-follows");
    }

    [TestMethod]
    public void ARunShowsTheTimeLeftAndWhatIsCollected()
    {
        PanelRig rig = Metered(at => (LightState.Trusted, at < 8 * Second ? 20 : 26));
        rig.Press(Button.Down, Button.Down);
        GoldenPictures.Check(rig, "frames-by-light");
        rig.Press(Button.Fire).Pass(25 * Second);
        GoldenPictures.Check(rig, "run-by-light");
        rig.Pass(60 * Second);
        GoldenPictures.Check(rig, "end-by-light");
    }

    /// <summary>In the middle of a frame the sensor cannot be trusted: the heading says why.</summary>
    [TestMethod]
    [DataRow("silent", LightState.Silent, 0.0)]
    [DataRow("dark", LightState.TooDark, 12.0)]
    [DataRow("glare", LightState.Saturated, 0.0)]
    [DataRow("covered", LightState.Trusted, 2.0)]
    [DataRow("jumped", LightState.Trusted, 200.0)]
    public void ARunSaysWhyItsLightIsEstimated(string name, LightState state, double lux)
    {
        PanelRig rig = Metered(at => at < 20 * Second ? (LightState.Trusted, 20) : (state, lux));
        rig.Press(Button.Fire).Pass(32 * Second);
        GoldenPictures.Check(rig, "run-by-light-" + name);
        rig.Pass(60 * Second);
        if (name == "silent") GoldenPictures.Check(rig, "end-by-light-silent");
        Assert.AreEqual(LightEnd.Estimated, rig.Shore.Dawn.Sensor.Series.Notes.End(0));
    }

    /// <summary>A series before Fire, with its field on FRAMES; while a frame is open, between two frames and at its end; and the list of its frames.</summary>
    [TestMethod]
    public void ASeriesSaysWhatSetsItsTimes()
    {
        PanelRig rig = Series(at => (LightState.Trusted, at < 8 * Second ? 20 : 26));
        GoldenPictures.Check(rig, "series-by-light");
        rig.Press(Button.Select, Button.Select, Button.Select, Button.Select, Button.Select);
        GoldenPictures.Check(rig, "series-light-field");
        rig.Press(Button.Back, Button.Fire).Pass(9 * Second);
        GoldenPictures.Check(rig, "run-series-light");
        rig.Pass(50 * Second);
        GoldenPictures.Check(rig, "run-series-light-next");
        rig.Pass(200 * Second);
        GoldenPictures.Check(rig, "end-series-light");
        rig.Press(Button.Back).Hold(Button.Select, 1_200_000);
        GoldenPictures.Check(rig, "taken-series-light");
    }

    /// <summary>Where the light cannot be trusted: before Fire with the reason, and in the run.</summary>
    [TestMethod]
    [DataRow("silent", LightState.Silent, 0.0, false)]
    [DataRow("dark", LightState.TooDark, 12.0, false)]
    [DataRow("glare", LightState.Saturated, 0.0, false)]
    [DataRow("covered", LightState.Trusted, 2.0, true)]
    [DataRow("jumped", LightState.Trusted, 200.0, false)]
    public void ASeriesSaysWhyTheLightDoesNotSetItsTimes(string name, LightState state, double lux, bool sky)
    {
        PanelRig rig = Series(at => at < 12 * Second ? (LightState.Trusted, 20) : (state, lux), sky);
        rig.Pass(15 * Second);
        GoldenPictures.Check(rig, "series-light-" + name);
        rig.Press(Button.Fire).Pass(60 * Second);
        GoldenPictures.Check(rig, "run-series-light-" + name);
        rig.Pass(200 * Second);
        rig.Press(Button.Back).Hold(Button.Select, 1_200_000);
        Assert.AreEqual(sky ? SeriesLight.ClearSky : SeriesLight.Kept, rig.Shore.Dawn.Sensor.Series.Notes.From(2));
        if (name is "covered" or "silent") GoldenPictures.Check(rig, "taken-series-light-" + name);
    }

    // Three frames of about 64 s, 80 s apart, on the FRAMES card.
    private static PanelRig Series(Func<long, (LightState, double)> light, bool sky = false)
    {
        PanelRig rig = Metered(light);
        if (sky)
        {
            rig.Shore.Settings.DawnOn = true;
            rig.At("2031-03-14T05:40:00Z");
            rig.Press(Button.Select, Button.Up, Button.Down, Button.Back);
        }
        rig.Settings.Plan.Shape = PlanShape.Series;
        rig.Settings.Plan.Frames = 3;
        rig.Settings.Plan.IntervalUs = 80 * Second;
        return rig.Press(Button.Down, Button.Down).Pass(2 * Second);
    }

    /// <summary>The list of frames says of a frame that the light could end: why it ended, the light that it got, and what was planned.</summary>
    [TestMethod]
    [DataRow("enough", LightState.Trusted, 26.0)]
    [DataRow("longest", LightState.Trusted, 8.0)]
    [DataRow("silent", LightState.Silent, 0.0)]
    public void TheListOfFramesSaysWhatTheLightDid(string name, LightState state, double lux)
    {
        PanelRig rig = Metered(at => at < 8 * Second ? (LightState.Trusted, 20) : (state, lux));
        rig.Press(Button.Down, Button.Down, Button.Fire).Pass(140 * Second);
        rig.Press(Button.Back).Hold(Button.Select, 1_200_000);
        // The reminder to wipe the glass is seen, and the press that closes it leads to no other frame.
        rig.Draw();
        rig.Press(Button.Up);
        GoldenPictures.Check(rig, "taken-by-light-" + name);
    }

    [TestMethod]
    public void BenchShowsTheLight()
    {
        PanelRig rig = Metered(_ => (LightState.Trusted, 7.3));
        rig.Press(Button.Up).Hold(Button.Select, 1_200_000).Pass(3 * Second);
        while (rig.Bench.NowUs / 3_000_000 % 2 != 0) rig.Pass(500_000);
        GoldenPictures.Check(rig, "bench-light");
    }

    /// <summary>What the sensor does is kept; a record of older firmware leaves it as it was.</summary>
    [TestMethod]
    public void TheChoiceIsKept()
    {
        var settings = new BoxSettings { Sensor = SensorUse.CarriesToo, SensorThirds = 7, SeriesTenths = 1 };
        var data = new byte[StoreMap.Capacity(RecordId.Settings)];
        var bytes = new Bytes(data, data.Length);
        SettingsRecord.Put(settings, bytes);
        int length = bytes.At;
        var read = new BoxSettings();
        Assert.IsTrue(SettingsRecord.Take(read, new Bytes(data, length)));
        Assert.AreEqual(SensorUse.CarriesToo, read.Sensor);
        Assert.AreEqual(7, read.SensorThirds);
        Assert.AreEqual(1, read.SeriesTenths);
        var older = new BoxSettings();
        Assert.IsTrue(SettingsRecord.Take(older, new Bytes(data, length - 3)));
        Assert.AreEqual(SensorUse.EndsFrames, older.Sensor);
        Assert.AreEqual(3, older.SensorThirds);
        Assert.AreEqual(3, older.SeriesTenths);
    }
}
