using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

[TestClass]
public class TideTests
{
    private static PrintedTide Day()
    {
        PrintedTide tide = new PrintedTide();
        UtcInstant midnight = new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc();
        Assert.IsTrue(tide.Add(midnight.PlusMinutes(30), 1.0, false) == null);
        Assert.IsTrue(tide.Add(midnight.PlusMinutes(30 + 360), 5.0, true) == null);
        Assert.IsTrue(tide.Add(midnight.PlusMinutes(30 + 735), 1.2, false) == null);
        Assert.IsTrue(tide.Add(midnight.PlusMinutes(30 + 1105), 4.8, true) == null);
        return tide;
    }

    [TestMethod]
    public void PrintedTurnsAreKeptAndHalfwayIsTheMiddle()
    {
        PrintedTide tide = Day();
        UtcInstant low = tide[0].Time;
        Check.Near(1.0, tide.HeightMetres(low), 1e-12, "low");
        Check.Near(3.0, tide.HeightMetres(low.PlusMinutes(180)), 1e-12, "half tide");
        Check.Near(5.0, tide.HeightMetres(low.PlusMinutes(360)), 1e-12, "high");
        // 4 m in 6 h: the greatest rate of a half cosine is pi / 2 times the mean one.
        Check.Near(4.0 / 6 * Elementary.Pi / 2, tide.RateMetresPerHour(low.PlusMinutes(180)), 1e-9, "rate");
    }

    [TestMethod]
    public void OutsideThePrintedTableNothingIsKnown()
    {
        PrintedTide tide = Day();
        Assert.IsTrue(tide.CertaintyAt(tide.ValidFrom) == TideCertainty.Interpolated);
        Assert.IsTrue(tide.CertaintyAt(tide.ValidFrom.PlusSeconds(-1)) == TideCertainty.None);
        Assert.IsTrue(tide.CertaintyAt(tide.ValidUntil.PlusSeconds(1)) == TideCertainty.None);
        Assert.IsFalse(tide.TryNextTurn(tide.ValidUntil, out TideTurn none));
        Assert.IsFalse(tide.Covers(tide.ValidFrom, tide.ValidUntil.PlusSeconds(1)));
    }

    [TestMethod]
    public void BadTurnsAreRefusedWithAReason()
    {
        PrintedTide tide = Day();
        UtcInstant last = tide.ValidUntil;
        Assert.AreEqual("Turns must be typed in order of time.", tide.Add(last, 1, false)!);
        Assert.AreEqual("Two high waters in a row: one low is missing.", tide.Add(last.PlusHours(6), 5, true)!);
        Assert.AreEqual("Turns are 5 min to 30 h apart.", tide.Add(last.PlusHours(31), 1, false)!);
        Assert.AreEqual("Turns are 5 min to 30 h apart.", tide.Add(last.PlusSeconds(299), 1, false)!);
        Assert.AreEqual("A high water must stand above its low water.", tide.Add(last.PlusHours(6), 4.9, false)!);
        Assert.AreEqual(4, tide.Count);
    }

    [TestMethod]
    public void TurnsAreFiveMinutesToThirtyHoursApart()
    {
        int[] seconds = new int[] { 299, 300, 108_000, 108_001 };
        for (int i = 0; i < seconds.Length; i++)
        {
            PrintedTide tide = Day();
            string? refusal = tide.Add(tide.ValidUntil.PlusSeconds(seconds[i]), 1.0, false);
            Assert.AreEqual(i == 0 || i == 3 ? "Turns are 5 min to 30 h apart." : "", refusal ?? "");
        }
    }

    /// <summary>More than 16 h may hide a pair of turns, but where the tide turns once a day.</summary>
    [TestMethod]
    public void ALongGapIsDoubtful()
    {
        PrintedTide tide = Day();
        Assert.IsNull(tide.Add(tide.ValidUntil.PlusHours(16), 1.0, false));
        Assert.AreEqual(0, tide.Doubtful(TideShape.Any));
        Assert.IsNull(tide.Add(tide.ValidUntil.PlusHours(16).PlusSeconds(1), 5.0, true));
        Assert.AreEqual(tide.Count - 1, tide.Doubtful(TideShape.Any));
        Assert.AreEqual(tide.Count - 1, tide.Doubtful(TideShape.Plain));
        Assert.AreEqual(0, tide.Doubtful(TideShape.Daily));
    }

    /// <summary>The high water of 5.0 m and the low water of 1.2 m lie between two points an hour apart.</summary>
    [TestMethod]
    public void TheCurvesEndsAreThoseOfItsTurns()
    {
        PrintedTide tide = Day();
        TideCurve curve = new TideCurve(40);
        curve.Begin(tide, tide.ValidFrom.PlusMinutes(200), 3600, 14);
        while (!curve.Step()) { }
        for (int i = 0; i < curve.Count; i++) Assert.IsTrue(curve.HeightMetres(i) < 4.999 && curve.HeightMetres(i) > 1.201);
        Check.Near(5.0, curve.HighestMetres, 1e-12, "highest");
        Check.Near(1.2, curve.LowestMetres, 1e-12, "lowest");
    }

    [TestMethod]
    public void TheCurveOfAPrintedDayHasItsTurns()
    {
        PrintedTide tide = Day();
        TideCurve curve = new TideCurve(200);
        curve.Begin(tide, tide.ValidFrom, 600, 111);
        while (!curve.Step()) { }
        Assert.AreEqual(2, curve.TurnCount);
        Assert.IsTrue(curve.Turn(0).Time.Seconds == tide[1].Time.Seconds);
        Assert.IsTrue(curve.Turn(1).Time.Seconds == tide[2].Time.Seconds);
        Check.Near(5.0, curve.HighestMetres, 1e-12, "highest");
        Check.Near(1.0, curve.LowestMetres, 1e-12, "lowest");
    }

    /// <summary>A lone M2 turns every half period: 360 / 28.9841042 / 2 = 6.2103 h.</summary>
    [TestMethod]
    public void ALoneLunarTideTurnsOnItsPeriod()
    {
        HarmonicConstants constants = new HarmonicConstants(3.0);
        Assert.IsTrue(constants.TrySet("M2", 2.0, 120));
        Assert.IsFalse(constants.TrySet("M9", 2.0, 120));
        HarmonicTide tide = new HarmonicTide(constants, NodeSchedule.Yearly);
        UtcInstant at = new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc();
        Assert.IsTrue(tide.TryNextTurn(at, out TideTurn turn));
        for (int n = 0; n < 10; n++)
        {
            UtcInstant before = turn.Time;
            bool high = turn.IsHigh;
            Assert.IsTrue(tide.TryNextTurn(before, out turn));
            Check.Near(22357.1, turn.Time.SecondsSince(before), 3, "half period");
            Assert.IsTrue(turn.IsHigh != high);
            // The node factor stays within 3.8 % of 1.
            Check.Near(high ? 1.0 : 5.0, turn.HeightMetres, 0.08, "height");
        }
    }
}
