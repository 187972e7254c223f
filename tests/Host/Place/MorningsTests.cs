using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Tide;

namespace Intervalometer.Tests.Host.Place;

/// <summary>
/// The search for mornings reads sun and tide as seldom as it can. It is compared with a plain search that works out the sun of every day by itself and asks the
/// tide for every height, on ten coasts, with random paths and wishes, across changes of the clocks, and where the sun stays up or down.
/// </summary>
[TestClass]
public class MorningsTests
{
    private const int Days = 60;
    private const int Step = 300;

    public TestContext TestContext { get; set; } = null!;

    private sealed record Found(bool Evening, long Sun, long First, long Last, long Leave, bool Closes, bool Close);

    [TestMethod]
    public void TheSearchFindsWhatAPlainLookFinds()
    {
        var random = new Random(15);
        int found = 0, near = 0, without = 0;
        long sunOff = 0, late = long.MinValue;
        foreach (RealCoast coast in RealCoast.All())
        {
            for (int n = 0; n < 6; n++)
            {
                var tide = new HarmonicTide(coast.Sum(), (NodeSchedule)(n % 3));
                var from = new UtcInstant(820_000_000L + random.NextInt64(20L * 365 * 86400));
                double top = Enumerable.Range(0, 700).Max(h => Math.Abs(tide.HeightMetres(from.PlusHours(h))));
                double Height() => top * (random.NextDouble() * 2 - 1);
                PathPoint[] path = Enumerable.Range(0, random.Next(0, 4)).Select(i => new PathPoint("P" + i, Height() + top * 0.4, n == 0 ? random.Next(480, 601) : random.Next(0, 60), random.NextDouble() * 0.2 * top)).ToArray();
                var wish = new MorningWish(random.Next(0, 181), random.Next(0, 181), Height(), Height(), random.Next(5, 90), n != 1, n != 2);
                int minutes = (int)Math.Round(coast.Longitude / 15) * 60;
                var local = new LocalTime(new LocalOffset(minutes), from.PlusDays(20), new LocalOffset(minutes + 60), from.PlusDays(45), new LocalOffset(minutes));
                var place = new CoastPlace("Any", "mean level", new GeoPosition(n == 5 ? 68 : coast.Latitude, coast.Longitude), local, tide, path, 10);
                var search = new Mornings(place, wish, from, Days, 2 * Days);
                while (!search.Step())
                {
                }
                string what = $"{coast.Name} {n} {from.Seconds}";
                Found[] plain = [.. Plain(place, wish, from, out int none)];
                Assert.AreEqual(none, search.WithoutSun, what);
                without += none;
                var left = Enumerable.Range(0, search.Count).Select(i => search[i]).ToList();
                foreach (Found one in plain)
                {
                    Morning? ours = left.Find(m => m.IsEvening == one.Evening && Math.Abs(m.Sun.Seconds - one.Sun) < 3600);
                    if (ours != null) left.Remove(ours);
                    if (one.First < 0 && ours == null) continue;
                    bool alike = one.First >= 0 && ours != null && Math.Abs(one.First - ours.WorkStart.Seconds) <= 1 && Math.Abs(one.Last - ours.WorkEnd.Seconds) <= 1
                        && Math.Abs(one.Leave - ours.LeaveBy.Seconds) <= 1 && one.Closes == ours.PathCloses;
                    if (!alike)
                    {
                        // Where a height stands within a walk's error of an edge, one reading of five minutes may go either way.
                        Assert.IsTrue(one.Close, $"{what}: plain {one}; ours {ours?.Sun.Seconds} {ours?.WorkStart.Seconds} {ours?.WorkEnd.Seconds} {ours?.LeaveBy.Seconds}");
                        near++;
                        continue;
                    }
                    found++;
                    sunOff = Math.Max(sunOff, Math.Abs(ours!.Sun.Seconds - one.Sun));
                    late = Math.Max(late, ours.LeaveBy.Seconds - one.Leave);
                }
                Assert.IsEmpty(left, what);
            }
        }
        TestContext.WriteLine($"{found} mornings and evenings alike, {near} at an edge, {without} without the sun; sun within {sunOff} s, leave-by later by {late} s at most");
        Assert.IsGreaterThan(500, found);
        Assert.IsGreaterThan(50, without);
        Assert.IsLessThan(found / 50, near);
        Assert.IsLessThanOrEqualTo(1L, sunOff);
    }

    private static IEnumerable<Found> Plain(CoastPlace place, MorningWish wish, UtcInstant from, out int without)
    {
        var found = new List<Found>();
        without = 0;
        UtcInstant noon = place.Offset.MidnightBefore(from).PlusHours(12);
        for (int day = 0; day < Days; day++)
        {
            var sun = new SunDay(place.Position, place.Offset, noon.PlusDays(day));
            foreach (bool evening in new[] { false, true })
            {
                if (evening ? !wish.Evenings : !wish.Mornings) continue;
                SunEvent when = evening ? sun.Set : sun.Rise;
                if (when.Happens) found.Add(Look(place, wish, evening, when.Time.Seconds));
                else without++;
            }
        }
        return found;
    }

    // Every height from the walk in to seven hours behind the longest walk back, each asked for.
    private static Found Look(CoastPlace place, MorningWish wish, bool evening, long sun)
    {
        long start = sun - wish.BeforeMinutes * 60 - place.LongestWalkMinutes * 60;
        long open = sun - wish.BeforeMinutes * 60, close = sun + wish.AfterMinutes * 60;
        int count = (int)((close + (place.LongestWalkMinutes + place.AllowanceMinutes + 420) * 60 - start) / Step) + 1;
        double[] height = [.. Enumerable.Range(0, count).Select(i => place.Tide.HeightMetres(new UtcInstant(start + i * Step)))];
        bool[] wanted = [.. height.Select((h, i) => start + i * Step >= open && start + i * Step <= close && h <= wish.HighMetres && h >= wish.LowMetres && place.Tide.RateMetresPerHour(new UtcInstant(start + i * Step)) < 0)];
        int walk = (place.LongestWalkMinutes * 60 + Step - 1) / Step;
        double lowest = place.LowestCutMetres;
        double[] edges = [wish.HighMetres, wish.LowMetres, .. Enumerable.Range(0, place.PathCount).Select(place.CutMetres)];
        // Half a millimetre of the walk, and a second of the sun, which is as much again.
        bool near = height.Where((h, i) => edges.Any(e => Math.Abs(h - e) < 0.0012)
            || h <= wish.HighMetres && h >= wish.LowMetres && Math.Abs(place.Tide.RateMetresPerHour(new UtcInstant(start + i * Step))) < 0.003).Any();
        for (int first = walk; first < count; first++)
        {
            if (!wanted[first] || Enumerable.Range(first - walk, walk + 1).Any(k => height[k] >= lowest)) continue;
            int leave = count - 1;
            bool closes = false;
            for (int i = 0; i < place.PathCount; i++)
            {
                int cut = Array.FindIndex(height, first, h => h >= place.CutMetres(i));
                if (cut < 0) continue;
                closes = true;
                leave = Math.Min(leave, cut - 1 - (place.BackMinutes(i) * 60 + Step - 1) / Step);
            }
            int last = first;
            while (last + 1 < count && last + 1 <= leave && wanted[last + 1]) last++;
            if ((last - first) * Step >= wish.WorkMinutes * 60)
                return new Found(evening, sun, start + first * Step, start + last * Step, start + leave * Step, closes, near);
            first = last;
        }
        return new Found(evening, sun, -1, -1, -1, false, near);
    }
}
