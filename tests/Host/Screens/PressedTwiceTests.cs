using Intervalometer.Core.Exposure;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>When a press was noticed only after the box had stood still, the screen of the run asks whether there were two, and says what stops the run.</summary>
[TestClass]
public class PressedTwiceTests
{
    private static PanelRig Started(long stoodUs)
    {
        var rig = new PanelRig();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(9), 0));
        rig.Pass(1_000_000);
        rig.Bench.StandStill(stoodUs);
        rig.Press(Button.Fire);
        Assert.IsTrue(rig.Bench.Desk.Running);
        return rig;
    }

    [TestMethod]
    public void TheQuestionAndWhatAnswersItAlternate()
    {
        PanelRig rig = Started(600_000);
        Assert.AreEqual("RUN", rig.Panel.ScreenName);
        rig.Pass(2_080_000 - rig.Bench.NowUs);
        GoldenPictures.Check(rig, "run-pressed-twice");
        string asked = rig.Ascii();
        rig.Pass(950_000);
        Assert.AreNotEqual(asked, rig.Ascii());
        Assert.IsTrue(rig.Bench.Link.Report.PressHeldUp);
        // Fire stops, and the next run knows nothing of it.
        rig.Press(Button.Fire);
        Assert.IsFalse(rig.Bench.Desk.Running);
        rig.Pass(1_000_000).Press(Button.Fire).Pass(1_000_000).Press(Button.Fire);
        Assert.IsTrue(rig.Bench.Desk.Running);
        Assert.IsFalse(rig.Bench.Link.Report.PressHeldUp);
    }

    [TestMethod]
    public void NobodyPressesTwiceInATenthOfASecond() => Assert.IsFalse(Started(100_000).Bench.Link.Report.PressHeldUp);
}
