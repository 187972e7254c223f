using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.Host.Faults;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Battery;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The bench check behind the BOX card: what a newly built box measures of itself.</summary>
[TestClass]
public class BenchCardTests
{
    // From home: Up to BOX, Select held.
    private static PanelRig Open()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        rig.Panel.Health.Battery.Take(3840);
        rig.Panel.Health.MemoryFitted = true;
        rig.Press(Button.Up);
        Assert.AreEqual("BOX", rig.Panel.ScreenName);
        rig.Hold(Button.Select, 1_000_000);
        Assert.AreEqual("BENCH", rig.Panel.ScreenName);
        return rig;
    }

    [TestMethod]
    public void EveryDotLightsFirst()
    {
        PanelRig rig = Open();
        GoldenPictures.Check(rig, "bench-dots");
        rig.Pass(BenchCard.DotsUs + 600_000);
        GoldenPictures.Check(rig, "bench-begun");
    }

    [TestMethod]
    public void EachButtonIsCountedAndFireStartsNothing()
    {
        PanelRig rig = Open();
        rig.Pass(BenchCard.DotsUs);
        rig.Bench.Link.LetGoUs = 1_480_000;
        rig.Press(Button.Fire, Button.Up, Button.Down, Button.Mark);
        Assert.AreEqual("BENCH", rig.Panel.ScreenName);
        rig.Press(Button.Back);
        Assert.AreEqual("BENCH", rig.Panel.ScreenName, "the first press of Back is counted");
        rig.Pass(600_000);
        GoldenPictures.Check(rig, "bench-all-well");
        Assert.AreEqual(0, rig.Bench.Desk.Runs);
        Assert.AreEqual(RunState.Ready, rig.Bench.Link.State);
        rig.Press(Button.Back);
        Assert.AreEqual("BOX", rig.Panel.ScreenName, "the second press leaves the card");
        rig.Press(Button.Fire);
        rig.Pass(200_000);
        Assert.AreEqual(1, rig.Bench.Desk.Runs, "Fire starts again what the card says");
    }

    [TestMethod]
    [DataRow(LimiterTrouble.StaysOn, "bench-never-lets-go")]
    [DataRow(LimiterTrouble.StaysOff, "bench-does-not-come-up")]
    [DataRow(LimiterTrouble.ShutterStuck, "bench-line-failed")]
    public void WhatFailedIsReported(LimiterTrouble trouble, string picture)
    {
        PanelRig rig = Open();
        rig.Pass(BenchCard.DotsUs + 600_000);
        rig.Panel.Health.Limiter = trouble;
        rig.Panel.Health.MemoryFitted = false;
        rig.Panel.Health.Battery.Take(-1);
        rig.Pass(600_000);
        GoldenPictures.Check(rig, picture);
    }

    /// <summary>A chip whose reference is 1050 mV reads 3.84 V as 4.01 V; Down until the card shows what the meter does, and it is kept.</summary>
    [TestMethod]
    public void TheBatteryIsSetByAMeter()
    {
        using var rig = new FaultRig(new BoardOptions { Battery = new BatteryOptions { Millivolts = 4009 } });
        rig.To(4);
        rig.Tap(Button.Up);
        rig.Pass(0.5);
        rig.Board.Press(Button.Select, rig.Board.Time.NowUs + 1, 1_000_000);
        rig.Pass(4);
        rig.Tap(Button.Select);
        rig.Pass(0.5);
        Assert.AreEqual("BENCH", rig.Board.Box!.Panel!.ScreenName);
        int presses = 0;
        for (; presses < 80 && rig.Health.Battery.Volts != "3.84 V"; presses++)
        {
            rig.Tap(Button.Down);
            rig.Pass(0.3);
        }

        // (3840 - 284) / (4009 - 284) of 1100 is 1050.1 (esp-idf, ADC calibration: the scale is the reference).
        Assert.AreEqual(1050, rig.Board.Box.Settings.GaugeReference, 2);
        Assert.IsLessThan(60, presses);
        rig.Tap(Button.Back);
        rig.Pass(70);
        rig.Board.PowerOff();
        rig.Board.PowerOn();
        rig.Pass(3);
        Assert.AreEqual("3.84 V", rig.Health.Battery.Volts, "kept in the memory");
    }

    [TestMethod]
    public void ARecordOfOlderFirmwareLeavesTheScaleByDesign()
    {
        var settings = new BoxSettings { GaugeReference = 1050 };
        byte[] data = new byte[80];
        var bytes = new Bytes(data, data.Length);
        SettingsRecord.Put(settings, bytes);
        var read = new BoxSettings();
        // Behind the scale stand the hand's lag and spread, two bytes each, two bytes for the light of the display and three for the light sensor.
        Assert.IsTrue(SettingsRecord.Take(read, new Bytes(data, bytes.At - 10)));
        Assert.AreEqual(BoxSettings.DesignGaugeReference, read.GaugeReference);
        Assert.IsTrue(SettingsRecord.Take(read, new Bytes(data, bytes.At)));
        Assert.AreEqual(1050, read.GaugeReference);
    }

    [TestMethod]
    public void TheLimitersTimeIsMeasuredOnTheBox()
    {
        using var rig = new FaultRig(new BoardOptions { LimiterHoldUs = 2_300_000 });
        rig.To(5);
        Assert.AreEqual(2.3, rig.Board.Box!.Link!.LetGoUs / 1e6, 0.15);
    }
}
