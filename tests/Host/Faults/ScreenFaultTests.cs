using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Tests.Host.Screens;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>When a screen throws an exception, the run goes on, the stop works, and the box says what failed.</summary>
[TestClass]
public class ScreenFaultTests
{
    private const string Failed = "a screen failed; runs and buttons go on";

    private sealed class BrokenGauge : IHeapGauge
    {
        public bool Broken { get; set; }

        public int FreeBytes => Broken ? throw new InvalidOperationException("a test: the gauge") : 40_000;
    }

    private static string Words(FaultRig rig) => DisplayReader.Words(rig.Board.Display.Model.Pixel);

    private static void Press(FaultRig rig, params Button[] buttons)
    {
        foreach (Button button in buttons)
        {
            rig.Tap(button);
            rig.Pass(0.5);
        }
    }

    // TIDE, whose picture throws from now on: nobody can read the tide.
    private static FaultRig BrokenTide(out HungryTide tide)
    {
        var rig = new FaultRig(new BoardOptions { Place = HungryTide.Site(out tide), StartUtc = new DateTime(2031, 3, 19, 5, 0, 0, DateTimeKind.Utc) });
        rig.To(20);
        Press(rig, Button.Back);
        Assert.AreEqual("TIDE", rig.Board.Box!.Panel!.ScreenName);
        tide.Error = new InvalidOperationException("a test: the tide");
        tide.LooksLeft = 0;
        rig.Pass(2);
        return rig;
    }

    // BOX, whose picture throws from now on: the free memory cannot be read.
    private static FaultRig BrokenBox()
    {
        var gauge = new BrokenGauge();
        var rig = new FaultRig(new BoardOptions { HeapGauge = gauge });
        rig.To(20);
        Press(rig, Button.Up);
        Assert.AreEqual("BOX", rig.Board.Box!.Panel!.ScreenName);
        gauge.Broken = true;
        rig.Pass(6);
        return rig;
    }

    private static FaultRig Broken(string card) => card == "TIDE" ? BrokenTide(out _) : BrokenBox();

    /// <summary>The display says that the screen failed, the buttons lead on to other screens, and Fire exposes as planned.</summary>
    [TestMethod]
    [DataRow("TIDE")]
    [DataRow("BOX")]
    public void ACardThatThrowsDoesNotKeepTheBoxFromFiring(string card)
    {
        using FaultRig rig = Broken(card);
        StringAssert.Contains(Words(rig), "THIS SCREEN FAILED");
        Assert.AreEqual(Failed, rig.Words);
        Press(rig, Button.Select);
        Assert.AreEqual(0, rig.Board.Box!.Panel!.Field, "the card opens");
        Press(rig, Button.Back);
        StringAssert.Contains(Words(rig), "THIS SCREEN FAILED");
        rig.Tap(Button.Fire);
        rig.Pass(25);
        rig.ExposedAsPlanned();
        Press(rig, Button.Back, Button.Back);
        StringAssert.Contains(Words(rig), "LIGHT");
        Assert.IsFalse(Words(rig).Contains("FAILED", StringComparison.Ordinal), "the next screen is drawn");
    }

    [TestMethod]
    [DataRow("TIDE")]
    [DataRow("BOX")]
    public void AStopWorksInARunThatBeganOnACardThatThrows(string card)
    {
        using FaultRig rig = Broken(card);
        rig.Tap(Button.Fire);
        rig.Pass(6);
        Assert.IsFalse(rig.LinesOpen);
        rig.Tap(Button.Fire);
        rig.Pass(0.03);
        Assert.IsTrue(rig.LinesOpen);
    }

    /// <summary>A screen that failed once is drawn again as soon as what it reads is there.</summary>
    [TestMethod]
    public void ACardThatThrewIsDrawnAgain()
    {
        using FaultRig rig = BrokenTide(out HungryTide tide);
        tide.LooksLeft = int.MaxValue;
        rig.Pass(2);
        StringAssert.Contains(Words(rig), "TIDE");
        Assert.IsFalse(Words(rig).Contains("FAILED", StringComparison.Ordinal));
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
