using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>At Fire the box says how the camera must be set, and what it shows is so.</summary>
[TestClass]
public class AtFireTests
{
    private static PanelRig Rig(int thirds)
    {
        var rig = new PanelRig();
        rig.Settings.StepShutter(thirds);
        return rig;
    }

    [TestMethod]
    public void StartsInSaysTheFigureOfTheDial()
    {
        PanelRig rig = Rig(30).Press(Button.Fire).Pass(500_000);
        Assert.AreEqual("15", rig.Settings.Answer.Dial.Label);
        GoldenPictures.Check(rig, "starts-dial-15s");
        rig = Rig(6).Press(Button.Fire).Pass(500_000);
        Assert.AreEqual("1/15", rig.Settings.Answer.Dial.Label);
        GoldenPictures.Check(rig, "starts-dial-fifteenth");
    }

    [TestMethod]
    public void StartsInSaysBulb()
    {
        var rig = Rig(30);
        rig.Settings.AlwaysBulb = true;
        GoldenPictures.Check(rig.Press(Button.Fire).Pass(500_000), "starts-bulb");
    }

    /// <summary>The trade writes seconds with a double stroke (common practice, no source).</summary>
    [TestMethod]
    public void FifteenSecondsAndAFifteenthDoNotReadAlike()
    {
        GoldenPictures.Check(Rig(30), "light-15s");
        GoldenPictures.Check(Rig(6), "light-fifteenth");
        Assert.AreEqual("15\"", new ShutterSetting(12).Sign);
        Assert.AreEqual("1/15", new ShutterSetting(-12).Sign);
        Assert.AreEqual("0.3\"", new ShutterSetting(-5).Sign);
        Assert.AreEqual("1/4", new ShutterSetting(-6).Sign);
    }

    [TestMethod]
    public void ABracketIsTimedByTheBoxWithoutBeingTold()
    {
        PanelRig rig = Rig(18).Press(Button.Down, Button.Down, Button.Select, Button.Up, Button.Up, Button.Up, Button.Up, Button.Back);
        Assert.AreEqual(PlanShape.Bracket, rig.Settings.Plan.Shape);
        Assert.IsFalse(rig.Settings.AlwaysBulb);
        rig.Press(Button.Fire).Pass(500_000);
        Assert.AreEqual(RunState.Plan, rig.Bench.Desk.State);
        GoldenPictures.Check(rig, "starts-bracket");
    }

    [TestMethod]
    public void ABracketThatIsTooShortSaysWhatToDo()
    {
        var rig = new PanelRig();
        rig.Settings.Plan.Shape = PlanShape.Bracket;
        rig.Press(Button.Fire);
        Assert.AreEqual("NOTICE", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "notice-bracket-too-short");
    }

    private static PanelRig WipeDue(params Button[] path)
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        rig.Shore.Settings.SprayMinutes = 1;
        rig.Press(path);
        for (int i = 0; i < 90 && !rig.Shore.WipeDue; i++) rig.Pass(1_000_000);
        Assert.IsTrue(rig.Shore.WipeDue);
        return rig;
    }

    [TestMethod]
    public void TheWipeReminderShowsOnEveryCardAndStaysUntilItWasSeen()
    {
        PanelRig rig = WipeDue(Button.Down, Button.Down);
        rig.Press(Button.Mark);
        Assert.IsTrue(rig.Shore.WipeDue, "it has not been drawn yet");
        rig.Pass(2_500_000);
        GoldenPictures.Check(rig, "frames-wipe");
        rig.Press(Button.Up);
        Assert.IsFalse(rig.Shore.WipeDue);
    }

    [TestMethod]
    public void AMarkIsReportedOnEveryCard()
    {
        PanelRig rig = new PanelRig().Press(Button.Down, Button.Down, Button.Mark);
        GoldenPictures.Check(rig, "frames-marked");
        rig.Pass(2_100_000);
        Assert.IsTrue(rig.Panel.NeedsDraw(rig.Bench.NowUs));
    }

    [TestMethod]
    public void ANeutralDensityHasNoShare()
    {
        PanelRig rig = new PanelRig().Press(Button.Down, Button.Select, Button.Select).Hold(Button.Select, 700_000);
        for (int i = 0; i < 6; i++) rig.Press(Button.Select);
        GoldenPictures.Check(rig, "filter-after-trim");
    }

    [TestMethod]
    public void HomeSaysTheWayToTheShore()
    {
        var rig = new PanelRig();
        rig.Pass(3_100_000);
        GoldenPictures.Check(rig, "light-shore-hint");
    }
}
