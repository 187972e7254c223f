using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The search for the best moment makes one try in each pass, and gives the same result as a search in one go.</summary>
[TestClass]
public class ReleaseSearchTests
{
    private const long Second = 1_000_000;

    private static WaveRhythm Uneven(int marks)
    {
        WaveRhythm rhythm = new WaveRhythm();
        long at = Second;
        for (int i = 0; i < marks; i++)
        {
            rhythm.Mark(at);
            at += 8 * Second + i * 7919 % 40 * 100_000L;
        }
        for (int i = 0; i < 6; i++) rhythm.LearnBackwash(3.0 + i % 3 * 0.4);
        return rhythm;
    }

    [TestMethod]
    public void StepsEndWhereOneCallEnds()
    {
        WaveRhythm rhythm = Uneven(30);
        ReleaseSearch search = new ReleaseSearch();
        for (int i = 0; i < 40; i++)
        {
            long now = rhythm.LastMarkUs + i * 500_000L;
            Assert.IsTrue(rhythm.TryRelease(now, 1 + i % 3, 1, out long release, out double chance), "one call");
            Assert.IsTrue(search.Begin(rhythm, now, 1 + i % 3, 1), "the search has begun");
            int steps = 1;
            while (!search.Step()) steps++;
            Assert.IsTrue(search.Found && search.ReleaseUs == release && search.Chance == chance, "the same moment and chance");
            Assert.IsTrue(steps > 1 && steps <= 7, "steps " + steps.ToString());
            // A step more changes nothing.
            Assert.IsTrue(search.Step() && search.Chance == chance, "the search has ended");
        }
    }

    [TestMethod]
    public void NothingLearnedIsNothingFound()
    {
        ReleaseSearch search = new ReleaseSearch();
        Assert.IsFalse(search.Begin(new WaveRhythm(), 0, 1, 1), "the search cannot begin");
        Assert.IsTrue(search.Step() && search.Done && !search.Found, "the search has ended");
    }

    [TestMethod]
    public void ABackwashTimedMeanwhileDoesNotMixIn()
    {
        WaveRhythm rhythm = Uneven(30);
        long now = rhythm.LastMarkUs + Second;
        Assert.IsTrue(rhythm.TryRelease(now, 1, 1, out long release, out double chance), "one call");
        ReleaseSearch search = new ReleaseSearch();
        search.Begin(rhythm, now, 1, 1);
        search.Step();
        for (int i = 0; i < 16; i++) rhythm.LearnBackwash(9);
        while (!search.Step()) { }
        Assert.IsTrue(search.ReleaseUs == release && search.Chance == chance, "the search finds what it was begun with");
    }

    [TestMethod]
    public void AdviceStandsUntilItIsWorkedOutAnew()
    {
        WaveRhythm rhythm = Uneven(30);
        TurnDelay delay = new TurnDelay(rhythm.Lengths);
        FiringAdvice atOnce = new FiringAdvice();
        atOnce.Update(rhythm, delay, rhythm.LastMarkUs, 1);
        FiringAdvice advice = new FiringAdvice();
        Assert.IsTrue(advice.Done && advice.Step(), "nothing was asked");
        advice.Begin(rhythm, delay, rhythm.LastMarkUs, 1);
        int steps = 1;
        while (!advice.Step())
        {
            steps++;
            Assert.IsTrue(!advice.Done && advice.Recommended == -1 && advice.Chance(FiringAdvice.AtOnce) == 0, "the advice says nothing before it has ended");
        }
        Assert.IsTrue(steps > 9 && steps <= 24, "steps " + steps.ToString());
        for (int i = 0; i < FiringAdvice.Count; i++) Assert.IsTrue(advice.Chance(i) == atOnce.Chance(i), "way " + i.ToString());
        Assert.IsTrue(advice.DelayAfterMarkSeconds == atOnce.DelayAfterMarkSeconds && advice.Recommended == atOnce.Recommended, "the advice in steps is that at once");
    }

    private static Bench Asked(long atUs)
    {
        Bench bench = new Bench();
        bench.MarkSteadily(5 * Second, 10 * Second, 4);
        for (int i = 0; i < BackwashLengths.Needed; i++) bench.Desk.MarkReleased(4 * Second);
        bench.RunTo(atUs);
        ShotPlan plan = new ShotPlan { BoxTimed = true, ExposureUs = Second };
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnRhythm, Waves = 1 }, plan, new CameraProfile(), bench.NowUs));
        bench.RunTo(bench.NowUs + Bench.TickUs);
        return bench;
    }

    [TestMethod]
    public void TheRunAimsAtTheForecastFirstAndThenAtTheBestMoment()
    {
        Bench bench = Asked(36 * Second);
        WaveRun waves = bench.Desk.Waves;
        long asked = bench.NowUs;
        Assert.IsTrue(waves.Rhythm.TryRelease(asked, 1, 1, out long release, out double chance), "one call");
        Assert.AreEqual((int)RunState.AwaitWave, (int)bench.Desk.State);
        Assert.IsTrue(waves.Rhythm.TryForecast(asked, 1, out long turn, out double spread), "forecast");
        Assert.IsTrue(turn != release, "the two differ");
        Assert.AreEqual(turn, waves.TargetUs);
        Assert.AreEqual(-1, waves.ChancePercent);
        bench.RunTo(asked + 7 * Bench.TickUs);
        Assert.AreEqual(release, waves.TargetUs);
        Assert.AreEqual(FiringAdvice.WholePercent(chance), waves.ChancePercent);
        bench.RunTo(60 * Second);
        Assert.AreEqual(1, waves.WavesFired);
        Check.Near(release / 1e6 - 0.06, bench.Lines.ShutterEdgeUs(0) / 1e6, 0.001, "opened");
    }

    [TestMethod]
    public void AMarkWhileTheBestMomentIsLookedForFiresOnThatVeryWave()
    {
        Bench bench = Asked(42 * Second);
        bench.RunTo(bench.NowUs + 2 * Bench.TickUs);
        bench.Mark();
        bench.RunTo(50 * Second);
        // The limiter's 0.25 s from the start of the run at 42.01 s, and 0.3 s of lead.
        Check.Near(42.56, bench.Lines.ShutterEdgeUs(0) / 1e6, 0.02, "as soon as the lines allow");
        Assert.AreEqual(1, bench.Desk.Waves.WavesFired);
    }
}
