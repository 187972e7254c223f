using System.Globalization;
using System.Text;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Tide;

/// <summary>
/// The leave-by time on ten coasts over half a year, through the stored image of the box, against the sum of every constituent.
/// </summary>
[TestClass]
public class TenCoastTests
{
    /// <summary>How many days are looked at.</summary>
    public const int Days = 183;

    /// <summary>What is left at the low points besides, m.</summary>
    public const double Margin = 0.5;

    private const int Walk = 12;
    private const int Levels = 9;
    private static readonly UtcInstant Start = new CivilTime(2026, 1, 1, 0, 0, 0).AsUtc();

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TheFullSumMatchesAPublicPredictor()
    {
        foreach (RealCoast coast in RealCoast.All())
        {
            var sum = new FullSum(coast.Constants.Where(c => c.Name is not ("M1" or "M3" or "3N2")));
            double worst = TideFixtures.Rows("Tide", "coast-heights.csv").Where(f => f[0] == coast.Id)
                .Max(f => Math.Abs(sum.Metres(TideFixtures.Instant(f[1])) - TideFixtures.Number(f[2])));
            TestContext.WriteLine($"{coast.Name}: worst of 40 heights {worst * 1000:F2} mm");
            Assert.IsLessThan(0.006, worst, coast.Name);
        }
    }

    [TestMethod]
    [DataRow(false, DisplayName = "every turn printed")]
    [DataRow(true, DisplayName = "small double waters not printed")]
    public void PrintedTurnsAreNeverLateWithTheDefaults(bool joined)
    {
        foreach (RealCoast coast in RealCoast.All())
        {
            double[] heights = new FullSum(coast.Constants).Minutes(Start, Days);
            var lateness = new Lateness();
            foreach (var (tide, from, until) in Tables(coast, heights, joined))
            {
                foreach ((double level, int cut, int clear) in Floods(heights, from, until)) lateness.Add(At(coast, tide, level, TideShape.Any), Math.Max(clear, from), cut);
            }
            TestContext.WriteLine($"{coast.Name}: {lateness.Words()}; price in light {TideAllowance.AnyTableMinutes} min");
            Assert.IsGreaterThan(300, lateness.Count, coast.Name);
            Assert.AreEqual(0, lateness.Late, coast.Name);
        }
    }

    /// <summary>
    /// Turns typed on the box that follow the place's own constituents between them, or those of a port nearby: eight turns at a
    /// time, heights to 0.1 m, against the full sum of the coast. A table whose turns are not all found in the constituents keeps the half cosine and its larger allowance.
    /// </summary>
    [TestMethod]
    [DataRow(false, DisplayName = "its own constituents")]
    [DataRow(true, DisplayName = "those of a port beside it")]
    public void TurnsThatRunAlongASumAreNeverLate(bool beside)
    {
        foreach (RealCoast coast in RealCoast.All())
        {
            double[] heights = new FullSum(coast.Constants).Minutes(Start, Days);
            var ports = beside ? RealCoast.Beside(coast) : [coast];
            foreach (RealCoast port in ports)
            {
                var text = new StringBuilder("site: Any\ndatum: mean level\nlatitude: 0\nlongitude: 0\nlocal-time: +00:00\nwalk-in: 10 min\nmean-level: 0 m\ntide-shape: " + (beside ? "as-neighbour" : "as-sum") + "\n[constituents]\n");
                foreach ((string name, double amplitude, double phase) in port.Constants) text.Append(CultureInfo.InvariantCulture, $"{name}: {amplitude} m {phase} deg\n");
                text.Append("[path]\nNeck: floods 1 m, walk 12 min, margin 0.5 m\n[morning]\nbefore: 60 min\nafter: 60 min\nband: 2 to 1 m\nwork: 30 min\n");
                ShoreSettings box = new OfflineBox(SiteImage.Make(SiteFile.Parse(text.ToString(), port.Name), Start)).Shore.Settings;
                int tables = 0, shaped = 0;
                var lateness = new Lateness();
                List<(int Minute, double Metres, bool High)> turns = Turns(heights);
                for (int first = 0; first + 3 < turns.Count; first += TypedTable.Capacity - 1)
                {
                    var some = turns.Skip(first).Take(TypedTable.Capacity).ToList();
                    box.Table.Restart(some.Count, some[0].High);
                    for (int i = 0; i < some.Count; i++) box.Table.Set(i, Start.PlusMinutes(some[i].Minute), (int)Math.Round(some[i].Metres * 100));
                    box.SetFromTable(true);
                    CoastPlace stored = box.Place;
                    var tide = (PrintedTide)stored.Tide;
                    Assert.AreEqual(beside ? TideShape.AsNeighbour : TideShape.AsSum, stored.Shape);
                    Assert.AreEqual(TideAllowance.AnyTableMinutes, stored.AllowanceMinutes, "before its turns are found");
                    while (!tide.ShapeDone) tide.ShapeStep();
                    tables++;
                    if (tide.IsShaped) shaped++;
                    if (tide.Count < some.Count) continue;
                    foreach ((double level, int cut, int clear) in Floods(heights, some[0].Minute, some[^1].Minute))
                        lateness.Add(At(coast, tide, level, stored.Shape), Math.Max(clear, some[0].Minute), cut);
                }
                TestContext.WriteLine($"{coast.Name} along {port.Name}: {shaped} of {tables} tables run along it; {lateness.Words()}");
                Assert.IsGreaterThan(300, lateness.Count, coast.Name);
                Assert.AreEqual(0, lateness.Late, coast.Name);
                if (!beside) Assert.IsGreaterThan(tables * 9 / 10, shaped, coast.Name);
            }
        }
    }

    // How late the box calls the way back, over many floods.
    private sealed class Lateness
    {
        private readonly List<double> _early = [];
        private int _lateBare;
        private double _worst = double.MinValue;
        private double _worstBare = double.MinValue;

        public int Count => _early.Count;

        public int Late { get; private set; }

        public void Add(CoastPlace place, int fromMinute, int cutMinute)
        {
            WayBackResult way = new WayBack(place, 18).WorkOut(Start.PlusMinutes(fromMinute), true);
            if (way.State is WayBackState.Uncertain or WayBackState.CutOff) return;
            double after = way.LeaveBy.SecondsSince(Start.PlusMinutes(cutMinute - Walk)) / 60.0;
            _early.Add(-after);
            _worst = Math.Max(_worst, after);
            _worstBare = Math.Max(_worstBare, after + place.AllowanceMinutes);
            if (after > 0) Late++;
            if (after + place.AllowanceMinutes > 0) _lateBare++;
        }

        public string Words()
        {
            _early.Sort();
            return $"{Count} floods; without the minutes taken off {_lateBare} late, worst {_worstBare:F0} min; with them {Late} late, nearest {-_worst:F0} min; "
                + $"called early by {_early[Count / 2]:F0} min median, {_early[Count * 19 / 20]:F0} at most in 19 of 20";
        }
    }

    /// <summary>Along the sum that gives the shape, a walk and asking for each height agree, and each printed turn is met.</summary>
    [TestMethod]
    public void ATableAlongASumMeetsItsTurns()
    {
        foreach (RealCoast coast in RealCoast.All())
        {
            double[] heights = new FullSum(coast.Constants).Minutes(Start, 4);
            var turns = Turns(heights).Take(8).ToList();
            var tide = new PrintedTide();
            foreach (var (minute, metres, high) in turns) Assert.IsNull(tide.Add(Start.PlusMinutes(minute), metres, high));
            tide.TakeShape(new HarmonicTide(coast.Sum(), NodeSchedule.Daily));
            while (!tide.ShapeDone) tide.ShapeStep();
            Assert.IsTrue(tide.IsShaped, coast.Name);
            foreach (var (minute, metres, _) in turns) Assert.AreEqual(metres, tide.HeightMetres(Start.PlusMinutes(minute)), 1e-6, coast.Name);
            TideWalker walker = tide.CreateWalker();
            walker.Start(Start.PlusMinutes(turns[0].Minute), 300);
            double worst = 0;
            while (walker.Time < Start.PlusMinutes(turns[^1].Minute))
            {
                Assert.AreEqual(tide.HeightMetres(walker.Time), walker.HeightMetres, tide.WalkErrorMetres, coast.Name);
                Assert.AreEqual(tide.RateMetresPerHour(walker.Time), walker.RateMetresPerHour, 0.01, coast.Name);
                worst = Math.Max(worst, Math.Abs(heights[(int)(walker.Time.SecondsSince(Start) / 60)] - walker.HeightMetres));
                walker.Advance();
            }
            TestContext.WriteLine($"{coast.Name}: off by {worst * 100:F1} cm at most");
        }
    }

    [TestMethod]
    public void APlainTideIsNeverLateWithItsSmallerAllowance()
    {
        foreach (RealCoast coast in RealCoast.All().Where(c => c.Name is not ("Le Havre" or "Southampton")))
        {
            double[] heights = new FullSum(coast.Constants).Minutes(Start, Days);
            double worst = double.MinValue;
            foreach (var (tide, from, until) in Tables(coast, heights, false))
            {
                foreach ((double level, int cut, int clear) in Floods(heights, from, until))
                {
                    WayBackResult way = new WayBack(At(coast, tide, level, TideShape.Plain), 18).WorkOut(Start.PlusMinutes(Math.Max(clear, from)), true);
                    if (way.State is WayBackState.Uncertain or WayBackState.CutOff) continue;
                    worst = Math.Max(worst, way.LeaveBy.SecondsSince(Start.PlusMinutes(cut - Walk)) / 60.0);
                }
            }
            TestContext.WriteLine($"{coast.Name}: nearest to late {-worst:F0} min; price in light {TideAllowance.PlainTableMinutes} min");
            Assert.IsLessThanOrEqualTo(0.0, worst, coast.Name);
        }
    }

    /// <summary>
    /// All constituents of a coast, through the image: high and low waters within 2 minutes and 3 cm of the full sum where the tide is not
    /// flat, with node factors of each day; and no flood is later than the allowance covers, with the factors of a year as well.
    /// </summary>
    [TestMethod]
    [DataRow("daily")]
    [DataRow("yearly")]
    public void FullSetsThroughTheImageKeepTheirWord(string nodes)
    {
        foreach (RealCoast coast in RealCoast.All())
        {
            double[] heights = new FullSum(coast.Constants).Minutes(Start, Days);
            var text = new StringBuilder("site: Any\ndatum: mean level\nlatitude: 0\nlongitude: 0\nlocal-time: +00:00\nwalk-in: 10 min\nmean-level: 0 m\nnode-factors: " + nodes + "\n[constituents]\n");
            foreach ((string name, double amplitude, double phase) in coast.Constants) text.Append(CultureInfo.InvariantCulture, $"{name}: {amplitude} m {phase} deg\n");
            text.Append("[path]\nNeck: floods 1 m, walk 12 min, margin 0.5 m\n[morning]\nbefore: 60 min\nafter: 60 min\nband: 2 to 1 m\nwork: 30 min\n");
            Site site = SiteFile.Parse(text.ToString(), coast.Name);
            Assert.AreEqual(0, site.LeftOut.Centimetres, site.LeftOut.Words);
            CoastPlace stored = new OfflineBox(SiteImage.Make(site, Start)).Shore.Settings.Place;
            TideSource tide = stored.Tide;
            Assert.AreEqual(coast.Constants.Length, ((HarmonicTide)tide).Constants.Used);

            TideWalker walker = tide.CreateWalker();
            walker.Start(Start, 60);
            double shortBy = 0, off = 0;
            foreach (double height in heights)
            {
                shortBy = Math.Max(shortBy, height - walker.HeightMetres);
                off = Math.Max(off, Math.Abs(height - walker.HeightMetres));
                walker.Advance();
            }
            (double minutes, double metres, int turns) = TurnsApart(tide, heights);
            int late = 0, floods = 0;
            double worst = double.MinValue;
            foreach ((double level, int cut, int clear) in Floods(heights, 0, heights.Length))
            {
                var place = new CoastPlace("Any", "mean level", new GeoPosition(0, 0), new LocalOffset(0), tide, [new PathPoint("Neck", level, Walk, 0)], 10, stored.Shape, stored.LeftOutCentimetres);
                WayBackResult way = new WayBack(place, 18).WorkOut(Start.PlusMinutes(clear), true);
                if (way.State is WayBackState.Uncertain or WayBackState.CutOff) continue;
                double after = way.LeaveBy.SecondsSince(Start.PlusMinutes(cut - Walk)) / 60.0;
                floods++;
                worst = Math.Max(worst, after);
                if (after > 0) late++;
            }
            TestContext.WriteLine($"{coast.Name}: {coast.Constants.Length} constituents; {turns} turns within {minutes:F1} min and {metres * 100:F1} cm; height off by {off * 100:F1} cm at most, short by {shortBy * 100:F1} and {stored.AllowanceCentimetres} taken off; "
                + $"{floods} floods without a margin, {late} late, nearest {-worst:F1} min");
            Assert.AreEqual(0, late, coast.Name);
            Assert.IsLessThanOrEqualTo(stored.AllowanceCentimetres / 100.0, shortBy, coast.Name);
            if (nodes == "yearly") continue;
            Assert.IsLessThanOrEqualTo(2.0, minutes, coast.Name);
            Assert.IsLessThanOrEqualTo(0.03, metres, coast.Name);
        }
    }

    // High and low waters that stand out by 5 cm within an hour on both sides, against the nearest of the box.
    private static (double Minutes, double Metres, int Turns) TurnsApart(TideSource tide, double[] heights)
    {
        double minutes = 0, metres = 0;
        int turns = 0;
        for (int k = 60; k + 60 < heights.Length; k++)
        {
            bool high = heights[k] > heights[k - 1] && heights[k] >= heights[k + 1];
            bool low = heights[k] < heights[k - 1] && heights[k] <= heights[k + 1];
            if (!high && !low) continue;
            double stands = (high ? 1 : -1) * (heights[k] - (high ? Math.Max(heights[k - 60], heights[k + 60]) : Math.Min(heights[k - 60], heights[k + 60])));
            if (stands < 0.05) continue;
            // To a fraction of a minute by the parabola through three readings.
            double bend = heights[k - 1] - 2 * heights[k] + heights[k + 1], at = k + (heights[k - 1] - heights[k + 1]) / (2 * bend);
            TideTurn best = default;
            double apart = double.MaxValue;
            UtcInstant from = Start.PlusMinutes(k - 40);
            while (tide.TryNextTurn(from, out TideTurn turn) && turn.Time < Start.PlusMinutes(k + 40))
            {
                double gap = Math.Abs(turn.Time.SecondsSince(Start) / 60.0 - at);
                if (turn.IsHigh == high && gap < apart) (best, apart) = (turn, gap);
                from = turn.Time;
            }
            minutes = Math.Max(minutes, apart);
            metres = Math.Max(metres, Math.Abs(best.HeightMetres - heights[k]));
            turns++;
        }
        return (minutes, metres, turns);
    }

    private static CoastPlace At(RealCoast coast, TideSource tide, double level, TideShape shape) =>
        new("Any", "mean level", new GeoPosition(coast.Latitude, coast.Longitude), new LocalOffset(0), tide, [new PathPoint("Neck", level, Walk, Margin)], 10, shape, 0);

    // Nine heights over the whole range; each time the water comes through one, and since when the way was clear, up to six hours.
    private static IEnumerable<(double Level, int Cut, int Clear)> Floods(double[] heights, int from, int until)
    {
        double low = heights.Min(), high = heights.Max();
        for (int n = 1; n <= Levels; n++)
        {
            double level = low + (high - low) * n / (Levels + 1);
            int clear = from;
            for (int k = from + 1; k < until; k++)
            {
                if (heights[k] >= level && heights[k - 1] < level) yield return (level, k, Math.Max(clear, k - 360));
                if (heights[k] >= level) clear = k + 1;
            }
        }
    }

    // The printed turns of half a year, as many at a time as a place can hold, each set read back from the image of a box.
    private static IEnumerable<(TideSource Tide, int From, int Until)> Tables(RealCoast coast, double[] heights, bool joined)
    {
        List<(int Minute, double Metres, bool High)> turns = Turns(heights);
        if (joined) Join(turns);
        for (int first = 0; first + 3 < turns.Count; first += PrintedTide.Capacity - 1)
        {
            var some = turns.Skip(first).Take(PrintedTide.Capacity).ToList();
            var text = new StringBuilder($"site: Any\ndatum: mean level\nlatitude: 0\nlongitude: 0\nlocal-time: +00:00\nwalk-in: 10 min\ntide-shape: {(joined ? "daily" : "any")}\n[turns]\n");
            foreach (var (minute, metres, high) in some)
            {
                DateTime at = new DateTime(2026, 1, 1).AddMinutes(minute);
                text.Append(CultureInfo.InvariantCulture, $"{(high ? "high" : "low")}: {at:yyyy-MM-dd HH:mm} {metres:F1} m\n");
            }
            text.Append("[path]\nNeck: floods 1 m, walk 12 min, margin 0.5 m\n[morning]\nbefore: 60 min\nafter: 60 min\nband: 2 to 1 m\nwork: 30 min\n");
            Site site = SiteFile.Parse(text.ToString(), coast.Name);
            CoastPlace stored = new OfflineBox(SiteImage.Make(site, Start)).Shore.Settings.Place;
            Assert.AreEqual(TideAllowance.AnyTableMinutes, stored.AllowanceMinutes, "this is a table for which nobody named a shape of the tide");
            yield return (stored.Tide, some[0].Minute, some[^1].Minute);
        }
    }

    // As a table prints them; turns less than five minutes apart are left out.
    private static List<(int Minute, double Metres, bool High)> Turns(double[] heights)
    {
        var turns = new List<(int Minute, double Metres, bool High)>();
        for (int k = 1; k + 1 < heights.Length; k++)
        {
            bool high = heights[k] > heights[k - 1] && heights[k] >= heights[k + 1];
            bool low = heights[k] < heights[k - 1] && heights[k] <= heights[k + 1];
            if (high || low) turns.Add((k, Math.Round(heights[k], 1), high));
        }
        Drop(turns, (a, b) => b.Minute - a.Minute < 5);
        return turns;
    }

    private static void Join(List<(int Minute, double Metres, bool High)> turns) =>
        Drop(turns, (a, b) => b.Minute - a.Minute < 200 && Math.Abs(a.Metres - b.Metres) < 0.25);

    // Takes pairs of turns out; of two highs (or lows) that are neighbours then, the higher (lower) stays.
    private static void Drop(List<(int Minute, double Metres, bool High)> turns, Func<(int Minute, double Metres, bool High), (int Minute, double Metres, bool High), bool> isOne)
    {
        for (int i = 0; i + 1 < turns.Count; i++)
        {
            if (!isOne(turns[i], turns[i + 1])) continue;
            // Of the pair, and the like turns on both sides, the most extreme ones stay.
            if (i > 0 && More(turns[i + 1], turns[i - 1])) turns[i - 1] = turns[i + 1];
            else if (i + 2 < turns.Count && More(turns[i], turns[i + 2])) turns[i + 2] = turns[i];
            turns.RemoveRange(i, 2);
            i = Math.Max(-1, i - 2);
        }
    }

    private static bool More((int Minute, double Metres, bool High) a, (int Minute, double Metres, bool High) b) =>
        a.High == b.High && (a.High ? a.Metres > b.Metres : a.Metres < b.Metres);
}
