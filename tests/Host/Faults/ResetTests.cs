using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>The power fails at any instant: both contacts are open at once and stay so, and the settings are the old or the new ones.</summary>
[TestClass]
public class ResetTests
{
    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void ABrownOutAtAnyInstantOpensBothAndKeepsTheSettings()
    {
        var dice = new Dice(77);
        int whileClosed = 0, whileWriting = 0;
        CutKind[] kinds = Enum.GetValues<CutKind>();
        for (int run = 0; run < 80; run++)
        {
            using var rig = new FaultRig();
            // Until 3.5 s the first settings are being kept; from 9 s on a second set is; Fire at 15 s.
            rig.To(9);
            Assert.IsTrue(rig.Board.Box!.Keeper!.Settled);
            rig.Board.Box.Settings.StepShutter(1);
            rig.Board.Box.Settings.Brightness = 7;
            rig.Board.Box.Settings.Camera.ShutterLagMs = 70;
            // Half of the power cuts fall into the writing, and half into the exposure.
            bool exposing = run % 2 == 1;
            if (exposing) rig.Tap(Button.Fire, 15_000_000);
            long at = exposing ? dice.Whole(15_000_000, 38_000_000) : dice.Whole(9_000_000, 10_500_000);
            rig.Board.RunUntil(at);
            if (!rig.LinesOpen) whileClosed++;
            if (!rig.Board.Box.Keeper!.Settled) whileWriting++;
            rig.Board.PowerOff(kinds[run % kinds.Length]);
            Assert.IsTrue(rig.LinesOpen, "a pin without power no longer drives its line");
            rig.Pass(0.001 * dice.Whole(1, 2000));
            rig.Board.PowerOn();
            Assert.IsTrue(rig.LinesOpen);
            BoxSettings settings = rig.Board.Box!.Settings;
            Assert.IsTrue(settings.Base.Shutter.Index is 12 or 13, $"{settings.Base.Shutter.Index}");
            // Shutter and brightness are one record: both old or both new.
            Assert.AreEqual(settings.Base.Shutter.Index == 13, settings.Brightness == 7);
            Assert.IsTrue(settings.Camera.ShutterLagMs is 60 or 70);
            if (exposing) Assert.AreEqual(13, settings.Base.Shutter.Index, "it had been saved long before");
            int frames = rig.Board.Camera.Frames.Count;
            rig.Pass(20);
            Assert.IsTrue(rig.LinesOpen);
            Assert.AreEqual(RunState.Ready, rig.Board.Box!.Desk!.State);
            Assert.IsTrue(rig.Board.Camera.Frames.Count <= frames + 1, "only the exposure that was cut off may still end");
            Assert.IsNull(rig.Board.Camera.OpenSinceUs);
        }
        TestContext.WriteLine($"80 brown-outs, {whileClosed} with a contact closed, {whileWriting} with something still to write");
        Assert.IsTrue(whileClosed > 15 && whileWriting > 10);
    }

    [TestMethod]
    public void AnErrorInTheReleaseLoopOpensBothInThatPass()
    {
        using var rig = new FaultRig();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(9);
        Assert.IsFalse(rig.LinesOpen);
        rig.BreakMark();
        long before = rig.Board.Passes;
        Assert.ThrowsExactly<InvalidOperationException>(() => rig.Pass(1));
        Assert.IsTrue(rig.Board.Passes - before <= 2, "one release pass, one panel pass");
        Assert.IsTrue(rig.LinesOpen);
        Assert.AreEqual(RunState.Failed, rig.Board.Box!.Desk!.State);
    }

    [TestMethod]
    public void AResetDuringAnExposureEndsItAtOnce()
    {
        using var rig = new FaultRig();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(9);
        // A picture that is being sent is sent to its end.
        double at = rig.Board.Time.NowUs / 1e6;
        rig.Board.PowerOff();
        rig.Pass(0.2);
        Assert.IsFalse(rig.Board.Lines[Line.SensorOpen]);
        Assert.AreEqual(at + 0.06, rig.Board.Camera.Frames.Single().CloseUs / 1e6, 0.001);
    }
}
