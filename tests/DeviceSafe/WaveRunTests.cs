using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Runs on the waves: when they fire, when they wait, and when they ask.</summary>
[TestClass]
public class WaveRunTests
{
    private const long Second = 1_000_000;
    private const long Period = 10 * Second;
    private const long LagUs = 60_000;

    private static ShotPlan OneSecond(int frames) => new ShotPlan
    {
        Shape = frames > 1 ? PlanShape.Burst : PlanShape.Single,
        Frames = frames,
        BoxTimed = true,
        ExposureUs = Second,
        GapUs = 300_000,
    };

    private static Bench Start(WaveOrder order, int marks)
    {
        Bench bench = new Bench();
        if (marks > 0) bench.MarkSteadily(5 * Second, Period, marks);
        Assert.IsTrue(bench.Desk.StartWaves(order, OneSecond(order.FramesPerWave), new CameraProfile(), bench.NowUs));
        bench.RunTo(bench.NowUs + Bench.TickUs);
        return bench;
    }

    [TestMethod]
    public void OnMarkFiresWithinAPassOfTheMark()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnMark, Waves = 2 }, 0);
        Assert.AreEqual((int)RunState.AwaitMark, (int)bench.Desk.State);
        Assert.IsTrue(bench.Lines.HalfPress, "half-press keeps the camera awake");
        bench.RunTo(4 * Second);
        bench.Mark();
        Assert.AreEqual(4 * Second, bench.Lines.ShutterEdgeUs(0));
        bench.RunTo(14 * Second);
        bench.Mark();
        bench.RunTo(20 * Second);
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
        Assert.AreEqual("H+ S+ S- S+ S- H-", bench.Lines.Story());
    }

    [TestMethod]
    public void AfterMarkOpensTheShutterTheDelayAfterTheMark()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.AfterMark, BestMoment = false, DelayMs = 1500, Waves = 1 }, 0);
        bench.RunTo(4 * Second);
        bench.Mark();
        bench.RunTo(10 * Second);
        Assert.AreEqual(5_500_000 - LagUs, bench.Lines.ShutterEdgeUs(0));
    }

    [TestMethod]
    public void OnRhythmOpensAtTheForecastTurnWithLagMadeUpFor()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 300, Waves = 2 }, 4);
        // Marks at 5, 15, 25, 35 s: the next turn is due at 45 s.
        Assert.AreEqual((int)RunState.AwaitWave, (int)bench.Desk.State);
        bench.RunTo(48 * Second);
        Check.Near(45.3 - 0.06, bench.Lines.ShutterEdgeUs(0) / 1e6, 0.05, "first");
        bench.Mark();
        bench.RunTo(70 * Second);
        Assert.AreEqual(2, bench.Desk.Waves.WavesFired);
    }

    [TestMethod]
    public void EverySecondWaveLetsOneGoBy()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnRhythm, EveryWave = 2, Waves = 2, BestMoment = false, FromTurnMs = 0 }, 4);
        bench.MarkSteadily(45 * Second + Second / 2, Period, 3);
        bench.RunTo(80 * Second);
        long between = bench.Lines.ShutterEdgeUs(2) - bench.Lines.ShutterEdgeUs(0);
        Check.Near(20.0, between / 1e6, 0.8, "from fired wave to fired wave");
    }

    [TestMethod]
    public void FramesPerWaveFollowOneAnotherOnTheSameWave()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnRhythm, FramesPerWave = 3, Waves = 1 }, 4);
        bench.RunTo(60 * Second);
        Assert.AreEqual("H+ S+ S- S+ S- S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(1_300_000L, bench.Lines.ShutterEdgeUs(2) - bench.Lines.ShutterEdgeUs(0));
    }

    [TestMethod]
    public void AMarkJustBeforeTheForecastFiresOnThatVeryWave()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 0, Waves = 1 }, 4);
        bench.RunTo(43 * Second);
        bench.Mark();
        bench.RunTo(44 * Second + Second / 2);
        // Lead 0.3 s: as soon as the lines allow after 43 s, and not at 45 s.
        Check.Near(43.3, bench.Lines.ShutterEdgeUs(0) / 1e6, 0.02, "re-timed");
    }

    [TestMethod]
    public void WithoutMarksItAsksAndDoesNotFire()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnRhythm }, 0);
        Assert.AreEqual((int)RunState.AskMark, (int)bench.Desk.State);
        bench.RunTo(120 * Second);
        Assert.AreEqual(0, bench.Lines.Count);
    }

    [TestMethod]
    public void AStaleRhythmAsksStopsFiringAndGoesOnAfterMarks()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnRhythm, Waves = 0 }, 4);
        bench.RunTo(100 * Second);
        Assert.AreEqual((int)RunState.AskMark, (int)bench.Desk.State);
        int fired = bench.Desk.Waves.WavesFired;
        Assert.IsTrue(fired >= 1 && fired <= 3, "fired " + fired.ToString());
        bench.RunTo(300 * Second);
        Assert.AreEqual(fired, bench.Desk.Waves.WavesFired);
        Assert.IsFalse(bench.Lines.HalfPress);
        bench.MarkSteadily(301 * Second, Period, 4);
        bench.RunTo(345 * Second);
        Assert.IsTrue(bench.Desk.Waves.WavesFired > fired, "the run fires again");
    }

    [TestMethod]
    public void AfterTenMinutesWithoutAMarkOnePressFiresNothingAndThreeDo()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnRhythm, Waves = 0 }, 10);
        bench.RunTo(700 * Second);
        int fired = bench.Desk.Waves.WavesFired;
        bench.Mark();
        bench.RunTo(708 * Second);
        Assert.AreEqual((int)RunState.AskMark, (int)bench.Desk.State);
        bench.MarkSteadily(710 * Second, Period, 2);
        Assert.AreEqual((int)RunState.AwaitWave, (int)bench.Desk.State);
        bench.RunTo(735 * Second);
        Assert.AreEqual(fired + 1, bench.Desk.Waves.WavesFired);
    }

    [TestMethod]
    public void OnArrivalLearnsFromHoldsThenFiresAtTheTurnOfTheSameWave()
    {
        Bench bench = Start(new WaveOrder { Way = FiringWay.OnArrival, BestMoment = false, FromTurnMs = 0, Waves = 1 }, 0);
        for (int wave = 0; wave < 3; wave++)
        {
            bench.RunTo((10 + wave * 10) * Second);
            bench.HoldMark(3 * Second);
        }
        bench.RunTo(50 * Second);
        Check.Near(33.0 - 0.06, bench.Lines.ShutterEdgeUs(0) / 1e6, 0.05, "turn of the third wave");
        Assert.AreEqual((int)RunState.Done, (int)bench.Desk.State);
    }

    [TestMethod]
    public void AWaveThatComesWhileTheCameraIsBusyIsCountedAsMissed()
    {
        Bench bench = new Bench();
        WaveOrder order = new WaveOrder { Way = FiringWay.OnMark, Waves = 3 };
        ShotPlan plan = new ShotPlan { BoxTimed = true, ExposureUs = 4 * Second };
        Assert.IsTrue(bench.Desk.StartWaves(order, plan, new CameraProfile { DarkFrame = true }, bench.NowUs));
        bench.RunTo(2 * Second);
        bench.Mark();
        bench.RunTo(8 * Second);
        bench.Mark();
        Assert.AreEqual(1, bench.Desk.Waves.WavesMissed);
        bench.RunTo(16 * Second);
        bench.Mark();
        bench.RunTo(25 * Second);
        Assert.AreEqual(2, bench.Desk.Waves.WavesFired);
    }
}
