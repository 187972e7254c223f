using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A printed table along a sum, a curve over a tide that does what the test says, and node terms of compound tides.</summary>
[TestClass]
public class TideShapeFigureTests
{
    private static UtcInstant Start() => new CivilTime(2031, 3, 14, 0, 0, 0).AsUtc();

    private static HarmonicTide Sum(string first, double metres, string second, double others)
    {
        HarmonicConstants constants = new HarmonicConstants(3, 3);
        Assert.IsTrue(constants.TrySet(first, metres, 40) && constants.TrySet("S2", 0, 0) && constants.TrySet(second, others, 200));
        return new HarmonicTide(constants, NodeSchedule.Yearly);
    }

    // The turns of a sum as another place might print them: so many minutes later, so many times as high, and half a metre more.
    private static PrintedTide Printed(HarmonicTide sum, int turns, int minutesLater, double times)
    {
        PrintedTide table = new PrintedTide();
        UtcInstant after = Start();
        for (int i = 0; i < turns; i++)
        {
            Assert.IsTrue(sum.TryNextTurn(after, out TideTurn turn));
            Assert.IsNull(table.Add(turn.Time.PlusMinutes(minutesLater + i % 3 * 10), turn.HeightMetres * times + 0.5 + i % 2 * 0.1, turn.IsHigh));
            after = turn.Time;
        }
        return table;
    }

    private static void Shape(PrintedTide table, HarmonicTide sum)
    {
        table.TakeShape(sum);
        int steps = 0;
        while (!table.ShapeDone)
        {
            Assert.IsFalse(table.IsShaped);
            table.ShapeStep();
            steps++;
        }
        Assert.IsTrue(steps <= table.Count);
        table.ShapeStep();
    }

    /// <summary>
    /// Between two printed turns the table runs as the sum does between its own: time stretched evenly, the sum's rise times a factor of 0.5 to 2, and what is
    /// left shared out evenly; 1 where the sum rises by less than 0.3 m. At the turns it is the table's. Worked out here from the sum's own turns and heights.
    /// </summary>
    [TestMethod]
    public void ATableRunsAlongTheSum()
    {
        double[] amplitudes = new double[] { 1.5, 1.5, 0.12, 0.6 };
        double[] times = new double[] { 1.3, 0.8, 1.0, 3.0 };
        for (int n = 0; n < 4; n++)
        {
            HarmonicTide sum = Sum("M2", amplitudes[n], "M4", n == 2 ? 0.01 : 0.2);
            PrintedTide table = Printed(sum, 6, n == 1 ? -70 : 25, times[n]);
            Shape(table, sum);
            Assert.IsTrue(table.IsShaped);
            Check.Near(2 * sum.WalkErrorMetres, table.WalkErrorMetres, 0, "walk error");
            TideWalker walker = table.CreateWalker();
            int step = n == 0 ? 600 : n == 1 ? 3_600 : 1_234;
            walker.Start(table.ValidFrom, step);
            // A walk may begin before the table and end behind it: the height of the end, and no rise.
            for (int i = 0; i < 5; i++)
            {
                TideTurn from = table[i], until = table[i + 1];
                Assert.IsTrue(sum.TryTurnNear(from.Time, 7_200, from.IsHigh, out TideTurn own));
                Assert.IsTrue(sum.TryTurnNear(until.Time, 7_200, until.IsHigh, out TideTurn next));
                double rise = next.HeightMetres - own.HeightMetres;
                // divisor: a rise of 0.3 m or more
                double factor = rise > -0.3 && rise < 0.3 ? 1 : Elementary.Clamp((until.HeightMetres - from.HeightMetres) / rise, 0.5, 2);
                double rest = until.HeightMetres - from.HeightMetres - factor * rise;
                for (int k = 0; k <= 10; k++)
                {
                    UtcInstant at = from.Time.PlusSeconds(until.Time.SecondsSince(from.Time) * k / 10);
                    // divisor: turns are five minutes apart or more
                    double part = at.SecondsSince(from.Time) / (double)until.Time.SecondsSince(from.Time);
                    UtcInstant there = own.Time.PlusSeconds(Elementary.Round(part * next.Time.SecondsSince(own.Time)));
                    double height = from.HeightMetres + factor * (sum.HeightMetres(there) - own.HeightMetres) + part * rest;
                    Check.Near(height, table.HeightMetres(at), 1e-9, "height");
                    // divisor: turns are five minutes apart or more
                    double rate = factor * sum.RateMetresPerHour(there) * next.Time.SecondsSince(own.Time) / until.Time.SecondsSince(from.Time) + rest * 3600 / until.Time.SecondsSince(from.Time);
                    if (k > 0) Check.Near(rate, table.RateMetresPerHour(at), 1e-5, "rate");
                }
                Check.Near(from.HeightMetres, table.HeightMetres(from.Time), 1e-6, "at the turn");
                Check.Near(until.HeightMetres, table.HeightMetres(until.Time), 1e-6, "at the next");
            }
            while (walker.Time <= table.ValidUntil)
            {
                Check.Near(table.HeightMetres(walker.Time), walker.HeightMetres, table.WalkErrorMetres, "walked height");
                Check.Near(table.RateMetresPerHour(walker.Time), walker.RateMetresPerHour, 0.01, "walked rate");
                walker.Advance();
            }
            Check.Near(table[5].HeightMetres, walker.HeightMetres, 1e-9, "behind the end");
            Check.Near(0, walker.RateMetresPerHour, 0, "behind the end");
            walker.Start(table.ValidFrom.PlusHours(-1), 600);
            Check.Near(table[0].HeightMetres, walker.HeightMetres, 1e-9, "before the beginning");
            // Back again from the end, as a new day does.
            walker.Start(table.ValidFrom.PlusMinutes(90), 600);
            Check.Near(table.HeightMetres(walker.Time), walker.HeightMetres, table.WalkErrorMetres, "begun again");
        }
    }

    /// <summary>A turn that the sum does not have within two hours, turns that it has the other way round, and a single turn: the half cosine stays.</summary>
    [TestMethod]
    public void WithoutItsTurnsInTheSumTheHalfCosineStays()
    {
        HarmonicTide sum = Sum("M2", 1.5, "M4", 0.2);
        for (int n = 0; n < 3; n++)
        {
            HarmonicTide fast = Sum("M8", 1, "M6", 0.001);
            PrintedTide table;
            if (n == 0) table = Printed(sum, 4, 190, 1);
            else if (n == 1) table = Printed(sum, 1, 0, 1);
            else
            {
                // Two turns eight minutes apart, beside an hour and a half from one to the next: the first has its own behind it, the second before it.
                table = new PrintedTide();
                Assert.IsTrue(fast.TryNextTurn(Start(), out TideTurn turn));
                if (!turn.IsHigh) Assert.IsTrue(fast.TryNextTurn(turn.Time, out turn));
                Assert.IsNull(table.Add(turn.Time.PlusMinutes(100), 2, true));
                Assert.IsNull(table.Add(turn.Time.PlusMinutes(108), 1, false));
            }
            Shape(table, n == 2 ? fast : sum);
            Assert.IsFalse(table.IsShaped);
            Check.Near(0, table.WalkErrorMetres, 0, "walk error");
            if (n == 1) continue;
            UtcInstant half = table[0].Time.PlusSeconds(table[1].Time.SecondsSince(table[0].Time) / 2);
            Check.Near((table[0].HeightMetres + table[1].HeightMetres) / 2, table.HeightMetres(half), 0.001, "half tide");
            TideWalker walker = table.CreateWalker();
            walker.Start(half, 600);
            Check.Near(table.HeightMetres(half), walker.HeightMetres, 1e-9, "walked");
        }
    }

    /// <summary>The nearest high and the nearest low of a tide that turns every hour and a half, and its height, which is the amplitude.</summary>
    [TestMethod]
    public void TheNearestTurnIsFoundAndItsHeightIsThatOfTheTop()
    {
        HarmonicTide fast = Sum("M8", 2, "M6", 0.00001);
        LunarOrbit orbit = new LunarOrbit();
        orbit.SetAll(new CivilTime(2031, 7, 2, 12, 0, 0).AsUtc());
        double top = 2 * orbit.M2Factor * orbit.M2Factor * orbit.M2Factor * orbit.M2Factor;
        UtcInstant after = Start();
        for (int i = 0; i < 12; i++)
        {
            Assert.IsTrue(fast.TryNextTurn(after.PlusSeconds(37 * i), out TideTurn turn));
            Check.Near(turn.IsHigh ? 3 + top : 3 - top, turn.HeightMetres, 0.00003, "height");
            for (int minutes = -85; minutes <= 85; minutes += 17)
            {
                Assert.IsTrue(fast.TryTurnNear(turn.Time.PlusMinutes(minutes), 7_200, turn.IsHigh, out TideTurn near));
                Check.Near(turn.Time.Seconds, near.Time.Seconds, 1, "the nearest");
                Assert.IsTrue(near.IsHigh == turn.IsHigh);
            }
            fast.LetSearcherGo();
            after = turn.Time;
        }
    }

    /// <summary>Each node term of compound tides, against the factors and angles of its members.</summary>
    [TestMethod]
    public void CompoundNodeTermsAreThoseOfTheirMembers()
    {
        NodeTerm none = NodeTerm.None, o1 = NodeTerm.O1, k1 = NodeTerm.K1, k2 = NodeTerm.K2, j1 = NodeTerm.J1;
        NodeTerm[] first = new NodeTerm[] { none, o1, o1, o1, k1, k1, k1, k2, k2, k2, k2, j1, j1, NodeTerm.OO1, NodeTerm.Mm, NodeTerm.Mf, NodeTerm.M3, NodeTerm.L2, NodeTerm.M1, k1, k1, k2, k2, k2, k2, j1, k1, none };
        int[] times = new int[] { 0, 1, -1, 2, 1, -1, 3, 1, -1, 2, -2, 1, -1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, -1, 1, 1, 0 };
        NodeTerm[] second = new NodeTerm[] { none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, none, o1, o1, o1, o1, NodeTerm.L2, NodeTerm.L2, k1, k2, none };
        int[] more = new int[] { 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, -1, -1, 1, 1, 1, 1, 1, 0 };
        UtcInstant noon = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();
        LunarOrbit orbit = new LunarOrbit();
        orbit.SetAll(noon);
        for (int number = 0; number < first.Length; number++)
        {
            // At noon the mean sun's hour angle is 0; of M2 once backwards with a pair that cancels in the angle alone.
            int recipe = ConstituentRecipe.Pack(1, 0, 0, 0, 0, 0, -1, 1, number);
            HarmonicConstants constants = new HarmonicConstants(0, 1);
            Assert.IsTrue(constants.TrySet(recipe, 1, 30));
            double f = Power(orbit.M2Factor, 3) * Power(orbit.Factor(first[number]), times[number]) * Power(orbit.Factor(second[number]), more[number]);
            double u = -orbit.M2AngleDegrees + times[number] * orbit.AngleDegrees(first[number]) + more[number] * orbit.AngleDegrees(second[number]);
            Check.Near(f * Elementary.Cos((u - 30) * Elementary.RadiansPerDegree), new HarmonicTide(constants, NodeSchedule.Daily).HeightMetres(noon), 1e-5, "terms " + number.ToString());
        }
    }

    private static double Power(double factor, int times)
    {
        double product = 1;
        for (int n = times < 0 ? -times : times; n > 0; n--) product *= factor;
        return product;
    }

    [TestMethod]
    public void NamesAreKnownInTheirOtherSpellings()
    {
        Assert.AreEqual(15, Constituents.IndexOf("LAMBDA2"));
        Assert.AreEqual(15, Constituents.IndexOf("LDA2"));
        Assert.AreEqual(24, Constituents.IndexOf("RHO1"));
        Assert.AreEqual(-1, Constituents.IndexOf("M9"));
        for (int i = 0; i < Constituents.Count; i++) Assert.AreEqual(i, Constituents.IndexOf(Constituents.Name(i)));
    }
}
