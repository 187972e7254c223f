using Intervalometer.Core.Exposure;
using Intervalometer.Core.Run;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The stacks by buttons: the filters that were on the lens are offered again, one press puts them on, and a name keeps them.</summary>
[TestClass]
public class StacksTests
{
    private const long Held = 700_000, HeldOn = 1_800_000;

    private static void Fire(PanelRig rig, params string[] filters)
    {
        int on = 0;
        foreach (string name in filters) on |= 1 << rig.Settings.Kit.Find(name);
        rig.Settings.Kit.PutOn(on);
        rig.Settings.Solve();
        rig.Press(Button.Fire).Pass(500_000).Press(Button.Fire).Pass(1_000_000).Press(Button.Back).Pass(500_000);
    }

    private static PanelRig AfterThree()
    {
        var rig = new PanelRig();
        Fire(rig, "ND 3.0", "GRAD 0.9H", "POL");
        Fire(rig, "ND 1.8");
        Fire(rig, "ND 3.0");
        Fire(rig, "ND 1.8");
        rig.Settings.Kit.PutOn(0);
        rig.Settings.Solve();
        return rig;
    }

    [TestMethod]
    public void HeldOnFromLightOneMorePressPutsTheLastStackOnAndAnotherFires()
    {
        PanelRig rig = AfterThree();
        int from = rig.Presses;
        rig.Hold(Button.Select, HeldOn);
        Assert.AreEqual("STACKS 1/3", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "stacks-last");
        rig.Press(Button.Select);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName, "the place where its time is shown");
        Assert.AreEqual("ND 1.8", rig.Settings.Kit.NamesOf(rig.Settings.Kit.FiltersOn));
        rig.Press(Button.Fire);
        Assert.AreEqual(RunState.Plan, rig.Bench.Desk.State);
        Assert.AreEqual(3, rig.Presses - from);
    }

    [TestMethod]
    public void FromGlassAHeldSelectShowsTheStacksNewestFirst()
    {
        PanelRig rig = AfterThree().Press(Button.Down).Hold(Button.Select, Held);
        Assert.AreEqual("STACKS 1/3", rig.Panel.ScreenName);
        rig.Press(Button.Up);
        Assert.AreEqual("STACKS 1/3", rig.Panel.ScreenName, "no frame is newer");
        rig.Press(Button.Down, Button.Down);
        GoldenPictures.Check(rig, "stacks-three-filters");
        rig.Press(Button.Down);
        Assert.AreEqual("STACKS 3/3", rig.Panel.ScreenName, "no frame is older");
        rig.Press(Button.Select);
        Assert.AreEqual("ND 3.0+GRAD 0.9H+POL", rig.Settings.Kit.NamesOf(rig.Settings.Kit.FiltersOn));
        // A density of 3.0 and a polariser as delivered, 2 stops.
        Assert.AreEqual(11.97, rig.Settings.Kit.EffectiveStops.Value, 0.005);
    }

    [TestMethod]
    public void SelectHeldOnInTheListAndInAFilterShowsTheStacksToo()
    {
        PanelRig rig = AfterThree().Press(Button.Down, Button.Select).Hold(Button.Select, Held);
        Assert.AreEqual("ND 0.9", rig.Panel.ScreenName, "a short hold opens the filter");
        rig.Hold(Button.Select, HeldOn);
        Assert.AreEqual("STACKS 1/3", rig.Panel.ScreenName);
        rig.Press(Button.Back);
        Assert.AreEqual("GLASS", rig.Panel.ScreenName);
        Assert.AreEqual(0, rig.Settings.Kit.FiltersOn, "looking at a stack puts no filter on");
    }

    [TestMethod]
    public void WithoutAStackItSaysWhereTheyComeFrom()
    {
        PanelRig rig = new PanelRig().Hold(Button.Select, HeldOn);
        Assert.AreEqual("STACKS", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "stacks-none");
        rig.Press(Button.Select, Button.Up, Button.Down).Hold(Button.Select, Held);
        Assert.AreEqual("STACKS", rig.Panel.ScreenName);
        Assert.AreEqual(-1, rig.Panel.Field);
    }

    [TestMethod]
    public void AStackIsNamedByButtonsAndStaysWhenOthersAreUsed()
    {
        PanelRig rig = AfterThree().Hold(Button.Select, HeldOn).Press(Button.Down, Button.Down).Hold(Button.Select, Held);
        Assert.AreEqual(0, rig.Panel.Field);
        GoldenPictures.Check(rig, "stacks-name-none");
        rig.Press(Button.Up, Button.Up);
        GoldenPictures.Check(rig, "stacks-name-milk");
        rig.Press(Button.Select);
        Assert.AreEqual("STACKS 3/3", rig.Panel.ScreenName);
        Assert.AreEqual(-1, rig.Panel.Field);
        rig.Press(Button.Back, Button.Back);
        for (int i = 0; i < 5; i++) Fire(rig, rig.Settings.Kit[3 + i].Name);
        rig.Hold(Button.Back, Held).Hold(Button.Select, HeldOn);
        Assert.AreEqual("STACKS 1/5", rig.Panel.ScreenName, "the four that were used last are kept, and the one with a name");
        for (int i = 0; i < 4; i++) rig.Press(Button.Down);
        GoldenPictures.Check(rig, "stacks-named");
        rig.Press(Button.Select);
        Assert.AreEqual("ND 3.0+GRAD 0.9H+POL", rig.Settings.Kit.NamesOf(rig.Settings.Kit.FiltersOn));
    }

    [TestMethod]
    public void AFifthNameIsRefusedInWords()
    {
        PanelRig rig = AfterThree();
        for (int i = 0; i < 4; i++) rig.Settings.Kit.Stacks.Rename(1 << (5 + i), 1);
        rig.Hold(Button.Select, HeldOn).Hold(Button.Select, Held);
        GoldenPictures.Check(rig, "stacks-name-no-room");
        rig.Press(Button.Up);
        Assert.AreEqual(0, rig.Settings.Kit.Stacks.WordOf(2));
    }

    /// <summary>A filter is taken out by buttons; the stack that had it is told, puts nothing on, and can be forgotten.</summary>
    [TestMethod]
    public void AStackOfWhichAFilterLeftTheKitIsReportedAndNotHalfPutOn()
    {
        PanelRig rig = AfterThree();
        rig.Settings.Kit.Stacks.Rename(1 << rig.Settings.Kit.Find("ND 0.9") | 1 << rig.Settings.Kit.Find("POL"), 1);
        rig.Press(Button.Down, Button.Select, Button.Down, Button.Down).Hold(Button.Select, Held);
        for (int i = 0; i < 6; i++) rig.Press(Button.Select);
        rig.Press(Button.Up, Button.Up).Hold(Button.Back, Held);
        Assert.AreEqual(-1, rig.Settings.Kit.Find("ND 3.0"));
        rig.Hold(Button.Select, HeldOn).Press(Button.Down);
        GoldenPictures.Check(rig, "stacks-lost");
        rig.Press(Button.Select);
        Assert.AreEqual("STACKS 2/3", rig.Panel.ScreenName, "the message stays, and says why");
        Assert.AreEqual(0, rig.Settings.Kit.FiltersOn);
        rig.Hold(Button.Select, Held);
        Assert.AreEqual("STACKS 1/2", rig.Panel.ScreenName, "the lost stack is forgotten");
        rig.Press(Button.Down, Button.Select);
        Assert.AreEqual("ND 0.9+POL", rig.Settings.Kit.NamesOf(rig.Settings.Kit.FiltersOn), "the other stacks kept their filters");
    }

    [TestMethod]
    public void ManyFiltersAreCountedWhereTheyFindNoRoom()
    {
        var rig = new PanelRig();
        Fire(rig, "ND 0.9", "ND 1.8", "GRAD 0.9H", "GRAD 0.9S", "GRAD 0.6R", "POL");
        GoldenPictures.Check(rig.Hold(Button.Back, Held).Hold(Button.Select, HeldOn), "stacks-many");
        rig.Hold(Button.Select, Held);
        GoldenPictures.Check(rig, "stacks-name-many");
    }
}
