using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Tide;

namespace Intervalometer.Tests.Host.Place;

/// <summary>With little memory the tide is summed again for each height. The times of the way back stay the same.</summary>
[TestClass]
public class SlowWalkTests
{
    private const int StartsPerCoast = 12;

    [TestMethod]
    public void TheWayBackIsTheSameWithLittleMemory()
    {
        var random = new Random(52);
        int open = 0;
        foreach (RealCoast coast in RealCoast.All())
        {
            HarmonicTide quick = new(coast.Sum(), NodeSchedule.Monthly), slow = new(coast.Sum(), NodeSchedule.Monthly);
            slow.SpareMemory();
            for (int n = 0; n < StartsPerCoast; n++)
            {
                UtcInstant now = new CivilTime(2026 + n, 1, 1, 0, 0, 0).AsUtc().PlusMinutes(random.Next(500_000));
                double limit = quick.HeightMetres(now) + (random.NextDouble() - 0.2) * 2;
                WayBackResult one = Work(coast, quick, limit, now), other = Work(coast, slow, limit, now);
                Assert.AreEqual(one.State, other.State, $"{coast.Name}, {now.Seconds}");
                // Half a millimetre taken off for the walk is a minute where the tide stands nearly still.
                Assert.AreEqual(one.LeaveBy.Seconds, other.LeaveBy.Seconds, 90.0, $"{coast.Name}, {now.Seconds}");
                if (one.State == WayBackState.Open) open++;
            }
        }
        Assert.IsTrue(open > 40, $"{open} open ways");
    }

    [TestMethod]
    public void AWalkWithLittleMemoryReadsTheSumItself()
    {
        foreach (RealCoast coast in RealCoast.All())
        {
            var tide = new HarmonicTide(coast.Sum(), NodeSchedule.Yearly);
            TideWalker walker = tide.CreateWalker();
            Assert.IsTrue(walker.BytesToCome > 40 * tide.Constants.Used / 2, $"{walker.BytesToCome} bytes");
            UtcInstant at = new CivilTime(2027, 12, 31, 20, 0, 0).AsUtc();
            walker.Start(at, 600);
            Assert.IsFalse(walker.IsSlow);
            Assert.AreEqual(0, walker.BytesToCome);
            for (int n = 1; n < 60; n++)
            {
                // In the middle of a walk, and over the New Year, when the node factors change.
                if (n == 5) tide.SpareMemory();
                walker.Advance();
                at = at.PlusSeconds(600);
                Assert.AreEqual(at.Seconds, walker.Time.Seconds);
                if (n < 5) continue;
                Assert.IsTrue(walker.IsSlow);
                Assert.AreEqual(tide.HeightMetres(at), walker.HeightMetres);
                Assert.AreEqual(tide.RateMetresPerHour(at), walker.RateMetresPerHour);
            }
        }
    }

    private static WayBackResult Work(RealCoast coast, HarmonicTide tide, double limit, UtcInstant now)
    {
        PathPoint[] path = [new PathPoint("Neck", limit, 10, 0.1)];
        return new WayBack(new CoastPlace("Cove", "chart datum", new GeoPosition(coast.Latitude, coast.Longitude), new LocalOffset(0), tide, path, 20), 18).WorkOut(now, true);
    }
}
