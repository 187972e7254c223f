using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>Every screen as a picture, and what the presses do.</summary>
[TestClass]
public class ScreenTests
{
    private static PanelRig WithTenStops()
    {
        var rig = new PanelRig();
        Switch(rig.Settings, 10);
        return rig;
    }

    private static void Switch(BoxSettings settings, int stops)
    {
        var kit = new FilterKit();
        var filter = new Filter("ND 10 ST", FilterKind.Nd) { On = true };
        filter.SetStrength(FilterScale.Stops, stops * 100);
        kit.Add(filter);
        settings.Kit = kit;
        settings.Solve();
    }

    [TestMethod]
    public void HomeShowsTheDialTimeWithoutGlass() => GoldenPictures.Check(new PanelRig(), "light-dial");

    [TestMethod]
    public void HomeShowsSixteenSecondsThroughTenStops() => GoldenPictures.Check(WithTenStops(), "light-16s");

    [TestMethod]
    public void HomeShowsSixtyFourSecondsThroughTwelveStops()
    {
        PanelRig rig = WithTenStops();
        var two = new Filter("ND 2 ST", FilterKind.Nd) { On = true };
        two.SetStrength(FilterScale.Stops, 200);
        rig.Settings.Kit.Add(two);
        rig.Settings.Solve();
        Assert.AreEqual(64.0, rig.Settings.Answer.Seconds);
        GoldenPictures.Check(rig, "light-64s");
    }

    [TestMethod]
    public void HomeShowsMinutesForAVeryLongExposure()
    {
        PanelRig rig = WithTenStops();
        rig.Settings.StepShutter(15);
        GoldenPictures.Check(rig, "light-minutes");
    }

    [TestMethod]
    public void HomeRefusesWhatIsOverTheLimit()
    {
        PanelRig rig = WithTenStops();
        rig.Settings.StepShutter(33);
        GoldenPictures.Check(rig, "light-too-long");
        rig.Press(Button.Fire);
        Assert.AreEqual("NOTICE", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "notice-too-long");
        Assert.AreEqual(0, rig.Bench.Lines.Count);
    }

    [TestMethod]
    public void TheMeteredTimeIsChangedLarge() => GoldenPictures.Check(new PanelRig().Press(Button.Select, Button.Up), "light-edit");

    [TestMethod]
    public void TheKitIsAList() => GoldenPictures.Check(new PanelRig().Press(Button.Down), "glass");

    [TestMethod]
    public void TheCursorTurnsARowBright() => GoldenPictures.Check(new PanelRig().Press(Button.Down, Button.Select, Button.Down, Button.Down, Button.Select), "glass-cursor");

    [TestMethod]
    public void AFilterShowsItsStrengthInStops()
    {
        PanelRig rig = new PanelRig().Press(Button.Down, Button.Select).Hold(Button.Select, 700_000);
        GoldenPictures.Check(rig, "filter");
        rig.Press(Button.Select, Button.Select, Button.Select, Button.Select);
        GoldenPictures.Check(rig, "filter-strength");
    }

    [TestMethod]
    public void ThePlanIsShownInWords()
    {
        var rig = new PanelRig();
        rig.Settings.Plan.Shape = PlanShape.Series;
        rig.Settings.Plan.Frames = 20;
        GoldenPictures.Check(rig.Press(Button.Down, Button.Down), "frames");
        GoldenPictures.Check(rig.Press(Button.Select), "frames-edit");
    }

    [TestMethod]
    public void TheWavesCardAsksForMarksFirst() => GoldenPictures.Check(new PanelRig().Press(Button.Down, Button.Down, Button.Down), "waves-empty");

    [TestMethod]
    public void TheWavesCardShowsTheRhythm()
    {
        var rig = new PanelRig();
        for (int i = 0; i < 5; i++) rig.Press(Button.Mark).Pass(9_880_000);
        rig.Press(Button.Mark).Pass(2_800_000).Press(Button.Down, Button.Down, Button.Down).Pass(200_000);
        GoldenPictures.Check(rig, "waves");
    }

    private static PanelRig TimedBackwashes()
    {
        var rig = new PanelRig();
        for (int i = 0; i < 6; i++)
        {
            rig.Press(Button.Mark).Pass(9_880_000);
            rig.Bench.Link.MarkReleased(3_200_000 + i % 3 * 400_000L);
        }
        return rig.Press(Button.Down, Button.Down, Button.Down);
    }

    [TestMethod]
    public void TheWavesCardSaysHowLongTheBackwashLastsAndWhatFits()
    {
        PanelRig rig = TimedBackwashes();
        rig.Settings.Waves.Way = FiringWay.AfterMark;
        // Four seconds of each eight.
        rig.Pass(1_000_000).Draw();
        while (rig.Bench.NowUs / 4_000_000 % 2 != 1) rig.Pass(100_000);
        GoldenPictures.Check(rig, "waves-length");
    }

    [TestMethod]
    public void FramesThatDoNotFitAreReportedAtOnceAndNotWithAnOldChance()
    {
        PanelRig rig = TimedBackwashes();
        rig.Settings.Waves.Way = FiringWay.AfterMark;
        rig.Pass(1_000_000).Draw();
        rig.Settings.Waves.FramesPerWave = 9;
        rig.Settings.Waves.GapMs = 1000;
        rig.Pass(1_000_000);
        GoldenPictures.Check(rig, "waves-too-long");
    }

    [TestMethod]
    public void ARunAfterTheMarkShowsItsChanceWhileItWaits()
    {
        PanelRig rig = TimedBackwashes();
        rig.Settings.Waves.Way = FiringWay.AfterMark;
        rig.Pass(1_000_000).Press(Button.Fire).Pass(1_000_000);
        GoldenPictures.Check(rig, "run-after-mark");
    }

    [TestMethod]
    public void TheCameraIsShown() => GoldenPictures.Check(new PanelRig().Press(Button.Up, Button.Up), "camera");

    [TestMethod]
    public void TheBoxIsShown() => GoldenPictures.Check(new PanelRig().Press(Button.Up), "box");

    [TestMethod]
    public void ARunCountsDownLarge()
    {
        PanelRig rig = WithTenStops();
        rig.Settings.StepShutter(6);
        rig.Press(Button.Fire).Pass(1_000_000);
        GoldenPictures.Check(rig, "run-settle");
        rig.Pass(20_000_000);
        GoldenPictures.Check(rig, "run-bulb");
        rig.Press(Button.Fire);
        Assert.IsFalse(rig.Bench.Lines.Shutter);
        GoldenPictures.Check(rig, "run-stopped");
    }

    /// <summary>No contact ends an exposure that the camera's own dial times.</summary>
    [TestMethod]
    public void AfterAStopACameraThatGoesOnIsReportedWithItsTime()
    {
        PanelRig rig = WithTenStops();
        rig.Press(Button.Fire).Pass(6_000_000);
        Assert.IsFalse(rig.Bench.Lines.Shutter, "the dial times it");
        rig.Press(Button.Fire).Pass(500_000);
        GoldenPictures.Check(rig, "run-stopped-dial");
        rig.Pass(RunScreen.RedrawUs);
        Assert.IsTrue(rig.Panel.NeedsDraw(rig.Bench.NowUs), "it counts down");
        rig.Pass(30_000_000).Draw();
        Assert.IsFalse(rig.Panel.NeedsDraw(rig.Bench.NowUs));
    }

    [TestMethod]
    public void ALateFrameAndALongOneAreReported()
    {
        PanelRig rig = WithTenStops();
        rig.Settings.AlwaysBulb = true;
        rig.Settings.Plan.Shape = PlanShape.Burst;
        rig.Settings.Plan.Frames = 2;
        rig.Press(Button.Fire).Pass(1_680_000);
        rig.Bench.StandStill(390_000);
        rig.Pass(60_000_000);
        GoldenPictures.Check(rig, "run-late");
        rig.Press(Button.Fire).Pass(1_000_000).Press(Button.Fire);
        long end = rig.Bench.NowUs + 2_000_000;
        while (!rig.Bench.Lines.Shutter) rig.Pass(10_000);
        rig.Pass(rig.Bench.Desk.NextEdgeUs - rig.Bench.NowUs - 50_000);
        rig.Bench.StandStill(350_000);
        rig.Pass(60_000_000);
        GoldenPictures.Check(rig, "run-long");
        Assert.IsTrue(rig.Bench.NowUs > end);
    }

    [TestMethod]
    public void ALongRunCountsMinutes()
    {
        PanelRig rig = WithTenStops();
        rig.Settings.StepShutter(15);
        rig.Press(Button.Fire).Pass(30_000_000);
        GoldenPictures.Check(rig, "run-minutes");
    }

    [TestMethod]
    public void ARunOnTheWavesShowsTheNextWave()
    {
        var rig = new PanelRig();
        rig.Settings.StepShutter(18);
        rig.Settings.Waves.Way = FiringWay.OnRhythm;
        for (int i = 0; i < 5; i++)
        {
            rig.Press(Button.Mark).Pass(9_880_000);
            rig.Bench.Desk.MarkReleased(3_300_000);
        }
        rig.Press(Button.Down, Button.Down, Button.Down, Button.Mark, Button.Fire).Pass(3_000_000);
        GoldenPictures.Check(rig, "run-waves");
        rig.Pass(100_000_000);
        GoldenPictures.Check(rig, "run-ask-mark");
    }

    [TestMethod]
    public void ARunThatWaitsForAMarkSaysSo()
    {
        var rig = new PanelRig();
        rig.Settings.Waves.Way = FiringWay.OnMark;
        rig.Press(Button.Down, Button.Down, Button.Down, Button.Fire).Pass(1_000_000);
        GoldenPictures.Check(rig, "run-await-mark");
    }

    [TestMethod]
    public void AFinishedRunSaysWhatWasTaken()
    {
        var rig = new PanelRig();
        rig.Press(Button.Fire).Pass(4_000_000);
        GoldenPictures.Check(rig, "run-done");
        rig.Press(Button.Back);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
    }

    [TestMethod]
    public void ALowBatteryIsReportedOnceAndMarkedAtHome()
    {
        PanelRig rig = WithTenStops();
        rig.Panel.Health.Battery.Take(3580);
        rig.Pass(20_000);
        GoldenPictures.Check(rig, "notice-battery-low");
        rig.Press(Button.Select);
        Assert.AreEqual(0, rig.Panel.Field, "the press closes the message and does its work as well");
        rig.Press(Button.Back);
        GoldenPictures.Check(rig, "light-battery-low");
        rig.Press(Button.Up);
        GoldenPictures.Check(rig, "box-battery-low");
        rig.Panel.Health.Battery.Take(3920);
        rig.Pass(20_000);
        GoldenPictures.Check(rig, "box-battery-good");
    }

    [TestMethod]
    public void AnEmptyBatteryRefusesARunInWords()
    {
        PanelRig rig = WithTenStops();
        rig.Panel.Health.Battery.Take(3420);
        rig.Press(Button.Fire);
        Assert.AreEqual("NOTICE", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "notice-battery-empty");
        rig.Press(Button.Fire);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName, "the press closes the message and does nothing else");
        GoldenPictures.Check(rig, "light-battery-empty");
        rig.Panel.Health.Battery.Take(3620);
        rig.Pass(100_000);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName, "a cell that is low after it was empty is not told as bad news");
        Assert.AreEqual(0, rig.Bench.Lines.Count);
    }

    [TestMethod]
    public void TheEndOfARunTellsThatTheBatteryEndedIt()
    {
        PanelRig rig = WithTenStops();
        rig.Panel.Health.MemoryFitted = true;
        rig.Settings.Plan.Shape = PlanShape.Series;
        rig.Settings.Plan.Frames = 5;
        rig.Settings.Plan.IntervalUs = 20_000_000;
        rig.Settings.AlwaysBulb = true;
        rig.Press(Button.Fire).Pass(10_000_000);
        rig.Panel.Health.Battery.Take(3420);
        rig.Bench.Desk.EndBetweenFrames();
        rig.Pass(20_000_000);
        GoldenPictures.Check(rig, "run-battery-empty");
        rig.Press(Button.Back);
        rig.Pass(100_000);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName, "the box says it once only");
    }

    [TestMethod]
    [DataRow(Button.Up, "AGAIN", -1)]
    [DataRow(Button.Down, "AGAIN", -1)]
    [DataRow(Button.Select, "AGAIN", -1)]
    [DataRow(Button.Back, "LIGHT", -1)]
    [DataRow(Button.Mark, "LIGHT", -1)]
    [DataRow(Button.Fire, "LIGHT", -1)]
    public void OnTheEndOfARunAPressGoesOnButFireStartsNothing(Button button, string screen, int field)
    {
        foreach (bool stopped in new[] { false, true })
        {
            PanelRig rig = new PanelRig().Press(Button.Fire);
            if (stopped) rig.Press(Button.Fire);
            rig.Pass(4_000_000);
            Assert.AreEqual("RUN", rig.Panel.ScreenName);
            int edges = rig.Bench.Lines.Count;
            rig.Press(button).Pass(5_000_000);
            Assert.AreEqual(screen, rig.Panel.ScreenName);
            Assert.AreEqual(field, rig.Panel.Field);
            Assert.AreEqual(edges, rig.Bench.Lines.Count, "no contact moves");
            rig.Press(Button.Fire);
            Assert.AreEqual("RUN", rig.Panel.ScreenName, "the next press of Fire starts a run");
        }
    }

    [TestMethod]
    public void SelectHeldGoesFromTheLightToTheFilters()
    {
        PanelRig rig = new PanelRig().Hold(Button.Select, 700_000);
        Assert.AreEqual("GLASS", rig.Panel.ScreenName);
        rig.Press(Button.Select);
        Assert.IsTrue(rig.Settings.Kit[0].On, "the cursor stands there");
    }

    [TestMethod]
    public void ABracketOverTheLimitIsRefusedInWords()
    {
        PanelRig rig = WithTenStops();
        rig.Settings.StepShutter(18);
        rig.Settings.Plan.Shape = PlanShape.Bracket;
        rig.Settings.Plan.Frames = 3;
        rig.Settings.Plan.BracketThirds = 3;
        rig.Settings.LimitSeconds = 2048;
        rig.Settings.Solve();
        Assert.AreEqual(1024.0, rig.Settings.Answer.Seconds);
        rig.Press(Button.Fire).Pass(100_000);
        Assert.AreEqual("RUN", rig.Panel.ScreenName, "the longest frame is just allowed");
        // Another press so soon after the stop would be the same stop.
        rig.Press(Button.Fire).Pass(300_000).Press(Button.Fire);
        rig.Settings.LimitSeconds = 2047;
        rig.Settings.Solve();
        int edges = rig.Bench.Lines.Count;
        rig.Press(Button.Fire).Pass(5_000_000);
        Assert.AreEqual("NOTICE", rig.Panel.ScreenName);
        Assert.AreEqual(edges, rig.Bench.Lines.Count);
        GoldenPictures.Check(rig, "notice-bracket-too-long");
        GoldenPictures.Check(rig.Press(Button.Back, Button.Down, Button.Down), "frames-bracket-too-long");
    }

    [TestMethod]
    public void AnOldRhythmAsksForMarks()
    {
        var rig = new PanelRig();
        for (int i = 0; i < 5; i++) rig.Press(Button.Mark).Pass(9_880_000);
        rig.Press(Button.Down, Button.Down, Button.Down).Pass(400_000_000);
        GoldenPictures.Check(rig, "waves-old");
    }

    [TestMethod]
    public void TheWayCalledBetterIsTakenByHoldingSelect()
    {
        var rig = new PanelRig();
        rig.Settings.StepShutter(18);
        rig.Settings.Waves.Way = FiringWay.OnRhythm;
        rig.Press(Button.Down, Button.Down, Button.Down).Hold(Button.Select, 700_000);
        Assert.AreEqual(FiringWay.OnRhythm, rig.Settings.Waves.Way, "no other way is called better yet");
        for (int i = 0; i < 5; i++) rig.Hold(Button.Mark, 3_300_000).Pass(6_580_000);
        rig.Pass(3_000_000);
        // The first two seconds of eight: then comes what to press, then how long the backwash lasts.
        while (rig.Bench.NowUs / 2_000_000 % 4 != 0) rig.Pass(20_000);
        GoldenPictures.Check(rig, "waves-better");
        rig.Hold(Button.Select, 700_000);
        Assert.AreEqual(FiringWay.AfterMark, rig.Settings.Waves.Way);
        Assert.AreEqual(-1, rig.Panel.Field, "no field is opened");
    }

    [TestMethod]
    public void TheDawnIsSwitchedBesideTheLight() => GoldenPictures.Check(new PanelRig().At("2031-03-14T06:10:00Z").Press(Button.Select, Button.Select, Button.Up), "light-dawn-field");
}
