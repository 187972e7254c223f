using Intervalometer.Core.Link;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>What stops a run: Fire at once, Back only when it is held, and nothing else.</summary>
[TestClass]
public class HoldTests
{
    private static PanelRig Exposing()
    {
        var rig = new PanelRig();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(33);
        rig.Press(Button.Fire).Pass(4_000_000);
        Assert.IsTrue(rig.Bench.Lines.Shutter);
        return rig;
    }

    [TestMethod]
    public void AShortBackLeavesTheExposureAlone()
    {
        PanelRig rig = Exposing();
        rig.Press(Button.Back, Button.Back, Button.Back).Hold(Button.Back, RunLink.BackHoldUs - 20_000);
        Assert.IsTrue(rig.Bench.Lines.Shutter);
        Assert.AreEqual(RunState.Plan, rig.Bench.Desk.State);
    }

    [TestMethod]
    public void AHeldBackStopsTheExposure()
    {
        PanelRig rig = Exposing();
        rig.Down(Button.Back);
        rig.Pass(RunLink.BackHoldUs + 10_000);
        Assert.IsFalse(rig.Bench.Lines.Shutter, "while it is still down");
        Assert.AreEqual(RunState.Stopped, rig.Bench.Desk.State);
        rig.Up(Button.Back, 1_100_000);
        Assert.AreEqual("RUN", rig.Panel.ScreenName, "the words about the stop stay until they are read");
    }

    [TestMethod]
    public void ABackThatWasDownBeforeTheRunStopsNothing()
    {
        var rig = new PanelRig();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(33);
        rig.Down(Button.Back);
        rig.Pass(2_000_000).Press(Button.Fire).Pass(6_000_000);
        Assert.IsTrue(rig.Bench.Lines.Shutter);
    }

    [TestMethod]
    public void FireStopsAtOnceThroughThePins()
    {
        using var board = new Board(new BoardOptions());
        board.Box!.Settings.AlwaysBulb = true;
        board.Box.Settings.StepShutter(33);
        board.RunUntil(3_000_000);
        board.Press(Button.Fire, 3_100_000, 120_000);
        board.Press(Button.Back, 8_000_000, 500_000);
        board.RunUntil(9_000_000);
        Assert.IsNotNull(board.Camera.OpenSinceUs);
        board.Press(Button.Fire, 9_100_000, 120_000);
        board.RunUntil(9_140_000);
        Assert.AreEqual(RunState.Stopped, board.Box.Desk!.State);
        Assert.IsFalse(board.Lines[Line.Shutter]);
    }

    [TestMethod]
    public void TheRunScreenNamesEveryKeyThatActs()
    {
        PanelRig rig = Exposing();
        while (rig.Bench.NowUs / 2_000_000 % 3 != 0) rig.Pass(20_000);
        GoldenPictures.Check(rig, "run-keys-stop");
        while (rig.Bench.NowUs / 2_000_000 % 3 != 2) rig.Pass(20_000);
        GoldenPictures.Check(rig, "run-keys-mark");
    }

    [TestMethod]
    public void FireOfALockedBoxStartsNothingAndStopsARun()
    {
        var rig = new PanelRig();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(33);
        rig.Press(Button.Fire).Pass(4_000_000);
        Assert.IsTrue(rig.Bench.Lines.Shutter);
        LockTests.Gesture(rig);
        Assert.IsTrue(rig.Panel.Locked);
        Assert.IsTrue(rig.Bench.Lines.Shutter, "locking the buttons stops no run");
        GoldenPictures.Check(rig, "locked-run");
        rig.Press(Button.Fire);
        Assert.AreEqual(RunState.Stopped, rig.Bench.Desk.State);
        Assert.IsFalse(rig.Bench.Lines.Shutter);
        int runs = rig.Bench.Desk.Runs;
        rig.Pass(4_000_000).Press(Button.Fire).Pass(4_000_000).Press(Button.Fire);
        Assert.AreEqual(runs, rig.Bench.Desk.Runs);
    }
}
