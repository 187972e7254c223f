using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;

namespace Intervalometer.Tests.Host.Tide;

[TestClass]
public class HarmonicTideTests
{
    public TestContext TestContext { get; set; } = null!;

    /// <summary>Asking from a turn gives the next one, which is the other kind, at every station for 200 turns.</summary>
    [TestMethod]
    public void AskingFromATurnGivesTheNext()
    {
        foreach (Station station in TideFixtures.Stations().Values)
        {
            var tide = new HarmonicTide(station.About(0), NodeSchedule.Yearly);
            Assert.IsTrue(tide.TryNextTurn(new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc(), out TideTurn last));
            for (int n = 0; n < 200 && tide.TryNextTurn(last.Time, out TideTurn next); n++)
            {
                Assert.AreNotEqual(last.IsHigh, next.IsHigh, $"{station.Name} {next.Time.Seconds - last.Time.Seconds} s after the turn before");
                last = next;
            }
        }
    }

    /// <summary>The day's curve against asking for each height and each turn by itself: heights to the half millimetre in which they are kept and what a walk may be wrong by, turns to the second.</summary>
    [TestMethod]
    public void ADaysCurveIsWhatAskingGives()
    {
        int turns = 0;
        foreach (Station station in TideFixtures.Stations().Values)
        {
            var tide = new HarmonicTide(station.About(0), NodeSchedule.Yearly);
            var curve = new TideCurve(145);
            UtcInstant start = new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc();
            curve.Begin(tide, start, 600, 145);
            while (!curve.Step())
            {
            }
            Assert.AreEqual(145, curve.Count);
            for (int i = 0; i < 145; i++) Assert.AreEqual(tide.HeightMetres(start.PlusSeconds(i * 600)), curve.HeightMetres(i), 0.000501 + tide.WalkErrorMetres, $"{station.Name} {i}");
            UtcInstant after = start;
            for (int i = 0; i < curve.TurnCount; i++)
            {
                Assert.IsTrue(tide.TryNextTurn(after, out TideTurn asked));
                Assert.AreEqual(asked.Time.Seconds, curve.Turn(i).Time.Seconds, 2, $"{station.Name} turn {i}");
                Assert.AreEqual(asked.IsHigh, curve.Turn(i).IsHigh);
                after = asked.Time;
                turns++;
            }
            Assert.IsFalse(tide.TryNextTurn(after, out TideTurn next) && next.Time < start.PlusHours(24).PlusSeconds(-2), $"{station.Name}: a turn is missing");
        }
        Assert.IsTrue(turns > 3 * TideFixtures.Stations().Count / 2, $"{turns}");
    }

    /// <summary>
    /// Mean longitudes against Meeus, Astronomical Algorithms, formulas 25.2 (sun), 47.1, 47.7 (moon, node) and p. 343
    /// (perigee): two independent fits, and 70 s between universal and dynamical time.
    /// </summary>
    [TestMethod]
    public void MeanLongitudesMatchMeeus()
    {
        var orbit = new LunarOrbit();
        for (int year = 2000; year < 2100; year++)
        {
            UtcInstant t = new CivilTime(year, 7, 1, 0, 0, 0).AsUtc();
            double c = (t.JulianDate - 2451545.0) / 36525;
            orbit.SetLongitudes(t);
            Same(218.3164591 + 481267.88134236 * c - 0.0013268 * c * c, orbit.MoonDegrees, 0.035, "moon");
            Same(280.46645 + 36000.76983 * c + 0.0003032 * c * c, orbit.SunDegrees, 0.005, "sun");
            Same(83.3532430 + 4069.0137111 * c - 0.0103238 * c * c, orbit.PerigeeDegrees, 0.035, "perigee");
            Same(125.0445550 - 1934.1361849 * c + 0.0020762 * c * c, orbit.NodeDegrees, 0.01, "node");
        }
    }

    // Degrees an hour as printed in Schureman (1958), Table 2, in the order of the NOAA set.
    private static readonly double[] PrintedSpeeds =
    [
        28.9841042, 30.0, 28.4397295, 15.0410686, 57.9682084, 13.9430356, 86.9523127, 44.0251729,
        60.0, 57.4238337, 28.5125831, 90.0, 27.9682084, 27.8953548, 16.1391017, 29.4556253,
        15.0, 14.4966939, 15.5854433, 0.5443747, 0.0821373, 0.0410686, 1.0158958, 1.0980331,
        13.4715145, 13.3986609, 29.9589333, 30.0410667, 12.8542862, 14.9589314, 31.0158958, 43.4761563,
        29.5284789, 42.9271398, 30.0821373, 115.9364169, 58.9841042,
    ];

    /// <summary>Every recipe has the printed speed (M1's with the perigee that its u carries).</summary>
    [TestMethod]
    public void RecipesHaveThePrintedSpeeds()
    {
        Assert.AreEqual(Constituents.Count, PrintedSpeeds.Length);
        for (int i = 0; i < Constituents.Count; i++)
            Assert.AreEqual(PrintedSpeeds[i], ConstituentRecipe.SpeedDegreesPerHour(Constituents.Recipe(i)), 2e-7, Constituents.Name(i));
    }

    /// <summary>
    /// Ranges of the node factors as printed in Schureman's Table 14 and quoted in every handbook, from memory: M2 0.963 to
    /// 1.038, O1 0.806 to 1.183, K1 0.882 to 1.113, K2 0.748 to 1.317.
    /// </summary>
    [TestMethod]
    public void NodeFactorsSpanThePrintedRanges()
    {
        Range(o => o.M2Factor, 0.963, 1.038);
        Range(o => o.Factor(NodeTerm.O1), 0.806, 1.183);
        Range(o => o.Factor(NodeTerm.K1), 0.882, 1.113);
        Range(o => o.Factor(NodeTerm.K2), 0.748, 1.317);

        static void Range(Func<LunarOrbit, double> read, double low, double high)
        {
            var orbit = new LunarOrbit();
            double least = 9, most = 0;
            for (int day = 0; day < 6800; day += 10)
            {
                orbit.SetAll(new UtcInstant(day * 86400L));
                least = Math.Min(least, read(orbit));
                most = Math.Max(most, read(orbit));
            }
            Assert.AreEqual(low, least, 0.002);
            Assert.AreEqual(high, most, 0.002);
        }
    }

    /// <summary>
    /// A walk is within the half millimetre that is taken off for it, also across the changes of the node factors. Its rate follows from the same
    /// remainder: at most the square root of 5 over 30,000 times the largest sixth derivative times stride^5 (the steepest slope of
    /// (x (1 - x))^3 over 6!), which is 1.7 mm an hour over the stride in hours; here no stride is shorter than half an hour.
    /// </summary>
    [TestMethod]
    public void WalkingGivesTheSameHeightsAsAsking()
    {
        double worst = 0, worstRate = 0;
        var starts = new[] { new CivilTime(2027, 12, 30, 21, 7, 0).AsUtc(), new CivilTime(2031, 2, 27, 3, 0, 31).AsUtc(), new CivilTime(2099, 12, 30, 0, 0, 0).AsUtc() };
        foreach (HarmonicTide tide in TideFixtures.Stations().Values.Select(s => new HarmonicTide(s.About(1), NodeSchedule.Yearly)).Concat(RealCoast.All().SelectMany(Tides)))
        {
            foreach (UtcInstant start in starts)
            {
                foreach (int step in new[] { 60, 300, 600, 3600 })
                {
                    TideWalker walker = tide.CreateWalker();
                    walker.Start(start, step);
                    for (int n = 0; n < 300 && walker.Time.IsValid; n++)
                    {
                        worst = Math.Max(worst, Math.Abs(tide.HeightMetres(walker.Time) - walker.HeightMetres));
                        worstRate = Math.Max(worstRate, Math.Abs(tide.RateMetresPerHour(walker.Time) - walker.RateMetresPerHour));
                        walker.Advance();
                    }
                }
            }
        }
        TestContext.WriteLine($"worst height {worst * 1e6:F1} micrometres, worst rate {worstRate * 1e6:F1} micrometres an hour");
        Assert.IsLessThan(new HarmonicTide(RealCoast.All()[0].Sum(), NodeSchedule.Daily).WalkErrorMetres, worst);
        Assert.IsLessThan(0.0035, worstRate);
        // The bound is no wider than it must be: a tenth of it is reached.
        Assert.IsGreaterThan(0.00005, worst);
    }

    private static IEnumerable<HarmonicTide> Tides(RealCoast coast) =>
        new[] { NodeSchedule.Yearly, NodeSchedule.Monthly, NodeSchedule.Daily }.Select(nodes => new HarmonicTide(coast.Sum(), nodes));

    /// <summary>A walk of a year without a new start still agrees with asking for each height.</summary>
    [TestMethod]
    public void ALongWalkDoesNotDrift()
    {
        foreach (RealCoast coast in RealCoast.All())
        {
            var tide = new HarmonicTide(coast.Sum(), NodeSchedule.Yearly);
            TideWalker walker = tide.CreateWalker();
            walker.Start(new CivilTime(2040, 1, 1, 0, 0, 0).AsUtc(), 3600);
            while (walker.Time.DayNumber < new CivilTime(2040, 12, 30, 0, 0, 0).AsUtc().DayNumber) walker.Advance();
            Assert.AreEqual(tide.HeightMetres(walker.Time), walker.HeightMetres, tide.WalkErrorMetres, coast.Name);
        }
    }

    [TestMethod]
    public void WalkersOfOneTideDoNotDisturbEachOther()
    {
        Station station = TideFixtures.Stations()["9447130"];
        UtcInstant[] starts = [new CivilTime(2027, 12, 30, 21, 0, 0).AsUtc(), new CivilTime(2028, 3, 1, 4, 30, 0).AsUtc(), new CivilTime(2027, 12, 31, 23, 50, 0).AsUtc()];
        int[] steps = [600, 300, 600];
        var shared = new HarmonicTide(station.About(1), NodeSchedule.Monthly);
        TideWalker[] together = [.. starts.Select(_ => shared.CreateWalker())];
        TideWalker[] alone = [.. starts.Select(_ => new HarmonicTide(station.About(1), NodeSchedule.Monthly).CreateWalker())];
        for (int k = 0; k < 3; k++)
        {
            together[k].Start(starts[k], steps[k]);
            alone[k].Start(starts[k], steps[k]);
        }
        for (int n = 0; n < 500; n++)
        {
            for (int k = 0; k < 3; k++)
            {
                Assert.AreEqual(alone[k].HeightMetres, together[k].HeightMetres);
                Assert.AreEqual(alone[k].RateMetresPerHour, together[k].RateMetresPerHour);
                together[k].Advance();
                alone[k].Advance();
            }
        }
    }

    [TestMethod]
    public void RateIsTheSlopeOfTheHeight()
    {
        var tide = new HarmonicTide(TideFixtures.Stations()["9447130"].About(0), NodeSchedule.Yearly);
        for (int n = 0; n < 500; n++)
        {
            var t = new UtcInstant(900_000_000L + n * 7919L);
            double slope = (tide.HeightMetres(t.PlusSeconds(30)) - tide.HeightMetres(t.PlusSeconds(-30))) * 60;
            if (t.PlusSeconds(30).DayNumber != t.PlusSeconds(-30).DayNumber) continue;
            Assert.AreEqual(slope, tide.RateMetresPerHour(t), 1e-4);
        }
    }

    [TestMethod]
    public void TheCurveFindsTheSameTurnsAsTheSearch()
    {
        foreach (Station station in TideFixtures.Stations().Values)
        {
            var tide = new HarmonicTide(station.About(0), NodeSchedule.Yearly);
            var curve = new TideCurve(145);
            UtcInstant start = new CivilTime(2026, 3, 9, 0, 0, 0).AsUtc();
            curve.Begin(tide, start, 600, 145);
            int calls = 0;
            while (!curve.Step()) calls++;
            Assert.AreEqual(18, calls);
            UtcInstant after = start;
            for (int n = 0; n < curve.TurnCount; n++)
            {
                Assert.IsTrue(tide.TryNextTurn(after, out TideTurn turn));
                Assert.IsLessThanOrEqualTo(1L, Math.Abs(turn.Time.SecondsSince(curve.Turn(n).Time)));
                Assert.AreEqual(turn.IsHigh, curve.Turn(n).IsHigh);
                after = turn.Time;
            }
            if (tide.TryNextTurn(after, out TideTurn next)) Assert.IsTrue(next.Time > start.PlusHours(24));
        }
    }

    private static void Same(double expected, double actual, double tolerance, string what)
    {
        double error = Math.IEEERemainder(actual - expected, 360);
        Assert.IsLessThan(tolerance, Math.Abs(error), $"{what} {error:F4}");
    }
}
