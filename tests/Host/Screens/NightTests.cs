using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>Display and lamp are no brighter than they need to be, in a run that nobody touches and at night.</summary>
[TestClass]
public class NightTests
{
    private const long Second = 1_000_000;

    // In the invented place civil dawn is at 06:06 and sunset at 18:25 on this day.
    private static readonly DateTime Night = new(2031, 3, 14, 5, 30, 0, DateTimeKind.Utc), Day = new(2031, 3, 14, 7, 30, 0, DateTimeKind.Utc),
        Evening = new(2031, 3, 14, 19, 30, 0, DateTimeKind.Utc);

    // 250 s on bulb: 1/4 through a density of 3.0.
    private static Board Exposing(DateTime? at, Action<BoxSettings>? set = null)
    {
        var board = new Board(new BoardOptions { StartUtc = at });
        board.Box!.Settings.Kit[2].On = true;
        board.Box.Settings.StepShutter(12);
        set?.Invoke(board.Box.Settings);
        board.RunUntil(4 * Second);
        board.Press(Button.Fire, 4_100_000, 120_000);
        board.RunUntil(10 * Second);
        Assert.IsTrue(board.Lines[Line.Shutter]);
        return board;
    }

    [TestMethod]
    public void TheDisplayDimsAndGoesDarkInARunAndTheLampWithIt()
    {
        using Board board = Exposing(Day);
        Assert.AreEqual(101, board.Display.Model.Contrast);
        Assert.IsTrue(board.Lines[Line.Led]);
        board.RunUntil(21 * Second);
        Assert.AreEqual(1, board.Display.Model.Contrast);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        board.RunUntil(36 * Second);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
        Assert.IsFalse(board.Lines[Line.Led]);
        board.RunUntil(120 * Second);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
        Assert.IsTrue(board.Lines[Line.Shutter], "the frame goes on");
        Assert.HasCount(0, board.Display.Model.Complaints);
    }

    [TestMethod]
    public void TheRunBeginsLitHoweverLongTheBoxWasLeftAlone()
    {
        using var board = new Board(new BoardOptions { StartUtc = Day });
        board.Box!.Settings.Kit[2].On = true;
        board.Box.Settings.StepShutter(12);
        board.RunUntil(90 * Second);
        board.Press(Button.Fire, 90_100_000, 120_000);
        board.RunUntil(100 * Second);
        Assert.IsTrue(board.Lines[Line.Shutter]);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        Assert.AreEqual(101, board.Display.Model.Contrast);
        Assert.IsTrue(board.Lines[Line.Led]);
        board.RunUntil(119 * Second);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        board.RunUntil(122 * Second);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
    }

    [TestMethod]
    [DataRow(Button.Up)]
    [DataRow(Button.Down)]
    [DataRow(Button.Select)]
    [DataRow(Button.Back)]
    [DataRow(Button.Mark)]
    public void AnyButtonLightsTheDisplayAndTheFrameGoesOn(Button button)
    {
        using Board board = Exposing(Day);
        board.RunUntil(60 * Second);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
        board.Press(button, 60_100_000, 120_000);
        board.RunUntil(61 * Second);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        Assert.AreEqual(101, board.Display.Model.Contrast);
        Assert.IsTrue(board.Lines[Line.Shutter]);
        Assert.IsTrue(board.Lines[Line.Led]);
        board.RunUntil(92 * Second);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn, "the display is dark again");
    }

    [TestMethod]
    public void FireStopsInTheDarkAtTheFirstPress()
    {
        using Board board = Exposing(Day);
        board.RunUntil(60 * Second);
        board.Press(Button.Fire, 60_100_000, 120_000);
        board.RunUntil(61 * Second);
        Assert.IsFalse(board.Lines[Line.Shutter]);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn, "the end of the run is shown");
    }

    [TestMethod]
    public void TheEndOfARunLightsTheDisplay()
    {
        using Board board = Exposing(Day, s => s.StepShutter(-6));
        board.RunUntil(60 * Second);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
        board.RunUntil(72 * Second);
        Assert.IsFalse(board.Lines[Line.Shutter]);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
    }

    [TestMethod]
    public void TheDisplayNeverGoesDarkWhenThatIsSwitchedOffNorAtRest()
    {
        using Board board = Exposing(Day, s => s.DarkSeconds = 0);
        board.RunUntil(200 * Second);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        Assert.AreEqual(101, board.Display.Model.Contrast);
        using var rest = new Board(new BoardOptions { StartUtc = Day });
        rest.RunUntil(120 * Second);
        Assert.IsTrue(rest.Display.Model.Registers.DisplayOn);
        Assert.AreEqual(101, rest.Display.Model.Contrast);
    }

    [TestMethod]
    public void TheAlarmLightsItAndIsSeen()
    {
        // The alarm comes half an hour before 10:53, the time to leave on this day.
        using var board = new Board(new BoardOptions { StartUtc = new DateTime(2031, 3, 19, 10, 20, 0, DateTimeKind.Utc) });
        board.Box!.Settings.Kit[2].On = true;
        board.Box.Settings.StepShutter(12);
        board.RunUntil(4 * Second);
        Button[] presses = [Button.Back, Button.Down, Button.Select, Button.Up, Button.Back, Button.Back];
        for (int i = 0; i < presses.Length; i++) board.Press(presses[i], 4_100_000 + i * 600_000, 120_000);
        board.Press(Button.Fire, 8 * Second, 120_000);
        board.RunUntil(60 * Second);
        Assert.IsTrue(board.Box.Shore.AlarmOn);
        Assert.IsTrue(board.Lines[Line.Shutter]);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
        board.RunUntil(240 * Second);
        Assert.IsTrue(board.Box.Shore.AlarmUp);
        Assert.IsTrue(board.Lines[Line.Shutter], "the frame goes on");
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
    }

    [TestMethod]
    public void AtNightTheDisplayIsNoBrighterThanIsSetForTheNight()
    {
        foreach (DateTime dark in new[] { Night, Evening })
        {
            using var night = new Board(new BoardOptions { StartUtc = dark });
            night.RunUntil(8 * Second);
            Assert.AreEqual(26, night.Display.Model.Contrast, $"{dark:t}");
            night.Box!.Settings.NightBrightness = 9;
            night.RunUntil(9 * Second);
            Assert.AreEqual(101, night.Display.Model.Contrast, "the display is never brighter than by day");
        }
        using var day = new Board(new BoardOptions { StartUtc = Day });
        day.RunUntil(8 * Second);
        Assert.AreEqual(101, day.Display.Model.Contrast);
        using var unknown = new Board(new BoardOptions { StartUtc = null });
        unknown.RunUntil(8 * Second);
        Assert.AreEqual(101, unknown.Display.Model.Contrast, "without a clock the brightness is the one that was set");
    }

    [TestMethod]
    public void ADisplayThatIsLostInTheDarkComesBackDarkAndIsLitByAPress()
    {
        using Board board = Exposing(Day);
        board.RunUntil(60 * Second);
        board.Display.Model.PowerCycle();
        board.RunUntil(70 * Second);
        Assert.IsFalse(board.Display.Model.Registers.DisplayOn);
        board.Press(Button.Up, 70_100_000, 120_000);
        board.RunUntil(76 * Second);
        Assert.IsTrue(board.Display.Model.Registers.DisplayOn);
        Assert.AreEqual(101, board.Display.Model.Contrast);
        Assert.IsTrue(board.Lines[Line.Shutter]);
    }

    [TestMethod]
    public void BothAreSetOnBoxAndKept()
    {
        PanelRig rig = new PanelRig().Press(Button.Up, Button.Select, Button.Select, Button.Select, Button.Select, Button.Up);
        Assert.AreEqual(2, rig.Settings.NightBrightness);
        GoldenPictures.Check(rig, "box-night");
        rig.Press(Button.Select, Button.Down, Button.Down);
        Assert.AreEqual(10, rig.Settings.DarkSeconds);
        GoldenPictures.Check(rig, "box-dark-after");
        rig.Press(Button.Down);
        Assert.AreEqual(0, rig.Settings.DarkSeconds);
        var data = new byte[Settings.Store.StoreMap.Capacity(Settings.Store.RecordId.Settings)];
        var bytes = new Settings.Store.Bytes(data, data.Length);
        Settings.Store.SettingsRecord.Put(rig.Settings, bytes);
        var read = new BoxSettings();
        Assert.IsTrue(Settings.Store.SettingsRecord.Take(read, new Settings.Store.Bytes(data, bytes.At)));
        Assert.AreEqual(2, read.NightBrightness);
        Assert.AreEqual(0, read.DarkSeconds);
    }
}
