using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

[TestClass]
public class PlaceTests
{
    private static readonly int[] Heights = new int[] { 10, 50, 10, 50, 10 };

    // Lows of 1 m and highs of 5 m, six hours apart, from 00:00 UTC on 9 March 2026.
    private static UtcInstant Midnight() => new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc();

    private static CoastPlace Ledge(PathPoint[] path)
    {
        PrintedTide tide = new PrintedTide();
        for (int i = 0; i < Heights.Length; i++)
            Assert.IsTrue(tide.Add(Midnight().PlusHours(6 * i), Heights[i] / 10.0, Heights[i] > 30) == null);
        return new CoastPlace("Long Ledge", "chart datum", new GeoPosition(50, -5), new LocalOffset(0), tide, path, 30);
    }

    private static PathPoint[] TwoPoints() => new PathPoint[]
    {
        // Limit 3.0 m: reached at half tide, 03:00, less 20 min.
        new PathPoint("Sand neck", 3.3, 20, 0.3),
        // Limit 4.0 m: a third of the range above the middle, 04:00; less 90 min is sooner.
        new PathPoint("Far gully", 4.0, 90, 0),
    };

    [TestMethod]
    public void TheLeastOverThePointsDecides()
    {
        WayBackResult result = new WayBack(Ledge(TwoPoints()), 18).WorkOut(Midnight(), true);
        Assert.IsTrue(result.State == WayBackState.Open);
        Assert.AreEqual(1, result.Point);
        // 5 cm are taken off the height: 3 + 2 sin = 3.95 at 28.36 degrees beyond half tide, 03:56:43; less 90 min, and 65 for a table.
        Check.Near(4903, result.SecondsLeft(Midnight()), 5, "seconds left");
        Assert.AreEqual("Leave by 01:21", result.Line(Ledge(TwoPoints()), Midnight()));
        Assert.AreEqual("table: 65 min taken off", TideAllowance.Words(Ledge(TwoPoints())));
    }

    [TestMethod]
    public void PastAndCutAreReported()
    {
        CoastPlace place = Ledge(TwoPoints());
        WayBack wayBack = new WayBack(place, 18);
        WayBackResult past = wayBack.WorkOut(Midnight().PlusMinutes(155), true);
        Assert.IsTrue(past.State == WayBackState.PastLeaveBy);
        Assert.AreEqual("PAST 01:21: GO NOW", past.Line(place, Midnight().PlusMinutes(155)));
        WayBackResult cut = wayBack.WorkOut(Midnight().PlusHours(5), true);
        Assert.IsTrue(cut.State == WayBackState.CutOff);
        Assert.AreEqual(0, cut.Point);
        // Clear again 5 cm below half tide on the ebb, 09:02:52, seen by the minute, and 65 min more for a table.
        Check.Near(9 * 3600 + 172 + 65 * 60, cut.ChangesAt.SecondsSince(Midnight()), 61, "clear again");
        Assert.AreEqual("CUT OFF: Sand neck", cut.Line(place, Midnight().PlusHours(5)));
    }

    [TestMethod]
    public void WhatIsNotKnownIsUncertain()
    {
        CoastPlace place = Ledge(TwoPoints());
        WayBack wayBack = new WayBack(place, 18);
        Assert.IsTrue(wayBack.WorkOut(Midnight(), false).State == WayBackState.Uncertain);
        Assert.IsTrue(wayBack.WorkOut(Midnight().PlusDays(1).PlusSeconds(1), true).State == WayBackState.Uncertain);
        Assert.IsTrue(wayBack.WorkOut(Midnight().PlusSeconds(-1), true).State == WayBackState.Uncertain);
        // On the last ebb the table ends at low water, 24:00; the longest walk is 90 min.
        WayBackResult ends = wayBack.WorkOut(Midnight().PlusMinutes(21 * 60 + 30), true);
        Assert.IsTrue(ends.State == WayBackState.DataEnds);
        Assert.IsTrue(ends.LeaveBy.SecondsSince(Midnight()) == (22 * 60 + 30) * 60);
        Assert.IsTrue(wayBack.WorkOut(Midnight().PlusMinutes(22 * 60 + 31), true).State == WayBackState.Uncertain);
    }

    [TestMethod]
    public void HighGroundAndShortHorizonsAreDistinguished()
    {
        CoastPlace high = Ledge(new PathPoint[0]);
        Assert.IsTrue(new WayBack(high, 3).WorkOut(Midnight(), true).State == WayBackState.BeyondHorizon);
        Assert.IsTrue(new WayBack(high, 30).WorkOut(Midnight(), true).State == WayBackState.DataEnds);
        // A high over the limit for 8 minutes only, between two ten-minute readings, is seen.
        CoastPlace brief = Ledge(new PathPoint[] { new PathPoint("Step", 5.0495, 0, 0) });
        WayBackResult seen = new WayBack(brief, 10).WorkOut(Midnight().PlusMinutes(5), true);
        Assert.IsTrue(seen.State == WayBackState.Open);
        Check.Near(6 * 3600, seen.ChangesAt.SecondsSince(Midnight()), 400, "brief high");
    }

    private static WayBackResult OpenUntil(UtcInstant workedOut, UtcInstant leaveBy) =>
        new WayBackResult(WayBackState.Open, workedOut, leaveBy, leaveBy.PlusMinutes(20), 0);

    [TestMethod]
    public void LevelsComeAheadOfTimeAndAcrossMidnight()
    {
        WayBackAlarm alarm = new WayBackAlarm(45, 15);
        UtcInstant now = Midnight().PlusMinutes(-30);
        UtcInstant leave = Midnight().PlusMinutes(40);
        WayBackResult result = OpenUntil(now, leave);
        long us = 1_000_000;
        Assert.IsTrue(alarm.Update(now, true, us, result) == WayBackLevel.Quiet);
        Assert.IsFalse(alarm.Sounding);
        Assert.IsTrue(alarm.Update(now.PlusMinutes(25), true, us + 1500_000_000L, result) == WayBackLevel.PackUpSoon);
        alarm.Acknowledge(us + 1500_000_000L);
        Assert.IsTrue(alarm.Update(now.PlusMinutes(26), true, us + 1560_000_000L, result) == WayBackLevel.PackUpSoon);
        Assert.IsFalse(alarm.Sounding);
        Assert.IsTrue(alarm.Update(now.PlusMinutes(31), true, us + 1860_000_000L, result) == WayBackLevel.PackUpSoon);
        Assert.IsTrue(alarm.Sounding);
        alarm.Acknowledge(us + 3290_000_000L);
        Assert.IsTrue(alarm.Update(now.PlusMinutes(55), true, us + 3300_000_000L, result) == WayBackLevel.Warning);
        Assert.IsTrue(alarm.Sounding);
        Assert.IsTrue(alarm.Update(now.PlusMinutes(70), true, us + 4200_000_000L, result) == WayBackLevel.Leave);
    }

    [TestMethod]
    public void EveryDoubtTurnsTheAlarmOn()
    {
        UtcInstant now = Midnight();
        WayBackResult result = OpenUntil(now, now.PlusHours(5));
        // Never set, or stopped.
        Assert.IsTrue(new WayBackAlarm(45, 15).Update(now, false, 0, result) == WayBackLevel.Uncertain);
        // Set back to 2000 while running.
        WayBackAlarm reset = new WayBackAlarm(45, 15);
        Assert.IsTrue(reset.Update(now, true, 0, result) == WayBackLevel.Quiet);
        Assert.IsTrue(reset.Update(new UtcInstant(5), true, 1_000_000, result) == WayBackLevel.Uncertain);
        Assert.IsTrue(reset.Sounding);
        // It stays on when the clock comes back, until it is accepted and worked out again.
        Assert.IsTrue(reset.Update(now.PlusSeconds(2), true, 2_000_000, result) == WayBackLevel.Uncertain);
        reset.AcceptClock(now.PlusHours(1), 3_000_000);
        Assert.IsTrue(reset.Update(now.PlusHours(1), true, 3_000_000, result) == WayBackLevel.Uncertain);
        Assert.IsTrue(reset.Update(now.PlusHours(1), true, 3_000_000, OpenUntil(now.PlusHours(1), now.PlusHours(5))) == WayBackLevel.Quiet);
        // A jump forward.
        WayBackAlarm jump = new WayBackAlarm(45, 15);
        jump.Update(now, true, 0, result);
        Assert.IsTrue(jump.Update(now.PlusMinutes(2), true, 1_000_000, result) == WayBackLevel.Uncertain);
        // The wrong day: a result that was worked out tomorrow.
        Assert.IsTrue(new WayBackAlarm(45, 15).Update(now.PlusDays(-1), true, 0, result) == WayBackLevel.Uncertain);
        // The table has run out.
        WayBackResult ends = new WayBackResult(WayBackState.DataEnds, now, now.PlusMinutes(50), now.PlusMinutes(80), -1);
        WayBackAlarm table = new WayBackAlarm(45, 15);
        Assert.IsTrue(table.Update(now, true, 0, ends) == WayBackLevel.Quiet);
        Assert.IsTrue(table.Update(now.PlusMinutes(50), true, 3000_000_000L, ends) == WayBackLevel.Uncertain);
    }

    [TestMethod]
    public void AnOldCutOffIsNotBelieved()
    {
        UtcInstant now = Midnight();
        WayBackResult cut = new WayBackResult(WayBackState.CutOff, now, now, now.PlusMinutes(20), 0);
        WayBackAlarm alarm = new WayBackAlarm(45, 15);
        Assert.IsTrue(alarm.Update(now, true, 0, cut) == WayBackLevel.CutOff);
        Assert.IsTrue(alarm.Update(now.PlusSeconds(1199), true, 1199_000_000L, cut) == WayBackLevel.CutOff);
        Assert.IsTrue(alarm.Update(now.PlusMinutes(20), true, 1200_000_000L, cut) == WayBackLevel.Uncertain);
        Assert.IsTrue(alarm.Sounding);
    }

    [TestMethod]
    public void AClockSetBackByLessThanAMinuteIsNoticed()
    {
        UtcInstant now = Midnight();
        WayBackResult result = OpenUntil(now.PlusSeconds(100), now.PlusHours(5));
        for (int back = 3; back <= 60; back += 4)
        {
            WayBackAlarm alarm = new WayBackAlarm(45, 15);
            Assert.IsTrue(alarm.Update(now.PlusSeconds(100), true, 0, result) == WayBackLevel.Quiet);
            // The rounding of the two clocks is no alarm.
            Assert.IsTrue(alarm.Update(now.PlusSeconds(100), true, 1_000_000, result) == WayBackLevel.Quiet);
            Assert.IsTrue(alarm.Update(now.PlusSeconds(102 - back), true, 3_000_000, result) == WayBackLevel.Uncertain);
            Assert.IsTrue(alarm.ClockMoved);
        }
    }

    [TestMethod]
    public void SprayRemindersWaitForTheFrame()
    {
        SprayTimer spray = new SprayTimer(SprayTimer.DefaultSeconds, 0);
        Assert.IsFalse(spray.Due(119_999_999, false));
        Assert.IsTrue(spray.Due(120_000_000, false));
        Assert.IsFalse(spray.Due(130_000_000, true));
        Assert.IsTrue(spray.Due(400_000_000, false));
        spray.Looked(400_000_000);
        Assert.IsFalse(spray.Due(500_000_000, false));
        Assert.IsFalse(new SprayTimer(0, 0).Due(long.MaxValue, false));
    }

    /// <summary>Sunrise near 06:50 UTC at 50 N 5 W on 9 March: the ebb from 06:00 passes 4.5 m near 07:23 and half tide at 09:00.</summary>
    [TestMethod]
    public void AFallingTideAtSunriseIsFound()
    {
        CoastPlace place = Ledge(new PathPoint[] { new PathPoint("Shelf", 5.5, 20, 0.2) });
        MorningWish wish = new MorningWish(30, 90, 4.8, 2.0, 20, true, true);
        Mornings search = new Mornings(place, wish, Midnight().PlusHours(10), 3, 5);
        int steps = 0;
        while (!search.Step()) steps++;
        Assert.IsTrue(steps > 2);
        Assert.AreEqual(100, search.Percent);
        // The evening fits as well: sunset near 18:05, high water at 18:00. The two days after lie outside the table.
        Assert.AreEqual(2, search.Count);
        Assert.AreEqual(4, search.Unknown);
        Assert.IsTrue(search[0].Score >= search[1].Score);
        for (int i = 0; i < 2; i++)
        {
            // The rank as it is said, with more than an hour to spare on a path that stays open.
            long middle = (search[i].WorkStart.Seconds + search[i].WorkEnd.Seconds) / 2;
            double off = Elementary.Abs(middle - search[i].Sun.Seconds) / 60.0;
            Check.Near(search[i].WorkMinutes - off / 4 + 15, search[i].Score, 0.01, "rank");
        }
        Morning morning = search[0].IsEvening ? search[1] : search[0];
        Assert.IsFalse(morning.IsEvening);
        Assert.IsFalse(morning.PathCloses);
        // 3 + 2 cos = 4.8 at 25.8 degrees after high water, 52 min: 06:52.
        Check.Near(6 * 3600 + 52 * 60, morning.WorkStart.SecondsSince(Midnight()), 301, "work start");
        Assert.IsTrue(morning.WorkStart.SecondsSince(morning.SetOffAt) == 1800);
        Assert.IsTrue(morning.FromMetres <= 4.8 && morning.ToMetres >= 2.0 && morning.ToMetres < morning.FromMetres);
    }
}
