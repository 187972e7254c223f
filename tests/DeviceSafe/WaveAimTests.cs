using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>At which moment a run on the waves aims, until when a mark can correct it, and when it ends. Turns come at 5, 15, 25, 35 s and so on.</summary>
[TestClass]
public class WaveAimTests
{
    private const long Second = 1_000_000;
    private const long LagUs = 60_000;

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs };

    private static WaveOrder Rhythm(int fromTurnMs) => new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = fromTurnMs, Waves = 1 };

    // Four marks, the last at 35 s; then the run is asked for, and has had its first pass.
    private static Bench OnRhythm(long askedUs, WaveOrder order, ShotPlan plan, CameraProfile camera)
    {
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, 4);
        bench.RunTo(askedUs);
        Assert.IsTrue(bench.Desk.StartWaves(order, plan, camera, bench.NowUs));
        bench.RunTo(askedUs + Bench.TickUs);
        return bench;
    }

    private static Bench OnRhythm(long askedUs, WaveOrder order) => OnRhythm(askedUs, order, Bulb(Second), new CameraProfile());

    private static Bench OnRhythm(WaveOrder order) => OnRhythm(36 * Second, order);

    // Asked for before any mark.
    private static Bench OnMarks(WaveOrder order, ShotPlan plan, CameraProfile camera)
    {
        Bench bench = new Bench();
        Assert.IsTrue(bench.Desk.StartWaves(order, plan, camera, bench.NowUs));
        return bench;
    }

    private static Bench OnMarks(WaveOrder order) => OnMarks(order, Bulb(4 * Second), new CameraProfile());

    // The forecast turns lie a little before the round seconds: of many waves a few pass without a mark.
    private static long ForecastUs(Bench bench, int ahead)
    {
        Assert.IsTrue(bench.Desk.Waves.Rhythm.TryForecast(bench.NowUs, ahead, out long turn, out double spread));
        Check.Near(bench.Desk.Waves.Rhythm.LastMarkUs / 1e6 + 10 * ahead, turn / 1e6, 0.05, "forecast");
        return turn;
    }

    private static void IsState(RunState state, Bench bench) => Assert.AreEqual((int)state, (int)bench.Desk.State);

    [TestMethod]
    public void FramesAreHandedOverJustBeforeTheirFirstEdge()
    {
        // The turn and 2 s more; lag 60 ms, lead 300 ms, and 200 ms before.
        Bench bench = OnRhythm(Rhythm(2000));
        long open = ForecastUs(bench, 1) + 2 * Second;
        Assert.AreEqual(open, bench.Desk.Waves.TargetUs);
        long halfPress = open - LagUs - 300_000;
        bench.RunTo(halfPress - 200_001);
        Assert.AreEqual(long.MaxValue, bench.Desk.NextEdgeUs);
        bench.RunTo(halfPress - 200_000);
        Assert.AreEqual(halfPress, bench.Desk.NextEdgeUs);
        bench.RunTo(open - LagUs - 1);
        IsState(RunState.AwaitWave, bench);
        bench.RunTo(open - LagUs);
        IsState(RunState.OnWave, bench);
        bench.RunTo(60 * Second);
        IsState(RunState.Done, bench);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(open - LagUs, bench.Lines.ShutterEdgeUs(0));
    }

    // A mark this long before the planned closing of the shutter contact: does the frame move to 2 s after the mark?
    private static void AMarkBefore(long beforeContactUs, bool moves)
    {
        Bench bench = OnRhythm(Rhythm(2000));
        long planned = ForecastUs(bench, 1) + 2 * Second - LagUs;
        long markUs = planned - beforeContactUs;
        bench.RunTo(markUs);
        bench.Mark();
        bench.RunTo(52 * Second);
        // With half-press closed it stays closed, and the shutter waits for the new moment.
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(moves ? markUs + 2 * Second - LagUs : planned, bench.Lines.ShutterEdgeUs(0));
        IsState(RunState.Done, bench);
    }

    [TestMethod]
    public void AMarkMovesAFrameThatWaitsUnlessAnEdgeIsNear()
    {
        // Before the frame is handed over, after that, and at the last moment before half-press.
        AMarkBefore(700_000, true);
        AMarkBefore(450_000, true);
        AMarkBefore(400_000, true);
        AMarkBefore(399_999, false);
        // Half-press is closed; then the shutter is near; then it is open.
        AMarkBefore(200_000, true);
        AMarkBefore(100_000, true);
        AMarkBefore(99_999, false);
        AMarkBefore(-300_000, false);
    }

    [TestMethod]
    public void AMarkInTheMomentOfTheEdgeTakesNothingBack()
    {
        Bench bench = OnRhythm(Rhythm(2000));
        long contact = ForecastUs(bench, 1) + 2 * Second - LagUs;
        bench.RunTo(contact - 1);
        bench.Desk.PlayDue(contact);
        bench.Desk.Mark(contact, contact);
        bench.RunTo(60 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        IsState(RunState.Done, bench);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
    }

    [TestMethod]
    public void AMarkAtTheAwaitedWaveAimsAtItAndAMarkFarOffAimsAgain()
    {
        // Best moment, the wave a second late: as soon as the lines allow.
        WaveOrder best = new WaveOrder { Way = FiringWay.OnRhythm, Waves = 1 };
        Bench bench = OnRhythm(best);
        for (int i = 0; i < BackwashLengths.Needed; i++) bench.Desk.MarkReleased(4 * Second);
        bench.RunTo(40 * Second);
        long wanted = bench.Desk.Waves.TargetUs;
        Assert.IsTrue(bench.Desk.Waves.ChancePercent > 0);
        bench.RunTo(42 * Second);
        bench.Mark();
        Assert.AreEqual(FiringAdvice.WholePercent(FiringAdvice.ChanceAfterPress(bench.Desk.Waves.Rhythm, 0.36, 1)), bench.Desk.Waves.ChancePercent);
        bench.RunTo(50 * Second);
        Assert.AreEqual(42_300_000L, bench.Lines.ShutterEdgeUs(0));
        Assert.IsTrue(wanted > 44 * Second);

        // More than a third of the period from the awaited turn is another wave: before it (41.4 s for 45 s) and after it (49.3 s).
        bench = OnRhythm(Rhythm(5000));
        bench.RunTo(41_400_000);
        bench.Mark();
        Assert.IsTrue(bench.Desk.Waves.TargetUs > 54 * Second, "the run aims at the next turn");
        bench.RunTo(50 * Second);
        Assert.AreEqual(0, bench.Lines.Count);
        bench = OnRhythm(Rhythm(5000));
        bench.RunTo(49_300_000);
        bench.Mark();
        Assert.IsTrue(bench.Desk.Waves.TargetUs > 62 * Second, "the run aims at the next turn");
    }

    [TestMethod]
    public void AWaveThatCannotBeHadIsLeftForTheNext()
    {
        // The turn at 45 s is nearer than limiter, lead and lag allow.
        Bench bench = OnRhythm(44_900_000, Rhythm(0));
        Assert.AreEqual(ForecastUs(bench, 2), bench.Desk.Waves.TargetUs);

        // Two seconds after that turn can be had.
        bench = OnRhythm(44_900_000, Rhythm(2000));
        Assert.AreEqual(ForecastUs(bench, 1) + 2 * Second, bench.Desk.Waves.TargetUs);

        // The best moment of a turn that is too near is looked for on the next wave.
        bench = OnRhythm(45_500_000, new WaveOrder { Way = FiringWay.OnRhythm, Waves = 1 });
        bench.RunTo(70 * Second);
        Assert.IsTrue(bench.Lines.ShutterEdgeUs(0) > 54 * Second && bench.Lines.ShutterEdgeUs(0) < 58 * Second, "next wave");
    }

    [TestMethod]
    public void ABusyCameraIsWaitedForAndItsWaveSkipped()
    {
        WaveOrder order = Rhythm(0);
        order.Waves = 2;
        Bench bench = OnRhythm(36 * Second, order, Bulb(8 * Second), new CameraProfile { DarkFrame = true });
        bench.RunTo(55 * Second);
        bench.Mark();
        bench.RunTo(80 * Second);
        // 45 s, 8 s exposed and 8 s dark: ready at 61 s, so the turn at 55 s is not fired on.
        Check.Near(45 - 0.06, bench.Lines.ShutterEdgeUs(0) / 1e6, 0.05, "first");
        Check.Near(65 - 0.06, bench.Lines.ShutterEdgeUs(2) / 1e6, 0.3, "second");
        Assert.AreEqual("H+ S+ S- H- H+ S+ S- H-", bench.Lines.Story());
    }

    [TestMethod]
    public void OfEveryFifthWaveTheFirstIsTheNext()
    {
        WaveOrder order = Rhythm(0);
        order.EveryWave = 5;
        Bench bench = new Bench();
        bench.MarkSteadily(Second, 10 * Second, 4);
        Assert.IsTrue(bench.Desk.StartWaves(order, Bulb(Second), new CameraProfile(), bench.NowUs));
        bench.RunTo(32 * Second);
        Assert.AreEqual(ForecastUs(bench, 1), bench.Desk.Waves.TargetUs);
    }

    [TestMethod]
    public void ARhythmThatHasGoneStaleIsAskedForAtTheStartAndBeforeAFrame()
    {
        Bench bench = OnRhythm(65 * Second + 1, Rhythm(300));
        IsState(RunState.AskMark, bench);

        // Fired at 45 s and every fourth wave: the next, at 85 s, is more than three periods after the last mark.
        WaveOrder order = Rhythm(0);
        order.EveryWave = 4;
        order.Waves = 2;
        bench = OnRhythm(order);
        bench.RunTo(64 * Second);
        IsState(RunState.AwaitWave, bench);
        bench.RunTo(90 * Second);
        IsState(RunState.AskMark, bench);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
    }

    [TestMethod]
    public void TheChanceIsThatOfEverythingTakenOnTheWave()
    {
        ShotPlan burst = new ShotPlan { Shape = PlanShape.Burst, Frames = 3, BoxTimed = true, ExposureUs = Second, GapUs = 300_000 };
        WaveOrder order = Rhythm(300);
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, 4);
        for (int i = 0; i < BackwashLengths.Needed; i++) bench.Desk.MarkReleased(5 * Second);
        bench.RunTo(36 * Second);
        Assert.AreEqual(-1, bench.Desk.Waves.ChancePercent);
        Assert.IsTrue(bench.Desk.StartWaves(order, burst, new CameraProfile(), bench.NowUs));
        bench.RunTo(36 * Second + Bench.TickUs);
        long askedUs = 36 * Second + Bench.TickUs;
        int whole = FiringAdvice.WholePercent(bench.Desk.Waves.Rhythm.ChanceInBackwash(askedUs, bench.Desk.Waves.TargetUs, 3.6));
        int alone = FiringAdvice.WholePercent(bench.Desk.Waves.Rhythm.ChanceInBackwash(askedUs, bench.Desk.Waves.TargetUs, 1.0));
        Assert.AreEqual(whole, bench.Desk.Waves.ChancePercent);
        Assert.IsTrue(alone > whole + 5, alone.ToString() + " against " + whole.ToString());
    }

    [TestMethod]
    public void ARunAfterTheMarkShowsTheChanceThatTheAdviceGives()
    {
        FiringAdvice advice = new FiringAdvice();
        for (int frames = 1; frames <= 3; frames++)
        {
            for (int way = FiringAdvice.AtOnce; way <= FiringAdvice.AfterMark; way++)
            {
                Bench bench = new Bench();
                bench.MarkSteadily(5 * Second, 10 * Second, 6);
                for (int i = 0; i < 12; i++) bench.Desk.MarkReleased(2_500_000 + i % 4 * 500_000L);
                double seconds = 1.3 * frames - 0.3;
                advice.Update(bench.Desk.Waves.Rhythm, bench.Desk.Waves.Delay, bench.NowUs, seconds, 0.06);
                WaveOrder order = new WaveOrder { Way = (FiringWay)way, DelayMs = (int)(advice.DelayAfterMarkSeconds * 1000), FramesPerWave = frames };
                ShotPlan burst = new ShotPlan { Shape = PlanShape.Burst, Frames = frames, BoxTimed = true, ExposureUs = Second, GapUs = 300_000 };
                Assert.IsTrue(bench.Desk.StartWaves(order, burst, new CameraProfile(), bench.NowUs));
                bench.RunTo(bench.NowUs + 3 * Bench.TickUs);
                Assert.AreEqual(advice.Percent(way), bench.Desk.Waves.ChancePercent);
                bench.RunTo(65 * Second);
                bench.Mark();
                bench.RunTo(bench.NowUs + 3 * Bench.TickUs);
                Assert.AreEqual(advice.Percent(way), bench.Desk.Waves.ChancePercent);
                bench.RunTo(72 * Second);
                for (int i = 0; i < BackwashLengths.Kept; i++) bench.Desk.MarkReleased(900_000);
                bench.RunTo(bench.NowUs + 3 * Bench.TickUs);
                Assert.IsTrue(bench.Desk.Waves.ChancePercent < 20, "a short backwash changes the figure at once");
            }
        }
    }

    [TestMethod]
    public void AHeldMarkTimesTheBackwashOfBothWays()
    {
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, 4);
        bench.Desk.MarkReleased(HeldMarks.LongUs - 1);
        Assert.AreEqual(0, bench.Desk.Waves.Rhythm.Lengths.Count);
        bench.Desk.MarkReleased(HeldMarks.LongUs);
        Check.Near(0.8, bench.Desk.Waves.Rhythm.BackwashSeconds, 1e-6, "on the rhythm");
        Check.Near(0.8, bench.Desk.Waves.Delay.BackwashSeconds, 1e-6, "on the arrival");
    }

    [TestMethod]
    public void ARunOfMinutesEndsInTimeOrAfterItsFrame()
    {
        WaveOrder order = new WaveOrder { Way = FiringWay.OnMark, Waves = 0, Minutes = 1 };
        Bench bench = OnMarks(order);
        bench.RunTo(20 * Second);
        bench.Mark();
        long end = 60 * Second;
        bench.RunTo(end - 1);
        IsState(RunState.AwaitMark, bench);
        Assert.IsTrue(bench.Lines.HalfPress);
        bench.RunTo(end);
        IsState(RunState.Done, bench);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());

        bench = OnMarks(order);
        bench.RunTo(58 * Second);
        bench.Mark();
        bench.RunTo(62 * Second + LagUs - 1);
        IsState(RunState.OnWave, bench);
        bench.RunTo(63 * Second);
        IsState(RunState.Done, bench);
        Assert.AreEqual(62 * Second, bench.Lines.ShutterEdgeUs(1));
        Assert.IsFalse(bench.Lines.HalfPress);
    }

    [TestMethod]
    public void OnMarkADoublePressAndAMarkDuringTheFrameFireNothing()
    {
        WaveOrder order = new WaveOrder { Way = FiringWay.OnMark, Waves = 3, EveryWave = 2 };
        Bench bench = OnMarks(order);
        bench.RunTo(10 * Second);
        bench.Mark();
        bench.RunTo(12 * Second);
        bench.Mark();
        bench.RunTo(18 * Second);
        IsState(RunState.AwaitMark, bench);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
        Assert.AreEqual(0, bench.Desk.Waves.WavesMissed);
        bench.RunTo(20 * Second);
        bench.Mark();
        bench.RunTo(20_300_000);
        bench.Mark();
        bench.RunTo(29 * Second);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
        bench.RunTo(30 * Second);
        bench.Mark();
        bench.RunTo(40 * Second);
        Assert.AreEqual(2, bench.Desk.Waves.WavesFired);
        Assert.AreEqual(30 * Second, bench.Lines.ShutterEdgeUs(2));
        // Half-press stays closed for the next mark, until the last wave has been taken.
        Assert.AreEqual("H+ S+ S- S+ S-", bench.Lines.Story());
        bench.RunTo(50 * Second);
        bench.Mark();
        bench.RunTo(60 * Second);
        bench.Mark();
        bench.RunTo(70 * Second);
        IsState(RunState.Done, bench);
        Assert.AreEqual("H+ S+ S- S+ S- S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(bench.Lines.AtUs(bench.Lines.Count - 2), bench.Lines.AtUs(bench.Lines.Count - 1));
    }

    [TestMethod]
    public void AfterMarkKeepsTheCameraAwakeAndACamerasOwnExposureEndsTheWave()
    {
        WaveOrder order = new WaveOrder { Way = FiringWay.AfterMark, DelayMs = 1500, Waves = 2 };
        Bench bench = OnMarks(order, new ShotPlan { ExposureUs = 4 * Second }, new CameraProfile());
        bench.RunTo(4 * Second);
        Assert.IsTrue(bench.Lines.HalfPress);
        bench.Mark();
        bench.RunTo(5_500_000 + 4 * Second - 1);
        Assert.IsFalse(bench.Lines.Shutter);
        IsState(RunState.OnWave, bench);
        Assert.AreEqual(0, bench.Desk.Waves.WavesFired);
        bench.RunTo(5_500_000 + 4 * Second);
        IsState(RunState.AwaitMark, bench);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
    }

    [TestMethod]
    public void AFramePutOffALittleIsTakenAndOnePutOffLongerIsMissed()
    {
        // 4 s exposed and 4 s dark: the contact may close again at 10.26 s.
        long ready = 10 * Second + LagUs + 200_000;
        WaveOrder order = new WaveOrder { Way = FiringWay.OnMark, Waves = 3 };
        Bench bench = OnMarks(order, Bulb(4 * Second), new CameraProfile { DarkFrame = true });
        bench.RunTo(2 * Second);
        bench.Mark();
        bench.RunTo(ready - 300_000);
        bench.Mark();
        Assert.AreEqual(0, bench.Desk.Waves.WavesMissed);
        Assert.AreEqual(ready + LagUs, bench.Desk.Waves.TargetUs);
        bench.RunTo(16 * Second);
        Assert.AreEqual(ready, bench.Lines.ShutterEdgeUs(2));

        bench = OnMarks(order, Bulb(4 * Second), new CameraProfile { DarkFrame = true });
        bench.RunTo(2 * Second);
        bench.Mark();
        bench.RunTo(ready - 300_001);
        bench.Mark();
        bench.RunTo(16 * Second);
        Assert.AreEqual(1, bench.Desk.Waves.WavesMissed);
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
    }
}
