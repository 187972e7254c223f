using System.Xml.Linq;
using Intervalometer.Core;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>What the whole box shows at power-on and after a deep sleep, and that it delays nothing.</summary>
[TestClass]
public class StartTests
{
    private const long Second = 1_000_000;

    private static string Screen(Board board) => board.Box!.Panel!.ScreenName;

    private static string Glass(Board board) => string.Join(' ', board.Display.Rows());

    [TestMethod]
    public void AllInOrderIsSeenForTwoAndAHalfSecondsAndMakesRoomForHome()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(Second);
        Assert.AreEqual("START CHECK", Screen(board));
        Assert.IsFalse(board.Box!.Panel!.Health.Any);
        string check = Glass(board);
        board.RunUntil(5 * Second / 2);
        Assert.AreEqual(check, Glass(board));
        board.RunUntil(3 * Second);
        Assert.AreEqual("LIGHT", Screen(board));
        Assert.AreNotEqual(check, Glass(board));
    }

    [TestMethod]
    public void FireDuringTheCheckRunsExactlyAsAfterIt()
    {
        long During(bool check)
        {
            using var board = new Board(new BoardOptions());
            board.Box!.Settings.AlwaysBulb = true;
            board.Box.Settings.StepShutter(24);
            if (!check) board.Box.Panel!.Check.End();
            board.Press(Button.Fire, 300_000, 120_000);
            board.RunUntil(20 * Second);
            Assert.AreEqual(RunState.Done, board.Box.Desk!.State);
            Assert.AreEqual(1, board.Camera.Frames.Count);
            Assert.AreEqual(0, board.Bus.Violations.Count);
            return board.Edges[0].PlannedUs!.Value;
        }

        Assert.AreEqual(During(false), During(true), 1, "the first edge's plan, µs");
    }

    [TestMethod]
    public void ASilentMemoryAndAStoppedClockAreReportedTogetherUntilAPress()
    {
        using var board = new Board(new BoardOptions { StartUtc = null });
        board.PowerOff();
        board.Bus.Trouble.Deaf.Add(Drivers.At24c32.At24c32.Address);
        board.PowerOn();
        board.RunUntil(30 * Second);
        Assert.AreEqual("START CHECK", Screen(board));
        Assert.AreEqual(MemoryTrouble.Silent, board.Box!.Panel!.Health.Memory);
        Assert.IsFalse(board.Box.Shore.Clock.IsSet);
        board.Press(Button.Down, 31 * Second, 120_000);
        board.RunUntil(32 * Second);
        Assert.AreEqual("GLASS", Screen(board));
    }

    [TestMethod]
    public void WakingFromDeepSleepGoesStraightHomeWhenAllIsWell()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(700 * Second);
        Assert.IsTrue(board.Box!.MaySleep);
        board.Box.Darken();
        board.PowerOff();
        // Mark wakes it and may still be down when it has started.
        board.Down(Button.Mark);
        board.PowerOn(woken: true);
        board.RunUntil(board.Time.NowUs + 200_000);
        Assert.AreEqual("LIGHT", Screen(board));
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        board.Up(Button.Mark);
        board.RunUntil(board.Time.NowUs + Second);
        Assert.AreEqual("LIGHT", Screen(board));
        Assert.IsFalse(board.Box.Panel!.Health.Any);
    }

    [TestMethod]
    public void WakingWithTroubleTellsIt()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(700 * Second);
        board.PowerOff();
        board.Battery.Millivolts = 3450;
        board.PowerOn(woken: true);
        board.RunUntil(board.Time.NowUs + 10 * Second);
        Assert.AreEqual("START CHECK", Screen(board));
        Assert.IsFalse(board.Lines[Line.Shutter]);
    }

    [TestMethod]
    public void TheFirmwareAndTheBuildHaveOneVersion()
    {
        string built = XDocument.Load(Repository.At("Directory.Build.props")).Descendants("Version").Single().Value;
        Assert.AreEqual(FirmwareVersion.Text, built);
        Assert.AreEqual(built + ".0.0", typeof(FirmwareVersion).Assembly.GetName().Version!.ToString());
    }
}
