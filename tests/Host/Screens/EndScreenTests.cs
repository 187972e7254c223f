using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Screens;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>What the screen at the end of a run says, line by line: how many frames, how long they were, and what else to know.</summary>
[TestClass]
public class EndScreenTests
{
    private const long Second = 1_000_000;

    // The rows of a line hold these words and nothing else from a column on.
    internal static bool Says(PanelRig rig, int x, int y, string words, Font font)
    {
        var alone = new Frame();
        alone.Text(x, y, words, font);
        Frame shown = rig.Draw();
        for (int row = y; row < y + (font == Font.Medium ? 13 : 8); row++)
            for (int column = x; column < Frame.Width; column++)
                if (alone.Pixel(column, row) != shown.Pixel(column, row)) return false;
        return true;
    }

    private static void Is(PanelRig rig, string head, string count, string line, string last)
    {
        string all = "\n" + rig.Ascii();
        Assert.IsTrue(Says(rig, 0, 0, head, Font.Small), head + all);
        Assert.IsTrue(Says(rig, 18, 14, count, Font.Medium), count + all);
        if (line.Length > 0) Assert.IsTrue(Says(rig, 0, 39, line, Font.Small), line + all);
        if (last.Length > 0) Assert.IsTrue(Says(rig, 0, 48, last, Font.Small), last + all);
    }

    private static PanelRig Rig(PlanShape shape, int frames)
    {
        var rig = new PanelRig();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(18);
        ShotPlan plan = rig.Settings.Plan;
        plan.Shape = shape;
        plan.Frames = frames;
        plan.SettleUs = Second;
        plan.GapUs = Second;
        plan.IntervalUs = 3 * Second;
        plan.HoldUs = 4 * Second;
        return rig;
    }

    [TestMethod]
    [DataRow(9, "1 of 9 frames")]
    [DataRow(10, "1 of 10")]
    public void AStoppedSeriesSaysHowManyOfHowMany(int frames, string count)
    {
        PanelRig rig = Rig(PlanShape.Series, frames).Press(Button.Fire).Pass(2 * Second + Second / 2).Press(Button.Fire);
        Is(rig, "STOPPED", count, "", "Fire, Back: close this");
        Assert.IsTrue(Says(rig, 0, 30, "Both contacts are open.", Font.Small));
    }

    [TestMethod]
    public void AHeldDriveSaysWhetherItWasHeld()
    {
        for (int held = 0; held < 2; held++)
        {
            PanelRig rig = Rig(PlanShape.HeldDrive, 1);
            rig.Settings.AlwaysBulb = false;
            rig.Settings.StepShutter(-3);
            rig.Press(Button.Fire).Pass(held == 0 ? Second / 2 : 3 * Second).Press(Button.Fire);
            Is(rig, "STOPPED", held == 0 ? "not held" : "held drive", "", "");
        }
    }

    [TestMethod]
    [DataRow(1, "1 wave")]
    [DataRow(2, "2 waves")]
    public void ARunOnTheWavesCountsThem(int waves, string count)
    {
        PanelRig rig = Rig(PlanShape.Single, 1);
        rig.Settings.Waves.Way = FiringWay.OnMark;
        rig.Settings.Waves.Waves = waves;
        rig.Press(Button.Down, Button.Down, Button.Down, Button.Fire).Pass(2 * Second);
        for (int i = 0; i < waves; i++) rig.Press(Button.Mark).Pass(5 * Second);
        Assert.IsTrue(rig.Bench.Link.Report.OnWaves);
        Is(rig, "DONE", count, "", "Fire, Back: close this");
        Assert.AreEqual(waves, rig.Bench.Lines.Count / 2 > 0 ? rig.Bench.Link.Frames.Total : 0);
    }

    /// <summary>Fire takes the camera as it is set: half-press comes 0.9 s before the shutter.</summary>
    [TestMethod]
    public void TheCamerasLeadIsTaken()
    {
        PanelRig rig = Rig(PlanShape.Single, 1);
        rig.Settings.Camera.HalfPressLeadMs = 900;
        rig.Press(Button.Fire).Pass(6 * Second);
        Assert.AreEqual("H+ S+ S- H-", rig.Bench.Lines.Story());
        Assert.AreEqual(900_000, rig.Bench.Lines.AtUs(1) - rig.Bench.Lines.AtUs(0), 20_000);
    }

    /// <summary>One frame a wave, or two 0.7 s apart, whatever the plan of the card FRAMES is.</summary>
    [TestMethod]
    [DataRow(1)]
    [DataRow(2)]
    public void AWaveTakesItsFramesWithTheirGap(int frames)
    {
        PanelRig rig = Rig(PlanShape.Series, 7);
        rig.Settings.Waves.Way = FiringWay.OnMark;
        rig.Settings.Waves.Waves = 1;
        rig.Settings.Waves.FramesPerWave = frames;
        rig.Settings.Waves.GapMs = 700;
        rig.Press(Button.Down, Button.Down, Button.Down, Button.Fire).Pass(2 * Second).Press(Button.Mark).Pass(8 * Second);
        Assert.AreEqual(RunState.Done, rig.Bench.Link.State);
        Assert.AreEqual(frames, rig.Bench.Link.Frames.Total);
        Assert.AreEqual(frames, rig.Bench.Link.Report.FramesPlanned);
        if (frames == 2) Assert.AreEqual(700_000, rig.Bench.Lines.ShutterEdgeUs(2) - rig.Bench.Lines.ShutterEdgeUs(1), 20_000);
    }

    [TestMethod]
    public void AMirrorThatWasRaisedIsReported()
    {
        PanelRig rig = Rig(PlanShape.Single, 1);
        rig.Settings.Camera.MirrorLockUp = true;
        rig.Settings.Camera.MirrorSettleMs = 3_000;
        rig.Press(Button.Fire).Pass(2 * Second);
        Assert.IsTrue(rig.Bench.Link.Report.MirrorUp);
        Is(rig.Press(Button.Fire), "STOPPED", "0 of 1 frames", "The mirror may be up.", "");
    }

    [TestMethod]
    public void ALimiterThatLetsGoEndsTheRunInWords()
    {
        PanelRig rig = Rig(PlanShape.Burst, 4).Press(Button.Fire).Pass(2 * Second);
        rig.Bench.Link.NoteLimiter(LimiterTrouble.StaysOff, rig.Bench.NowUs);
        rig.Pass(Second / 10);
        Assert.AreEqual(RunState.Failed, rig.Bench.Link.State);
        Assert.IsTrue(Says(rig, 0, 0, "STOPPED BY THE BOX", Font.Small), rig.Ascii());
        Assert.IsTrue(Says(rig, 0, 30, "Limiter off: none taken.", Font.Small), rig.Ascii());
    }

    /// <summary>After a standstill of the board the screen reports a frame that was late, one that was too long, one whose length is in doubt, or two of these.</summary>
    [TestMethod]
    [DataRow(1, false, 200, 400, "1 was 0.2 s late")]
    [DataRow(1, true, 200, 300, "1 was 0.2 s too long")]
    [DataRow(1, true, 500, 600, "Length in doubt: 1")]
    [DataRow(2, false, 100, 300, "2 off, worst 0.2 s late")]
    [DataRow(2, true, 100, 300, "2 off, worst 0.3 s over")]
    public void WhatWasNotAsPlannedIsReported(int frames, bool open, int beforeMs, int forMs, string words)
    {
        PanelRig rig = Rig(PlanShape.Burst, frames);
        rig.Press(Button.Fire);
        for (int i = 0; i < frames; i++)
        {
            for (; open ? !rig.Bench.Lines.Shutter : rig.Bench.Link.Report.NextUs == long.MaxValue; rig.Pass(20_000)) Assert.IsLessThan(20 * Second, rig.Bench.NowUs);
            long edge = open ? rig.Bench.Link.Report.FrameEndUs : rig.Bench.Link.Report.NextUs;
            rig.Pass(edge - beforeMs * 1000L - rig.Bench.NowUs);
            rig.Bench.StandStill(forMs * 1000L);
            rig.Pass(Second + Second / 2);
        }
        rig.Pass(8 * Second);
        Assert.AreEqual(RunState.Done, rig.Bench.Link.State);
        Assert.IsTrue(Says(rig, 0, 48, words, Font.Small), $"{words}: {rig.Bench.Link.Frames.WorstOffUs}\n" + rig.Ascii());
    }

    /// <summary>A dial's frame goes on after a stop; the seconds that are left are told until it is over, and then no more.</summary>
    [TestMethod]
    public void ADialsFrameGoesOnUntilItIsOver()
    {
        PanelRig rig = Rig(PlanShape.Single, 1);
        rig.Settings.AlwaysBulb = false;
        rig.Settings.StepShutter(12);
        rig.Press(Button.Fire);
        while (!rig.Bench.Lines.Shutter) rig.Pass(10_000);
        rig.Pass(10_000).Press(Button.Fire);
        long end = rig.Bench.Link.Report.FrameEndUs;
        rig.Pass(end - 5 * Second - rig.Bench.NowUs);
        Assert.IsTrue(Says(rig, 0, 39, "CAMERA GOES ON 5.0 s", Font.Small), rig.Ascii());
        rig.Pass(end - rig.Bench.NowUs - 10_000);
        Assert.IsTrue(Says(rig, 0, 39, "CAMERA GOES ON 0.1 s", Font.Small), rig.Ascii());
        rig.Pass(10_000);
        Assert.IsTrue(Says(rig, 0, 39, "", Font.Small), rig.Ascii());
    }

    /// <summary>A press that silences the alarm starts nothing, not even later; the next one does.</summary>
    [TestMethod]
    public void AFireThatSilencesTheAlarmStartsNothing()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T10:30:00Z");
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(18);
        rig.Shore.SetAlarm(true);
        for (int i = 0; i < 3000 && !rig.Shore.AlarmUp; i++) rig.Pass(Second);
        rig.Press(Button.Fire);
        Assert.IsFalse(rig.Shore.AlarmUp);
        rig.Pass(4 * Second);
        Assert.AreEqual(0, rig.Bench.Lines.Count);
        Assert.AreEqual(RunState.Ready, rig.Bench.Link.State);
        rig.Press(Button.Fire).Pass(Second);
        Assert.IsTrue(rig.Bench.Link.Report.Running);
    }

    /// <summary>Fire on a locked box starts nothing, not even when the box is unlocked at once.</summary>
    [TestMethod]
    public void AFireOnALockedBoxStartsNothingLater()
    {
        PanelRig rig = Rig(PlanShape.Single, 1);
        LockTests.Gesture(rig).Press(Button.Fire);
        LockTests.Gesture(rig).Pass(4 * Second);
        Assert.IsFalse(rig.Panel.Locked);
        Assert.AreEqual(0, rig.Bench.Lines.Count);
        Assert.IsFalse(rig.Bench.Link.Busy);
    }
}
