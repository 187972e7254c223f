using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Screens;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The shore desk on the device's runtime: clock, typed table, way back and alarm.</summary>
[TestClass]
public class ShoreTests
{
    private static readonly long NoonSeconds = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc().Seconds;

    private static ShoreDesk Typed() => new ShoreDesk(ShoreLimitTests.TypedTurns(1), new BoxSettings());

    private static long Pass(ShoreDesk desk, long us, int seconds) => ShoreLimitTests.Pass(desk, us, seconds);

    /// <summary>
    /// Half way in height is half way in time on the half cosine: 3.0 m is reached at 15:06, and the limit 5 cm lower for a table at
    /// 15:03. The walk and what is taken off go back from there.
    /// </summary>
    [TestMethod]
    public void ATypedTableNamesTheTimeToLeave()
    {
        ShoreDesk desk = Typed();
        desk.Clock.Read(new UtcInstant(NoonSeconds + 60), 0);
        Pass(desk, 0, 10);
        Assert.IsTrue(desk.WayReady);
        Assert.AreEqual((int)WayBackState.Open, (int)desk.Way.State);
        Check.Near(NoonSeconds + (183 - 20 - 65) * 60, desk.Way.LeaveBy.Seconds, 60, "leave by");
        desk.Settings.SetShape(TideShape.Plain, 0);
        Pass(desk, 20_000_000, 10);
        Check.Near(NoonSeconds + (183 - 20 - 10) * 60, desk.Way.LeaveBy.Seconds, 60, "leave by, a plain tide");
    }

    /// <summary>Pack up soon at 30 minutes, pack up now at 10, then leave; a moved clock is never quiet.</summary>
    [TestMethod]
    public void TheAlarmClimbs()
    {
        ShoreDesk desk = Typed();
        desk.Clock.Read(new UtcInstant(NoonSeconds + 62 * 60), 0);
        long us = Pass(desk, 0, 5);
        desk.SetAlarm(true);
        us = Pass(desk, us, 5);
        Assert.IsFalse(desk.AlarmUp);
        us = Pass(desk, us, 7 * 60);
        Assert.AreEqual((int)WayBackLevel.PackUpSoon, (int)desk.Level);
        us = Pass(desk, us, 20 * 60);
        Assert.AreEqual((int)WayBackLevel.Warning, (int)desk.Level);
        us = Pass(desk, us, 10 * 60);
        Assert.AreEqual((int)WayBackLevel.Leave, (int)desk.Level);
        desk.Clock.Read(new UtcInstant(NoonSeconds + 86400), us);
        Pass(desk, us, 5);
        Assert.AreEqual((int)WayBackLevel.Uncertain, (int)desk.Level);
        Assert.IsTrue(desk.ClockMoved);
    }

    /// <summary>A chip that holds the year 2000 was never set.</summary>
    [TestMethod]
    public void AClockThatWasNeverSetIsRefused()
    {
        ShoreClock clock = new ShoreClock();
        clock.Read(new UtcInstant(1000), 0);
        Assert.IsFalse(clock.IsSet);
        clock.SetByHand(new UtcInstant(NoonSeconds), 0);
        Assert.IsTrue(clock.IsSet);
        clock.Fail(ClockTrust.NoAnswer);
        Assert.IsTrue(clock.IsSet);
        Assert.AreEqual(NoonSeconds + 5, clock.Now(5_000_000).Seconds);
    }

    /// <summary>No step of the work starts within a quarter of a second of an edge, and a run leaves only the way back to do.</summary>
    [TestMethod]
    public void NoStepStartsNearAnEdge()
    {
        ShoreDesk desk = Typed();
        desk.Clock.Read(new UtcInstant(NoonSeconds + 60), 0);
        desk.WantMornings();
        long us = 0;
        for (int i = 0; i < 200; i++, us += 100_000) desk.Pass(us, ShoreDesk.QuietUs - 1, i > 100, false);
        Assert.IsFalse(desk.WayReady);
        for (int i = 0; i < 200; i++, us += 100_000) desk.Pass(us, ShoreDesk.QuietUs, true, false);
        Assert.IsTrue(desk.WayReady);
        Assert.IsFalse(desk.CurveReady);
        Assert.IsNull(desk.Search);
        Pass(desk, us, 60);
        Assert.IsTrue(desk.CurveReady);
        Assert.IsNotNull(desk.Search);
    }

    /// <summary>While an edge is always near, nothing is worked out. The alarm waits half a minute for the way back, and no longer.</summary>
    [TestMethod]
    public void TheAlarmDoesNotWaitLongForTheWayBack()
    {
        ShoreDesk desk = Typed();
        desk.Clock.Read(new UtcInstant(NoonSeconds + 60), 0);
        long us = 0;
        for (int i = 0; i < 10; i++, us += 100_000) desk.Pass(us, 0, false, false);
        desk.SetAlarm(true);
        for (int i = 0; i < 280; i++, us += 100_000)
        {
            desk.Pass(us, 0, false, false);
            Assert.IsFalse(desk.AlarmUp);
        }
        for (int i = 0; i < 40; i++, us += 100_000) desk.Pass(us, 0, false, false);
        Assert.IsTrue(desk.AlarmUp);
        Assert.AreEqual((int)WayBackLevel.Uncertain, (int)desk.Level);
    }

    [TestMethod]
    public void AfterMidnightTheSunIsTheNewDays()
    {
        ShoreDesk desk = Typed();
        desk.Settings.SetPosition(5000, -500);
        long late = NoonSeconds + 12 * 3600 - 20;
        desk.Clock.Read(new UtcInstant(late), 0);
        long us = Pass(desk, 0, 15);
        Assert.IsTrue(desk.Sun.Done);
        Assert.AreEqual(new UtcInstant(late).DayNumber, desk.Sun.Day);
        Assert.IsTrue(desk.Sun.Rise.Time < desk.Now);
        Pass(desk, us, 20);
        Assert.IsTrue(desk.Sun.Done);
        Assert.AreEqual(new UtcInstant(late).DayNumber + 1, desk.Sun.Day);
        Assert.IsTrue(desk.Sun.Rise.Time > desk.Now);
    }

    // 1 s behind ten stops, metered in the civil dawn of 9 March at 50 N 5 W.
    private static DawnLight Metered(BoxSettings box, ShoreClock clock)
    {
        Filter filter = new Filter("GREY", FilterKind.Nd) { On = true };
        filter.SetStrength(FilterScale.Stops, 1000);
        box.Kit = new FilterKit();
        box.Kit.Add(filter);
        box.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(0), 0));
        Assert.AreEqual((int)ExposureKind.Bulb, (int)box.Answer.Kind);
        clock.Read(new CivilTime(2026, 3, 9, 6, 14, 33).AsUtc(), 0);
        DawnLight dawn = new DawnLight(box);
        dawn.MoveTo(new GeoPosition(50, -5));
        dawn.Watch(clock, true, 0);
        Assert.IsTrue(dawn.Due(true, 0));
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.Applies);
        return dawn;
    }

    [TestMethod]
    public void AReadingIsFreshForTwentyMinutes()
    {
        ShoreClock clock = new ShoreClock();
        DawnLight dawn = Metered(new BoxSettings(), clock);
        dawn.Watch(clock, true, 1_200_000_000);
        Assert.IsTrue(dawn.Applies);
        Assert.IsFalse(dawn.WantsReading);
        dawn.Watch(clock, true, 1_201_000_000);
        Assert.IsFalse(dawn.Applies);
        Assert.IsTrue(dawn.WantsReading);
    }

    /// <summary>When a filter is taken off and Fire follows at once, the correction for the old filters is not used.</summary>
    [TestMethod]
    public void TheDawnsAnswerIsNeverThatOfAnotherFilter()
    {
        BoxSettings box = new BoxSettings();
        ShoreClock clock = new ShoreClock();
        DawnLight dawn = Metered(box, clock);
        ShotPlan plan = new ShotPlan();
        Assert.IsTrue(dawn.Fill(plan));
        Check.Near(dawn.Seconds * 1e6, plan.ExposureUs, 1, "corrected");
        Assert.IsTrue(plan.ExposureUs < 1_000_000_000);
        box.Kit[0].SetStrength(FilterScale.Stops, 600);
        box.Solve();
        Assert.AreEqual((int)ExposureKind.Bulb, (int)box.Answer.Kind);
        Assert.IsTrue(dawn.Fill(plan));
        Check.Near(box.Answer.Seconds * 1e6, plan.ExposureUs, 1, "not corrected yet");
        Assert.IsTrue(dawn.Due(true, 0));
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.Fill(plan));
        Assert.IsTrue(plan.ExposureUs < box.Answer.Seconds * 1e6);
    }

    /// <summary>A height is never read from the curve of another day, not even in the moment between a new time and a new curve.</summary>
    [TestMethod]
    public void AClockMovedToAnotherDayLeavesNoCurve()
    {
        ShoreDesk desk = Typed();
        desk.Clock.Read(new UtcInstant(NoonSeconds + 60), 0);
        long us = Pass(desk, 0, 60);
        Assert.IsNotNull(desk.Curve);
        desk.Clock.Read(new UtcInstant(NoonSeconds + 3 * 86_400), us);
        Assert.IsNull(desk.Curve);
        desk.Clock.Read(new UtcInstant(NoonSeconds - 86_400), us);
        Assert.IsNull(desk.Curve);
        desk.Clock.Read(new UtcInstant(NoonSeconds + 60), us);
        Assert.IsNotNull(desk.Curve);
    }

    /// <summary>06:12 was typed; whatever the offset is set to afterwards, 06:12 stays, and is what the clocks of the place show then.</summary>
    [TestMethod]
    public void TypedTurnsStayAsPrintedWhateverHappensToTheOffset()
    {
        ShoreDesk desk = Typed();
        Assert.AreEqual(NoonSeconds, desk.Settings.Place.Tide.ValidFrom.Seconds);
        desk.Settings.SetOffset(new LocalOffset(60));
        Assert.AreEqual(NoonSeconds, desk.Settings.Table.Printed(0).Seconds);
        Assert.AreEqual(NoonSeconds - 3600, desk.Settings.Place.Tide.ValidFrom.Seconds);
        Assert.AreEqual("12:00", TimeText.HourMinute(desk.Settings.Place.Tide.ValidFrom, desk.Settings.Offset));
    }

    /// <summary>Three turns asked for and nothing typed: no tide is known, and the fault names what is missing.</summary>
    [TestMethod]
    public void GuessedTurnsAreNoDataUntilTheyAreConfirmed()
    {
        ShoreSettings settings = new ShoreSettings();
        settings.Table.FirstIsHigh = false;
        for (int i = 0; i < 3; i++) settings.Table.Resize(1, new UtcInstant(NoonSeconds));
        settings.SetPointCount(1);
        Assert.AreEqual("Turn 1: guessed; set its time and height.", settings.TableFault);
        Assert.AreEqual((int)TideCertainty.None, (int)settings.Place.Tide.CertaintyAt(new UtcInstant(NoonSeconds + 3600)));
        ShoreDesk desk = new ShoreDesk(settings, new BoxSettings());
        desk.Clock.Read(new UtcInstant(NoonSeconds + 600), 0);
        Pass(desk, 0, 10);
        Assert.AreEqual((int)WayBackState.Uncertain, (int)desk.Way.State);
        settings.Table.MoveTime(0, 5);
        settings.Touch();
        Assert.AreEqual("Turn 1: guessed; set its time and height.", settings.TableFault);
        settings.Table.SetHeight(0, 90);
        settings.Touch();
        Assert.AreEqual("Turn 2: guessed; set its time and height.", settings.TableFault);
        settings.Table.Confirm();
        settings.Touch();
        Assert.AreEqual("", settings.TableFault);
        Pass(desk, 20_000_000, 10);
        Assert.AreEqual((int)WayBackState.Open, (int)desk.Way.State);
        // One more is a guess again; those before it stay data.
        settings.Table.Resize(1, new UtcInstant(NoonSeconds));
        settings.Touch();
        Assert.AreEqual("Turn 4: guessed; set its time and height.", settings.TableFault);
        Assert.IsTrue(settings.Place.Tide.CertaintyAt(new UtcInstant(NoonSeconds + 3600)) != TideCertainty.None);
        // A turn that was taken out and comes in again is a guess, though it was data before.
        settings.Table.Confirm();
        settings.Table.Resize(-1, new UtcInstant(NoonSeconds));
        settings.Table.Resize(1, new UtcInstant(NoonSeconds));
        settings.Touch();
        Assert.AreEqual("Turn 4: guessed; set its time and height.", settings.TableFault);
    }
}
