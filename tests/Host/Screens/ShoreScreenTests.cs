using Intervalometer.Coast.Time;
using Intervalometer.Screens;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The shore side as pictures, at an invented place and hour.</summary>
[TestClass]
public class ShoreScreenTests
{
    private const string Morning = "2031-03-14T05:30:00Z";

    private static PanelRig Shore(params Button[] then) => new PanelRig().At(Morning).Press(Button.Back).Press(then).Pass(1_000_000);

    // 256 s on bulb.
    private static void LongBulb(BoxSettings settings)
    {
        settings.Kit[0].SetStrength(Core.Exposure.FilterScale.Stops, 1400);
        settings.Kit[0].On = true;
        settings.Solve();
    }

    [TestMethod]
    public void TheTideOfTheDay() => GoldenPictures.Check(Shore(), "tide");

    [TestMethod]
    public void TheWayBack() => GoldenPictures.Check(Shore(Button.Down), "path");

    [TestMethod]
    public void TheSunOfTheDay() => GoldenPictures.Check(Shore(Button.Down, Button.Down), "sun");

    [TestMethod]
    public void TheMorningsAreSearchedWithoutWaiting()
    {
        PanelRig rig = new PanelRig().At(Morning).Press(Button.Back, Button.Up, Button.Up);
        rig.Draw();
        rig.Pass(60_000);
        GoldenPictures.Check(rig, "mornings-searching");
        rig.Pass(30_000_000);
        GoldenPictures.Check(rig, "mornings");
        GoldenPictures.Check(rig.Press(Button.Select, Button.Down), "mornings-next");
    }

    /// <summary>At 70 degrees north the sun does not set in June, so widening the wish would find nothing.</summary>
    [TestMethod]
    public void MorningsWithoutASunriseAreReportedToHaveNone()
    {
        PanelRig rig = new PanelRig().At("2031-06-01T10:00:00Z");
        rig.Shore.Settings.SetPosition(7000, -150);
        rig.Press(Button.Back, Button.Up, Button.Up);
        rig.Draw();
        rig.Pass(30_000_000);
        GoldenPictures.Check(rig, "mornings-no-sunrise");
    }

    [TestMethod]
    public void ThePlace() => GoldenPictures.Check(Shore(Button.Up), "place");

    /// <summary>The widest date there is leaves room for the offset.</summary>
    [TestMethod]
    public void ALongDateKeepsClearOfTheOffset()
    {
        PanelRig rig = new PanelRig().At("2032-02-29T20:44:00Z");
        rig.Shore.Settings.SetOffset(new LocalOffset(-150));
        GoldenPictures.Check(rig.Pass(1_000_000).Press(Button.Back, Button.Up), "place-long-date");
        for (int day = 0; day < 366; day++)
        {
            rig = new PanelRig().At($"{new DateTime(2032, 1, 1, 20, 44, 0).AddDays(day):yyyy-MM-ddTHH:mm:ss}Z");
            Frame frame = rig.Press(Button.Back, Button.Up).Draw();
            Assert.IsTrue(HasGap(frame), $"day {day}");
        }

        // Of two texts in one line the widest gap of dark columns is the one between them: at least four columns.
        static bool HasGap(Frame frame)
        {
            int dark = 0, widest = 0;
            bool begun = false;
            for (int x = 0; x < Frame.Width; x++)
            {
                bool lit = false;
                for (int y = 46; y < 54; y++) lit |= frame.Pixel(x, y);
                if (lit && begun && dark > widest) widest = dark;
                begun |= lit;
                dark = lit ? 0 : dark + 1;
            }
            return widest >= 4;
        }
    }

    [TestMethod]
    public void TroubleIsSeenBesideALongHeading()
    {
        PanelRig rig = new PanelRig().At(Morning);
        rig.Panel.Health.Battery.Take(3580);
        rig.Pass(1_000_000).Press(Button.Back, Button.Down);
        GoldenPictures.Check(rig, "path-battery-low");
    }

    [TestMethod]
    public void TheTimeLeftIsLarge()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T07:40:00Z").Press(Button.Back, Button.Down);
        GoldenPictures.Check(rig, "path-open");
        GoldenPictures.Check(rig.Press(Button.Select), "path-alarm-field");
        rig = new PanelRig().At("2031-03-19T10:30:00Z").Press(Button.Back, Button.Down);
        GoldenPictures.Check(rig, "path-minutes");
        rig = new PanelRig().At("2031-03-19T11:02:00Z").Press(Button.Back, Button.Down);
        GoldenPictures.Check(rig, "path-past");
    }

    [TestMethod]
    [DataRow(0, "tide-no-time")]
    [DataRow(1, "path-no-time")]
    [DataRow(2, "sun-no-time")]
    public void NothingIsAnsweredUntilTheClockIsSet(int down, string name)
    {
        PanelRig rig = new PanelRig().At(Morning);
        rig.Shore.Clock.Fail(Settings.Shore.ClockTrust.Stopped);
        rig.Pass(1_000_000).Press(Button.Back);
        for (int i = 0; i < down; i++) rig.Press(Button.Down);
        GoldenPictures.Check(rig, name);
    }

    [TestMethod]
    public void WithoutAPlaceTheTideIsNotKnown()
    {
        var rig = new PanelRig();
        rig.Shore.Clock.Read(new Coast.Time.CivilTime(2031, 3, 14, 5, 30, 0).AsUtc(), 0);
        rig.Pass(2_000_000).Press(Button.Back);
        GoldenPictures.Check(rig, "tide-unknown");
        GoldenPictures.Check(rig.Press(Button.Down), "path-no-points");
    }

    [TestMethod]
    public void APolarDayIsReportedInWords()
    {
        PanelRig rig = new PanelRig().At("2031-06-20T05:30:00Z");
        rig.Shore.Settings.SetPosition(7800, 1500);
        rig.Pass(2_000_000).Press(Button.Back, Button.Down, Button.Down);
        GoldenPictures.Check(rig, "sun-polar");
    }

    [TestMethod]
    public void TheAlarmComesOverACard()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T10:40:00Z").Press(Button.Down);
        rig.Shore.SetAlarm(true);
        rig.Pass(4_000_000);
        Assert.AreEqual("ALARM", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "alarm");
        rig.Press(Button.Fire);
        Assert.AreEqual("GLASS", rig.Panel.ScreenName);
        Assert.AreEqual(0, rig.Bench.Lines.Count, "the press that silences does nothing else");
        rig.Pass(1_300_000_000);
        Assert.AreEqual("ALARM", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "alarm-leave-now");
    }

    [TestMethod]
    public void TheAlarmIsABandOverARunAndSpoilsNothing()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T10:28:00Z");
        LongBulb(rig.Settings);
        rig.Shore.SetAlarm(true);
        rig.Press(Button.Fire).Pass(200_000_000);
        Assert.AreEqual("RUN", rig.Panel.ScreenName);
        Assert.IsTrue(rig.Shore.AlarmUp);
        Assert.IsTrue(rig.Bench.Lines.Shutter);
        GoldenPictures.Check(rig, "run-alarm");
        rig.Press(Button.Mark);
        Assert.IsFalse(rig.Shore.AlarmUp);
        Assert.IsTrue(rig.Bench.Lines.Shutter, "silencing the alarm does not touch the frame");
        rig.Press(Button.Fire);
        Assert.IsFalse(rig.Bench.Lines.Shutter, "Fire stops");
    }

    [TestMethod]
    public void NothingIsAllocatedWhileTheAlarmStandsOverARun()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T10:28:00Z");
        LongBulb(rig.Settings);
        rig.Shore.SetAlarm(true);
        rig.Press(Button.Fire).Pass(120_000_000);
        Assert.IsTrue(rig.Shore.AlarmUp);
        var frame = new Frame();
        rig.Panel.Draw(frame, rig.Bench.NowUs);
        UtcInstant workedOut = rig.Shore.Way.WorkedOutAt;
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1300; i++)
        {
            rig.Pass(100_000);
            rig.Panel.Draw(frame, rig.Bench.NowUs);
        }
        Assert.AreEqual(0L, GC.GetAllocatedBytesForCurrentThread() - before, "bytes allocated");
        Assert.IsTrue(rig.Bench.Desk.Running);
        rig.Pass(200_000_000);
        Assert.IsTrue(rig.Shore.Way.WorkedOutAt > workedOut, "the way back is worked out again");
    }

    [TestMethod]
    public void FireStopsUnderTheAlarmAndLeavesItUp()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T10:28:00Z");
        LongBulb(rig.Settings);
        rig.Shore.SetAlarm(true);
        rig.Press(Button.Fire).Pass(200_000_000).Press(Button.Fire);
        Assert.IsFalse(rig.Bench.Lines.Shutter);
        Assert.IsTrue(rig.Shore.AlarmUp);
    }

    [TestMethod]
    public void TheReminderToWipeWaitsForTheFrame()
    {
        PanelRig rig = new PanelRig().At(Morning);
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(18 + 21);
        rig.Press(Button.Fire);
        for (int s = 0; s < 125; s++) Assert.IsFalse(rig.Pass(1_000_000).Shore.WipeDue && rig.Bench.Lines.Shutter, "at " + s + " s");
        while (rig.Bench.Lines.Shutter) rig.Pass(100_000);
        rig.Pass(2_000_000);
        Assert.IsTrue(rig.Shore.WipeDue);
        rig.Draw();
        rig.Press(Button.Back);
        Assert.IsFalse(rig.Shore.WipeDue);
        rig.Pass(121_000_000);
        GoldenPictures.Check(rig, "light-wipe");
        rig.Pass(31_000_000);
        Assert.IsFalse(rig.Shore.WipeDue, "nobody pressed a button, so it waits another two minutes");
    }

    [TestMethod]
    public void ABulbAtDawnIsCorrectedForTheLight()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T06:10:00Z");
        Core.Exposure.Filter ten = rig.Settings.Kit[0];
        ten.SetStrength(Core.Exposure.FilterScale.Stops, 1200);
        ten.On = true;
        rig.Settings.Solve();
        double metered = rig.Settings.Answer.Seconds;
        Assert.AreEqual(64.0, metered);
        Assert.IsFalse(rig.Pass(3_000_000).Shore.Dawn.Applies, "switched off, it corrects nothing");
        rig.Press(Button.Back, Button.Down, Button.Down, Button.Select, Button.Up, Button.Back, Button.Back).Pass(3_000_000);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
        rig.Press(Button.Select, Button.Up, Button.Down, Button.Back).Pass(3_000_000);
        GoldenPictures.Check(rig, "light-dawn");
        var dawn = new Coast.Sky.DawnExposure(rig.Shore.Place.Position);
        dawn.Read(rig.Shore.Now.PlusSeconds(-3), metered);
        double expected = dawn.FrameAt(rig.Shore.Now.PlusSeconds(2)).Seconds;
        Assert.AreEqual(expected, rig.Shore.Dawn.Seconds, 0.3);
        Assert.IsTrue(expected < metered - 5, $"{expected} s");
        double given = rig.Shore.Dawn.Seconds;
        rig.Press(Button.Fire).Pass(70_000_000);
        double open = (rig.Bench.Lines.ShutterEdgeUs(1) - rig.Bench.Lines.ShutterEdgeUs(0)) / 1e6;
        Assert.AreEqual(given, open, 0.3);
        // A dial time is the camera's: it stays as it is.
        ten.On = false;
        rig.Settings.Solve();
        rig.Pass(3_000_000);
        Assert.IsFalse(rig.Shore.Dawn.Applies);
    }

    [TestMethod]
    public void ASeriesAtDawnSaysWhatTheNextFrameWouldNeed()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T06:10:00Z");
        Core.Exposure.Filter ten = rig.Settings.Kit[0];
        ten.SetStrength(Core.Exposure.FilterScale.Stops, 1200);
        ten.On = true;
        rig.Settings.Solve();
        rig.Settings.Plan.Shape = Core.Release.PlanShape.Series;
        rig.Settings.Plan.IntervalUs = 90_000_000;
        rig.Press(Button.Back, Button.Down, Button.Down, Button.Select, Button.Up, Button.Back, Button.Back).Pass(3_000_000);
        rig.Press(Button.Select, Button.Up, Button.Down, Button.Back).Pass(3_000_000);
        rig.Press(Button.Down, Button.Down).Pass(3_000_000);
        Assert.AreEqual("FRAMES", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "frames-dawn");
        var dawn = new Coast.Sky.DawnExposure(rig.Shore.Place.Position);
        dawn.Read(rig.Shore.Now.PlusSeconds(-6), 64.0);
        double expected = dawn.FrameAt(rig.Shore.Now.PlusSeconds(92)).Seconds;
        Assert.AreEqual(expected, rig.Shore.Dawn.NextSeconds, 0.5);
        Assert.IsTrue(rig.Shore.Dawn.NextSeconds < rig.Shore.Dawn.Seconds - 5, "a minute and a half of dawn is a good deal of light");
        rig.Settings.Plan.Shape = Core.Release.PlanShape.Single;
        Assert.AreEqual(0.0, rig.Pass(5_000_000).Shore.Dawn.NextSeconds);
    }

    [TestMethod]
    public void ATableIsTypedInWithTheButtons()
    {
        var rig = new PanelRig();
        rig.Shore.Clock.Read(new Coast.Time.CivilTime(2031, 3, 14, 5, 30, 0).AsUtc(), 0);
        rig.Pass(1_000_000).Press(Button.Back, Button.Select, Button.Select, Button.Up, Button.Up, Button.Up, Button.Up, Button.Up, Button.Up, Button.Up, Button.Up);
        GoldenPictures.Check(rig, "tide-turns");
        rig.Press(Button.Select, Button.Select);
        GoldenPictures.Check(rig, "tide-turn-time");
        rig.Press(Button.Select, Button.Up, Button.Up);
        GoldenPictures.Check(rig, "tide-turn-height");
        rig.Press(Button.Back).Pass(3_000_000);
        GoldenPictures.Check(rig, "tide-typed");
        Settings.Shore.TypedTable table = rig.Shore.Settings.Table;
        table.Confirm();
        table.Set(1, table.Printed(1), 900);
        rig.Shore.Settings.Touch();
        rig.Press(Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select).Pass(500_000);
        GoldenPictures.Check(rig, "tide-turn-fault");
    }

    [TestMethod]
    public void TheReminderToWipeStandsBetweenTheFramesOfASeries()
    {
        PanelRig rig = new PanelRig().At(Morning);
        rig.Settings.Plan.Shape = Core.Release.PlanShape.Series;
        rig.Settings.Plan.Frames = 60;
        rig.Press(Button.Fire);
        while (!rig.Shore.WipeDue && rig.Bench.NowUs < 200_000_000) rig.Pass(50_000);
        Assert.IsTrue(rig.Panel.IsDark);
        rig.Press(Button.Up);
        Assert.IsTrue(rig.Shore.WipeDue, "the press that lights a dark display has read nothing");
        rig.Pass(1_000_000);
        GoldenPictures.Check(rig, "run-wipe");
        rig.Press(Button.Up);
        Assert.IsFalse(rig.Shore.WipeDue);
        Assert.IsTrue(rig.Bench.Desk.Running);
    }

    /// <summary>The reminder was on the display before it went dark. The press that lights the display again does not count as reading it.</summary>
    [TestMethod]
    public void ThePressThatLightsADarkDisplayReadsNoReminder()
    {
        PanelRig rig = new PanelRig().At(Morning);
        rig.Settings.Plan.Shape = Core.Release.PlanShape.Series;
        rig.Settings.Plan.Frames = 60;
        rig.Press(Button.Fire).Pass(95_000_000).Press(Button.Up);
        while (!rig.Panel.IsDark)
        {
            if (rig.Panel.NeedsDraw(rig.Bench.NowUs)) rig.Draw();
            rig.Pass(100_000);
        }
        Assert.IsTrue(rig.Shore.WipeDue);
        rig.Press(Button.Up);
        Assert.IsFalse(rig.Panel.IsDark);
        Assert.IsTrue(rig.Shore.WipeDue);
        rig.Draw();
        rig.Press(Button.Up);
        Assert.IsFalse(rig.Shore.WipeDue, "now it was seen");
    }

    [TestMethod]
    public void TheClockIsSetWithTheButtons()
    {
        var rig = new PanelRig();
        rig.Shore.Clock.Fail(Settings.Shore.ClockTrust.Stopped);
        rig.Press(Button.Back, Button.Up, Button.Select, Button.Select, Button.Up, Button.Select, Button.Up, Button.Up, Button.Select, Button.Up, Button.Select, Button.Up, Button.Select, Button.Up);
        GoldenPictures.Check(rig, "place-minute");
        Assert.IsFalse(rig.Shore.Clock.IsSet);
        rig.Press(Button.Select, Button.Up, Button.Up);
        Assert.AreEqual(new Coast.Time.CivilTime(2027, 3, 2, 1, 1, 0).AsUtc().Seconds, rig.Shore.Now.Seconds, 2L);
        Assert.IsTrue(rig.Shore.Clock.TakeSetting(rig.Bench.NowUs, out _), "the clock chip is to be set");
    }

    /// <summary>The offset is asked first; then 06:30 is typed and set, and 06:30 is what the clock reads. A typed time that was not set is told.</summary>
    [TestMethod]
    public void TheOffsetIsAskedBeforeTheTimeAndNothingTypedIsDropped()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T06:29:00Z").Press(Button.Back, Button.Up);
        Assert.AreEqual("PLACE", rig.Panel.ScreenName);
        rig.Press(Button.Select);
        // The first press asks.
        for (int i = 0; i < 5; i++) rig.Press(Button.Up);
        Assert.AreEqual(60, rig.Shore.Settings.Offset.MinutesAt(rig.Shore.Now));
        for (int i = 0; i < 5; i++) rig.Press(Button.Select);
        rig.Press(Button.Up, Button.Up);
        rig.Press(Button.Back).Pass(500_000);
        GoldenPictures.Check(rig, "place-not-set");
        for (int i = 0; i < 7; i++) rig.Press(Button.Select);
        rig.Press(Button.Up, Button.Up).Pass(500_000);
        string shown = Coast.Time.TimeText.HourMinute(rig.Shore.Settings.Offset.ToLocal(rig.Shore.Now));
        Assert.AreEqual("07:31", shown, "two minutes more than the 07:29 that the box showed");
    }
}
