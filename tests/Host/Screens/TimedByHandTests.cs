using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>A frame that the user ends: one press of Fire opens the shutter, the next closes it, and the screen says how far the frame is from the answer.</summary>
[TestClass]
public class TimedByHandTests
{
    private const long Second = 1_000_000;

    // The answer is 8 s: 1/60 metered, nine stops longer.
    private static PanelRig Chosen()
    {
        var rig = new PanelRig();
        rig.Settings.StepShutter(27);
        rig.Press(Button.Down, Button.Down, Button.Select);
        for (int i = 0; i < (int)PlanShape.ByHand; i++) rig.Press(Button.Up);
        return rig;
    }

    [TestMethod]
    public void FramesOffersItAndSaysWhatFireDoes()
    {
        PanelRig rig = Chosen();
        Assert.AreEqual(PlanShape.ByHand, rig.Settings.Plan.Shape);
        GoldenPictures.Check(rig, "frames-by-hand-field");
        rig.Press(Button.Back);
        GoldenPictures.Check(rig, "frames-by-hand");
    }

    [TestMethod]
    public void OnePressOpensAndTheNextClosesAndTheFrameIsNotCut()
    {
        PanelRig rig = Chosen().Press(Button.Back, Button.Fire).Pass(2 * Second);
        Assert.IsTrue(rig.Bench.Link.Report.ShutterClosed);
        rig.Pass(3_200_000 - 120_000);
        GoldenPictures.Check(rig, "run-by-hand");
        rig.Pass(8 * Second).Press(Button.Fire).Pass(Second);
        Assert.AreEqual(RunState.Done, rig.Bench.Link.State);
        Assert.AreEqual(1, rig.Bench.Link.Frames.Total);
        Assert.IsFalse(rig.Bench.Link.Frames.CutShort(0));
        Assert.AreEqual(0, rig.Bench.Link.Frames.CutUs);
        Assert.AreEqual(11.2, rig.Bench.Link.Frames.ExposureUs(0) / 1e6, 0.1);
        GoldenPictures.Check(rig, "end-by-hand");
    }

    [TestMethod]
    public void AnAnswerOfMoreThanAnHourFitsTheLine()
    {
        PanelRig rig = Chosen();
        rig.Settings.LimitSeconds = 7200;
        rig.Settings.StepShutter(9);
        for (int i = 0; i < rig.Settings.Kit.Count; i++)
        {
            if (rig.Settings.Kit[i].Name == "ND 1.8") rig.Settings.Kit[i].On = true;
        }
        rig.Settings.Solve();
        rig.Press(Button.Back, Button.Fire).Pass(2_700_000);
        GoldenPictures.Check(rig, "run-by-hand-hour");
    }

    [TestMethod]
    public void BackHeldForASecondClosesAsWell()
    {
        PanelRig rig = Chosen().Press(Button.Back, Button.Fire).Pass(4 * Second);
        rig.Hold(Button.Back, 1_200_000).Pass(Second);
        Assert.AreEqual(RunState.Done, rig.Bench.Link.State);
        Assert.IsFalse(rig.Bench.Link.Frames.CutShort(0));
    }

    [TestMethod]
    public void APressBeforeItOpensIsAStopAndTakesNoFrame()
    {
        PanelRig rig = Chosen().Press(Button.Back, Button.Fire).Pass(Second).Press(Button.Fire).Pass(5 * Second);
        Assert.AreEqual(RunState.Stopped, rig.Bench.Link.State);
        Assert.AreEqual(0, rig.Bench.Link.Frames.Total);
    }

    [TestMethod]
    public void WithoutASecondPressItClosesAtTheLongestExposureAllowed()
    {
        PanelRig rig = Chosen();
        rig.Settings.LimitSeconds = 60;
        rig.Press(Button.Back, Button.Fire).Pass(61 * Second);
        Assert.AreEqual(RunState.Plan, rig.Bench.Link.State);
        rig.Pass(2 * Second);
        Assert.AreEqual(RunState.Done, rig.Bench.Link.State);
        Assert.AreEqual(60.0, rig.Bench.Link.Frames.ExposureUs(0) / 1e6, 0.01);
    }

    /// <summary>Through pins and contacts, the camera's shutter is open from one press to the next, less the settling time and the lag at its opening.</summary>
    [TestMethod]
    [DataRow(700_000L)]
    [DataRow(9_300_000L)]
    public void TheCameraIsOpenUntilThePress(long openUs)
    {
        using var board = new Board(new BoardOptions());
        board.Box!.Settings.Plan.Shape = PlanShape.ByHand;
        board.Box.Settings.StepShutter(24);
        board.RunUntil(4 * Second);
        board.Press(Button.Fire, 4_100_000, 120_000);
        board.RunUntil(8 * Second);
        long opened = board.Camera.OpenSinceUs ?? 0;
        Assert.AreEqual(6_100_000.0, opened, 100_000.0, "after two seconds for the tripod");
        long pressUs = 8 * Second + openUs;
        board.Press(Button.Fire, pressUs, 120_000);
        board.RunUntil(pressUs + 2 * Second);
        Assert.HasCount(1, board.Camera.Frames);
        // The camera model closes its shutter 60 ms after its contact opened.
        Assert.AreEqual(pressUs + 60_000, board.Camera.Frames[0].CloseUs, 20_000.0);
        Assert.HasCount(0, board.Camera.Missed);
    }
}
