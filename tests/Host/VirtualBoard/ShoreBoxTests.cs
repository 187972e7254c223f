using Intervalometer.Coast.Time;
using Intervalometer.Drivers.Ds3231;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Tests.Host.Tide;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>Clock chip, alarm lamp and shore work in the whole box: the time is right, and no edge is touched.</summary>
[TestClass]
public class ShoreBoxTests
{
    private const long Second = 1_000_000;

    [TestMethod]
    public void TheTimeIsReadAtTheStartAndCarriedOn()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(90 * Second);
        Assert.AreEqual(ClockTrust.Chip, board.Box!.Shore.Clock.Trust);
        Assert.AreEqual(0, (BoardOptions.DefaultStartUtc.AddSeconds(90) - Planner.ToDateTime(board.Box.Shore.Now)).TotalSeconds, 1.0);
        Assert.AreEqual("Gannet Ledge", board.Box.Shore.Place.Name);
    }

    [TestMethod]
    public void AChipThatTurnsUpLateIsFoundAndOneThatIsLostIsNoticed()
    {
        using var board = new Board(new BoardOptions());
        ShoreClock clock = board.Box!.Shore.Clock;
        board.ClockChip.Connected = false;
        board.RunUntil(595 * Second);
        Assert.AreEqual(ClockTrust.Chip, clock.Trust, "read every ten minutes, not before");
        board.RunUntil(605 * Second);
        Assert.AreEqual(ClockTrust.NoAnswer, clock.Trust);
        board.ClockChip.Connected = true;
        board.RunUntil(620 * Second);
        Assert.AreEqual(ClockTrust.Chip, clock.Trust, "asked again every ten seconds");
    }

    [TestMethod]
    public void AStoppedClockIsRefusedUntilItIsSetByHandAndKeptByTheChip()
    {
        using var board = new Board(new BoardOptions { StartUtc = null });
        board.RunUntil(Second);
        Assert.AreEqual(ClockTrust.Stopped, board.Box!.Shore.Clock.Trust);
        // The first field is the offset; the second the year.
        Button[] keys = [Button.Back, Button.Up, Button.Select, Button.Select, Button.Up, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Up, Button.Up];
        for (int i = 0; i < keys.Length; i++) board.Press(keys[i], 2 * Second + i * 300_000, 100_000);
        board.RunUntil(10 * Second);
        Assert.AreEqual(ClockTrust.ByHand, board.Box.Shore.Clock.Trust);
        Assert.AreEqual(ClockState.Running, new Ds3231Clock(board.ClockChip).Read(out UtcInstant chip));
        Assert.AreEqual(new CivilTime(2027, 1, 1, 0, 0, 0).AsUtc().Seconds, chip.Seconds, 8L);
        Assert.AreEqual(board.Box.Shore.Now.Seconds, chip.Seconds, 1L);
    }

    [TestMethod]
    public void TheChipIsLeftAloneWhileARunIsOn()
    {
        using var board = new Board(new BoardOptions());
        board.Box!.Settings.Plan.Shape = Core.Release.PlanShape.Series;
        board.Box.Settings.Plan.Frames = 900;
        board.Press(Button.Fire, Second, 100_000);
        board.Time.At(3 * Second, () => board.ClockChip.Connected = false);
        board.RunUntil(900 * Second);
        Assert.IsTrue(board.Box.Desk!.Running);
        Assert.AreEqual(ClockTrust.Chip, board.Box.Shore.Clock.Trust);
        board.Press(Button.Fire, 901 * Second, 100_000);
        board.RunUntil(905 * Second);
        Assert.AreEqual(ClockTrust.NoAnswer, board.Box.Shore.Clock.Trust);
    }

    [TestMethod]
    public void TheAlarmBlinksAndTouchesNoEdge()
    {
        string file = Architecture.Repository.At("firmware/VirtualBoard/Examples/way-back.json");
        ScenePlayed played = ScenePlayer.Play(SceneReader.Load(file));
        if (Environment.GetEnvironmentVariable("SCENE_OUT") is string folder) played.WriteTo(folder);
        SessionReport report = played.Report;
        FrameReport frame = report.Frames.Single();
        Assert.IsFalse(frame.CutShort);
        Assert.AreEqual(0, report.MissedPresses.Count + report.BusViolations.Count + report.DisplayComplaints.Count + report.PinFaults.Count + report.LimiterTrips);
        Assert.IsTrue(Math.Abs(frame.PressErrorMs!.Value) < 1 && Math.Abs(frame.ExposureErrorMs!.Value) < 1, frame.ToString());
    }

    [TestMethod]
    public void LampAndBuzzerGiveTwoShortFlashesASecond()
    {
        using var board = new Board(new BoardOptions { StartUtc = new DateTime(2031, 3, 19, 10, 40, 0, DateTimeKind.Utc) });
        board.RunUntil(5 * Second);
        Assert.IsFalse(board.Lines.Changes.Any(c => c.Line == Line.Led));
        board.Box!.Shore.SetAlarm(true);
        board.RunUntil(20 * Second);
        Assert.AreEqual(20.0, board.Lines.Changes.Count(c => c.Line == Line.Led && c.On && c.AtUs >= 10 * Second), 1.0);
        Assert.AreEqual(0, board.PinFaults.Count, string.Join("; ", board.PinFaults));
        board.Press(Button.Down, 21 * Second, 100_000);
        board.RunUntil(25 * Second);
        Assert.AreEqual(0, board.Lines.Changes.Count(c => c.Line == Line.Led && c.AtUs >= 22 * Second));
        Assert.AreEqual("LIGHT", board.Box.Panel!.ScreenName);
    }
}
