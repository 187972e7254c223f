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

    private static T Field<T>(object of, string name) => (T)of.GetType().GetField(name, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(of)!;
}
