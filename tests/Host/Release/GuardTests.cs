using System.Reflection;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Tests.DeviceSafe;

namespace Intervalometer.Tests.Host.Release;

/// <summary>The player's own guards against edges that no compiler makes but that a fault in memory could.</summary>
[TestClass]
public class GuardTests
{
    private static Bench LongExposure()
    {
        var bench = new Bench();
        var plan = new ShotPlan { Shape = PlanShape.Single, BoxTimed = true, ExposureUs = 20_000_000 };
        Assert.IsTrue(bench.Desk.StartPlan(plan, new CameraProfile(), 0));
        return bench;
    }

    [TestMethod]
    public void TheShutterContactIsNotClosedWithoutAnEdgeThatOpensIt()
    {
        Bench bench = LongExposure();
        bench.Desk.Pass(0);
        object queue = Field<object>(bench.Desk.Player, "_queue");
        // Every edge that opens the shutter contact becomes one that opens half-press.
        byte[] what = Field<byte[]>(queue, "_what");
        for (int i = 0; i < what.Length; i++)
        {
            if ((what[i] & 2) == 0) what[i] &= 0xFE;
        }
        bench.RunTo(60_000_000);
        Assert.AreEqual(PlayerFailure.NoOpeningEdge, bench.Desk.Player.Failure);
        Assert.AreEqual(RunState.Failed, bench.Desk.State);
        Assert.AreEqual(0, bench.Desk.Player.FramesStarted);
        // Half-press is no danger: it is the shutter contact that is refused.
        Assert.AreEqual("H+ H-", bench.Lines.Story());
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.IsFalse(bench.Lines.HalfPress);
    }

    /// <summary>
    /// Planning takes time on the device. So none is done near an edge, and as much as fits is done away from one. In the last moment
    /// before an edge the loop only plays. Its next whole pass is either at once or shortly before the edge after.
    /// </summary>
    [TestMethod]
    public void NoFrameIsPlannedNearAnEdge()
    {
        var bench = new Bench();
        var plan = new ShotPlan { Shape = PlanShape.Series, Frames = 60, ExposureUs = 250_000, IntervalUs = 1_500_000, SettleUs = 2_000_000 };
        Assert.IsTrue(bench.Desk.StartPlan(plan, new CameraProfile { PulseMs = 120 }, 0));
        bench.Desk.Pass(0);
        PlanCompiler compiler = Field<PlanCompiler>(bench.Desk.Player, "_compiler");
        EdgeQueue queue = Field<EdgeQueue>(bench.Desk.Player, "_queue");
        int near = 0;
        for (int edge = 0; !compiler.Finished; edge++)
        {
            long now = queue.NextUs;
            Assert.IsTrue(bench.Desk.PlayDue(now));
            int given = compiler.FramesGiven;
            bool late = edge % 3 != 0;
            if (late) now = queue.NextUs - (edge % 3 == 1 ? 15_000 : 20_000);
            bool room = queue.Free >= PlanCompiler.MostEdgesPerFrame;
            bench.Desk.Pass(now);
            if (late)
            {
                Assert.AreEqual(given, compiler.FramesGiven, $"at {now} us");
                if (room) near++;
            }
            else
            {
                Assert.IsTrue(compiler.Finished || queue.Free < PlanCompiler.MostEdgesPerFrame, $"at {now} us");
            }
        }
        Assert.IsTrue(near > 10, $"{near} passes near an edge with room to plan");
        Assert.AreEqual(PlayerFailure.None, bench.Desk.Player.Failure);
    }

    [TestMethod]
    public void AQueueTakesNoEdgeTooManyNoneOutOfOrderAndGivesNoneFromNothing()
    {
        var queue = new EdgeQueue();
        Refuses("edge queue empty", queue.Drop);
        for (int head = 0; head < EdgeQueue.Capacity; head++)
        {
            queue.Add(5, ReleaseLine.Shutter, true, EdgeStep.FrameStarts, 1);
            Refuses("edge out of order", () => queue.Add(4, ReleaseLine.Shutter, false, EdgeStep.FrameReleased, 0));
            for (int i = 1; i < EdgeQueue.Capacity; i++) queue.Add(5 + i, ReleaseLine.HalfPress, i % 2 == 0, EdgeStep.None, 0);
            Refuses("edge queue full", () => queue.Add(99, ReleaseLine.HalfPress, false, EdgeStep.None, 0));
            while (queue.Count > 0) queue.Drop();
            Refuses("edge queue empty", queue.Drop);
            // The next round begins one place further on.
            queue.Add(1, ReleaseLine.Shutter, false, EdgeStep.None, 0);
            queue.Drop();
        }
    }

    private static void Refuses(string words, Action action) => Assert.AreEqual(words, Assert.ThrowsExactly<InvalidOperationException>(action).Message);

    private static T Field<T>(object of, string name) => (T)of.GetType().GetField(name, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(of)!;
}
