using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>When the box may go to deep sleep, and when it must not.</summary>
[TestClass]
public class SleepTests
{
    private const long Minute = 60_000_000;

    [TestMethod]
    public void TheBoxMaySleepTenMinutesAfterTheLastPress()
    {
        using var board = new Board(new BoardOptions());
        board.Press(Button.Down, Minute, 100_000);
        board.RunUntil(10 * Minute);
        Assert.IsFalse(board.Box!.MaySleep, "nine minutes after a press");
        board.RunUntil(12 * Minute);
        Assert.IsTrue(board.Box.MaySleep);
    }

    [TestMethod]
    public void TheBoxNeverSleepsWhileARunIsOn()
    {
        using var board = new Board(new BoardOptions());
        board.Box!.Settings.AlwaysBulb = true;
        board.Box.Settings.StepShutter(33);
        board.Box.Settings.Plan.Shape = Core.Release.PlanShape.Series;
        board.Box.Settings.Plan.Frames = 30;
        board.Press(Button.Fire, 1_000_000, 100_000);
        board.RunUntil(12 * Minute);
        Assert.AreEqual(RunState.Plan, board.Box.Desk!.State);
        Assert.IsFalse(board.Box.MaySleep);
    }

    [TestMethod]
    public void TheBoxNeverSleepsUnderTheWayBackAlarm()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(Minute);
        // Back to the shore side, Down to the path, Select its alarm, Up for on.
        long at = Minute;
        foreach (Button button in new[] { Button.Back, Button.Down, Button.Select, Button.Up }) board.Press(button, at += 500_000, 100_000);
        board.RunUntil(12 * Minute);
        Assert.IsTrue(board.Box!.Shore.AlarmOn, "the alarm was switched on");
        Assert.IsFalse(board.Box.MaySleep);
    }

    [TestMethod]
    public void DarkeningOpensTheLinesAndPutsTheDisplayOut()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(2_000_000);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        board.Box!.Darken();
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
        Assert.IsFalse(board.Lines[Intervalometer.VirtualBoard.Pins.Line.Shutter]);
    }
}
