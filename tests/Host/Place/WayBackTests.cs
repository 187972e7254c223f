using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Tide;

namespace Intervalometer.Tests.Host.Place;

/// <summary>The way back, compared with a plain reading of the tide every ten seconds, at twelve stations, with random paths and moments.</summary>
[TestClass]
public class WayBackTests
{
    private const int HorizonHours = 18;

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void LeaveByAgreesWithALookEveryTenSeconds()
    {
        var random = new Random(9);
        var seen = new SortedDictionary<WayBackState, int>();
        double late = 0, early = 0;
        foreach (Station station in TideFixtures.Stations().Values)
        {
            var tide = new HarmonicTide(station.About(station.MslAboveMllw), NodeSchedule.Yearly);
            for (int n = 0; n < 40; n++)
            {
                var now = new CivilTime(2026, 1, 1, 0, 0, 0).AsUtc().PlusSeconds(random.NextInt64(9 * 365 * 86400L));
                double middle = station.MslAboveMllw, reach = Reach(tide, now) - middle;
                PathPoint[] path = Enumerable.Range(0, random.Next(1, 4))
                    .Select(i => new PathPoint("P" + i, middle + reach * (random.NextDouble() * 1.6 - 0.4), random.Next(0, 90), random.NextDouble() * 0.2 * reach)).ToArray();
                var place = new CoastPlace("Any", "MLLW", new GeoPosition(station.Latitude, station.Longitude), new LocalOffset(0), tide, path, 10);
                WayBackResult ours = new WayBack(place, HorizonHours).WorkOut(now, true);
                seen[ours.State] = seen.GetValueOrDefault(ours.State) + 1;
                // What is taken off for the walk along the tide is not wanted here, where every height is asked for; below it the walk may be as much again.
                double walk = tide.WalkErrorMetres;
                (WayBackState state, long leave) = Plain(place, now, walk);
                (_, long soonest) = Plain(place, now, -walk);
                string what = $"{station.Name} {now.Seconds}";
                if (state is WayBackState.CutOff or WayBackState.BeyondHorizon)
                {
                    Assert.AreEqual(state, ours.State, what);
                    continue;
                }
                late = Math.Max(late, ours.LeaveBy.Seconds - leave);
                early = Math.Max(early, soonest - ours.LeaveBy.Seconds);
                // Within seconds of now the two may name the state differently.
                if (Math.Abs(leave - now.Seconds) > 60) Assert.AreEqual(state, ours.State, what);
            }
        }
        TestContext.WriteLine($"latest against the look every ten seconds {late:F0} s, earliest {early:F0} s; {string.Join(", ", seen.Select(s => $"{s.Key} {s.Value}"))}");
        Assert.IsLessThanOrEqualTo(10.0, late);
        Assert.IsLessThanOrEqualTo(60.0, early);
        foreach (WayBackState state in new[] { WayBackState.Open, WayBackState.PastLeaveBy, WayBackState.CutOff, WayBackState.BeyondHorizon })
            Assert.IsGreaterThan(10, seen.GetValueOrDefault(state), state.ToString());
    }

    /// <summary>No text of this project may call a path or a time safe, and the caution names what no prediction holds.</summary>
    [TestMethod]
    public void TheWordsAreCautious()
    {
        var place = new CoastPlace("Any", "MLLW", new GeoPosition(0, 0), new LocalOffset(0), new PrintedTide(), [new PathPoint("Neck", 3, 20, 0)], 10);
        foreach (WayBackState state in Enum.GetValues<WayBackState>())
        {
            var result = new WayBackResult(state, new UtcInstant(0), new UtcInstant(3000), new UtcInstant(4200), 0);
            foreach (string text in new[] { result.Line(place, new UtcInstant(0)), result.Sentence(place, new UtcInstant(0)) })
            {
                Assert.IsFalse(text.Contains("safe", StringComparison.OrdinalIgnoreCase), text);
                Assert.IsGreaterThan(5, text.Length);
            }
            Assert.IsLessThanOrEqualTo(21, result.Line(place, new UtcInstant(0)).Length);
        }
        foreach (string word in new[] { "surge", "swell", "wind", "Official tide tables", "coastguard", "local advice" }) Assert.Contains(word, TideCaution.Full);
        foreach (string line in TideCaution.Lines()) Assert.IsLessThanOrEqualTo(21, line.Length, line);
    }

    private static double Reach(TideSource tide, UtcInstant now)
    {
        double top = double.MinValue;
        for (int h = 0; h < 26; h++) top = Math.Max(top, tide.HeightMetres(now.PlusHours(h)));
        return top;
    }

    private static (WayBackState State, long Leave) Plain(CoastPlace place, UtcInstant now, double above)
    {
        long best = long.MaxValue;
        for (int i = 0; i < place.PathCount; i++)
        {
            if (place.Tide.HeightMetres(now) >= place.CutMetres(i) + above) return (WayBackState.CutOff, 0);
        }
        // One pass over the time, every point looked at.
        var open = Enumerable.Range(0, place.PathCount).ToList();
        for (long s = 0; s <= HorizonHours * 3600 && open.Count > 0; s += 10)
        {
            double height = place.Tide.HeightMetres(now.PlusSeconds(s));
            foreach (int point in open.Where(i => height >= place.CutMetres(i) + above).ToArray())
            {
                best = Math.Min(best, now.Seconds + s - place.BackMinutes(point) * 60);
                open.Remove(point);
            }
        }
        long horizon = now.Seconds + HorizonHours * 3600 - (place.LongestWalkMinutes + place.AllowanceMinutes) * 60;
        if (best > horizon) return (WayBackState.BeyondHorizon, horizon);
        return (best <= now.Seconds ? WayBackState.PastLeaveBy : WayBackState.Open, best);
    }
}
