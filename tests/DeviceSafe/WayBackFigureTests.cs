using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The way back where the water just reaches a limit, where two times are the same second, and where the tide rises fast.</summary>
[TestClass]
public class WayBackFigureTests
{
    private const int Allowance = 65;

    private static UtcInstant Midnight() => new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc();

    // From 1 m at midnight to 3 m at six, where it stands until noon.
    private static CoastPlace Stand(PathPoint[] path)
    {
        PrintedTide tide = new PrintedTide();
        Assert.IsNull(tide.Add(Midnight(), 1, false));
        Assert.IsNull(tide.Add(Midnight().PlusHours(6), 3, true));
        Assert.IsNull(tide.Add(Midnight().PlusHours(12), 3, false));
        return new CoastPlace("Long Ledge", "chart datum", new GeoPosition(50, -5), new LocalOffset(0), tide, path, 30);
    }

    // 3.05 m less 5 cm for a table: 3 m.
    private static PathPoint AtThree(int walk) => new PathPoint("Point", 3.05, walk, 0);

    private static WayBackResult Work(CoastPlace place, int minutes) => new WayBack(place, 18).WorkOut(Midnight().PlusMinutes(minutes), true);

    private static int Minutes(UtcInstant time) => (int)(time.SecondsSince(Midnight()) / 60);

    private static void Is(WayBackState state, WayBackResult result) => Assert.AreEqual((int)state, (int)result.State);

    /// <summary>Water at the limit cuts the point, when it comes and when it stands there.</summary>
    [TestMethod]
    public void WaterAtTheLimitCuts()
    {
        WayBackResult coming = Work(Stand(new PathPoint[] { AtThree(20) }), 0);
        Is(WayBackState.Open, coming);
        Assert.AreEqual(6 * 60, Minutes(coming.ChangesAt));
        Assert.AreEqual(6 * 60 - 20 - Allowance, Minutes(coming.LeaveBy));
        WayBackResult standing = Work(Stand(new PathPoint[] { AtThree(20) }), 8 * 60);
        Is(WayBackState.CutOff, standing);
        Assert.AreEqual(0, standing.Point);
        Is(WayBackState.DataEnds, Work(Stand(new PathPoint[] { new PathPoint("Point", 3.0501, 20, 0) }), 0));
    }

    /// <summary>In the very second in which one must set off, the time is past.</summary>
    [TestMethod]
    public void InTheSecondOfTheLeaveByTimeItIsPast()
    {
        CoastPlace place = Stand(new PathPoint[] { AtThree(20) });
        int leave = 6 * 60 - 20 - Allowance;
        Is(WayBackState.Open, Work(place, leave - 1));
        WayBackResult past = Work(place, leave);
        Is(WayBackState.PastLeaveBy, past);
        Assert.AreEqual(leave, Minutes(past.LeaveBy));
    }

    /// <summary>Of two points that call for the same start the first is named; and a point counts before the end of the table when both are the same second.</summary>
    [TestMethod]
    public void TheFirstOfTwoThatAreTheSameIsNamed()
    {
        WayBackResult twice = Work(Stand(new PathPoint[] { AtThree(20), AtThree(20) }), 0);
        Assert.AreEqual(0, twice.Point);
        // The table ends at noon: a walk of 425 minutes from there is the start of the first point to the second.
        WayBackResult end = Work(Stand(new PathPoint[] { AtThree(0), new PathPoint("Far", 9, Allowance + 360, 0) }), 0);
        Is(WayBackState.Open, end);
        Assert.AreEqual(0, end.Point);
        Assert.AreEqual(6 * 60 - Allowance, Minutes(end.LeaveBy));
    }

    /// <summary>The last part of a table that is shorter than ten minutes is not read. Its end counts as the moment when the water comes, also when it comes earlier in that part.</summary>
    [TestMethod]
    public void TheLastPartOfATenMinutesCountsAsItsEnd()
    {
        PrintedTide tide = new PrintedTide();
        Assert.IsNull(tide.Add(Midnight(), 1, false));
        Assert.IsNull(tide.Add(Midnight().PlusHours(6), 5, true));
        CoastPlace place = new CoastPlace("Long Ledge", "chart datum", new GeoPosition(50, -5), new LocalOffset(0), tide, new PathPoint[] { new PathPoint("Point", 5.0495, 30, 0) }, 30);
        WayBackResult result = Work(place, 5);
        Is(WayBackState.DataEnds, result);
        Assert.AreEqual(360, Minutes(result.ChangesAt));
        Assert.AreEqual(330, Minutes(result.LeaveBy));
    }

    /// <summary>A metre and a half in an hour: the height at the moment that is told is the limit's, to the second's rise.</summary>
    [TestMethod]
    public void AFastRiseIsReadBetweenItsReadings()
    {
        for (int i = 0; i < 24; i++)
        {
            PrintedTide tide = new PrintedTide();
            UtcInstant at = Midnight();
            for (int n = 0; n < 20; n++) Assert.IsNull(tide.Add(at.PlusHours(n), n % 2 == 0 ? 1 : 2.5, n % 2 == 1));
            CoastPlace place = new CoastPlace("Bar", "chart datum", new GeoPosition(50, -5), new LocalOffset(0), tide, new PathPoint[] { new PathPoint("Point", 1.2 + 0.05 * i, 0, 0) }, 30);
            WayBackResult result = Work(place, i % 7);
            Assert.IsTrue(result.State == WayBackState.PastLeaveBy);
            Check.Near(place.CutMetres(0), tide.HeightMetres(result.ChangesAt), 0.001, "height when it is cut");
        }
    }

    /// <summary>Four calls for three hours: one that begins, and eight readings of ten minutes in each of the others. Without a clock the first call is the last.</summary>
    [TestMethod]
    public void TheWorkComesInSmallCalls()
    {
        WayBack way = new WayBack(Stand(new PathPoint[] { new PathPoint("Point", 9, 20, 0) }), 3);
        way.Begin(Midnight(), true);
        int calls = 1;
        while (!way.Step()) calls++;
        Assert.AreEqual(4, calls);
        way.Begin(Midnight(), false);
        Assert.IsTrue(way.Step() && way.Done);
        Is(WayBackState.Uncertain, way.Result);
    }

    /// <summary>What is taken off by the source of the heights: a table of any shape, an even one, one along its own sum, one along a neighbour's; a sum.</summary>
    [TestMethod]
    public void TheAllowanceGoesByTheSource()
    {
        PathPoint[] path = new PathPoint[] { new PathPoint("Point", 3, 20, 0.25) };
        GeoPosition here = new GeoPosition(50, -5);
        HarmonicTide sum = new HarmonicTide(new HarmonicConstants(3.0, 1).Set(0, 2.0, 120), NodeSchedule.Yearly);
        CoastPlace bySum = new CoastPlace("Ledge", "chart datum", here, new LocalOffset(0), sum, path, 30, TideShape.Any, 12);
        Assert.AreEqual(2, bySum.AllowanceMinutes);
        Assert.AreEqual(15, bySum.AllowanceCentimetres);
        // A walk along the sum may be wrong by half a millimetre, which is taken off as well.
        Check.Near(2.75 - 0.15 - 0.0005, bySum.CutMetres(0), 1e-12, "cut");
        Check.Near(bySum.CutMetres(0), bySum.LowestCutMetres, 0, "lowest");
        Assert.AreEqual("sum: 2 min, 15 cm off", TideAllowance.Words(bySum));
        TideShape[] shapes = new TideShape[] { TideShape.Any, TideShape.Plain, TideShape.Daily, TideShape.AsSum, TideShape.AsNeighbour };
        int[] loose = new int[] { 65, 10, 65, 65, 65 };
        int[] shaped = new int[] { 65, 10, 65, 10, 65 };
        PrintedTide tide = new PrintedTide();
        UtcInstant at = Midnight();
        for (int i = 0; i < 5; i++)
        {
            Assert.IsTrue(sum.TryNextTurn(at, out TideTurn turn));
            Assert.IsNull(tide.Add(turn.Time, turn.HeightMetres, turn.IsHigh));
            at = turn.Time;
        }
        for (int times = 0; times < 2; times++)
        {
            for (int i = 0; i < shapes.Length; i++)
            {
                CoastPlace place = new CoastPlace("Ledge", "chart datum", here, new LocalOffset(0), tide, path, 30, shapes[i], 12);
                Assert.AreEqual(times == 0 ? loose[i] : shaped[i], place.AllowanceMinutes);
                Assert.AreEqual(times == 0 ? 5 : 17, place.AllowanceCentimetres);
                Check.Near(2.75 - (times == 0 ? 0.05 : 0.17 + 0.001), place.CutMetres(0), 1e-12, "cut");
                Assert.AreEqual(20 + place.AllowanceMinutes, place.BackMinutes(0));
            }
            tide.TakeShape(sum);
            while (!tide.ShapeDone) tide.ShapeStep();
            Assert.IsTrue(tide.IsShaped);
        }
    }
}
