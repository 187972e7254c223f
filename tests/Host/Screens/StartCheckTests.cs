using Intervalometer.Core.Release;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The start check as pictures, and what a press does to it.</summary>
[TestClass]
public class StartCheckTests
{
    private static PanelRig Well(int millivolts = 4050)
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        rig.Panel.Health.MemoryFitted = true;
        if (millivolts > 0) rig.Panel.Health.Battery.Take(millivolts);
        return rig;
    }

    private static PanelRig Begun(PanelRig rig, bool woken = false)
    {
        rig.Panel.Check.Begin(rig.Bench.NowUs, woken);
        return rig.Pass(100_000);
    }

    [TestMethod]
    public void AllInOrderIsShortAndGoesByItself()
    {
        PanelRig rig = Begun(Well());
        Assert.AreEqual("START CHECK", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "check-all-in-order");
        rig.Pass(StartCheck.ShowUs - 300_000);
        Assert.IsTrue(rig.Panel.Check.Shown);
        rig.Pass(300_000);
        Assert.IsTrue(rig.Panel.NeedsDraw(rig.Bench.NowUs));
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
    }

    [TestMethod]
    public void WithoutAGaugeItSaysSoAndGoesByItself()
    {
        PanelRig rig = Begun(Well(0));
        GoldenPictures.Check(rig, "check-no-battery-reading");
        rig.Pass(StartCheck.ShowUs);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
        Assert.IsFalse(rig.Panel.Health.Any);
    }

    [TestMethod]
    [DataRow(LimiterTrouble.StaysOn, "check-limiter-stays-on")]
    [DataRow(LimiterTrouble.StaysOff, "check-limiter-stays-off")]
    [DataRow(LimiterTrouble.HalfPressStuck, "check-half-press-stuck")]
    [DataRow(LimiterTrouble.ShutterStuck, "check-shutter-stuck")]
    [DataRow(LimiterTrouble.HalfPressDead, "check-half-press-dead")]
    [DataRow(LimiterTrouble.ShutterDead, "check-shutter-dead")]
    public void AFailedLimiterIsReportedAndStays(LimiterTrouble trouble, string picture)
    {
        PanelRig rig = Well();
        rig.Panel.Health.Limiter = trouble;
        Begun(rig);
        GoldenPictures.Check(rig, picture);
        rig.Pass(60_000_000);
        Assert.AreEqual("START CHECK", rig.Panel.ScreenName);
    }

    [TestMethod]
    [DataRow(LimiterTrouble.StaysOn, "notice-limiter-stays-on")]
    [DataRow(LimiterTrouble.StaysOff, "notice-limiter-stays-off")]
    [DataRow(LimiterTrouble.HalfPressStuck, "notice-half-press-stuck")]
    [DataRow(LimiterTrouble.ShutterStuck, "notice-shutter-stuck")]
    [DataRow(LimiterTrouble.HalfPressDead, "notice-half-press-dead")]
    [DataRow(LimiterTrouble.ShutterDead, "notice-shutter-dead")]
    public void AFailedLimiterIsReportedOverTheCardAndRefusesFire(LimiterTrouble trouble, string picture)
    {
        PanelRig rig = Well();
        rig.Bench.Link.NoteLimiter(trouble, rig.Bench.NowUs);
        rig.Pass(100_000);
        Assert.AreEqual("NOTICE", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, picture);
        rig.Press(Button.Back, Button.Fire);
        Assert.AreEqual("NOTICE", rig.Panel.ScreenName, "Fire is refused with the same words");
        Assert.AreEqual(0, rig.Bench.Link.Desk.Runs);
    }

    [TestMethod]
    public void AStoppedClockAsksForTheTimeUntilAButtonIsPressed()
    {
        PanelRig rig = Well();
        rig.Shore.Clock.Fail(Settings.Shore.ClockTrust.Stopped);
        Begun(rig);
        GoldenPictures.Check(rig, "check-clock-stopped");
        rig.Pass(60_000_000);
        Assert.AreEqual("START CHECK", rig.Panel.ScreenName);
        // What it says leads there, its first press included.
        rig.Press(Button.Back, Button.Up);
        Assert.AreEqual("PLACE", rig.Panel.ScreenName);
    }

    [TestMethod]
    public void AnAbsentClockAsksForTheTimeToo()
    {
        PanelRig rig = Well();
        rig.Shore.Clock.Fail(Settings.Shore.ClockTrust.NoAnswer);
        GoldenPictures.Check(Begun(rig), "check-clock-absent");
    }

    [TestMethod]
    public void ASilentMemoryIsReported()
    {
        PanelRig rig = Well();
        rig.Panel.Health.Memory = MemoryTrouble.Silent;
        GoldenPictures.Check(Begun(rig), "check-memory-silent");
    }

    [TestMethod]
    public void ACutOffSaveIsReported()
    {
        PanelRig rig = Well();
        rig.Panel.Health.Memory = MemoryTrouble.CutOff;
        GoldenPictures.Check(Begun(rig), "check-save-cut-off");
    }

    [TestMethod]
    public void AMemoryThatWearsOutIsReported()
    {
        PanelRig rig = Well();
        rig.Panel.Health.Memory = MemoryTrouble.Worn;
        GoldenPictures.Check(Begun(rig), "check-memory-worn");
    }

    [TestMethod]
    public void AStuckButtonIsNamedAndForgottenWhenItComesUp()
    {
        PanelRig rig = Well();
        rig.Panel.Health.StuckButton = (int)Button.Fire;
        GoldenPictures.Check(Begun(rig), "check-fire-down");
        rig.Pass(10_000_000);
        Assert.IsTrue(rig.Panel.Check.Shown);
        rig.Panel.Health.StuckButton = -1;
        rig.Pass(StartCheck.ShowUs - 200_000);
        Assert.IsTrue(rig.Panel.Check.Shown, "all in order is shown for its time");
        rig.Pass(400_000);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
    }

    [TestMethod]
    public void ALowAndAnEmptyBatteryAreReported()
    {
        GoldenPictures.Check(Begun(Well(3580)), "check-battery-low");
        GoldenPictures.Check(Begun(Well(3420)), "check-battery-empty");
    }

    [TestMethod]
    public void SeveralTroublesAreShownOneAfterTheOther()
    {
        PanelRig rig = Well(3580);
        rig.Shore.Clock.Fail(Settings.Shore.ClockTrust.NoAnswer);
        rig.Panel.Health.Memory = MemoryTrouble.Silent;
        Begun(rig);
        var pictures = new HashSet<string>();
        for (int i = 0; i < 6; i++)
        {
            bool due = rig.Panel.NeedsDraw(rig.Bench.NowUs);
            Assert.IsTrue(due, $"message {i}");
            pictures.Add(rig.Ascii());
            rig.Pass(4_000_000);
        }
        Assert.AreEqual(3, pictures.Count);
    }

    [TestMethod]
    [DataRow(MemoryTrouble.None)]
    [DataRow(MemoryTrouble.Silent)]
    public void APressEndsItAndStillDoesItsWork(MemoryTrouble memory)
    {
        foreach (Button button in Enum.GetValues<Button>())
        {
            PanelRig rig = Well(), plain = Well();
            rig.Panel.Health.Memory = plain.Panel.Health.Memory = memory;
            Begun(rig);
            plain.Pass(100_000);
            rig.Press(button);
            plain.Press(button);
            Assert.IsFalse(rig.Panel.Check.Shown);
            Assert.AreEqual(plain.Panel.ScreenName, rig.Panel.ScreenName, button.ToString());
            Assert.AreEqual(plain.Panel.Field, rig.Panel.Field, button.ToString());
            Assert.AreEqual(plain.Bench.Desk.State, rig.Bench.Desk.State, button.ToString());
            Assert.AreEqual(plain.Bench.Desk.Waves.Rhythm.MarkCount, rig.Bench.Desk.Waves.Rhythm.MarkCount);
        }
    }

    [TestMethod]
    public void AfterADeepSleepItIsLeftOutWhenAllIsWellAndShownWhenNot()
    {
        PanelRig rig = Well();
        // The press that woke the box may still be on.
        rig.Panel.Health.StuckButton = (int)Button.Mark;
        Begun(rig, woken: true);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
        rig = Well(3420);
        Assert.AreEqual("START CHECK", Begun(rig, woken: true).Panel.ScreenName);
    }

    [TestMethod]
    public void EveryLineOfEveryTroubleFitsTheGlass()
    {
        foreach (Settings.Shore.ClockTrust trust in Enum.GetValues<Settings.Shore.ClockTrust>())
        {
            PanelRig rig = Begun(Well());
            if (trust > Settings.Shore.ClockTrust.ByHand) rig.Shore.Clock.Fail(trust);
            BoxHealth health = rig.Panel.Health;
            foreach (MemoryTrouble memory in Enum.GetValues<MemoryTrouble>())
                foreach (int millivolts in new[] { 0, 3420, 3580, 5000 })
                    for (int button = -1; button < 6; button++)
                        for (int place = 0; place < 4; place++)
                        {
                            health.Memory = memory;
                            health.StuckButton = button;
                            health.Battery.Take(millivolts);
                            var frame = new Frame();
                            rig.Panel.Check.Draw(frame, place * 4_000_000L);
                            Assert.AreEqual(0, frame.ClippedPixels, $"{memory}, {millivolts} mV, {trust}, button {button}, message {place}");
                            Assert.AreEqual(0, frame.CoveredPixels, $"{memory}, {millivolts} mV, {trust}, button {button}, message {place}");
                            Assert.AreEqual(0, frame.MissingGlyphs);
                        }
        }
    }

    /// <summary>The check has told of the low battery. When USB power is put on it goes by itself, and no second message stands behind it.</summary>
    [TestMethod]
    public void ALowBatteryIsReportedOnce()
    {
        PanelRig rig = Begun(Well(3550));
        Assert.AreEqual("START CHECK", rig.Panel.ScreenName);
        rig.Pass(6_000_000);
        Assert.AreEqual("START CHECK", rig.Panel.ScreenName);
        rig.Panel.Health.Battery.Take(4150);
        Assert.IsFalse(rig.Panel.Health.Battery.Troubles);
        rig.Pass(StartCheck.ShowUs + 200_000);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
    }
}
