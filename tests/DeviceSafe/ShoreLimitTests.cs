using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>When the shore desk reports a change, what it releases, and the exact seconds at which its decisions change.</summary>
[TestClass]
public class ShoreLimitTests
{
    private const long Second = 1_000_000;

    private static readonly long NoonSeconds = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc().Seconds;

    private static UtcInstant At(int minutes) => new UtcInstant(NoonSeconds + 60L * minutes);

    /// <summary>Low water at noon, high at 18:12, typed; the neck is cut on the way up.</summary>
    public static ShoreSettings TypedTurns(int points)
    {
        ShoreSettings settings = new ShoreSettings();
        UtcInstant noon = new UtcInstant(NoonSeconds);
        settings.Table.FirstIsHigh = false;
        for (int i = 0; i < 3; i++) settings.Table.Resize(1, noon);
        settings.Table.Set(0, noon, 100);
        settings.Table.Set(1, noon.PlusMinutes(372), 500);
        settings.Table.Set(2, noon.PlusMinutes(744), 100);
        settings.SetPointCount(points);
        if (points > 0) settings.SetPoint(0, 350, 20, 50);
        return settings;
    }

    private static ShoreDesk Typed(int points)
    {
        ShoreSettings settings = TypedTurns(points);
        settings.SprayMinutes = 0;
        ShoreDesk desk = new ShoreDesk(settings, new BoxSettings());
        desk.Clock.Read(At(1), 0);
        return desk;
    }

    /// <summary>Lets the desk do ten passes a second, for so many seconds.</summary>
    /// <returns>The time after the last pass, µs.</returns>
    public static long Pass(ShoreDesk desk, long us, int seconds)
    {
        for (int i = 0; i < seconds * 10; i++)
        {
            desk.Pass(us, long.MaxValue, false, false);
            us += 100_000;
        }
        return us;
    }

    private static int Grown(ShoreDesk desk, int before) => desk.Version - before;

    [TestMethod]
    public void AClockMovedByFiveSecondsIsTheSameAndBySixAnother()
    {
        for (int off = -6; off <= 6; off++)
        {
            ShoreClock clock = new ShoreClock();
            clock.Read(At(0), 0);
            Assert.AreEqual(1, clock.Revision);
            clock.Read(At(1).PlusSeconds(off), 60 * Second);
            Assert.AreEqual(off < -5 || off > 5 ? 2 : 1, clock.Revision);
        }
    }

    [TestMethod]
    public void ALostClockIsAnotherOnceAndNonsenseIsNoTime()
    {
        ShoreClock clock = new ShoreClock();
        clock.Fail(ClockTrust.Stopped);
        Assert.AreEqual(0, clock.Revision);
        clock.Read(At(0), 0);
        clock.Read(new UtcInstant(ShoreClock.EarliestSeconds - 1), 0);
        Assert.IsFalse(clock.IsSet);
        Assert.AreEqual((int)ClockTrust.Nonsense, (int)clock.Trust);
        Assert.AreEqual(2, clock.Revision);
        clock.SetByHand(new UtcInstant(ShoreClock.EarliestSeconds - 1), 0);
        Assert.IsFalse(clock.IsSet || clock.WasSetByHand);
        Assert.IsFalse(clock.TakeSetting(0, out UtcInstant none));
        clock.SetByHand(At(0), 0);
        Assert.IsTrue(clock.TakeSetting(2 * Second, out UtcInstant taken));
        Assert.AreEqual(NoonSeconds + 2, taken.Seconds);
        Assert.IsFalse(clock.TakeSetting(3 * Second, out taken));
    }

    /// <summary>Every change of what is shown is reported, and nothing is reported in a half minute without changes.</summary>
    [TestMethod]
    public void WhatIsShownAnewIsReported()
    {
        ShoreDesk desk = Typed(1);
        Assert.AreEqual((int)WayBackLevel.Quiet, (int)desk.Level);
        Assert.IsTrue(desk.Way.State == WayBackState.Uncertain && desk.Way.Point == -1);
        long us = 0;
        bool way = false, curve = false, sun = false;
        int at = 0;
        for (int i = 0; i < 600; i++, us += 100_000)
        {
            int before = desk.Version;
            desk.Pass(us, long.MaxValue, false, false);
            bool changed = way != desk.WayReady || curve != desk.CurveReady || sun != desk.Sun.Done;
            // At most one of them in a pass: a pass works one step.
            Assert.IsTrue((way != desk.WayReady ? 1 : 0) + (curve != desk.CurveReady ? 1 : 0) + (sun != desk.Sun.Done ? 1 : 0) <= 1);
            Assert.IsTrue(Grown(desk, before) >= (changed ? 1 : 0));
            if (curve != desk.CurveReady) at = i;
            way = desk.WayReady;
            curve = desk.CurveReady;
            sun = desk.Sun.Done;
        }
        Assert.IsTrue(way && curve && sun);
        Assert.IsTrue(at > 3);
        int quiet = desk.Version;
        us = Pass(desk, us, 30);
        Assert.AreEqual(quiet, desk.Version);
        // The alarm, told when it is switched, seen, and when it is restored.
        desk.SetAlarm(true);
        Assert.IsTrue(Grown(desk, quiet) > 0);
        us = Pass(desk, us, 5);
        Assert.IsFalse(desk.ClockMoved);
        quiet = desk.Version;
        desk.Acknowledge(us);
        Assert.IsTrue(Grown(desk, quiet) > 0);
        quiet = desk.Version;
        desk.SetAlarm(false);
        Assert.IsTrue(Grown(desk, quiet) > 0);
        Assert.IsTrue(desk.WayReady);
        quiet = desk.Version;
        desk.RestoreAlarm();
        Assert.IsTrue(Grown(desk, quiet) > 0);
    }

    /// <summary>Each step of the alarm is told in the pass in which it comes.</summary>
    [TestMethod]
    public void EveryStepOfTheAlarmIsReported()
    {
        ShoreDesk desk = Typed(1);
        long us = Pass(desk, 0, 30);
        desk.SetAlarm(true);
        us = Pass(desk, us, 5);
        int steps = 0;
        for (int second = 0; second < 7200; second++, us += Second)
        {
            WayBackLevel level = desk.Level;
            bool up = desk.AlarmUp;
            int before = desk.Version;
            desk.Pass(us, long.MaxValue, true, false);
            if (level == desk.Level && up == desk.AlarmUp) continue;
            Assert.IsTrue(Grown(desk, before) > 0);
            steps++;
            // It is silenced each time, and is heard again after five minutes or at the next step.
            if (desk.AlarmUp) desk.Acknowledge(us);
        }
        Assert.IsTrue(desk.Level == WayBackLevel.Leave || desk.Level == WayBackLevel.CutOff);
        Assert.IsTrue(steps > 6);
    }

    /// <summary>With no low point typed in, the way back is unsure, whatever the tide does.</summary>
    [TestMethod]
    public void WithoutALowPointTheWayIsUnsure()
    {
        ShoreDesk desk = Typed(0);
        Pass(desk, 0, 60);
        Assert.IsTrue(desk.WayReady);
        Assert.IsTrue(desk.Way.State == WayBackState.Uncertain);
        Assert.AreEqual(-1, desk.Way.Point);
    }

    /// <summary>A clock that is read again between switching the alarm on and its first look was moved.</summary>
    [TestMethod]
    public void TheTimeThatWasAcceptedIsTheOneWhenTheAlarmWasSwitchedOn()
    {
        ShoreDesk desk = Typed(1);
        long us = Pass(desk, 0, 30);
        desk.SetAlarm(true);
        desk.Clock.Read(At(3), us);
        Pass(desk, us, 40);
        Assert.IsTrue(desk.ClockMoved);
        Assert.AreEqual((int)WayBackLevel.Uncertain, (int)desk.Level);
    }

    /// <summary>The alarm waits 30 s for its first result, to the microsecond, and a result that is there is used at once.</summary>
    [TestMethod]
    public void TheAlarmWaitsThirtySecondsForTheWay()
    {
        ShoreDesk desk = Typed(1);
        Pass(desk, 0, 1);
        desk.Pass(10 * Second, 0, false, false);
        desk.SetAlarm(true);
        desk.Pass(39 * Second + 999_999, 0, false, false);
        Assert.IsFalse(desk.AlarmUp);
        desk = Typed(1);
        Pass(desk, 0, 1);
        desk.Pass(10 * Second, 0, false, false);
        desk.SetAlarm(true);
        desk.Pass(40 * Second, 0, false, false);
        Assert.IsTrue(desk.AlarmUp);
    }

    /// <summary>The reminder comes after its time, is shown for half a minute, and comes again after its time. When it is read, it goes at once.</summary>
    [TestMethod]
    public void TheWipeIsRemindedOfForHalfAMinute()
    {
        ShoreDesk desk = Typed(1);
        desk.Settings.SprayMinutes = 2;
        long us = Pass(desk, 0, 119);
        int before = desk.Version;
        desk.Pass(119 * Second + 900_000, 0, false, false);
        Assert.IsFalse(desk.WipeDue);
        desk.Pass(120 * Second, 0, false, false);
        Assert.IsTrue(desk.WipeDue);
        Assert.IsTrue(Grown(desk, before) > 0);
        desk.Pass(150 * Second - 1, 0, false, false);
        Assert.IsTrue(desk.WipeDue);
        before = desk.Version;
        desk.Pass(150 * Second, 0, false, false);
        Assert.IsFalse(desk.WipeDue);
        Assert.IsTrue(Grown(desk, before) > 0);
        desk.Pass(270 * Second - 1, 0, false, false);
        Assert.IsFalse(desk.WipeDue);
        desk.Pass(270 * Second, 0, false, false);
        Assert.IsTrue(desk.WipeDue);
        before = desk.Version;
        desk.Wiped(275 * Second);
        Assert.IsFalse(desk.WipeDue);
        Assert.IsTrue(Grown(desk, before) > 0);
        before = desk.Version;
        desk.Wiped(276 * Second);
        Assert.AreEqual(before, desk.Version);
        desk.Pass(395 * Second, 0, false, false);
        Assert.IsFalse(desk.WipeDue);
        desk.Pass(396 * Second, 0, false, false);
        Assert.IsTrue(desk.WipeDue);
        // The half minute counts from this reminder, not from the one before.
        desk.Pass(425 * Second, 0, false, false);
        Assert.IsTrue(desk.WipeDue);
    }

    /// <summary>Parts are given up in their order; with nothing left all but the way back rests for 10 s, and the alarm goes on.</summary>
    [TestMethod]
    public void ShortOfMemoryTheMorningsGoFirstThenTheCurveAndThenTheWorkRests()
    {
        ShoreDesk desk = Typed(1);
        desk.WantMornings();
        long us = Pass(desk, 0, 60);
        Assert.IsTrue(desk.Search != null && desk.CurveReady && desk.WayReady);
        int before = desk.Version;
        Assert.IsTrue(desk.GiveUp());
        Assert.IsTrue(Grown(desk, before) > 0);
        Assert.IsTrue(desk.Search == null && desk.CurveReady && desk.WayReady);
        Assert.IsTrue(desk.GiveUp());
        Assert.IsFalse(desk.CurveReady);
        us = Pass(desk, us, 30);
        Assert.IsTrue(desk.Search == null && !desk.CurveReady);
        Assert.IsTrue(desk.GiveUp());
        Assert.IsTrue(desk.GiveUp());
        Assert.IsFalse(desk.GiveUp());
        long rested = desk.NowUs + 10 * Second;
        // A changed place is taken over when the rest is over.
        desk.Settings.SetPoint(0, 300, 20, 50);
        for (; us < rested; us += 100_000) desk.Pass(us, long.MaxValue, false, false);
        Check.Near(3.5, desk.Place.PathPoint(0).FloodMetres, 1e-9, "still the old point");
        Pass(desk, us, 5);
        Check.Near(3.0, desk.Place.PathPoint(0).FloodMetres, 1e-9, "the new point");
        Assert.IsTrue(desk.WayReady);
    }

    /// <summary>Work that was half done when memory ran short is begun again: half a curve, half a way back.</summary>
    [TestMethod]
    public void WhatWasHalfDoneIsBegunAnew()
    {
        ShoreDesk desk = Typed(1);
        desk.Pass(0, long.MaxValue, false, false);
        desk.Pass(100_000, long.MaxValue, false, false);
        Assert.IsFalse(desk.WayReady);
        desk.GiveUp();
        long us = 200_000;
        for (; !desk.WayReady && us < 5 * Second; us += 100_000) desk.Pass(us, long.MaxValue, false, false);
        Assert.IsTrue(desk.WayReady);
        Assert.IsTrue(desk.Way.State == WayBackState.Open);
        Assert.IsFalse(desk.CurveReady);
        desk.GiveUp();
        us = Pass(desk, us, 60);
        Assert.IsTrue(desk.WayReady && !desk.CurveReady);
        Assert.IsTrue(desk.Sun.Done);
    }
}
