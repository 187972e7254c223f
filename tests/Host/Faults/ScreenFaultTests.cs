using Intervalometer.Screens;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Tests.Host.Screens;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>When a screen throws an exception, the run goes on, the stop works, and the box says what failed.</summary>
[TestClass]
public class ScreenFaultTests
{
    private sealed class BrokenCard(string name) : Card
    {
        public override string Name => name;
        public override void Fields(FieldList fields) => throw new InvalidOperationException("fields");
        public override void DrawOverview(Frame frame, long nowUs) => throw new InvalidOperationException("overview");
        public override long RedrawUs => 100_000;
    }

    private static Card[] Cards(FaultRig rig) => (Card[])FaultRig.Field(rig.Board.Box!.Panel!, "_cards").GetValue(rig.Board.Box!.Panel)!;

    [TestMethod]
    [DataRow(0)]
    [DataRow(2)]
    [DataRow(3)]
    [DataRow(4)]
    [DataRow(5)]
    public void ACardThatThrowsDoesNotKeepTheBoxFromFiring(int card)
    {
        using var rig = new FaultRig();
        Cards(rig)[card] = new BrokenCard("BROKEN");
        rig.To(1);
        for (int i = 0; i < card; i++)
        {
            rig.Tap(Button.Down);
            rig.Pass(0.4);
        }
        foreach (Button button in new[] { Button.Select, Button.Up, Button.Down, Button.Back })
        {
            rig.Tap(button);
            rig.Pass(0.5);
        }
        Assert.IsTrue(rig.Health.ScreenFaults >= 3, $"{rig.Health.ScreenFaults}");
        rig.Tap(Button.Back);
        rig.Pass(0.5);
        if (card == 3) return; // Fire on WAVES starts a run on the waves, not the plan
        rig.Tap(Button.Fire);
        rig.Pass(25);
        rig.ExposedAsPlanned();
        Assert.AreEqual("a screen failed; runs and buttons go on", rig.Words);
    }

    [TestMethod]
    [DataRow("_runScreen")]
    [DataRow("_notice")]
    [DataRow("_link")]
    public void AScreenThatThrowsDuringAnExposureCostsNothing(string part)
    {
        using var rig = new FaultRig();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(9);
        FaultRig.Field(rig.Board.Box!.Panel!, part).SetValue(rig.Board.Box.Panel, null);
        rig.To(30);
        Assert.IsTrue(rig.Health.ScreenFaults > 0);
        rig.ExposedAsPlanned();
    }

    [TestMethod]
    public void AStopWorksWhileEveryScreenThrows()
    {
        using var rig = new FaultRig();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(9);
        FaultRig.Field(rig.Board.Box!.Panel!, "_link").SetValue(rig.Board.Box.Panel, null);
        rig.Tap(Button.Fire, 12_000_000);
        rig.To(12.03);
        Assert.IsTrue(rig.LinesOpen);
    }

    /// <summary>The message that is shown in place of the screen fits the display and says how to go on.</summary>
    [TestMethod]
    public void TheBoxCardTellsWhatFailedAndWhatWorks()
    {
        foreach (MemoryTrouble trouble in Enum.GetValues<MemoryTrouble>())
        {
            var rig = new PanelRig();
            rig.Panel.Health.Memory = trouble;
            rig.Press(Button.Up).Draw();
            GoldenOf(rig, trouble == MemoryTrouble.Damaged, "box-memory-unreadable");
            rig.Press(Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select);
            Assert.AreEqual("BOX", rig.Panel.ScreenName);
            if (!rig.Panel.Health.MemoryHeld) continue;
            rig.Press(Button.Select, Button.Up).Draw();
            Assert.IsTrue(rig.Panel.Health.StartAfresh);
        }
        foreach (Button button in Enum.GetValues<Button>())
        {
            var rig = new PanelRig();
            rig.Panel.Health.StuckButton = (int)button;
            rig.Draw();
            rig.Press(Button.Up).Draw();
            GoldenOf(rig, button == Button.Select, "box-button-stuck");
        }
        var slow = new PanelRig();
        slow.Panel.Health.BusSlow = true;
        slow.Draw();
        slow.Press(Button.Up).Draw();
        GoldenOf(slow, true, "box-bus-slow");
        var unkept = new PanelRig();
        unkept.Panel.Health.FramesNotKept = 9999;
        unkept.Draw();
        unkept.Panel.Health.FramesNotKept = 12;
        unkept.Press(Button.Up).Draw();
        GoldenOf(unkept, true, "box-frames-not-kept");
        var home = new PanelRig();
        home.Panel.Health.PartFailed(FaultPlace.Screen, "a test");
        GoldenOf(home, true, "light-see-box");
    }

    private static void GoldenOf(PanelRig rig, bool wanted, string name)
    {
        if (wanted) GoldenPictures.Check(rig, name);
    }
}
