using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
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

    private static long Pass(ShoreDesk desk, long us, int tenths)
    {
        for (int i = 0; i < tenths; i++)
        {
            desk.Pass(us, long.MaxValue, false, false);
            us += 100_000;
        }
        return us;
    }

    private static void Is(SunEvent expected, SunEvent found)
    {
        Assert.AreEqual((int)expected.Crossing, (int)found.Crossing);
        Assert.AreEqual(expected.Time.Seconds, found.Time.Seconds);
    }

    /// <summary>The sheet of the day's sun agrees with the sun calculation, one event in each step. Another place on the same day, and another day, have their own.</summary>
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
        desk.Pass(0, long.MaxValue, false, false);
        Check.Near(-5, desk.Place.Position.LongitudeDegrees, 1e-9, "longitude");
        long us = Pass(desk, 100_000, 400);
        Assert.IsTrue(desk.WayReady && desk.Sun.Done);
        long rise = desk.Sun.Rise.Time.Seconds;
        for (int i = 0; i < 8; i++)
        {
            desk.Settings.SetPosition(5000, -500 + 50 * i);
            us = Pass(desk, us, 2);
            Assert.IsFalse(desk.WayReady);
            Check.Near(-5, desk.Place.Position.LongitudeDegrees, 1e-9, "still the old place");
        }
        long changed = us - 200_000;
        for (; us < changed + 300_000; us += 50_000) desk.Pass(us, long.MaxValue, false, false);
        Check.Near(-5, desk.Place.Position.LongitudeDegrees, 1e-9, "still the old place");
        int before = desk.Version;
        desk.Pass(changed + 300_000, long.MaxValue, false, false);
        Check.Near(-1.5, desk.Place.Position.LongitudeDegrees, 1e-9, "the new place");
        Assert.IsTrue(desk.Version > before);
        Pass(desk, us + 100_000, 400);
        Assert.IsTrue(desk.WayReady);
        // Three and a half degrees east: 14 minutes sooner.
        Check.Near(rise - 14 * 60, desk.Sun.Rise.Time.Seconds, 4, "sunrise");
    }

    /// <summary>The way back is worked out again every five minutes, from then.</summary>
    [TestMethod]
    public void TheWayBackIsWorkedOutAgainEveryFiveMinutes()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        long us = Pass(desk, 0, 400);
        long first = desk.Way.WorkedOutAt.Seconds;
        Assert.AreEqual(Dawn().Seconds, first);
        us = Pass(desk, us, 2_590);
        Assert.AreEqual(first, desk.Way.WorkedOutAt.Seconds);
        us = Pass(desk, us, 100);
        Assert.AreEqual(first + 300, desk.Way.WorkedOutAt.Seconds);
        Pass(desk, us, 3_000);
        Assert.AreEqual(first + 600, desk.Way.WorkedOutAt.Seconds);
    }

    /// <summary>The clock ran on while the box was off: the alarm that was on is quiet again once the clock was read, and watches it from then on.</summary>
    [TestMethod]
    public void AnAlarmAfterARestartWatchesTheClockFromItsFirstReading()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        desk.Settings.SetPoint(0, 900, 20, 0);
        desk.RestoreAlarm();
        long us = Pass(desk, 0, 400);
        Assert.IsTrue(desk.AlarmOn && !desk.AlarmUp);
        desk.Clock.Read(Dawn().PlusSeconds(us / Second + 61), us);
        Pass(desk, us, 40);
        Assert.IsTrue(desk.AlarmUp && desk.ClockMoved);
    }

    /// <summary>The search reports each percent of its progress once, and nothing after its end.</summary>
    [TestMethod]
    public void TheSearchTellsOfEachPercent()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        long us = Pass(desk, 0, 600);
        desk.WantMornings();
        us = Pass(desk, us, 2);
        int last = desk.Search!.Percent, version = desk.Version;
        int told = 0, moved = 0;
        for (int i = 0; i < 3_000 && !desk.Search!.Done; i++)
        {
            us = Pass(desk, us, 1);
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
        Pass(desk, us, 20);
        Assert.AreEqual(version, desk.Version);
        Assert.IsTrue(search == desk.Search);
    }

    /// <summary>On a bulb exposure at dawn the desk works out what the exposure by itself says, film and all, again every two seconds, and for the place as it is.</summary>
    [TestMethod]
    public void TheDawnsCorrectionIsThatOfThePlaceAndTheTime()
    {
        BoxSettings box = DawnLightFigureTests.TwoMinutes();
        ShoreDesk desk = Desk(box);
        desk.Settings.DawnOn = true;
        long us = Pass(desk, 0, 300);
        Assert.IsTrue(desk.Dawn.Applies && !desk.Dawn.WantsReading && !desk.Dawn.OutOfReach);
        for (int place = 0; place < 2; place++)
        {
            GeoPosition here = place == 0 ? Ledge() : new GeoPosition(50, 10);
            for (int i = 0; i < 4; i++)
            {
                us = Pass(desk, us, 57);
                DawnExposure plain = new DawnExposure(here);
                plain.Read(Dawn(), box.Answer.BeforeFilmSeconds);
                DawnFrame now = plain.FrameAt(desk.Now.PlusSeconds(2)), before = plain.FrameAt(desk.Now.PlusSeconds(-1));
                Assert.IsTrue(desk.Dawn.Seconds >= now.Seconds - 0.001 && desk.Dawn.Seconds <= before.Seconds + 0.001);
                Assert.IsTrue(desk.Dawn.Stops < 0 && desk.Dawn.NextSeconds == 0);
                // Told each time, and then for two seconds no more.
                int version = desk.Version;
                Pass(desk, us, 21);
                Check.Near(version + 1, desk.Version, 0, "told");
                us += 2_100_000;
            }
            desk.Settings.SetPosition(5000, 1000);
            us = Pass(desk, us, 200);
        }
    }

    /// <summary>A table that is to run along the place's own sum looks for one turn of the tide in each pass of the panel, and waits with the way back; while a run is on it does neither.</summary>
    [TestMethod]
    public void TypedTurnsFindTheirShapeBeforeTheWayBack()
    {
        HarmonicTide sum = new HarmonicTide(new HarmonicConstants(3.0, 1).Set(0, 2.0, 120), NodeSchedule.Yearly);
        for (int shape = 0; shape < 3; shape++)
        {
            ShoreDesk desk = Desk(new BoxSettings());
            UtcInstant after = Dawn().PlusHours(-13);
            for (int i = 0; i < 5; i++)
            {
                Assert.IsTrue(sum.TryNextTurn(after, out TideTurn turn));
                if (i == 0) desk.Settings.Table.FirstIsHigh = turn.IsHigh;
                desk.Settings.Table.Set(i, turn.Time, turn.IsHigh ? 500 : 100);
                after = turn.Time;
            }
            desk.Settings.Give(sum);
            desk.Settings.SetFromTable(true);
            desk.Settings.SetShape(shape == 0 ? TideShape.Daily : shape == 1 ? TideShape.AsSum : TideShape.AsNeighbour, 0);
            PrintedTide table = (PrintedTide)desk.Settings.Place.Tide;
            Assert.AreEqual(shape == 0, table.ShapeDone);
            desk.Pass(0, long.MaxValue, false, false);
            // A run: the way back is worked out with what is taken off for any table.
            if (shape == 1)
            {
                for (int i = 1; i < 40; i++) desk.Pass(i * 100_000, long.MaxValue, true, false);
                Assert.IsTrue(desk.WayReady && !table.ShapeDone);
                Assert.AreEqual(65, desk.Place.AllowanceMinutes);
            }
            else if (shape == 2)
            {
                for (int i = 1; i < 5; i++)
                {
                    Assert.IsFalse(table.ShapeDone || desk.WayReady);
                    desk.Pass(i * 100_000, long.MaxValue, false, false);
                }
                Assert.IsTrue(table.ShapeDone && !desk.WayReady);
            }
            Pass(desk, 5 * Second, 300);
            Assert.IsTrue(desk.WayReady && table.ShapeDone && table.IsShaped == (shape != 0));
            Assert.AreEqual(shape == 1 ? 10 : 65, desk.Place.AllowanceMinutes);
        }
    }

    /// <summary>One piece of work in each pass of the panel: the curve in 32, the sun in 9, and what is done is not done again.</summary>
    [TestMethod]
    public void EachPassDoesOnePieceOfWork()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        long us = 0;
        while (!desk.WayReady) us = Pass(desk, us, 1);
        int passes = 0;
        for (; !desk.CurveReady; passes++)
        {
            Assert.IsFalse(desk.Sun.Done);
            us = Pass(desk, us, 1);
        }
        Assert.AreEqual(32, passes);
        for (passes = 0; !desk.Sun.Done; passes++) us = Pass(desk, us, 1);
        Assert.AreEqual(9, passes);
        int version = desk.Version;
        desk.WantMornings();
        us = Pass(desk, us, 1);
        Assert.IsTrue(desk.Search != null && desk.Search!.Percent == 0 && desk.Version == version);
    }

    /// <summary>The alarm goes by the last way back while the next one is worked out, however long an edge keeps that from going on.</summary>
    [TestMethod]
    public void TheAlarmGoesOnWhileTheWayIsRenewed()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        desk.Settings.SetPoint(0, 500, 20, 0);
        long us = Pass(desk, 0, 300);
        long warning = desk.Way.LeaveBy.Seconds - ShoreDesk.WarningMinutes * 60;
        // Five minutes and ten seconds before the warning the time is read again.
        desk.Clock.Read(new UtcInstant(warning - 310), us);
        us = Pass(desk, us, 50);
        desk.SetAlarm(true);
        us = Pass(desk, us, 50);
        Assert.AreEqual((int)WayBackLevel.PackUpSoon, (int)desk.Level);
        // From here on no step may start.
        for (; desk.Now.Seconds < warning; us += 100_000)
        {
            desk.Pass(us, 0, true, true);
            if (desk.Now.Seconds < warning - 1) Assert.AreEqual((int)WayBackLevel.PackUpSoon, (int)desk.Level);
        }
        for (int i = 0; i < 12; i++, us += 100_000) desk.Pass(us, 0, true, true);
        Assert.AreEqual((int)WayBackLevel.Warning, (int)desk.Level);
    }

    /// <summary>After a restart the clock counts from its first reading, not from the first way back: one that is moved before that is found out.</summary>
    [TestMethod]
    public void AClockMovedBeforeTheFirstWayBackIsFoundOut()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        desk.Settings.SetPoint(0, 900, 20, 0);
        desk.RestoreAlarm();
        for (int i = 0; i < 15; i++) desk.Pass(i * 100_000, 0, false, false);
        Assert.IsFalse(desk.WayReady || desk.ClockMoved);
        desk.Clock.Read(Dawn().PlusSeconds(120), 1_500_000);
        Pass(desk, 1_600_000, 300);
        Assert.IsTrue(desk.WayReady && desk.ClockMoved && desk.AlarmUp);
    }

    private sealed class Gauge : IHeapGauge
    {
        public int FreeBytes { get; set; } = 100_000;
    }

    /// <summary>Without room for the curve and the search, these are given up before they begin. The way back and the sun still work.</summary>
    [TestMethod]
    public void WithoutRoomNothingIsBegun()
    {
        ShoreDesk desk = Desk(new BoxSettings());
        Gauge gauge = new Gauge();
        desk.Spare.Gauge = gauge;
        gauge.FreeBytes = 6_499;
        Pass(desk, 0, 300);
        Assert.IsTrue(desk.WayReady && desk.Curve == null && desk.Sun.Done);
        Assert.AreEqual(2, desk.Spare.GivenUp);
        desk = Desk(new BoxSettings());
        desk.Spare.Gauge = gauge;
        gauge.FreeBytes = 7_999;
        desk.WantMornings();
        Pass(desk, 0, 300);
        Assert.IsTrue(desk.CurveReady && desk.Search == null && desk.Sun.Done);
        Assert.AreEqual(1, desk.Spare.GivenUp);
        desk = Desk(new BoxSettings());
        desk.Spare.Gauge = gauge;
        gauge.FreeBytes = 8_000;
        desk.WantMornings();
        Pass(desk, 0, 300);
        Assert.IsTrue(desk.CurveReady && desk.Search != null);
    }

    /// <summary>The time runs on from when it was read; and at midnight itself the curve holds the present time.</summary>
    [TestMethod]
    public void TheTimeRunsOnFromItsReading()
    {
        ShoreClock clock = new ShoreClock();
        clock.Read(Dawn(), 7 * Second);
        Assert.AreEqual(2L, clock.Now(9 * Second + 999_999).SecondsSince(Dawn()));
        ShoreDesk desk = Desk(new BoxSettings());
        UtcInstant midnight = Dawn().PlusHours(18);
        desk.Clock.Read(midnight, 0);
        for (int i = 0; i < 60; i++) desk.Pass(i * 10_000, long.MaxValue, false, false);
        Assert.AreEqual(midnight.Seconds, desk.Now.Seconds);
        Assert.IsTrue(desk.CurveReady);
    }
}
