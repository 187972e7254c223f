using System.Reflection;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Tests.DeviceSafe;

namespace Intervalometer.Tests.Host.Release;

/// <summary>The player's own guards against a plan that went wrong inside it: no compiler makes such edges, a fault in memory could.</summary>
[TestClass]
public class GuardTests
{
    private static Bench LongExposure()
    {
        var bench = new Bench();
        var plan = new ShotPlan { Shape = PlanShape.Single, BoxTimed = true, ExposureUs = 20_000_000 };
        Assert.IsTrue(bench.Desk.RequestPlan(plan, new CameraProfile(), 0));
        return bench;
    }

    [TestMethod]
    public void TheShutterContactIsNotClosedWithoutAnEdgeThatOpensIt()
    {
        Bench bench = LongExposure();
        bench.Desk.Turn(0);
        object queue = Field<object>(bench.Desk.Player, "_queue");
        byte[] lines = Field<byte[]>(queue, "_line");
        bool[] closes = Field<bool[]>(queue, "_closed");
        for (int i = 0; i < lines.Length; i++)
        {
            if (!closes[i]) lines[i] = (byte)ReleaseLine.HalfPress;
        }
        bench.RunTo(60_000_000);
        Assert.AreEqual(PlayerFailure.NoOpeningEdge, bench.Desk.Player.Failure);
        Assert.AreEqual(RunState.Failed, bench.Desk.State);
        Assert.AreEqual(0, bench.Desk.Player.FramesStarted);
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.IsFalse(bench.Lines.HalfPress);
    }

    [TestMethod]
    public void AClosingEdgeThatComesTooLateIsNotTaken()
    {
        Bench bench = LongExposure();
        bench.Desk.Turn(0);
        long close = bench.Desk.Player.NextFrameUs;
        bench.Desk.Turn(close + ReleasePlayer.LatestUs + 1);
        Assert.AreEqual(PlayerFailure.TooLate, bench.Desk.Player.Failure);
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.IsFalse(bench.Lines.HalfPress);

        bench = LongExposure();
        bench.Desk.Turn(0);
        bench.Desk.Turn(bench.Desk.Player.NextFrameUs + ReleasePlayer.LatestUs);
        Assert.AreEqual(PlayerFailure.None, bench.Desk.Player.Failure);
        Assert.IsTrue(bench.Lines.Shutter);
    }

    /// <summary>An error outside has opened the lines: nothing of the plan may close them again, however long the loop goes on.</summary>
    [TestMethod]
    public void AfterAnErrorOutsideNothingOfThePlanIsPlayed()
    {
        Bench bench = LongExposure();
        bench.Desk.Turn(0);
        bench.RunTo(bench.Desk.Player.NextFrameUs - 100_000);
        Assert.AreNotEqual(long.MaxValue, bench.Desk.NextEdgeUs);
        bench.Lines.OpenAll();
        bench.Desk.Fail();
        Assert.AreEqual(long.MaxValue, bench.Desk.NextEdgeUs);
        bench.RunTo(60_000_000);
        Assert.AreEqual(RunState.Failed, bench.Desk.State);
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.AreEqual(0, bench.Desk.Player.FramesStarted);
    }

    /// <summary>A pin write and an optocoupler take their time, and closing takes another time than opening: the edge falls where it was planned.</summary>
    [TestMethod]
    public void EachEdgeIsWrittenAheadByWhatItsKindTakes()
    {
        Bench bench = LongExposure();
        ReleasePlayer player = bench.Desk.Player;
        (player.WriteAheadUs, player.CloseDelayUs, player.OpenDelayUs) = (700, 40, 900);
        bench.Desk.Turn(0);
        long close = player.NextFrameUs;
        bench.RunTo(close - 100_000);
        Assert.AreEqual(close - 740, bench.Desk.NextEdgeUs, "closing");
        bench.RunTo(close + 100_000);
        Assert.IsTrue(bench.Lines.Shutter);
        Assert.AreEqual(close + 20_000_000 - 1600, bench.Desk.NextEdgeUs, "opening");
        Assert.AreEqual(0, player.WorstLateUs);
        bench.Desk.Turn(close + 20_000_000);
        Assert.IsFalse(bench.Lines.Shutter);
        Assert.AreEqual(1600, player.WorstLateUs);
    }

    [TestMethod]
    public void AQueueTakesNoEdgeTooManyNoneOutOfOrderAndGivesNoneFromNothing()
    {
        var queue = new EdgeQueue();
        Assert.ThrowsExactly<InvalidOperationException>(queue.Drop);
        queue.Add(5, ReleaseLine.Shutter, true, EdgeStep.FrameStarts, 1);
        Assert.ThrowsExactly<InvalidOperationException>(() => queue.Add(4, ReleaseLine.Shutter, false, EdgeStep.FrameReleased, 0));
        queue.Add(5, ReleaseLine.Shutter, false, EdgeStep.FrameReleased, 0);
        for (int i = 2; i < EdgeQueue.Capacity; i++) queue.Add(10 + i, ReleaseLine.HalfPress, i % 2 == 0, EdgeStep.None, 0);
        Assert.AreEqual(0, queue.Free);
        Assert.ThrowsExactly<InvalidOperationException>(() => queue.Add(99, ReleaseLine.HalfPress, false, EdgeStep.None, 0));
        // Round the end of its memory it keeps its order.
        for (int i = 0; i < 2; i++) queue.Drop();
        queue.Add(98, ReleaseLine.Shutter, true, EdgeStep.FrameStarts, 7);
        Assert.IsFalse(queue.WillOpen(ReleaseLine.Shutter));
        queue.Add(99, ReleaseLine.Shutter, false, EdgeStep.FrameReleased, 0);
        Assert.IsTrue(queue.WillOpen(ReleaseLine.Shutter));
        Assert.AreEqual(98, queue.NextFrameUs);
        Assert.ThrowsExactly<InvalidOperationException>(() => queue.Add(98, ReleaseLine.Shutter, false, EdgeStep.None, 0));
        for (long last = 0; queue.Count > 0; queue.Drop()) Assert.IsTrue(queue.NextUs >= last, $"{last = queue.NextUs}");
        Assert.AreEqual(long.MaxValue, queue.NextUs);
        Assert.AreEqual(long.MaxValue, queue.NextFrameUs);
    }

    private static T Field<T>(object of, string name) => (T)of.GetType().GetField(name, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(of)!;
}
