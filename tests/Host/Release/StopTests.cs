using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Tests.DeviceSafe;

namespace Intervalometer.Tests.Host.Release;

/// <summary>A stop at any instant of any plan opens both contacts in that pass; nothing is allocated from arm to end.</summary>
[TestClass]
public class StopTests
{
    private static ShotPlan RandomPlan(Random random)
    {
        ShotPlan plan;
        do plan = AnyPlan(random); while (plan.Fault() != null);
        return plan;
    }

    private static ShotPlan AnyPlan(Random random)
    {
        PlanShape shape = (PlanShape)random.Next(5);
        bool boxTimed = shape == PlanShape.Bracket || (shape != PlanShape.HeldDrive && random.Next(2) == 0);
        return new ShotPlan
        {
            Shape = shape,
            BoxTimed = boxTimed,
            SettleUs = random.Next(0, 3_000_000),
            ExposureUs = random.Next(900_000, 9_000_000),
            Frames = shape == PlanShape.Bracket ? 3 + 2 * random.Next(3) : random.Next(1, 12),
            GapUs = random.Next(0, 2_000_000),
            IntervalUs = random.Next(500_000, 12_000_000),
            HoldUs = random.Next(100_000, 6_000_000),
            BracketThirds = random.Next(1, 4),
        };
    }

    private static CameraProfile RandomCamera(Random random) => new()
    {
        HalfPressLeadMs = random.Next(0, 1000),
        ShutterLagMs = random.Next(0, 300),
        MinimumGapMs = random.Next(40, 1000),
        PulseMs = random.Next(30, 500),
        DarkFrame = random.Next(2) == 0,
        MirrorLockUp = random.Next(3) == 0,
        MirrorSettleMs = random.Next(200, 3000),
    };

    private static void StartAny(Bench bench, Random random)
    {
        ShotPlan plan = RandomPlan(random);
        if (random.Next(4) == 0)
        {
            var order = new WaveOrder { Way = (FiringWay)random.Next(4), FramesPerWave = 1, EveryWave = random.Next(1, 3), Waves = random.Next(0, 4) };
            plan.Shape = PlanShape.Single;
            bench.MarkSteadily(1_000_000, 6_000_000, 4);
            Assert.IsTrue(bench.Desk.StartWaves(order, plan, RandomCamera(random), bench.NowUs));
        }
        else
        {
            Assert.IsTrue(bench.Desk.StartPlan(plan, RandomCamera(random), bench.NowUs));
        }
    }

    [TestMethod]
    public void AStopAtAnyOfAThousandInstantsOpensBothInThatPass()
    {
        var random = new Random(20260);
        int whileClosed = 0;
        for (int run = 0; run < 1000; run++)
        {
            var bench = new Bench();
            StartAny(bench, random);
            bench.RunTo(bench.NowUs + 1 + random.NextInt64(30_000_000));
            if (random.Next(3) == 0 && bench.Desk.Running) bench.Mark();
            if (bench.Lines.Shutter) whileClosed++;

            bench.Desk.StopNow(bench.NowUs);

            Assert.IsFalse(bench.Lines.Shutter, $"run {run}: shutter contact closed after a stop");
            Assert.IsFalse(bench.Lines.HalfPress, $"run {run}: half-press closed after a stop");
            int changes = bench.Lines.Count;
            bench.RunTo(bench.NowUs + 60_000_000);
            Assert.AreEqual(changes, bench.Lines.Count, $"run {run}: a contact moved after the stop");
        }
        Assert.IsTrue(whileClosed > 200, $"only {whileClosed} of the stops met a closed shutter contact");
    }

    [TestMethod]
    public void NoContactIsEverClosedLongerThanPlanned()
    {
        var random = new Random(77);
        for (int run = 0; run < 500; run++)
        {
            var bench = new Bench();
            ShotPlan plan = RandomPlan(random);
            CameraProfile camera = RandomCamera(random);
            Assert.IsTrue(bench.Desk.StartPlan(plan, camera, 0));
            long longest = Math.Max(camera.PulseMs * 1000L, plan.Shape == PlanShape.HeldDrive ? plan.HoldUs : 0);
            if (plan.BoxTimed) for (int i = 0; i < plan.FrameCount; i++) longest = Math.Max(longest, plan.ExposureOf(i));
            bench.RunTo(1_200_000_000);

            Assert.AreEqual(RunState.Done, bench.Desk.State, $"run {run}");
            Assert.AreEqual(plan.FrameCount, bench.Desk.Player.FramesStarted, $"run {run}");
            long closed = -1;
            int closings = 0;
            for (int i = 0; i < bench.Lines.Count; i++)
            {
                if (bench.Lines.What(i) == "S+") { closed = bench.Lines.AtUs(i); closings++; }
                else if (bench.Lines.What(i) == "S-")
                {
                    Assert.IsTrue(bench.Lines.AtUs(i) - closed <= longest, $"run {run}: closed {bench.Lines.AtUs(i) - closed} us, longest planned {longest}");
                    closed = -1;
                }
            }
            Assert.AreEqual(-1L, closed, $"run {run}: never opened");
            Assert.AreEqual(plan.FrameCount * (camera.MirrorLockUp ? 2 : 1), closings, $"run {run}: closings");
        }
    }

    [TestMethod]
    public void TheNextFrameAlwaysWaitsForTheCamera()
    {
        var random = new Random(4711);
        for (int run = 0; run < 500; run++)
        {
            ShotPlan plan = RandomPlan(random);
            if (plan.Shape == PlanShape.HeldDrive) continue;
            CameraProfile camera = RandomCamera(random);
            var compiler = new PlanCompiler();
            var queue = new EdgeQueue();
            compiler.Begin(plan, camera, 0, false);
            long ready = 0, last = long.MinValue;
            while (compiler.AddFrame(queue))
            {
                bool firstShutterEdge = true;
                while (queue.Count > 0)
                {
                    (long at, ReleaseLine line, EdgeStep step, long exposureUs) = (queue.NextUs, queue.NextLine, queue.NextStep, queue.NextExposureUs);
                    queue.Drop();
                    Assert.IsTrue(at >= last, "edges in order");
                    last = at;
                    if (line != ReleaseLine.Shutter) continue;
                    if (firstShutterEdge) Assert.IsTrue(at >= ready, $"run {run}: closed at {at}, camera ready at {ready}");
                    firstShutterEdge = false;
                    if (step == EdgeStep.FrameStarts)
                    {
                        long end = at + camera.ShutterLagMs * 1000L + exposureUs;
                        ready = end + (camera.DarkFrame && exposureUs >= 1_000_000 ? exposureUs : 0) + camera.MinimumGapMs * 1000L;
                    }
                }
            }
        }
    }

    [TestMethod]
    public void NothingIsAllocatedFromArmToEnd()
    {
        var random = new Random(5);
        long total = 0;
        for (int run = 0; run < 60; run++)
        {
            var bench = new Bench();
            StartAny(bench, random);
            long before = GC.GetAllocatedBytesForCurrentThread();
            for (int i = 0; i < 6; i++)
            {
                bench.RunTo(bench.NowUs + 7_000_000);
                bench.Mark();
            }
            if (random.Next(2) == 0) bench.Desk.StopNow(bench.NowUs);
            long after = GC.GetAllocatedBytesForCurrentThread();
            if (run > 0) total += after - before;
        }
        Assert.AreEqual(0L, total, "bytes allocated between arm and end");
    }
}
