using Intervalometer.Core.Exposure;
using Intervalometer.Core.Place;
using Intervalometer.Core.Release;
using Intervalometer.Core.Sky;
using Intervalometer.Core.Tide;
using Intervalometer.Core.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The shore desk and the dawn's correction, each figure against what sun, tide and exposure say by themselves.</summary>
[TestClass]
public class ShoreFigureTests
{
    private const long Second = 1_000_000;

    private static UtcInstant Dawn() => new CivilTime(2031, 3, 14, 6, 0, 0).AsUtc();

    private static GeoPosition Ledge() => new GeoPosition(50, -5);

    // Low water two hours before, high water four hours after, at 50 N 5 W.
    private static ShoreDesk Desk(BoxSettings box)
    {
        ShoreSettings settings = new ShoreSettings();
        settings.SetPosition(5000, -500);
        settings.Table.FirstIsHigh = false;
        for (int i = 0; i < 5; i++) settings.Table.Resize(1, Dawn());
        for (int i = 0; i < 5; i++) settings.Table.Set(i, Dawn().PlusMinutes(372 * i - 120), i % 2 == 0 ? 100 : 500);
        settings.SetPointCount(1);
        settings.SetPoint(0, 350, 20, 50);
        settings.SprayMinutes = 0;
        ShoreDesk desk = new ShoreDesk(settings, box);
        desk.Clock.Read(Dawn(), 0);
        return desk;
    }

    private static long Turn(ShoreDesk desk, long us, int tenths)
    {
        for (int i = 0; i < tenths; i++)
        {
            desk.Turn(us, long.MaxValue, false, false);
            us += 100_000;
        }
        return us;
    }

    // 1 s behind seven stops.
    private static BoxSettings TwoMinutes()
    {
        BoxSettings box = new BoxSettings();
        Filter filter = new Filter("GREY", FilterKind.Nd) { On = true };
        filter.SetStrength(FilterScale.Stops, 700);
        box.Kit = new FilterKit();
        box.Kit.Add(filter);
        box.LimitSeconds = 1200;
        box.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(0), 0));
        return box;
    }

    private static void Is(SunEvent expected, SunEvent found)
    {
        Assert.AreEqual((int)expected.Crossing, (int)found.Crossing);
        Assert.AreEqual(expected.Time.Seconds, found.Time.Seconds);
    }

    /// <summary>The sheet says what the sun of the day says, one event a step; another place on the same day, and another day, have their own.</summary>
    [TestMethod]
    public void TheSheetIsTheSunsOfTheDay()
    {
        SunSheet sheet = new SunSheet();
        Assert.AreEqual(-1, sheet.Day);
        Assert.IsTrue(sheet.Step() && !sheet.Done);
        double[] latitudes = new double[] { 50, 69, 78 };
        string[] words = new string[] { "", "Polar night: twilight, no sunrise", "Polar night: no civil twilight" };
        for (int i = 0; i < 6; i++)
        {
            UtcInstant within = new CivilTime(2031, i < 3 ? 12 : 3, 21, 9, 0, 0).AsUtc();
            CoastPlace place = new CoastPlace("Any", "datum", new GeoPosition(latitudes[i % 3], 18), new LocalOffset(60), new PrintedTide(), new PathPoint[0], 0);
            sheet.Begin(place, within);
            Assert.AreEqual(within.DayNumber, sheet.Day);
            int steps = 1;
            while (!sheet.Step())
            {
                Assert.IsFalse(sheet.Done);
                steps++;
            }
            Assert.AreEqual(9, steps);
            Assert.IsTrue(sheet.Done && sheet.Step());
            SunDay day = new SunDay(place.Position, new LocalOffset(60), within);
            Is(day.Rise, sheet.Rise);
            Is(day.Set, sheet.Set);
            Is(day.CivilDawn, sheet.Civil);
            Is(day.NauticalDawn, sheet.Nautical);
            Is(day.Morning(SunDay.GoldenLowDegrees), sheet.GoldenFrom);
            Is(day.Morning(SunDay.GoldenHighDegrees), sheet.GoldenTo);
            Assert.AreEqual(i < 3 ? words[i] : "", sheet.Words);
        }
    }

    /// <summary>A button that is held changes the place eight times a second: it is taken over 0.3 s after the last change, and until then the way back is not told.</summary>
    [TestMethod]
    public void APlaceIsTakenOverWhenItHasComeToRest()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        // The first one is taken over at once.
        desk.Turn(0, long.MaxValue, false, false);
        Check.Near(-5, desk.Place.Position.LongitudeDegrees, 1e-9, "longitude");
        long us = Turn(desk, 100_000, 400);
        Assert.IsTrue(desk.WayReady && desk.Sun.Done);
        long rise = desk.Sun.Rise.Time.Seconds;
        for (int i = 0; i < 8; i++)
        {
            desk.Settings.SetPosition(5000, -500 + 50 * i);
            us = Turn(desk, us, 2);
            Assert.IsFalse(desk.WayReady);
            Check.Near(-5, desk.Place.Position.LongitudeDegrees, 1e-9, "still the old place");
        }
        long changed = us - 200_000;
        for (; us < changed + 300_000; us += 50_000) desk.Turn(us, long.MaxValue, false, false);
        Check.Near(-5, desk.Place.Position.LongitudeDegrees, 1e-9, "still the old place");
        int before = desk.Version;
        desk.Turn(changed + 300_000, long.MaxValue, false, false);
        Check.Near(-1.5, desk.Place.Position.LongitudeDegrees, 1e-9, "the new place");
        Assert.IsTrue(desk.Version > before);
        Turn(desk, us + 100_000, 400);
        Assert.IsTrue(desk.WayReady);
        // Three and a half degrees east: 14 minutes sooner.
        Check.Near(rise - 14 * 60, desk.Sun.Rise.Time.Seconds, 4, "sunrise");
    }

    /// <summary>The way back is worked out anew every five minutes, from then.</summary>
    [TestMethod]
    public void TheWayIsRenewedEveryFiveMinutes()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        long us = Turn(desk, 0, 400);
        long first = desk.Way.WorkedOutAt.Seconds;
        Assert.AreEqual(Dawn().Seconds, first);
        us = Turn(desk, us, 2_590);
        Assert.AreEqual(first, desk.Way.WorkedOutAt.Seconds);
        us = Turn(desk, us, 100);
        Assert.AreEqual(first + 300, desk.Way.WorkedOutAt.Seconds);
        Turn(desk, us, 3_000);
        Assert.AreEqual(first + 600, desk.Way.WorkedOutAt.Seconds);
    }

    /// <summary>The clock ran on while the box was off: the alarm that was on is quiet again once the clock was read, and watches it from then on.</summary>
    [TestMethod]
    public void AnAlarmAfterARestartWatchesTheClockFromItsFirstReading()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        desk.Settings.SetPoint(0, 900, 20, 0);
        desk.RestoreAlarm();
        long us = Turn(desk, 0, 400);
        Assert.IsTrue(desk.AlarmOn && !desk.AlarmUp);
        desk.Clock.Read(Dawn().PlusSeconds(us / Second + 61), us);
        Turn(desk, us, 40);
        Assert.IsTrue(desk.AlarmUp && desk.ClockMoved);
    }

    /// <summary>The search is told by its percent, and then no more.</summary>
    [TestMethod]
    public void TheSearchTellsOfEachPercent()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        long us = Turn(desk, 0, 600);
        desk.WantMornings();
        us = Turn(desk, us, 2);
        int last = desk.Search!.Percent, version = desk.Version;
        int told = 0, moved = 0;
        for (int i = 0; i < 3_000 && !desk.Search!.Done; i++)
        {
            us = Turn(desk, us, 1);
            int percent = desk.Search!.Percent;
            if (percent != last)
            {
                moved++;
                Assert.IsTrue(desk.Version > version);
            }
            if (desk.Version != version) told++;
            last = percent;
            version = desk.Version;
        }
        Assert.IsTrue(desk.Search!.Done && moved > 50 && told <= moved + 8);
        Mornings search = desk.Search!;
        Turn(desk, us, 20);
        Assert.AreEqual(version, desk.Version);
        Assert.IsTrue(search == desk.Search);
    }

    /// <summary>On a bulb exposure at dawn the desk works out what the exposure by itself says, film and all, anew every two seconds, and for the place as it is.</summary>
    [TestMethod]
    public void TheDawnsCorrectionIsThatOfThePlaceAndTheTime()
    {
        BoxSettings box = TwoMinutes();
        ShoreDesk desk = Desk(box);
        desk.Settings.DawnOn = true;
        long us = Turn(desk, 0, 300);
        Assert.IsTrue(desk.Dawn.Applies && !desk.Dawn.WantsReading && !desk.Dawn.OutOfReach);
        for (int place = 0; place < 2; place++)
        {
            GeoPosition here = place == 0 ? Ledge() : new GeoPosition(50, 10);
            for (int i = 0; i < 4; i++)
            {
                us = Turn(desk, us, 57);
                DawnExposure plain = new DawnExposure(here);
                plain.Read(Dawn(), box.Answer.BeforeFilmSeconds);
                DawnFrame now = plain.FrameAt(desk.Now.PlusSeconds(2)), before = plain.FrameAt(desk.Now.PlusSeconds(-1));
                Assert.IsTrue(desk.Dawn.Seconds >= now.Seconds - 0.001 && desk.Dawn.Seconds <= before.Seconds + 0.001);
                Assert.IsTrue(desk.Dawn.Stops < 0 && desk.Dawn.NextSeconds == 0);
            }
            desk.Settings.SetPosition(5000, 1000);
            us = Turn(desk, us, 200);
        }
    }

    private static double Next(BoxSettings box, ShoreClock clock)
    {
        DawnLight dawn = new DawnLight(box);
        dawn.MoveTo(Ledge());
        dawn.Watch(clock, true, 0);
        dawn.Work(clock, 0);
        return dawn.Applies ? dawn.NextSeconds : -1;
    }

    // What the frame behind a gap would need, by the exposure alone.
    private static double Plain(BoxSettings box, UtcInstant start, double gap)
    {
        DawnExposure plain = new DawnExposure(Ledge());
        plain.Read(Dawn(), box.Answer.BeforeFilmSeconds);
        return plain.FrameAt(DawnExposure.NextStart(start, plain.FrameAt(start), gap)).Seconds;
    }

    /// <summary>The next frame of a burst opens after the gap, that of a series on its interval, and neither before a dark frame is over.</summary>
    [TestMethod]
    public void TheNextFrameFollowsThePlan()
    {
        BoxSettings box = TwoMinutes();
        ShoreClock clock = new ShoreClock();
        clock.Read(Dawn(), 0);
        ShotPlan plan = box.Plan;
        plan.SettleUs = 5 * Second;
        UtcInstant start = Dawn().PlusSeconds(5);
        DawnExposure alone = new DawnExposure(Ledge());
        alone.Read(Dawn(), box.Answer.BeforeFilmSeconds);
        double length = alone.FrameAt(start).Seconds;
        plan.Shape = PlanShape.Single;
        Check.Near(0, Next(box, clock), 0, "one frame");
        plan.Shape = PlanShape.Burst;
        plan.GapUs = 30 * Second;
        Check.Near(Plain(box, start, 30), Next(box, clock), 1e-9, "burst");
        plan.Shape = PlanShape.Series;
        plan.IntervalUs = 300 * Second;
        Check.Near(Plain(box, start, 300 - length), Next(box, clock), 1e-9, "series");
        box.Camera.DarkFrame = true;
        plan.IntervalUs = 130 * Second;
        Check.Near(Plain(box, start, length), Next(box, clock), 1e-9, "dark frame");
        plan.Shape = PlanShape.Burst;
        Check.Near(Plain(box, start, length), Next(box, clock), 1e-9, "dark frame of a burst");
    }

    /// <summary>A corrected time over the limit is out of reach, at the limit it is not; light that fails is as well; and neither is used.</summary>
    [TestMethod]
    public void OutOfReachIsSaidAndNotUsed()
    {
        BoxSettings box = TwoMinutes();
        ShoreClock clock = new ShoreClock();
        SunDay day = new SunDay(Ledge(), new LocalOffset(0), Dawn());
        clock.Read(day.Set.Time, 0);
        DawnLight dawn = new DawnLight(box);
        dawn.MoveTo(Ledge());
        ShotPlan plan = new ShotPlan();
        dawn.Watch(clock, true, 0);
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.Applies && dawn.Seconds > 130);
        Assert.IsTrue(dawn.Fill(plan));
        Check.Near(dawn.Seconds * 1e6, plan.ExposureUs, 1, "corrected");
        int limit = (int)dawn.Seconds;
        box.LimitSeconds = limit;
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.OutOfReach && !dawn.Applies && dawn.NextSeconds == 0);
        Assert.IsTrue(dawn.Fill(plan));
        Check.Near(box.Answer.Seconds * 1e6, plan.ExposureUs, 1, "as metered");
        box.LimitSeconds = limit + 1;
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.Applies && !dawn.OutOfReach);
        // Half an hour on the light fails.
        box.LimitSeconds = 7200;
        dawn.Watch(clock, true, 1_190 * Second);
        box.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(9), 0));
        dawn.Watch(clock, true, 1_190 * Second);
        dawn.Work(clock, 1_190 * Second);
        Assert.IsTrue(dawn.OutOfReach && !dawn.Applies);
        // Switched off, nothing is said of it.
        dawn.Watch(clock, false, 1_191 * Second);
        Assert.IsFalse(dawn.OutOfReach || dawn.Applies || dawn.WantsReading);
    }

    /// <summary>A reading is one only when the clock is set; a lost clock takes it away, and one that goes back before it as well.</summary>
    [TestMethod]
    public void AReadingNeedsAClock()
    {
        BoxSettings box = TwoMinutes();
        ShoreClock clock = new ShoreClock();
        DawnLight dawn = new DawnLight(box);
        dawn.MoveTo(Ledge());
        dawn.Watch(clock, true, 0);
        clock.Read(Dawn(), 0);
        dawn.Watch(clock, true, Second);
        Assert.IsTrue(dawn.WantsReading && !dawn.Due(true, Second));
        box.StepShutter(0);
        dawn.Watch(clock, true, 2 * Second);
        Assert.IsTrue(!dawn.WantsReading && dawn.Due(true, 2 * Second) && !dawn.Due(false, 2 * Second));
        dawn.Work(clock, 2 * Second);
        Assert.IsFalse(dawn.Due(true, 4 * Second - 1));
        Assert.IsTrue(dawn.Due(true, 4 * Second));
        clock.Fail(ClockTrust.NoAnswer);
        dawn.Watch(clock, true, 3 * Second);
        Assert.IsTrue(dawn.WantsReading);
        clock.Read(Dawn().PlusSeconds(-10), 3 * Second);
        dawn.Watch(clock, true, 3 * Second);
        Assert.IsTrue(dawn.WantsReading);
        clock.Read(Dawn().PlusSeconds(2), 3 * Second);
        dawn.Watch(clock, true, 3 * Second);
        Assert.IsFalse(dawn.WantsReading);
    }

    /// <summary>The first second that counts, a time that comes back after the clock was lost, and who may take a time away that was set by hand.</summary>
    [TestMethod]
    public void AClockThatComesBackIsAnotherOne()
    {
        ShoreClock clock = new ShoreClock();
        clock.Read(new UtcInstant(ShoreClock.EarliestSeconds), 0);
        Assert.IsTrue(clock.IsSet);
        int revision = clock.Revision;
        clock.Fail(ClockTrust.NoAnswer);
        Assert.AreEqual((int)ClockTrust.NoAnswer, (int)clock.Trust);
        Assert.AreEqual(revision + 1, clock.Revision);
        clock.Read(new UtcInstant(ShoreClock.EarliestSeconds + 1), Second);
        Assert.AreEqual(revision + 2, clock.Revision);
        clock.SetByHand(new UtcInstant(ShoreClock.EarliestSeconds), Second);
        Assert.IsTrue(clock.IsSet && clock.WasSetByHand);
        clock.Fail(ClockTrust.NoAnswer);
        Assert.AreEqual((int)ClockTrust.ByHand, (int)clock.Trust);
        clock.Fail(ClockTrust.Stopped);
        Assert.AreEqual((int)ClockTrust.Stopped, (int)clock.Trust);
    }

    /// <summary>As they leave the bench: a table that begins with a high water, no tide of the place's own, and points with names of their own.</summary>
    [TestMethod]
    public void SettingsAsTheyLeaveTheBench()
    {
        ShoreSettings settings = new ShoreSettings();
        Assert.IsTrue(settings.Table.FirstIsHigh && settings.TableChosen && settings.FromTable && !settings.HasGivenTide);
        Assert.AreEqual(2, settings.SprayMinutes);
        Assert.IsTrue(settings.Wish.Mornings && !settings.Wish.Evenings);
        Assert.AreEqual("Low point 1", settings.PointName(0));
        Assert.AreEqual("Low point 6", settings.PointName(5));
        settings.SetPosition(5012, -534);
        Check.Near(50.12, settings.Place.Position.LatitudeDegrees, 1e-9, "latitude");
        Check.Near(-5.34, settings.Place.Position.LongitudeDegrees, 1e-9, "longitude");
        int revision = settings.Revision;
        HarmonicTide sum = new HarmonicTide(new HarmonicConstants(3.0, 1).Set(0, 2.0, 120), NodeSchedule.Yearly);
        settings.Use(new CoastPlace("Any", "datum", Ledge(), new LocalOffset(0), sum, new PathPoint[0], 0), settings.Wish);
        Assert.IsTrue(settings.Revision > revision);
        Assert.IsTrue(settings.HasGivenTide && !settings.FromTable && settings.GivenTide == sum);
        Assert.IsTrue(settings.Place.Tide == sum);
        settings.SetFromTable(true);
        Assert.IsTrue(settings.FromTable && settings.Place.Tide is PrintedTide);
        settings.SetFromTable(false);
        Assert.IsTrue(settings.Place.Tide == sum);
        settings.Give(null);
        Assert.IsTrue(settings.FromTable && !settings.TableChosen && settings.Place.Tide is PrintedTide);
    }
}
