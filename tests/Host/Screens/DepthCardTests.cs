using Intervalometer.Settings;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>DEPTH by buttons: from where to where it is sharp, and how soft the far end gets when it may drop off.</summary>
[TestClass]
public class DepthCardTests
{
    // Up goes up four cards from the first; held it goes on.
    private static PanelRig Rig() => new PanelRig().Press(Button.Up, Button.Up, Button.Up, Button.Up);

    [TestMethod]
    public void DepthSaysFromWhereToWhereItIsSharpAndHowSoftTheFarEndIs()
    {
        PanelRig rig = Rig();
        Assert.AreEqual("DEPTH", rig.Panel.ScreenName);
        // 24 mm at f/8, focused at 3 m: past the hyperfocal distance of 2.4 m, so the far end is sharp.
        GoldenPictures.Check(rig, "depth");
        rig.Pass(3_100_000);
        GoldenPictures.Check(rig, "depth-hyperfocal");
    }

    [TestMethod]
    public void TheFarEndDropsOffAtAWiderAperture()
    {
        PanelRig rig = Rig().Press(Button.Select);
        // From 3.0 m to 1.0 m by tenths.
        for (int i = 0; i < 20; i++) rig.Press(Button.Down);
        Assert.AreEqual(100, rig.Settings.Lens.FocusCentimetres);
        GoldenPictures.Check(rig, "depth-focus");
        rig.Press(Button.Select, Button.Down, Button.Down, Button.Down);
        Assert.AreEqual("5.6", rig.Settings.Base.Aperture.Label);
        Assert.AreEqual("1/125", rig.Settings.Base.Shutter.Label, "the time follows");
        GoldenPictures.Check(rig, "depth-aperture");
        rig.Press(Button.Select).Hold(Button.Up, 2_000_000);
        Assert.IsGreaterThan(30, rig.Settings.Lens.FocalMillimetres);
        rig.Press(Button.Select, Button.Up);
        GoldenPictures.Check(rig, "depth-format");
        rig.Press(Button.Back);
        GoldenPictures.Check(rig, "depth-soft");
    }

    [TestMethod]
    public void TheWidestFiguresFindRoom()
    {
        PanelRig rig = Rig();
        rig.Settings.Lens.FocalMillimetres = 600;
        rig.Settings.Lens.FormatIndex = 7;
        rig.Settings.Lens.FocusCentimetres = LensSettings.MostFocus;
        GoldenPictures.Check(rig, "depth-wide");
        rig.Settings.Lens.FocusCentimetres = 120;
        rig.Settings.StepAperture(-9);
        rig.Draw();
        rig.Settings.Lens.FocalMillimetres = 8;
        rig.Settings.Lens.FocusCentimetres = LensSettings.MostFocus;
        rig.Settings.StepAperture(30);
        rig.Draw();
    }

    /// <summary>One held press goes round to it, as to any card, and lets go where it stands.</summary>
    [TestMethod]
    public void AHeldUpGoesOnFromCardToCard()
    {
        PanelRig rig = new PanelRig().Hold(Button.Up, 1_600_000);
        Assert.AreEqual("DEPTH", rig.Panel.ScreenName);
        Assert.AreEqual(1, rig.Presses);
        rig.Hold(Button.Down, 1_600_000);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
    }

    [TestMethod]
    public void TheLensIsKeptBehindTheCameraAndOlderRecordsLeaveItAsItWas()
    {
        var settings = new BoxSettings();
        settings.Lens.FocalMillimetres = 210;
        settings.Lens.FormatIndex = 7;
        settings.Lens.FocusCentimetres = 1234;
        byte[] data = new byte[48];
        var bytes = new Bytes(data, data.Length);
        CameraRecord.Put(settings.Camera, bytes);
        int older = bytes.At;
        CameraRecord.Put(settings.Lens, bytes);
        var read = new BoxSettings();
        var all = new Bytes(data, bytes.At);
        Assert.IsTrue(CameraRecord.Take(read.Camera, all) && CameraRecord.Take(read.Lens, all));
        Assert.AreEqual(210, read.Lens.FocalMillimetres);
        Assert.AreEqual(7, read.Lens.FormatIndex);
        Assert.AreEqual(1234, read.Lens.FocusCentimetres);
        read = new BoxSettings();
        all = new Bytes(data, older);
        Assert.IsTrue(CameraRecord.Take(read.Camera, all) && CameraRecord.Take(read.Lens, all));
        Assert.AreEqual(24, read.Lens.FocalMillimetres);
    }
}
