using Intervalometer.Core.Swash;
using Intervalometer.Screens;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;
using MathNet.Numerics.Random;
using MathNet.Numerics.Statistics;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The drill of the hand, by the buttons: what it measures, what it leaves alone, and that it is kept.</summary>
[TestClass]
public class HandDrillTests
{
    private static PanelRig AtDrill()
    {
        PanelRig rig = new PanelRig().Press(Button.Up, Button.Up).Hold(Button.Select, 700_000).Pass(20_000);
        Assert.AreEqual("YOUR HAND", rig.Panel.ScreenName);
        return rig;
    }

    // Presses Mark so long after the turn of the mark, then waits for its next run.
    private static void Press(PanelRig rig, double offSeconds)
    {
        long turn = rig.Panel.Drill.TurnUs;
        rig.Pass(turn + (long)(offSeconds * 1e6) - rig.Bench.NowUs).Press(Button.Mark);
        while (!rig.Panel.Drill.Done && rig.Panel.Drill.TurnUs == turn) rig.Pass(10_000);
    }

    [TestMethod]
    public void ADozenPressesTeachLagAndSpreadAndMarkNoWave()
    {
        PanelRig rig = AtDrill();
        double[] off = [.. MathNet.Numerics.Distributions.Normal.Samples(new MersenneTwister(5, false), 0.20, 0.30).Take(HandDrill.PressesNeeded)];
        GoldenPictures.Check(rig, "hand-begin");
        for (int i = 0; i < off.Length; i++)
        {
            if (i == 6)
            {
                rig.Pass(rig.Panel.Drill.TurnUs - 300_000 - rig.Bench.NowUs);
                GoldenPictures.Check(rig, "hand-half");
            }
            Press(rig, off[i]);
        }
        GoldenPictures.Check(rig, "hand-done");
        // The sample's figures from Math.NET; a press is sampled within a tick of 10 ms.
        // The lag is shrunk towards 0.10 s as by six presses.
        Assert.AreEqual((6 * 100 + 12 * 1000 * off.Mean()) / 18, rig.Settings.Waves.HandLagMs, 11);
        Assert.AreEqual(1000 * off.StandardDeviation() * Math.Sqrt(1 + 1.0 / off.Length), rig.Settings.Waves.HandSpreadMs, 6);
        Assert.AreEqual(0, rig.Bench.Link.Sea.MarkCount, "no wave was marked");
        rig.Press(Button.Back);
        Assert.AreEqual("CAMERA", rig.Panel.ScreenName);
        rig.Press(Button.Mark);
        Assert.AreEqual(1, rig.Bench.Link.Sea.MarkCount, "now one is known");
    }

    [TestMethod]
    public void ADrillThatIsLeftChangesNothingAndSelectBeginsAgain()
    {
        PanelRig rig = AtDrill();
        for (int i = 0; i < 11; i++) Press(rig, 0.4);
        rig.Press(Button.Select).Pass(20_000);
        Assert.AreEqual(0, rig.Panel.Drill.Count);
        for (int i = 0; i < 11; i++) Press(rig, 0.4);
        rig.Press(Button.Back);
        Assert.AreEqual(100, rig.Settings.Waves.HandLagMs, "still assumed");
        Assert.AreEqual(150, rig.Settings.Waves.HandSpreadMs, "still assumed");
    }

    [TestMethod]
    public void OnlyOnePressARunCountsAndNoneFarFromTheTurn()
    {
        PanelRig rig = AtDrill();
        Press(rig, -1.3);
        Assert.AreEqual(0, rig.Panel.Drill.Count);
        long turn = rig.Panel.Drill.TurnUs;
        rig.Pass(turn - rig.Bench.NowUs).Press(Button.Mark).Pass(200_000).Press(Button.Mark);
        Assert.AreEqual(1, rig.Panel.Drill.Count);
        Assert.AreEqual(0, rig.Panel.Drill.LastMs);
    }

    [TestMethod]
    public void AVagueHandLowersTheChanceOnTheCardAndInTheRunAlike()
    {
        int steady = ChanceAfter(0.05, out int steadyRun, out double steadyFits), vague = ChanceAfter(0.5, out int vagueRun, out double vagueFits);
        Assert.AreEqual(steady, steadyRun);
        Assert.AreEqual(vague, vagueRun);
        Assert.IsTrue(steady > vague + 6, $"{steady} and {vague} %");
        Assert.IsTrue(steadyFits > vagueFits + 0.5, $"{steadyFits:F1} s and {vagueFits:F1} s");
    }

    private static int ChanceAfter(double off, out int run, out double fits)
    {
        PanelRig rig = AtDrill();
        for (int i = 0; i < HandDrill.PressesNeeded; i++) Press(rig, i % 2 == 0 ? off : -off);
        rig.Press(Button.Back);
        rig.Settings.StepShutter(18);
        for (int i = 0; i < 8; i++) rig.Hold(Button.Mark, 2_600_000 + i % 3 * 300_000).Pass(7_000_000);
        rig.Hold(Button.Back, 700_000).Press(Button.Down, Button.Down, Button.Down).Pass(2_000_000);
        int card = rig.Bench.Link.Sea.Percent((int)FiringWay.AfterMark);
        fits = rig.Bench.Link.Sea.LongestSeconds;
        rig.Press(Button.Fire).Pass(1_000_000);
        run = rig.Bench.Link.Report.ChancePercent;
        return card;
    }

    [TestMethod]
    public void TheHandIsKeptInTheMemoryAndAnOlderRecordLeavesItAssumed()
    {
        var settings = new BoxSettings();
        settings.Waves.HandLagMs = -120;
        settings.Waves.HandSpreadMs = 430;
        var data = new byte[StoreMap.Capacity(RecordId.Settings)];
        var bytes = new Bytes(data, data.Length);
        SettingsRecord.Put(settings, bytes);
        var read = new BoxSettings();
        Assert.IsTrue(SettingsRecord.Take(read, new Bytes(data, bytes.At)));
        Assert.AreEqual(-120, read.Waves.HandLagMs);
        Assert.AreEqual(430, read.Waves.HandSpreadMs);
        var older = new BoxSettings();
        Assert.IsTrue(SettingsRecord.Take(older, new Bytes(data, bytes.At - 9)));
        Assert.AreEqual(100, older.Waves.HandLagMs);
        Assert.AreEqual(150, older.Waves.HandSpreadMs);
    }
}
