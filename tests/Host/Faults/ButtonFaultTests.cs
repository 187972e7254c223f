using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.Tests.Host.Screens;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>Buttons that stick, bounce, or go down together.</summary>
[TestClass]
public class ButtonFaultTests
{
    private static readonly Button[] All = Enum.GetValues<Button>();

    [TestMethod]
    [DataRow(Button.Up)]
    [DataRow(Button.Down)]
    [DataRow(Button.Back)]
    [DataRow(Button.Select)]
    [DataRow(Button.Mark)]
    [DataRow(Button.Fire)]
    public void AButtonThatIsDownFromTheStartFiresNothingAndIsNamed(Button stuck)
    {
        using var rig = new FaultRig();
        rig.Board.PowerOff();
        rig.Board.Down(stuck);
        rig.Board.PowerOn();
        rig.Set();
        rig.Pass(3);
        Assert.AreEqual(RunState.Ready, rig.Board.Box!.Desk!.State);
        Assert.AreEqual(0, rig.Board.Camera.Frames.Count);
        Assert.AreEqual("START CHECK", rig.Board.Box.Panel!.ScreenName, "the message stays until a button is pressed");
        StringAssert.StartsWith(rig.Words, stuck + " button is stuck");
        if (stuck == Button.Fire) return;
        rig.Tap(Button.Fire);
        rig.Pass(25);
        rig.ExposedAsPlanned();
    }

    [TestMethod]
    public void FireStuckDuringARunLeavesBackToStopIt()
    {
        using var rig = new FaultRig();
        rig.To(3);
        rig.Board.Down(Button.Fire);
        rig.To(10);
        Assert.IsNotNull(rig.Board.Camera.OpenSinceUs);
        rig.Tap(Button.Back);
        rig.Pass(0.5);
        Assert.IsNotNull(rig.Board.Camera.OpenSinceUs, "a short press of Back stops no run");
        rig.Board.Down(Button.Back);
        rig.Pass(1.05);
        Assert.IsTrue(rig.LinesOpen);
        rig.Board.Up(Button.Back);
        rig.To(40);
        Assert.AreEqual(1, rig.Board.Camera.Frames.Count, "a button Fire that is stuck starts one run");
        Assert.AreEqual("Fire button is stuck; Back held stops a run", rig.Words);
        rig.Board.Up(Button.Fire);
        rig.Pass(1);
        Assert.IsFalse(rig.Health.Any, rig.Words);
    }

    [TestMethod]
    public void AStuckBackDuringARunLeavesFireToStopIt()
    {
        using var rig = new FaultRig();
        rig.Board.Down(Button.Back);
        rig.To(3);
        rig.Tap(Button.Fire);
        rig.To(10);
        Assert.IsNotNull(rig.Board.Camera.OpenSinceUs);
        rig.Tap(Button.Fire);
        rig.Pass(0.03);
        Assert.IsTrue(rig.LinesOpen);
    }

    /// <summary>30 ms of bounce is a worn contact (common practice, no source).</summary>
    [TestMethod]
    public void ThirtyMillisecondsOfBounceAreOnePress()
    {
        using var rig = new FaultRig(new BoardOptions { BounceUs = 30_000, Seed = 9 });
        // The cards that the same presses reach when they do not bounce.
        var clean = new PanelRig();
        var ring = new List<string>();
        do
        {
            ring.Add(clean.Panel.ScreenName);
            clean.Press(Button.Down);
        }
        while (clean.Panel.ScreenName != "LIGHT");
        for (int i = 1; i <= 60; i++)
        {
            rig.Tap(Button.Down);
            rig.Pass(0.35);
            Assert.AreEqual(ring[i % ring.Count], rig.Board.Box!.Panel!.ScreenName, $"press {i}");
        }
        for (int i = 1; i <= 20; i++)
        {
            rig.Tap(Button.Mark);
            rig.Pass(3);
            Assert.AreEqual(i, rig.Board.Box!.Desk!.Waves.Rhythm.MarkCount);
        }
        rig.Tap(Button.Fire);
        rig.Pass(25);
        rig.ExposedAsPlanned();
    }

    /// <summary>All fifteen pairs, at the same instant and 5 ms apart, at rest and during an exposure.</summary>
    [TestMethod]
    public void TwoButtonsAtOnceDoNothingThatOneCouldNot()
    {
        int pairs = 0;
        for (int a = 0; a < All.Length; a++)
            for (int b = a + 1; b < All.Length; b++)
            {
                pairs++;
                long apart = pairs % 2 * 5_000;
                bool stops = All[a] is Button.Fire || All[b] is Button.Fire;
                using var rig = new FaultRig();
                rig.Tap(Button.Fire, 3_000_000);
                rig.Tap(All[a], 9_000_000);
                rig.Tap(All[b], 9_000_000 + apart);
                rig.To(8.99);
                Assert.IsNotNull(rig.Board.Camera.OpenSinceUs);
                rig.To(9.03);
                Assert.AreEqual(stops, rig.LinesOpen, $"{All[a]} with {All[b]}");
                rig.To(40);
                Assert.IsTrue(rig.LinesOpen);
                Assert.AreEqual(1, rig.Board.Camera.Frames.Count, $"{All[a]} with {All[b]}");
                if (!stops) rig.ExposedAsPlanned();
                Assert.AreEqual(0, rig.Board.PinFaults.Count);
            }
        Assert.AreEqual(15, pairs);
    }

    [TestMethod]
    public void FireWithAnyOtherAtRestStartsAtMostOneRun()
    {
        foreach (Button other in All.Where(b => b != Button.Fire))
        {
            using var rig = new FaultRig();
            rig.Tap(other, 3_000_000);
            rig.Tap(Button.Fire, 3_000_000);
            rig.To(40);
            Assert.IsTrue(rig.LinesOpen);
            Assert.IsTrue(rig.Board.Camera.Frames.Count <= 1, other.ToString());
            Assert.AreEqual(0, rig.Board.LimiterTrips);
        }
    }
}
