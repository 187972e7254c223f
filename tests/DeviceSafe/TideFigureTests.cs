using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>
/// The harmonic tide against figures from outside: official high and low waters, and every constituent by itself. The latter were worked out apart from the
/// firmware by a script: arguments typed from P. Schureman, Special Publication 98 (1958), Table 2, the plane of the moon's orbit by vectors in
/// place of his half angles, and his formulas 73 to 78, 149, 203, 207, 214, 215, 224, 227, 232 and 235.
/// </summary>
[TestClass]
public class TideFigureTests
{
    // Seconds since 2000; mean longitudes of moon, sun, lunar perigee, node and solar perigee; then factor and angle of M2, O1, K1, K2, J1, OO1, Mm, Mf, M3, L2, M1.
    private static double[] Orbits() => new double[]
    {
        34488306, 71.3688478, 313.4141405, 127.7631215, 103.9311324, 282.9592358,
        1.00917, -2.0699, 0.97759, 10.9455, 0.98646, -8.8660, 0.94601, -17.5787, 0.98826, -13.0154, 0.91573, -36.9762, 1.03024, 0.0000, 0.94667, -23.9608, 1.01382, -3.1048, 1.17706, 7.3055, 1.16410, 133.8869,
        826372800, 237.3921446, 347.1972001, 68.8118994, 338.5920750, 283.3908919,
        0.96574, 0.7870, 1.17309, -3.1721, 1.10693, 2.8264, 1.29503, 5.9855, 1.15730, 3.9591, 1.72783, 11.0903, 0.88007, 0.0000, 1.42447, 7.1312, 0.94908, 1.1805, 1.28427, -8.7397, 1.25145, 56.6196,
        1469903400, 98.7652945, 128.5656684, 178.5735350, 304.1780126, 283.7417223,
        0.97932, 1.7776, 1.11819, -7.7386, 1.07335, 6.7181, 1.18237, 14.0167, 1.11186, 9.5162, 1.45518, 26.7710, 0.92664, 0.0000, 1.27630, 17.2548, 0.96917, 2.6664, 0.66476, -5.3153, 2.15085, -175.6550,
        3024604800, 317.8726124, 224.5302092, 23.1857352, 71.3163616, 284.5894465,
        0.98826, -2.0308, 1.07926, 9.3325, 1.04935, -7.9518, 1.10972, -16.3914, 1.07859, -11.3633, 1.28488, -32.0590, 0.95746, 0.0000, 1.17823, -20.6957, 0.98246, -3.0462, 0.72578, -12.5099, 2.04869, 5.2267,
    };

    // Height of one metre of each constituent of the NOAA set with no phase lag, at 2031-05-17 05:20 and 2078-10-02 21:40 UTC, node factors of that noon.
    private static double[] Alone() => new double[]
    {
        -0.08445, 0.94545, // M2
        -0.93969, 0.34202, // S2
        -1.01919, 0.03129, // N2
        -0.57342, -0.51644, // K1
        -1.02594, 0.84181, // M4
        0.80843, -0.79606, // O1
        0.26113, 0.69745, // M6
        -0.72149, -0.26915, // MK3
        0.76604, -0.76604, // S4
        0.04743, 0.25138, // MN4
        -0.03215, -0.91220, // NU2
        -0.50000, -0.86603, // S6
        1.00819, -0.14496, // MU2
        -0.15994, -0.95816, // 2N2
        -0.05850, -1.53526, // OO1
        -0.19994, 0.96567, // LAM2
        -0.17365, -0.81915, // S1
        -1.01490, -0.88950, // M1
        0.71563, 1.07516, // J1
        0.12803, -0.18359, // MM
        -0.33299, 0.91321, // SSA
        0.57750, -0.97806, // SA
        -0.26827, 0.10896, // MSF
        0.72616, 0.36241, // MF
        -0.75336, 0.88716, // RHO
        0.52976, 0.96897, // Q1
        0.87668, 0.92540, // T2
        -0.36236, 0.95251, // R2
        -0.68140, 0.40228, // 2Q1
        0.42696, 0.73163, // P1
        0.58864, -0.87091, // 2SM2
        -0.81305, -0.89931, // M3
        -1.18265, 0.08229, // L2
        0.45826, -0.84907, // 2MK3
        0.22661, 0.67274, // K2
        1.02308, 0.52252, // M8
        0.42699, 0.53776, // MS4
    };

    // Seconds since 2000 and the height of 3 m and O1 1 m 10 deg, M1 0.5 m 200 deg, K2 0.7 m 300 deg, 2MK3 0.4 m 45 deg, by node factors of the year, the month and the day.
    private static double[] Schedules() => new double[]
    {
        852076200, 1.9624, 2.0112, 2.0016,
        852077400, 1.8300, 2.1360, 2.1454,
        857131200, 4.6313, 4.3515, 4.3593,
        862444740, 3.1455, 3.4443, 3.4383,
        1638687600, 4.0131, 3.9429, 3.9514,
    };

    // Friday Harbor, station 9449880: constants in the order of the NOAA set, above mean lower low water (NOAA, public domain).
    private static double[] Harbour() => new double[]
    {
        0.557, 10.6, 0.132, 35.7, 0.12, 343, 0.76, 280.4, 0.016, 124.6, 0.434, 258.7, 0.005, 237.2, 0.012, 27.5, 0.002, 157,
        0.007, 92, 0.024, 350.1, 0.001, 255.9, 0.017, 266.6, 0.013, 309.4, 0.03, 325.7, 0.008, 60, 0.024, 26.8, 0.025, 298,
        0.042, 315.1, 0.009, 168.8, 0.022, 227.5, 0.076, 274.5, 0.007, 265.1, 0.021, 156.4, 0.013, 245.9, 0.073, 250.7, 0.011, 39.9,
        0.002, 313.6, 0.008, 253.5, 0.235, 278, 0.002, 289.1, 0.001, 127.1, 0.021, 52.4, 0.009, 19.5, 0.035, 44, 0.001, 105.2,
        0.01, 134,
    };

    // Its official high and low waters of July 2026, seconds since 2000 and metres; to the minute and the millimetre (NOAA).
    private static double[] Official() => new double[]
    {
        837399120, 2.568, 837413880, 2.128, 837427620, 2.353, 837457320, -0.891, 837487440, 2.551, 837504420, 1.925, 837518100, 2.163, 837546480, -0.682,
        837575700, 2.519, 837594900, 1.66, 837608940, 1.926, 837635400, -0.373,
    };

    private static HarmonicTide FridayHarbor()
    {
        double[] rows = Harbour();
        HarmonicConstants constants = new HarmonicConstants(1.387);
        for (int i = 0; i < Constituents.Count; i++) constants.Set(i, rows[2 * i], rows[2 * i + 1]);
        return new HarmonicTide(constants, NodeSchedule.Yearly);
    }

    private static double Apart(double a, double b) => Elementary.Wrap(a - b + 180, 360) - 180;

    [TestMethod]
    public void TheMoonsOrbitIsAsWorkedOutByVectors()
    {
        NodeTerm[] terms = new NodeTerm[] { NodeTerm.O1, NodeTerm.K1, NodeTerm.K2, NodeTerm.J1, NodeTerm.OO1, NodeTerm.Mm, NodeTerm.Mf, NodeTerm.M3, NodeTerm.L2, NodeTerm.M1 };
        double[] rows = Orbits();
        LunarOrbit orbit = new LunarOrbit();
        for (int i = 0; i < rows.Length; i += 28)
        {
            orbit.SetAll(new UtcInstant((long)rows[i]));
            Check.Near(0, Apart(rows[i + 1], orbit.MoonDegrees), 1e-6, "moon");
            Check.Near(0, Apart(rows[i + 2], orbit.SunDegrees), 1e-6, "sun");
            Check.Near(0, Apart(rows[i + 3], orbit.PerigeeDegrees), 1e-6, "perigee");
            Check.Near(0, Apart(rows[i + 4], orbit.NodeDegrees), 1e-6, "node");
            Check.Near(0, Apart(rows[i + 5], orbit.SolarPerigeeDegrees), 1e-6, "solar perigee");
            Check.Near(rows[i + 6], orbit.M2Factor, 1e-4, "M2, f");
            Check.Near(0, Apart(rows[i + 7], orbit.M2AngleDegrees), 0.005, "M2, u");
            for (int k = 0; k < terms.Length; k++)
            {
                Check.Near(rows[i + 8 + 2 * k], orbit.Factor(terms[k]), 4e-4, "f of term " + k.ToString());
                Check.Near(0, Apart(rows[i + 9 + 2 * k], orbit.AngleDegrees(terms[k])), 0.03, "u of term " + k.ToString());
            }
            Check.Near(1, orbit.Factor(NodeTerm.None), 0, "f of the sun's");
            Check.Near(0, orbit.AngleDegrees(NodeTerm.None), 0, "u of the sun's");
        }
    }

    [TestMethod]
    public void EachConstituentStandsWhereItsArgumentSays()
    {
        double[] rows = Alone();
        UtcInstant first = new CivilTime(2031, 5, 17, 5, 20, 0).AsUtc(), second = new CivilTime(2078, 10, 2, 21, 40, 0).AsUtc();
        for (int i = 0; i < Constituents.Count; i++)
        {
            HarmonicTide tide = new HarmonicTide(new HarmonicConstants(0, 1).Set(i, 1, 0), NodeSchedule.Daily);
            Check.Near(rows[2 * i], tide.HeightMetres(first), 5e-4, Constituents.Name(i));
            Check.Near(rows[2 * i + 1], tide.HeightMetres(second), 5e-4, Constituents.Name(i));
            // The phase lag comes off the argument.
            HarmonicTide later = new HarmonicTide(new HarmonicConstants(2, 1).Set(i, 1, 180), NodeSchedule.Daily);
            Check.Near(2 - rows[2 * i], later.HeightMetres(first), 5e-4, Constituents.Name(i));
        }
    }

    [TestMethod]
    public void NodeFactorsChangeWithTheYearTheMonthOrTheDay()
    {
        HarmonicConstants constants = new HarmonicConstants(3);
        Assert.IsTrue(constants.TrySet("O1", 1, 10) && constants.TrySet("M1", 0.5, 200) && constants.TrySet("K2", 0.7, 300) && constants.TrySet("2MK3", 0.4, 45));
        double[] rows = Schedules();
        for (int s = 0; s < 3; s++)
        {
            NodeSchedule schedule = s == 0 ? NodeSchedule.Yearly : s == 1 ? NodeSchedule.Monthly : NodeSchedule.Daily;
            HarmonicTide tide = new HarmonicTide(constants, schedule);
            Assert.IsTrue(tide.Schedule == schedule && tide.Constants == constants);
            for (int i = 0; i < rows.Length; i += 4) Check.Near(rows[i + 1 + s], tide.HeightMetres(new UtcInstant((long)rows[i])), 6e-4, "height");
        }
    }

    [TestMethod]
    public void OfficialHighAndLowWatersAreMatched()
    {
        HarmonicTide tide = FridayHarbor();
        double[] rows = Official();
        UtcInstant after = new UtcInstant((long)rows[0] - 7_200);
        for (int i = 0; i < rows.Length; i += 2)
        {
            Assert.IsTrue(tide.TryNextTurn(after, out TideTurn turn));
            Check.Near(rows[i], turn.Time.Seconds, 45, "time");
            Check.Near(rows[i + 1], turn.HeightMetres, 0.0015, "height");
            Assert.AreEqual(i % 4 == 0, turn.IsHigh);
            // The height of a turn is that of its time, where nothing rises or falls.
            Check.Near(tide.HeightMetres(turn.Time), turn.HeightMetres, 1e-6, "height by itself");
            Check.Near(0, tide.RateMetresPerHour(turn.Time), 0.0005, "rate");
            Assert.IsTrue(tide.TryTurnNear(turn.Time.PlusMinutes(i % 3 * 20 - 20), 7_200, turn.IsHigh, out TideTurn near));
            Check.Near(turn.Time.Seconds, near.Time.Seconds, 1, "found from beside it");
            Assert.IsFalse(tide.TryTurnNear(turn.Time.PlusMinutes(-65), 3_600, turn.IsHigh, out near));
            after = turn.Time;
        }
    }

    /// <summary>A walk stays within what it says of the sum, at even steps and across the turn of year, month and day; the sixth-diurnal tide makes it take short strides.</summary>
    [TestMethod]
    public void AWalkKeepsToTheSum()
    {
        HarmonicConstants fast = new HarmonicConstants(4);
        Assert.IsTrue(fast.TrySet("M8", 1.5, 30) && fast.TrySet("S6", 1, 100) && fast.TrySet("O1", 2, 200));
        HarmonicConstants slow = new HarmonicConstants(1);
        Assert.IsTrue(slow.TrySet("M2", 3, 30) && slow.TrySet("M1", 1, 100) && slow.TrySet("MK3", 0.2, 200));
        int[] steps = new int[] { 600, 137, 3600 };
        for (int s = 0; s < 6; s++)
        {
            HarmonicTide tide = new HarmonicTide(s % 2 == 0 ? fast : slow, s < 2 ? NodeSchedule.Yearly : s < 4 ? NodeSchedule.Monthly : NodeSchedule.Daily);
            TideWalker walker = tide.CreateWalker();
            UtcInstant start = s < 3 ? new CivilTime(2026, 12, 31, 17, 3, 11).AsUtc() : new CivilTime(2026, 4, 30, 17, 3, 11).AsUtc();
            int step = steps[s % 3];
            walker.Start(start, step);
            // Another walker of the same tide, in another year, disturbs nothing.
            TideWalker other = tide.CreateWalker();
            for (int i = 0; i < 90; i++)
            {
                UtcInstant at = start.PlusSeconds(i * step);
                Assert.AreEqual(at.Seconds, walker.Time.Seconds);
                Check.Near(tide.HeightMetres(at), walker.HeightMetres, tide.WalkErrorMetres, "height");
                Check.Near(tide.RateMetresPerHour(at), walker.RateMetresPerHour, 0.006, "rate");
                if (i % 40 == 7) other.Start(at.PlusDays(400), 600);
                walker.Advance();
            }
        }
    }

    /// <summary>The rise is the slope of the height.</summary>
    [TestMethod]
    public void TheRateIsTheSlope()
    {
        HarmonicTide tide = FridayHarbor();
        for (int i = 0; i < 20; i++)
        {
            UtcInstant at = new CivilTime(2029, 2, 3, 1, 0, 0).AsUtc().PlusMinutes(77 * i);
            double slope = (tide.HeightMetres(at.PlusSeconds(30)) - tide.HeightMetres(at.PlusSeconds(-30))) * 60;
            Check.Near(slope, tide.RateMetresPerHour(at), 1e-4, "slope");
        }
    }

    /// <summary>From 2000 to 2099 and no further: the height is then that of the end, nothing rises, and no turn is told.</summary>
    [TestMethod]
    public void OutsideItsCenturyTheTideIsNotKnown()
    {
        HarmonicTide tide = FridayHarbor();
        UtcInstant end = new UtcInstant(UtcInstant.EndSeconds);
        Assert.AreEqual(0L, tide.ValidFrom.Seconds);
        Assert.AreEqual(UtcInstant.EndSeconds - 1, tide.ValidUntil.Seconds);
        Assert.IsTrue(tide.CertaintyAt(tide.ValidFrom) == TideCertainty.Harmonic && tide.CertaintyAt(tide.ValidUntil) == TideCertainty.Harmonic);
        Assert.IsTrue(tide.CertaintyAt(end) == TideCertainty.None && tide.CertaintyAt(new UtcInstant(-1)) == TideCertainty.None);
        Assert.IsTrue(new HarmonicTide(new HarmonicConstants(2), NodeSchedule.Yearly).CertaintyAt(tide.ValidFrom) == TideCertainty.None);
        Check.Near(tide.HeightMetres(tide.ValidUntil), tide.HeightMetres(end.PlusHours(5)), 0, "behind the end");
        Check.Near(tide.HeightMetres(tide.ValidFrom), tide.HeightMetres(new UtcInstant(-18_000)), 0, "before the beginning");
        Check.Near(0, tide.RateMetresPerHour(end), 0, "rate");
        Assert.IsFalse(tide.TryNextTurn(end, out TideTurn none) || tide.TryNextTurn(new UtcInstant(-1), out none) || tide.TryNextTurn(end.PlusSeconds(-600), out none));
        Assert.IsTrue(tide.Covers(tide.ValidFrom, tide.ValidUntil) && !tide.Covers(tide.ValidFrom, end) && !tide.Covers(new UtcInstant(-1), tide.ValidUntil));
        Assert.IsFalse(tide.Covers(tide.ValidUntil, tide.ValidFrom));
    }

    /// <summary>Sixty constituents and no more; one that is set again is the same one, and one that is not of the NOAA set is known by its recipe.</summary>
    [TestMethod]
    public void ConstantsMakeRoomAndKeepWhatWasSet()
    {
        HarmonicConstants constants = new HarmonicConstants(0, 2);
        for (int i = 0; i < 30; i++) constants.Set(i, i * 0.01, i - 15.5);
        Assert.AreEqual(30, constants.Count);
        Assert.AreEqual(29, constants.Used);
        Assert.IsTrue(constants.AllOfNoaa);
        Assert.IsTrue(constants.TrySet(Constituents.Name(3), 0.5, -200_001));
        Assert.IsFalse(constants.TrySet("M9", 1, 0));
        Assert.AreEqual(30, constants.Count);
        for (int i = 0; i < 37; i++)
        {
            Check.Near(i == 3 ? 0.5 : i < 30 ? i * 0.01 : 0, constants.AmplitudeMetres(i), 0, "amplitude");
            Check.Near(i == 3 ? -200_000 : i < 30 ? i - 15.5 : 0, constants.PhaseLagDegrees(i), 0, "phase");
        }
        for (int i = 0; i < 31; i++)
        {
            int recipe = ConstituentRecipe.Pack(9, i - 16, 15, 3, 1, 3, -8, 3, 26);
            Assert.AreEqual(i < 30, constants.TrySet(recipe, 0.02, i));
        }
        Assert.AreEqual(HarmonicConstants.Most, constants.Count);
        Assert.IsFalse(constants.AllOfNoaa || constants.TrySet("M8", 1, 1));
        int again = constants.RecipeAt(44);
        Assert.IsTrue(constants.TrySet(again, 0.7, 77));
        Check.Near(0.7, constants.AmplitudeMetresAt(44), 0, "set again");
        Check.Near(77, constants.PhaseLagDegreesAt(44), 0, "set again");
        Assert.AreEqual(HarmonicConstants.Most, constants.Count);
    }

    /// <summary>Each part of a recipe comes back, at both ends of its range.</summary>
    [TestMethod]
    public void ARecipeGivesItsPartsBack()
    {
        for (int i = 0; i < 2; i++)
        {
            bool most = i == 1;
            int recipe = ConstituentRecipe.Pack(most ? 15 : 0, most ? 15 : -16, most ? 15 : -16, most ? 3 : -4, most ? 1 : -2, most ? 3 : 0, most ? 7 : -8, most ? 3 : 0, most ? 26 : 0);
            Assert.AreEqual(most ? 15 : 0, ConstituentRecipe.T(recipe));
            Assert.AreEqual(most ? 15 : -16, ConstituentRecipe.S(recipe));
            Assert.AreEqual(most ? 15 : -16, ConstituentRecipe.H(recipe));
            Assert.AreEqual(most ? 3 : -4, ConstituentRecipe.P(recipe));
            Assert.AreEqual(most ? 1 : -2, ConstituentRecipe.P1(recipe));
            Assert.AreEqual(most ? 3 : 0, ConstituentRecipe.Quarters(recipe));
            Assert.AreEqual(most ? 7 : -8, ConstituentRecipe.M2(recipe));
            Assert.AreEqual(most ? 13 : 8, ConstituentRecipe.M2Factors(recipe));
            Assert.AreEqual(most ? 26 : 0, ConstituentRecipe.TermsOf(recipe));
            double degrees = most ? 15 * 180 + 15 * 1.5 + 15 * 2.5 + 3 * 3.5 + 4.5 + 270 : -16 * 1.5 - 16 * 2.5 - 4 * 3.5 - 2 * 4.5;
            Check.Near(degrees, ConstituentRecipe.ArgumentDegrees(recipe, 1.5, 2.5, 3.5, 4.5), 1e-9, "argument");
            Assert.AreEqual(ConstituentRecipe.ArgumentOf(recipe), ConstituentRecipe.ArgumentOf(recipe | unchecked((int)0xFFE00000)));
            Assert.AreEqual(ConstituentRecipe.NodesOf(recipe), ConstituentRecipe.NodesOf(recipe ^ 0x1FFFFF));
        }
    }
}
