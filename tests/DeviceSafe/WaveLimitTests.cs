using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The exact moments, lengths and counts at which the decisions of a run on the waves change.</summary>
[TestClass]
public class WaveLimitTests
{
    private const long Second = 1_000_000;

    // From a press to the opening: half-press lead and lag, and the lag alone while half-press is held.
    private const long LeadUs = 360_000;
    private const long LagUs = 60_000;

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs };

    private static void Start(Bench bench, WaveOrder order, long exposureUs) =>
        Assert.IsTrue(bench.Desk.StartWaves(order, Bulb(exposureUs), new CameraProfile(), bench.NowUs));

    private static void IsState(RunState state, Bench bench) => Assert.AreEqual((int)state, (int)bench.Desk.State);

    private static int Percent(Bench bench, long afterUs, long exposureUs) =>
        FiringAdvice.WholePercent(FiringAdvice.ChanceAfterPress(bench.Desk.Waves.Rhythm, afterUs / 1e6, exposureUs / 1e6));

    // Turns every 10 s from 5 s on, each held for a backwash of another length.
    private static Bench Timed(int marks)
    {
        Bench bench = new Bench();
        for (int i = 0; i < marks; i++)
        {
            bench.RunTo((5 + 10 * i) * Second);
            bench.HoldMark((3 + i % 3) * Second);
        }
        return bench;
    }

    private static Bench Tapped(int marks)
    {
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, marks);
        return bench;
    }

    /// <summary>A moment that can just be met is taken; a microsecond later the run aims at the wave after it.</summary>
    [TestMethod]
    public void AForecastThatCanJustBeMetIsTaken()
    {
        for (int late = 0; late < 2; late++)
        {
            Bench bench = Tapped(4);
            bench.RunTo(36 * Second);
            Assert.IsTrue(bench.Desk.Waves.Rhythm.TryForecast(bench.NowUs, 1, out long turn, out double spread));
            // Half a second after the turn is also when a frame that opened at the turn would end.
            bench.RunTo(turn + Second / 2 - PlanCompiler.LimiterUs - LeadUs + late);
            Assert.IsTrue(bench.Desk.Waves.Rhythm.TryForecast(bench.NowUs, 1, out turn, out spread));
            Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 500 }, Second / 2);
            IsState(RunState.AwaitWave, bench);
            if (late == 0) Assert.AreEqual(turn + Second / 2, bench.Desk.Waves.TargetUs);
            else Check.Near(turn + 10.5e6, bench.Desk.Waves.TargetUs, 50_000, "the wave after it");
        }
    }

    /// <summary>The twentieth wave is the last that is aimed at.</summary>
    [TestMethod]
    public void EveryTwentiethWaveCanBeFiredOnAndEveryThirtiethAsks()
    {
        for (int every = 20; every <= 30; every += 10)
        {
            Bench bench = Tapped(4);
            bench.RunTo(36 * Second);
            Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 500, EveryWave = every, Waves = 9 }, Second / 2);
            bench.RunTo(47 * Second);
            IsState(every == 20 ? RunState.AwaitWave : RunState.AskMark, bench);
            if (every == 20) Check.Near(245.5e6, bench.Desk.Waves.TargetUs, 1e6, "twenty waves after 45 s");
            bench.RunTo(50 * Second);
            Assert.IsFalse(bench.Lines.HalfPress);
        }
    }

    /// <summary>Whenever it is asked for: the best moment is looked for among those that lines and camera can still meet when it is found.</summary>
    [TestMethod]
    public void TheBestMomentIsNeverOneThatCannotBeMet()
    {
        int late = 0;
        for (int i = 0; i < 150; i++)
        {
            // Backwashes as long as the exposure, so that the turn itself is the best moment, shortly before it.
            Bench bench = new Bench();
            for (int n = 0; n < 6; n++)
            {
                bench.RunTo((5 + 10 * n) * Second);
                bench.HoldMark(1_100_000);
            }
            bench.RunTo(64 * Second - 200_000 + i * Bench.TickUs);
            long from = bench.NowUs;
            Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = true }, Second);
            long first = bench.Desk.Waves.TargetUs;
            while (bench.Desk.Waves.ChancePercent < 0) bench.RunTo(bench.NowUs + Bench.TickUs);
            long target = bench.Desk.Waves.TargetUs;
            Assert.IsTrue(bench.NowUs - from < Second / 4);
            Assert.IsTrue(target >= from + PlanCompiler.LimiterUs + LeadUs && target >= bench.NowUs + LeadUs);
            if (target - first > 5 * Second) late++;
            IsState(RunState.AwaitWave, bench);
        }
        Assert.IsTrue(late > 0);
    }

    /// <summary>With a lead nearly as long as the period, the passes that the search takes may eat up the moment that it finds: the frame comes as soon as it can.</summary>
    [TestMethod]
    public void AMomentThatTheSearchItselfUsedUpIsPutOffToTheSoonest()
    {
        int putOff = 0;
        for (int lead = 8500; lead < 8800; lead += 10)
        {
            Bench bench = new Bench();
            for (int n = 0; n < 6; n++)
            {
                bench.RunTo((5 + 4 * n) * Second);
                bench.HoldMark(1_100_000);
            }
            bench.RunTo(60 * Second);
            Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = true }, Bulb(Second), new CameraProfile { HalfPressLeadMs = lead }, bench.NowUs));
            IsState(RunState.AskMark, bench);
            bench.RunTo(61 * Second);
            bench.Mark();
            while (bench.Desk.Waves.ChancePercent < 0) bench.RunTo(bench.NowUs + Bench.TickUs);
            long soonest = bench.NowUs + lead * 1000L + LagUs;
            Assert.IsTrue(bench.Desk.Waves.TargetUs >= soonest);
            if (bench.Desk.Waves.TargetUs == soonest) putOff++;
        }
        Assert.IsTrue(putOff > 0);
    }

    [TestMethod]
    public void WithoutTimedBackwashesNoChanceIsReported()
    {
        Bench bench = Tapped(4);
        bench.RunTo(36 * Second);
        Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false }, Second);
        bench.RunTo(37 * Second);
        Assert.AreEqual(-1, bench.Desk.Waves.ChancePercent);
        bench = Tapped(4);
        Start(bench, new WaveOrder { Way = FiringWay.OnMark }, Second);
        bench.RunTo(37 * Second);
        Assert.AreEqual(-1, bench.Desk.Waves.ChancePercent);
        // Backwashes timed, but no rhythm yet.
        bench = Timed(2);
        for (int i = 0; i < 4; i++) bench.Link.MarkReleased(4 * Second);
        Assert.IsTrue(bench.Desk.Waves.Rhythm.Lengths.Ready && !bench.Desk.Waves.Rhythm.Ready);
        Start(bench, new WaveOrder { Way = FiringWay.OnMark }, Second);
        bench.RunTo(bench.NowUs + Second);
        Assert.AreEqual(-1, bench.Desk.Waves.ChancePercent);
    }

    /// <summary>While a run that fires on a mark waits, each mark that it lets go by renews the chance.</summary>
    [TestMethod]
    public void TheChanceBeforeAMarkFollowsWhatIsLearned()
    {
        Bench bench = Timed(6);
        bench.RunTo(60 * Second);
        Start(bench, new WaveOrder { Way = FiringWay.OnMark, EveryWave = 50, Waves = 2 }, 2 * Second);
        // The first wave is fired on, the next ones go by. Their arrivals are marked as well as their turns, and that is doubted in the end.
        bench.RunTo(65 * Second);
        bench.Mark();
        bench.RunTo(70 * Second);
        IsState(RunState.AwaitMark, bench);
        int before = bench.Desk.Waves.ChancePercent;
        for (int i = 0; i < 24; i++)
        {
            bench.RunTo(bench.NowUs + (i % 2 == 0 ? 3 : 5) * Second);
            bench.Mark();
            bench.RunTo(bench.NowUs + Bench.TickUs);
            IsState(RunState.AwaitMark, bench);
            Assert.AreEqual(Percent(bench, LagUs, 2 * Second), bench.Desk.Waves.ChancePercent);
        }
        Assert.IsTrue(bench.Desk.Waves.Doubtful);
        Assert.IsTrue(bench.Desk.Waves.ChancePercent < before);
    }

    /// <summary>The chance of a mark that was sampled late is that of a frame so much later, until that frame is over.</summary>
    [TestMethod]
    public void TheChanceOfAMarkThatWasSampledLateIsItsOwn()
    {
        Bench bench = Timed(6);
        bench.RunTo(60 * Second);
        Start(bench, new WaveOrder { Way = FiringWay.OnMark }, 3 * Second);
        bench.RunTo(64 * Second);
        bench.Link.Mark(bench.NowUs - 1_500_000, bench.NowUs);
        int percent = Percent(bench, 1_500_000 + LagUs, 3 * Second);
        Assert.IsTrue(percent < Percent(bench, LagUs, 3 * Second));
        Assert.AreEqual(percent, bench.Desk.Waves.ChancePercent);
        bench.RunTo(66 * Second);
        IsState(RunState.OnWave, bench);
        Assert.AreEqual(percent, bench.Desk.Waves.ChancePercent);
    }

    /// <summary>A mark that comes while the camera is busy is missed and leaves the chance as it was.</summary>
    [TestMethod]
    public void AMissedMarkLeavesTheChance()
    {
        Bench bench = Timed(6);
        bench.RunTo(60 * Second);
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnMark }, Bulb(2 * Second), new CameraProfile { DarkFrame = true }, bench.NowUs));
        bench.RunTo(65 * Second);
        bench.Mark();
        bench.RunTo(67 * Second + 200_000);
        IsState(RunState.AwaitMark, bench);
        int before = bench.Desk.Waves.ChancePercent;
        bench.Link.Mark(bench.NowUs, bench.NowUs);
        Assert.AreEqual(1, bench.Desk.Waves.WavesMissed);
        Assert.AreEqual(before, bench.Desk.Waves.ChancePercent);
    }

    /// <summary>A mark on the awaited wave fires at once in a run on the best moment, and the chance told is that of this frame until it is handed over.</summary>
    [TestMethod]
    public void AMarkOnTheAwaitedWaveIsFiredOnAtOnceOrAfterTheSetTime()
    {
        for (int best = 0; best < 2; best++)
        {
            Bench bench = Timed(6);
            bench.RunTo(60 * Second);
            Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = best == 1, FromTurnMs = 4000 }, Second);
            bench.RunTo(65 * Second + 200_000);
            IsState(RunState.AwaitWave, bench);
            bench.Mark();
            long after = best == 1 ? LeadUs : 4 * Second;
            Assert.AreEqual(bench.NowUs + after, bench.Desk.Waves.TargetUs);
            int percent = Percent(bench, after, Second);
            for (int i = 0; i < 30 - 15 * best; i++)
            {
                Assert.AreEqual(percent, bench.Desk.Waves.ChancePercent);
                bench.RunTo(bench.NowUs + 2 * Bench.TickUs);
            }
        }
    }

    /// <summary>While a forecast is awaited its chance is worked out again every half second, from the first moment on.</summary>
    [TestMethod]
    public void TheChanceOfAForecastIsRenewedEveryHalfSecond()
    {
        Bench bench = Timed(6);
        bench.RunTo(59 * Second);
        Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 9000 }, Second);
        ReleaseSearch search = new ReleaseSearch();
        long renewed = bench.NowUs;
        int told = bench.Desk.Waves.ChancePercent, changes = 0;
        while (bench.NowUs < 72 * Second)
        {
            IsState(RunState.AwaitWave, bench);
            if (bench.NowUs == renewed + Second / 2)
            {
                renewed = bench.NowUs;
                int now = FiringAdvice.WholePercent(search.ChanceNow(bench.Desk.Waves.Rhythm, renewed, bench.Desk.Waves.TargetUs, 1.0, false));
                if (now != told) changes++;
                told = now;
            }
            Assert.AreEqual(told, bench.Desk.Waves.ChancePercent);
            bench.RunTo(bench.NowUs + Bench.TickUs);
        }
        Assert.IsTrue(changes > 0);
    }

    // A run on arrivals whose waves turn 4 s after they arrive.
    private static Bench OnArrivals(int fromTurnMs)
    {
        Bench bench = new Bench();
        Start(bench, new WaveOrder { Way = FiringWay.OnArrival, BestMoment = false, FromTurnMs = fromTurnMs, Waves = 9 }, Second / 2);
        for (int i = 0; i < 2; i++)
        {
            bench.RunTo((10 + 20 * i) * Second);
            bench.HoldMark(4 * Second);
        }
        Assert.IsTrue(bench.Desk.Waves.Delay.Ready);
        Assert.IsTrue(bench.Desk.Waves.Delay.DelaySeconds == 4.0);
        bench.RunTo(60 * Second);
        return bench;
    }

    /// <summary>Presses 1.2 s apart are two arrivals; of those that wait for a busy camera all but the last are missed.</summary>
    [TestMethod]
    public void ArrivalsAreTwoFrom1200MillisecondsOn()
    {
        for (int less = 0; less < 2; less++)
        {
            Bench bench = OnArrivals(500);
            for (int i = 0; i < 3; i++)
            {
                bench.RunTo(60 * Second + i * (1_200_000 - less));
                bench.Mark();
            }
            Assert.AreEqual(1 - less, bench.Desk.Waves.WavesMissed);
        }
    }

    /// <summary>Up to 0.3 s late a frame is still taken.</summary>
    [TestMethod]
    public void AnArrivalThatIsHeardOfTooLateIsMissed()
    {
        for (int late = 0; late < 2; late++)
        {
            Bench bench = OnArrivals(500);
            Assert.IsTrue(bench.Desk.Waves.Delay.TryForecast(bench.NowUs, out long turn, out double spread));
            long open = turn - bench.NowUs + Second / 2;
            bench.RunTo(70 * Second);
            bench.Link.Mark(70 * Second + LeadUs - 300_000 - open - late, bench.NowUs);
            Assert.AreEqual(late, bench.Desk.Waves.WavesMissed);
            IsState(late == 0 ? RunState.AwaitWave : RunState.AwaitMark, bench);
        }
    }

    /// <summary>Three turns tapped, each between two arrivals, are doubted with the third and not before; presses a second off are no turns.</summary>
    [TestMethod]
    public void TheThirdTappedTurnIsDoubted()
    {
        for (int off = 0; off < 4; off++)
        {
            Bench bench = OnArrivals(500);
            for (int run = 0; run < 2; run++)
            {
                for (int i = 0; i < 4; i++)
                {
                    bench.RunTo(bench.NowUs / Second * Second + 30 * Second);
                    bench.Mark();
                    Assert.IsFalse(bench.Desk.Waves.Doubtful && i < 3);
                    bench.RunTo(bench.NowUs + 4 * Second + (off == 3 ? -2 * Second : off == 2 ? Second : off == 1 ? -900_000 : 900_000));
                    bench.Mark();
                    Assert.AreEqual(off < 2 && i >= 2, bench.Desk.Waves.Doubtful);
                }
                // What the run before has doubted is not counted in the next.
                bench.Desk.StopNow(bench.NowUs);
                Start(bench, new WaveOrder { Way = FiringWay.OnArrival, BestMoment = false, FromTurnMs = 500, Waves = 9 }, Second / 2);
            }
        }
    }

    /// <summary>A mark between the planned time of an edge and the pass that writes it does not withdraw the frame.</summary>
    [TestMethod]
    public void AMarkJustAfterTheShutterContactClosedMovesNoFrame()
    {
        Bench bench = Timed(6);
        bench.RunTo(60 * Second);
        Start(bench, new WaveOrder { Way = FiringWay.OnRhythm, BestMoment = false, FromTurnMs = 500, Waves = 1 }, 2 * Second);
        bench.RunTo(bench.Desk.Waves.TargetUs - LagUs - 1);
        long edge = bench.NowUs + 1;
        bench.Lines.NowUs = edge;
        bench.Link.PlayDue(edge);
        Assert.IsTrue(bench.Lines.Shutter);
        bench.Link.Mark(edge, edge);
        bench.RunTo(75 * Second);
        Assert.AreEqual("H+ S+ S- H-", bench.Lines.Story());
        Assert.AreEqual(edge + 2 * Second, bench.Lines.ShutterEdgeUs(1));
        IsState(RunState.Done, bench);
        Assert.AreEqual(1, bench.Desk.Waves.FramesTaken);
        Assert.AreEqual(0, bench.Desk.Waves.WavesMissed);
    }

    /// <summary>A wave whose frame ends in the very moment when the run's time is up is its last, and half-press is not closed again.</summary>
    [TestMethod]
    public void AFrameThatEndsWithTheRunsTimeIsItsLast()
    {
        Bench bench = new Bench();
        Start(bench, new WaveOrder { Way = FiringWay.OnArrival, BestMoment = false, FromTurnMs = 500, Waves = 0, Minutes = 1 }, Second / 2);
        for (int i = 0; i < 2; i++)
        {
            bench.RunTo((10 + 10 * i) * Second);
            bench.HoldMark(4 * Second);
        }
        // Another arrival waits while the frame is taken that ends at 60 s.
        bench.RunTo(55 * Second);
        bench.Mark();
        bench.RunTo(57 * Second);
        bench.Mark();
        bench.RunTo(59 * Second + 800_000);
        IsState(RunState.OnWave, bench);
        Assert.AreEqual(60 * Second, bench.Desk.Player.FrameEndUs);
        bench.RunTo(60 * Second);
        IsState(RunState.Done, bench);
    }
}
