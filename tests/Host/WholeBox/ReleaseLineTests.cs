using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.Tests.Host.Faults;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>The box tests its release lines: it finds a line that is stuck, or a driver that is shorted or dead, by reading the drivers back.</summary>
[TestClass]
public class ReleaseLineTests
{
    private static FaultRig On(Line line, LineFault fault) =>
        new(line == Line.Shutter ? new BoardOptions { ShutterFault = fault } : new BoardOptions { HalfPressFault = fault });

    /// <summary>The supply of the couplers never comes up, so the contact never closes, although its driver conducts.</summary>
    [TestMethod]
    [DataRow(Line.HalfPress, LimiterTrouble.HalfPressStuck, "half-press line is stuck")]
    [DataRow(Line.Shutter, LimiterTrouble.ShutterStuck, "shutter line is stuck")]
    public void AStuckLineIsFoundAtPowerOnBeforeItsContactCanClose(Line line, LimiterTrouble trouble, string words)
    {
        using FaultRig rig = On(line, LineFault.Stuck);
        for (int i = 0; i < 100; i++)
        {
            rig.Pass(0.02);
            Assert.IsFalse(rig.Board.LimiterUp, "no beats while a driver conducts by itself");
            if (i == 10) Assert.AreEqual(trouble, rig.Board.Box!.Link!.Limiter, "found within 0.22 s");
        }

        Assert.AreEqual("START CHECK", rig.Board.Box!.Panel!.ScreenName, "the box tells it without a press");
        Assert.Contains(words, rig.Words);
        foreach (double at in new[] { 3.0, 5.0, 7.0 })
        {
            rig.Tap(Button.Fire, (long)(at * FaultRig.Second));
        }

        rig.To(40);
        Assert.AreEqual(0, rig.Board.Box.Desk!.Runs);
        Assert.IsEmpty(rig.Board.Edges, "no contact was told to close");
        Assert.IsEmpty(rig.Board.Camera.Frames, "no contact closed");
        Assert.AreEqual(0, rig.Board.Camera.MirrorsRaised);
    }

    /// <summary>The limiter opens the contact after its hold time, before the end of the run.</summary>
    [TestMethod]
    [DataRow(Line.Shutter, LimiterTrouble.ShutterStuck)]
    [DataRow(Line.HalfPress, LimiterTrouble.HalfPressStuck)]
    public void ALineThatSticksInARunEndsItAndTheLimiterOpensTheContact(Line line, LimiterTrouble trouble)
    {
        using FaultRig rig = new();
        rig.To(7);
        rig.Tap(Button.Fire);
        rig.Pass(8);
        Assert.IsTrue(rig.Board.Lines[Line.Shutter], "a frame is open");
        rig.Board.LineBreaks(line, LineFault.Stuck);
        // Half-press may have been let go by then; the shutter agrees with its line until its frame ends.
        rig.Pass(12);
        Assert.AreEqual(trouble, rig.Board.Box!.Link!.Limiter);
        Assert.IsFalse(rig.Board.Box.Desk!.Running);
        rig.Pass(2);
        Assert.IsFalse(rig.Board.LimiterUp, "the contacts have no supply");
        int edges = rig.Board.Edges.Count;
        rig.Tap(Button.Fire);
        rig.Pass(1);
        rig.Tap(Button.Fire);
        rig.Pass(10);
        Assert.HasCount(edges, rig.Board.Edges, "no second run");
        Assert.IsFalse(rig.Board.LimiterUp);
    }

    [TestMethod]
    [DataRow(Line.HalfPress, LimiterTrouble.HalfPressDead)]
    [DataRow(Line.Shutter, LimiterTrouble.ShutterDead)]
    public void ALineThatDoesNotActEndsTheRunAndIsReported(Line line, LimiterTrouble trouble)
    {
        using FaultRig rig = On(line, LineFault.Dead);
        rig.To(7);
        Assert.AreEqual(LimiterTrouble.None, rig.Board.Box!.Link!.Limiter, "no contact is told to close yet");
        rig.Tap(Button.Fire);
        rig.Pass(4);
        Assert.AreEqual(trouble, rig.Board.Box.Link.Limiter);
        Assert.AreEqual(RunState.Failed, rig.Board.Box.Desk!.State);
        Assert.AreEqual(PlayerFailure.LimiterOff, rig.Board.Box.Desk.Player.Failure);
        Assert.IsTrue(rig.LinesOpen);
        Assert.Contains("dead", rig.Words);
    }

    /// <summary>Frames of a tenth of a second with pauses of a tenth, and a burst: looks fall on both sides of many edges.</summary>
    [TestMethod]
    public void SoundLinesGiveNoFalseAlarmAtAnyPhaseOfManyShortFrames()
    {
        for (int phase = 0; phase < 10; phase++)
        {
            using FaultRig rig = new();
            BoxSettings settings = rig.Board.Box!.Settings;
            settings.Plan.Shape = PlanShape.Burst;
            settings.Plan.Frames = 20;
            settings.Plan.GapUs = 100_000 + phase * 7_000;
            rig.Board.Camera.Options = new CameraOptions { Dial = CameraDial.Bulb };
            rig.To(7 + phase * 0.013);
            rig.Tap(Button.Fire);
            rig.Pass(30);
            Assert.AreEqual(LimiterTrouble.None, rig.Board.Box.Link!.Limiter, $"phase {phase}");
            Assert.IsGreaterThan(2, rig.Board.Edges.Count);
        }
    }

    [TestMethod]
    public void ABoardWithoutTheReadBackIsNotJudged()
    {
        using var rig = new FaultRig(new BoardOptions { Pins = new(18, 19, [25, 26, 27, 33, 32, 35], 23, 4, 13, 39), HalfPressFault = LineFault.Stuck });
        rig.To(10);
        Assert.AreEqual(LimiterTrouble.None, rig.Board.Box!.Link!.Limiter);
    }
}
