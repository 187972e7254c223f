using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The way back at the ends of what is known, and in every minute in which the water may come.</summary>
[TestClass]
public class WayBackLimitTests
{
    // What is taken off for a table whose turns alone are known.
    private const int Allowance = 65;

    private static UtcInstant Midnight() => new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc();

    // Low water of 1 m at midnight, high water of 5 m at six, and so many turns more.
    private static CoastPlace Ledge(int turns, PathPoint[] path)
    {
        PrintedTide tide = new PrintedTide();
        for (int i = 0; i < turns; i++) Assert.IsTrue(tide.Add(Midnight().PlusHours(6 * i), i % 2 == 0 ? 1 : 5, i % 2 == 1) == null);
        return new CoastPlace("Long Ledge", "chart datum", new GeoPosition(50, -5), new LocalOffset(0), tide, path, 30);
    }

    private static PathPoint Point(double flood, int walk) => new PathPoint("Point", flood, walk, 0);

    private static WayBackResult Work(CoastPlace place, int hours, int atMinutes) => new WayBack(place, hours).WorkOut(Midnight().PlusMinutes(atMinutes), true);

    private static int Minutes(UtcInstant time) => (int)(time.SecondsSince(Midnight()) / 60);

    private static void Is(WayBackState state, WayBackResult result) => Assert.AreEqual((int)state, (int)result.State);

    /// <summary>Wherever the limit lies, the water is seen in the minute in which it comes, whatever minute of a step that is.</summary>
    [TestMethod]
    public void TheWaterIsSeenInEveryMinute()
    {
        for (int i = 0; i < 80; i++)
        {
            CoastPlace place = Ledge(5, new PathPoint[] { Point(2.6 + 0.02 * i, 0) });
            WayBackResult result = Work(place, 12, i % 7);
            Is(WayBackState.Open, result);
            Check.Near(place.CutMetres(0), place.Tide.HeightMetres(result.ChangesAt), 0.004, "height when it is cut");
            Assert.AreEqual(Allowance * 60L, result.ChangesAt.SecondsSince(result.LeaveBy));
        }
    }

    /// <summary>A point that is cut later, and calls for no earlier start, changes nothing.</summary>
    [TestMethod]
    public void OfTwoPointsTheEarlierStartCounts()
    {
        WayBackResult alone = Work(Ledge(5, new PathPoint[] { Point(3, 20) }), 12, 0);
        WayBackResult both = Work(Ledge(5, new PathPoint[] { Point(3, 20), Point(3.1, 20), Point(3.02, 20) }), 12, 0);
        Assert.AreEqual(0, both.Point);
        Assert.AreEqual(alone.LeaveBy.Seconds, both.LeaveBy.Seconds);
        // Cut now: the lowest is named, and of two that are as low the first.
        WayBackResult cut = Work(Ledge(5, new PathPoint[] { Point(4, 20), Point(3, 20), Point(3, 20) }), 12, 5 * 60);
        Is(WayBackState.CutOff, cut);
        Assert.AreEqual(1, cut.Point);
    }

    /// <summary>A point that no low water clears is cut to the end of what was looked at, or of what is known.</summary>
    [TestMethod]
    public void APointThatIsNeverClearIsCutToTheEnd()
    {
        WayBackResult horizon = Work(Ledge(5, new PathPoint[] { Point(0.5, 20) }), 3, 0);
        Is(WayBackState.CutOff, horizon);
        Assert.AreEqual(180, Minutes(horizon.ChangesAt));
        WayBackResult end = Work(Ledge(2, new PathPoint[] { Point(0.5, 20) }), 18, 0);
        Is(WayBackState.CutOff, end);
        Assert.AreEqual(360, Minutes(end.ChangesAt));
    }

    /// <summary>Beyond the horizon of the search and after the last turn, the water is taken to come at the point with the longest walk.</summary>
    [TestMethod]
    public void BeyondTheKnownTideTheWaterIsTakenToCome()
    {
        CoastPlace high = Ledge(5, new PathPoint[] { Point(9, 90), Point(9, 20) });
        WayBackResult horizon = Work(high, 3, 0);
        Is(WayBackState.BeyondHorizon, horizon);
        Assert.AreEqual(180 - 90 - Allowance, Minutes(horizon.LeaveBy));
        Assert.AreEqual(-1, horizon.Point);
        CoastPlace brief = Ledge(2, new PathPoint[] { Point(9, 90) });
        WayBackResult ends = Work(brief, 18, 269);
        Is(WayBackState.DataEnds, ends);
        Assert.AreEqual(360 - 90, Minutes(ends.LeaveBy));
        Assert.AreEqual(-1, ends.Point);
        // In the very minute in which that walk must begin, nothing is known any more.
        WayBackResult gone = Work(brief, 18, 270);
        Is(WayBackState.Uncertain, gone);
        Assert.AreEqual(-1, gone.Point);
        Assert.AreEqual(0L, gone.SecondsLeft(Midnight()));
    }

    /// <summary>Water that comes in the last ten minutes of a table is seen, and a leave-by time before the end of the table is kept.</summary>
    [TestMethod]
    public void TheLastStepOfATableIsLookedAt()
    {
        CoastPlace place = Ledge(2, new PathPoint[] { Point(5.0485, 0), Point(9, 0) });
        WayBackResult last = Work(place, 18, 0);
        Is(WayBackState.Open, last);
        Assert.AreEqual(0, last.Point);
        Assert.IsTrue(Minutes(last.ChangesAt) > 350);
        WayBackResult kept = Work(Ledge(2, new PathPoint[] { Point(4.95, 20), Point(9, 60) }), 18, 0);
        Is(WayBackState.Open, kept);
        Assert.AreEqual(0, kept.Point);
        Assert.AreEqual((20 + Allowance) * 60L, kept.ChangesAt.SecondsSince(kept.LeaveBy));
    }

    /// <summary>An earlier result is not reported again when the clock is no longer trusted.</summary>
    [TestMethod]
    public void AnUntrustedClockTakesTheResultAway()
    {
        CoastPlace place = Ledge(5, new PathPoint[] { Point(3, 20) });
        WayBack way = new WayBack(place, 12);
        Assert.IsTrue(way.Done && way.Step() && way.Result.Point == -1);
        Is(WayBackState.Open, way.WorkOut(Midnight(), true));
        WayBackResult none = way.WorkOut(Midnight().PlusMinutes(1), false);
        Is(WayBackState.Uncertain, none);
        Assert.AreEqual(-1, none.Point);
        Assert.AreEqual(1, Minutes(none.WorkedOutAt));
    }

    [TestMethod]
    public void TheWordsTellThatTheTimeHasComeAndNameTheWholePathForNoPoint()
    {
        CoastPlace place = Ledge(5, new PathPoint[] { new PathPoint("Sand neck", 3, 20, 0) });
        UtcInstant leave = Midnight().PlusMinutes(90);
        WayBackResult open = new WayBackResult(WayBackState.Open, Midnight(), leave, leave.PlusMinutes(85), 0);
        Assert.AreEqual("Leave by 01:30", open.Line(place, leave.PlusSeconds(-1)));
        Assert.AreEqual("PAST 01:30: GO NOW", open.Line(place, leave));
        Assert.AreEqual("CUT OFF: Sand neck", new WayBackResult(WayBackState.CutOff, Midnight(), leave, leave, 0).Line(place, leave));
        Assert.AreEqual("CUT OFF: the path", new WayBackResult(WayBackState.CutOff, Midnight(), leave, leave, -1).Line(place, leave));
        Assert.AreEqual("CUT OFF: the path", new WayBackResult(WayBackState.CutOff, Midnight(), leave, leave, 1).Line(place, leave));
        Assert.AreEqual(0L, new WayBackResult(WayBackState.CutOff, Midnight(), leave, leave, 0).SecondsLeft(Midnight()));
        Assert.AreEqual(5400L, open.SecondsLeft(Midnight()));
    }

    [TestMethod]
    public void AWipeIsRemindedOfFromTenSecondsToAnHourOrNever()
    {
        int[] asked = new int[] { -1, 0, 1, 10, 11, 3600, 3601 };
        int[] due = new int[] { -1, -1, 10, 10, 11, 3600, 3600 };
        for (int i = 0; i < asked.Length; i++)
        {
            SprayTimer timer = new SprayTimer(asked[i], 0);
            if (due[i] < 0)
            {
                Assert.IsFalse(timer.Due(9_000_000_000, false));
                continue;
            }
            Assert.IsFalse(timer.Due(due[i] * 1_000_000L - 1, false));
            Assert.IsTrue(timer.Due(due[i] * 1_000_000L, false));
            Assert.IsFalse(timer.Due(due[i] * 1_000_000L, true));
        }
    }
}
