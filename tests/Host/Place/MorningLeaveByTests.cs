using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Tide;

namespace Intervalometer.Tests.Host.Place;

/// <summary>The time to leave that a list of mornings gives is never later than the one that the box works out on the day, and less than ten minutes sooner.</summary>
[TestClass]
public class MorningLeaveByTests
{
    private const int Walk = 12;

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void AListedTimeToLeaveIsUpToTenMinutesSoonerThanThatOfTheDay()
    {
        double least = double.MaxValue, most = double.MinValue;
        int compared = 0;
        foreach (RealCoast coast in RealCoast.All())
        {
            var tide = new HarmonicTide(coast.Sum(), NodeSchedule.Monthly);
            UtcInstant from = new CivilTime(2031, 3, 1, 0, 0, 0).AsUtc();
            double top = Enumerable.Range(0, 700).Max(h => tide.HeightMetres(from.PlusHours(h)));
            var place = new CoastPlace("Any", "mean level", new GeoPosition(coast.Latitude, coast.Longitude), new LocalTime(new LocalOffset((int)Math.Round(coast.Longitude / 15) * 60)), tide, [new PathPoint("Neck", top * 0.5, Walk, 0.1)], 10);
            var search = new Mornings(place, new MorningWish(120, 120, top * 0.3, -top, 20, true, true), from, 60, 120);
            while (!search.Step())
            {
            }
            for (int rank = 0; rank < search.Count; rank++)
            {
                Morning one = search[rank];
                if (!one.PathCloses) continue;
                WayBackResult way = new WayBack(place, 18).WorkOut(one.WorkEnd, true);
                if (way.State != WayBackState.Open) continue;
                double sooner = way.LeaveBy.SecondsSince(one.LeaveBy) / 60.0;
                least = Math.Min(least, sooner);
                most = Math.Max(most, sooner);
                compared++;
            }
        }
        TestContext.WriteLine($"{compared} times to leave: sooner by {least:F1} to {most:F1} min");
        Assert.IsGreaterThan(200, compared);
        Assert.IsGreaterThanOrEqualTo(0.0, least);
        Assert.IsLessThan(10.0, most);
    }
}
