using System.Reflection;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Tests.DeviceSafe;

namespace Intervalometer.Tests.Host.Release;

/// <summary>What a pass of the link does besides playing: it reports every 20 ms, but not close to an edge, and begins the advice again every 5 s.</summary>
[TestClass]
public class LinkPassTests
{
    private const long Second = 1_000_000;

    [TestMethod]
    public void ARunIsReportedEvery20MillisecondsUnlessAnEdgeIsCloserThanThat()
    {
        var bench = new Bench();
        FireOrder order = bench.Link.TryFill()!;
        order.Plan.CopyFrom(new ShotPlan { BoxTimed = true, ExposureUs = 2 * Second, SettleUs = 2 * Second });
        bench.Link.Offer();
        bench.RunTo(Second);
        bench.Link.Fire(bench.NowUs);
        bench.RunTo(Second + Second / 2);
        long edge = bench.Link.NextEdgeUs;
        long told = Told(bench, edge - 100_000);
        Assert.AreEqual(edge - 100_000, told, "100 ms after the report before, far from an edge");
        Assert.AreEqual(told, Told(bench, edge - 80_001), "19.999 ms after it");
        Assert.AreEqual(edge - 80_000, Told(bench, edge - 80_000), "20 ms after it");
        Assert.AreEqual(edge - 20_000, Told(bench, edge - 20_000), "20 ms before the edge");
        Assert.AreEqual(edge - 20_000, Told(bench, edge - 1), "within 20 ms of it");
        Assert.AreEqual(edge, Told(bench, edge), "the edge itself");
        long next = bench.Link.NextEdgeUs;
        Assert.AreEqual(next - 40_000, Told(bench, next - 40_000));
        Assert.AreEqual(next - 40_000, Told(bench, next - 19_999), "20 ms after the report before, but 19.999 ms before the edge");
        // At rest nothing is reported that did not change.
        bench.RunTo(20 * Second);
        bench.Link.Acknowledge();
        bench.RunTo(21 * Second);
        told = Told(bench, 21 * Second);
        Assert.AreEqual(told, Told(bench, 22 * Second), "at rest");
    }

    [TestMethod]
    public void TheAdviceIsBegunAnewFiveSecondsAfterItWasBegun()
    {
        var bench = new Bench();
        for (int i = 0; i < 6; i++)
        {
            bench.RunTo((1 + 10 * i) * Second);
            bench.HoldMark(4 * Second);
        }
        bench.RunTo(60 * Second);
        bench.Link.WantAdvice(1.5, 0.06);
        bench.RunTo(60 * Second + Bench.TickUs);
        long begun = Field(bench, "_adviceUs");
        Assert.AreEqual(60 * Second + Bench.TickUs, begun);
        bench.RunTo(begun + 5 * Second - 1);
        Assert.AreEqual(begun, Field(bench, "_adviceUs"));
        bench.RunTo(begun + 5 * Second);
        Assert.AreEqual(begun + 5 * Second, Field(bench, "_adviceUs"));
    }

    // When the run was reported last, after a pass at that time.
    private static long Told(Bench bench, long us)
    {
        bench.Lines.NowUs = us;
        bench.Link.Pass(us);
        return Field(bench, "_publishedUs");
    }

    private static long Field(Bench bench, string name) => (long)typeof(RunLink).GetField(name, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(bench.Link)!;
}
