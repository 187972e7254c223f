using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>From the end of a frame to the next one, and the frames that were taken.</summary>
[TestClass]
public class AfterTheFrameTests
{
    private static PanelRig Done(double seconds = 40)
    {
        var rig = new PanelRig();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(30);
        rig.Press(Button.Fire).Pass((long)(seconds * 1e6));
        return rig;
    }

    private static double LastSeconds(PanelRig rig) => rig.Bench.Link.Frames.ExposureUs(rig.Bench.Link.Frames.Total - 1) / 1e6;

    // 4 s, and from the end of that a stop longer, by its buttons.
    private static Board TwoFrames()
    {
        var board = new Board(new BoardOptions());
        board.Box!.Settings.AlwaysBulb = true;
        board.Box.Settings.StepShutter(24);
        board.RunUntil(4_000_000);
        board.Press(Button.Fire, 4_100_000, 120_000);
        board.Press(Button.Up, 15_000_000, 120_000);
        board.Press(Button.Fire, 16_000_000, 120_000);
        return board;
    }

    // Three presses from power-on.
    internal static void OpenTaken(Board board, long at)
    {
        board.Press(Button.Down, at, 120_000);
        board.Press(Button.Down, at + 600_000, 120_000);
        board.Press(Button.Select, at + 1_200_000, 800_000);
        board.RunUntil(at + 4_000_000);
    }

    [TestMethod]
    public void TheEndSaysHowLongTheFrameWasAndWhatIsNext()
    {
        GoldenPictures.Check(Done(), "end-length");
        var rig = new PanelRig();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(30);
        rig.Press(Button.Fire).Pass(9_000_000).Press(Button.Fire).Pass(500_000);
        GoldenPictures.Check(rig, "end-stopped");
    }

    [TestMethod]
    [DataRow(Button.Up, 32.0)]
    [DataRow(Button.Select, 16.0)]
    [DataRow(Button.Down, 8.0)]
    public void TwoPressesTakeTheNextFrameAStopLongerTheSameOrAStopShorter(Button first, double seconds)
    {
        PanelRig rig = Done();
        Assert.AreEqual(16.0, LastSeconds(rig), 0.01);
        rig.Press(first, Button.Fire).Pass(40_000_000);
        Assert.AreEqual(RunState.Done, rig.Bench.Link.State);
        Assert.AreEqual(seconds, LastSeconds(rig), 0.01);
        rig.Press(Button.Back);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName, "the offer is gone");
    }

    [TestMethod]
    public void AThirdIsOnePressMore()
    {
        PanelRig rig = Done().Press(Button.Select, Button.Up);
        GoldenPictures.Check(rig, "again-third");
        rig.Press(Button.Fire).Pass(40_000_000);
        Assert.AreEqual(16 * Math.Pow(2, 1 / 3.0), LastSeconds(rig), 0.01);
    }

    [TestMethod]
    public void LeavingWithoutFiringChangesNothing()
    {
        PanelRig rig = Done().Press(Button.Up);
        GoldenPictures.Check(rig, "again-stop");
        rig.Press(Button.Back);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
        Assert.AreEqual(0, rig.Settings.Base.HandThirds);
        Assert.AreEqual(-1, rig.Panel.Field);
    }

    [TestMethod]
    public void FireOnTheEndAloneStartsNothing()
    {
        PanelRig rig = Done();
        int runs = rig.Bench.Desk.Runs;
        rig.Press(Button.Fire).Pass(5_000_000);
        Assert.AreEqual(runs, rig.Bench.Desk.Runs);
    }

    [TestMethod]
    public void TheLastFramesAreReadThreePressesFromHomeNewestFirst()
    {
        PanelRig rig = Done().Press(Button.Up, Button.Fire).Pass(40_000_000).Press(Button.Back);
        int from = rig.Presses;
        rig.Press(Button.Down, Button.Down).Hold(Button.Select, 700_000);
        Assert.AreEqual("TAKEN 1/2", rig.Panel.ScreenName);
        Assert.AreEqual(3, rig.Presses - from);
        GoldenPictures.Check(rig, "taken");
        rig.Press(Button.Down);
        Assert.AreEqual("TAKEN 2/2", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "taken-second");
        GoldenPictures.Check(new PanelRig().Press(Button.Down, Button.Down).Hold(Button.Select, 700_000), "taken-none");
    }

    /// <summary>Through the pins, counted by the camera.</summary>
    [TestMethod]
    public void TheCameraTakesTheNextFrameAStopLonger()
    {
        using Board board = TwoFrames();
        board.RunUntil(40_000_000);
        double[] open = [.. board.Camera.Frames.Select(f => (f.CloseUs - f.OpenUs) / 1e6)];
        Assert.AreEqual(2, open.Length);
        Assert.AreEqual(4.0, open[0], 0.01);
        Assert.AreEqual(8.0, open[1], 0.01);
    }

    /// <summary>Through pins, bus and memory: the frames of the morning before are read on the box after a night without power.</summary>
    [TestMethod]
    public void TheFramesOfBeforeAreReadOnTheBoxAfterItWasSwitchedOff()
    {
        using Board board = TwoFrames();
        board.RunUntil(60_000_000);
        board.PowerOff();
        board.PowerOn();
        long at = board.Time.NowUs + 4_000_000;
        board.RunUntil(at);
        OpenTaken(board, at);
        Assert.AreEqual("TAKEN 1/2", board.Box!.Panel!.ScreenName);
        GoldenPictures.Check(f => board.Box.Panel.Draw(f, board.Time.NowUs), "taken-earlier");
        board.Press(Button.Down, at + 4_100_000, 120_000);
        board.RunUntil(at + 6_000_000);
        Assert.AreEqual("TAKEN 2/2", board.Box.Panel.ScreenName);
        Assert.AreEqual(4.0, board.Box.Panel.Earlier.Entry.ExposureUs / 1e6, 0.01);
        // A new frame goes before them.
        board.Press(Button.Back, at + 6_100_000, 120_000);
        board.Press(Button.Fire, at + 7_000_000, 120_000);
        board.RunUntil(at + 30_000_000);
        board.Press(Button.Back, at + 30_100_000, 120_000);
        board.Press(Button.Select, at + 31_000_000, 800_000);
        board.Press(Button.Down, at + 33_000_000, 120_000);
        board.RunUntil(at + 35_000_000);
        Assert.AreEqual("TAKEN 2/3", board.Box.Panel.ScreenName);
        Assert.AreEqual(8.0, board.Box.Panel.Earlier.Entry.ExposureUs / 1e6, 0.01, "the newest frame of the earlier ones");
    }

    [TestMethod]
    public void AMemoryThatDoesNotAnswerIsReportedToHoldWhatCannotBeRead()
    {
        using Board board = TwoFrames();
        board.RunUntil(60_000_000);
        board.PowerOff();
        board.PowerOn();
        long at = board.Time.NowUs + 4_000_000;
        board.RunUntil(at);
        board.Bus.Trouble.Deaf.Add(0x57);
        OpenTaken(board, at);
        Assert.AreEqual("TAKEN 1/2", board.Box!.Panel!.ScreenName);
        GoldenPictures.Check(f => board.Box.Panel.Draw(f, board.Time.NowUs), "taken-unreadable");
    }
}
