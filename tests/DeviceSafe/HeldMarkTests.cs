using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Backwashes that are too short to be timed by hand. A single tap in a row of holds counts as one and lowers the chance.</summary>
[TestClass]
public class HeldMarkTests
{
    private const long Second = 1_000_000;
    private const long Tap = 150_000;

    // Turns every ten seconds, Mark held for as many seconds at each; 0 is a tap.
    private static Bench Marked(params int[] seconds)
    {
        Bench bench = new Bench();
        Mark(bench, seconds);
        return bench;
    }

    private static void Mark(Bench bench, params int[] seconds)
    {
        for (int i = 0; i < seconds.Length; i++)
        {
            bench.RunTo(bench.NowUs / (10 * Second) * 10 * Second + 10 * Second);
            bench.HoldMark(seconds[i] == 0 ? Tap : seconds[i] * Second);
        }
    }

    // The chance that a run after the mark shows while it waits.
    private static int Chance(Bench bench)
    {
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder(), new ShotPlan { BoxTimed = true, ExposureUs = Second }, new CameraProfile(), bench.NowUs));
        bench.RunTo(bench.NowUs + 2 * Bench.TickUs);
        return bench.Desk.Waves.ChancePercent;
    }

    private static double TooShort(Bench bench) => bench.Desk.Waves.Rhythm.Lengths.TooShortShare;

    [TestMethod]
    public void WavesTooShortToTimeLowerTheChanceOfARun()
    {
        int all = Chance(Marked(4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4));
        int some = Chance(Marked(4, 4, 4, 0, 4, 4, 4, 0, 4, 4, 4, 4));
        // Six waves followed on two holds and two of them were too short; with a longer one for caution that is two in seven.
        Assert.AreEqual(99, all);
        Assert.AreEqual(71, some);
    }

    [TestMethod]
    public void OnlyASingleTapAmongHoldsIsABackwash()
    {
        Check.Near(1.0 / 2, TooShort(Marked(3, 3, 0, 3)), 1e-9, "one, and a longer one for caution");
        Check.Near(0, TooShort(Marked(3, 0, 3, 0, 3, 0, 3, 0)), 0, "every other wave is timed");
        Check.Near(0, TooShort(Marked(3, 3, 3, 0, 0, 3, 3)), 0, "two waves that were not timed");
        Check.Near(0, TooShort(Marked(3, 3, 3, 0, 0, 0, 3, 0, 0, 0, 3)), 0, "one wave in four is timed");
        Check.Near(0, TooShort(Marked(3, 3, 3, 0)), 0, "nothing follows yet");
        Check.Near(1.0 / 2, TooShort(Marked(3, 3, 0, 3, 0, 3, 0, 3)), 1e-9, "every other wave is timed, after two holds");
        Check.Near(2.0 / 4, TooShort(Marked(3, 3, 0, 3, 3, 0, 3, 3, 3)), 1e-9, "two of three");
    }

    [TestMethod]
    public void ARunThatBeginsIsNoPartOfARow()
    {
        Bench bench = Marked(3, 3, 3);
        Chance(bench);
        Mark(bench, 0, 3);
        Check.Near(0, TooShort(bench), 0, "the first wave of the run was not timed");
    }

    // Holds before a run; in it two holds, a tap and a hold.
    private static Bench TapInARun(int holdsBefore)
    {
        Bench bench = new Bench();
        for (int i = 0; i < holdsBefore; i++) Mark(bench, 3);
        Assert.IsTrue(bench.Desk.StartWaves(new WaveOrder { Waves = 0 }, new ShotPlan { BoxTimed = true, ExposureUs = Second }, new CameraProfile(), bench.NowUs));
        Mark(bench, 3, 3, 0, 3);
        return bench;
    }

    [TestMethod]
    public void InARunATapAmongHoldsIsABackwashAsLongAsTheDisplayAsksForEveryOne()
    {
        // Six waves followed on two holds, four before the run and two in it. One of them was too short; with a longer one for caution that is one in seven.
        Check.Near(1.0 / 7, TooShort(TapInARun(6)), 1e-9, "one tap in a run");
        Check.Near(0, TooShort(TapInARun(BackwashLengths.Kept)), 0, "enough were timed, and a tap is a wave that was not");
    }

    [TestMethod]
    public void ASlipSoonAfterAPressIsNoWave()
    {
        Bench bench = Marked(3, 3, 3);
        // Within a fifth of the period after a mark: no wave, though it stands alone between holds.
        bench.RunTo(40 * Second);
        bench.HoldMark(Second);
        bench.RunTo(41_400_000);
        bench.HoldMark(Tap);
        Mark(bench, 3, 3);
        Check.Near(0, TooShort(bench), 0, "a slip");
        Assert.AreEqual(6, bench.Desk.Waves.Rhythm.Lengths.Count);
    }

    [TestMethod]
    public void WavesTooShortToTimeLowerTheChanceOnTheRhythmAsWell()
    {
        Bench all = Marked(4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4);
        Bench some = Marked(4, 4, 4, 0, 4, 4, 4, 0, 4, 4, 4, 4);
        ReleaseSearch search = new ReleaseSearch();
        Assert.IsTrue(search.Begin(all.Desk.Waves.Rhythm, all.NowUs, 1, 1));
        while (!search.Step()) { }
        double longer = search.Chance;
        Assert.IsTrue(search.Begin(some.Desk.Waves.Rhythm, some.NowUs, 1, 1));
        while (!search.Step()) { }
        // The backwashes timed are ten and not twelve, which moves the rest a little.
        Check.Near(longer * 5 / 7, search.Chance, 0.01, "two waves in seven");
    }

    /// <summary>The share of short backwashes follows the sea: the last thirty-two waves count most.</summary>
    [TestMethod]
    public void TheShareFollowsTheSea()
    {
        BackwashLengths lengths = new BackwashLengths();
        for (int i = 0; i < BackwashLengths.Kept; i++) lengths.Watch(true);
        Check.Near(32.0 / 33, lengths.TooShortShare, 1e-12, "all were too short");
        for (int i = 0; i < 2 * BackwashLengths.Kept; i++) lengths.Watch(false);
        Assert.IsTrue(lengths.TooShortShare > 0 && lengths.TooShortShare < 0.15, "twice as many longer ones since");
        lengths.Reset();
        Check.Near(0, lengths.TooShortShare, 0, "the share is forgotten");
    }
}
