using Intervalometer.Core.Swash;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.Tests.Host;

/// <summary>A small sea study: the ways of firing on held-out seas.</summary>
[TestClass]
public class StudyTests
{
    private static readonly StudyOptions Small = new() { TrainingSeeds = [1, 2, 3], HeldOutSeeds = [901], SecondsPerSeed = 16_384 };

    private static readonly Lazy<(SeaStudy Study, SeaResult[] Results)> Played = new(() =>
    {
        var study = new SeaStudy(Small);
        return (study, [.. KnownSeas.All.Select(study.Play)]);
    });

    private static Tally Way(string sea, string way) => Played.Value.Results.First(r => r.Sea == sea).Ways.First(t => t.Way == way);

    [TestMethod]
    public void ForecastIsWithinFivePercentOfTheBestLinearPredictor()
    {
        foreach (SeaResult r in Played.Value.Results)
        {
            Assert.IsTrue(r.Forecasters[0].Rms < 1.05 * r.BoundRms, $"{r.Sea}: {r.Forecasters[0].Rms:F3} s over {r.BoundRms:F3} s");
            Assert.IsTrue(r.Forecasters[0].Careless < 1.05 * r.BoundCareless, $"{r.Sea}, careless");
        }
    }

    [TestMethod]
    [DataRow("swell 8 s")]
    [DataRow("swell 12 s")]
    [DataRow("swell 16 s")]
    [DataRow("narrow swell 14 s")]
    public void ArrivalMarksPutFramesOnTheBackwashOfTheLargerHalf(string sea)
    {
        Tally t = Way(sea, SeaStudy.ArrivalChosen);
        Assert.IsTrue(t.HitInterval.High >= 95, $"{t.HitPercent:F1} % [{t.HitInterval.Low:F1} {t.HitInterval.High:F1}]");
    }

    [TestMethod]
    public void AnnouncedChancesHappen()
    {
        foreach (var (bin, frames, announced, actual) in Played.Value.Study.Reliability.Bins().Where(b => b.Frames >= 1500))
            Assert.AreEqual(announced, actual, 6, $"bin {bin}, {frames} frames");
        var seventies = Played.Value.Study.Reliability.Bins().First(b => b.Bin == 7);
        Assert.IsTrue(seventies.Frames > 2000 && seventies.Actual is >= 70 and <= 80, $"70-80 % announced: {seventies.Actual:F1} % of {seventies.Frames}");
        foreach (SeaResult r in Played.Value.Results)
        {
            Tally t = r.Ways.First(w => w.Way == SeaStudy.AfterMark);
            Assert.AreEqual(t.AnnouncedPercent, t.HitPercent, 5, $"{r.Sea}, a mark and a delay");
        }
    }

    [TestMethod]
    public void NoLinearRuleOnAllTheMarksDoesMuchBetterThanTheBoxAtArrivals()
    {
        foreach (SeaResult r in Played.Value.Results)
        {
            Tally every = Way(r.Sea, SeaStudy.Arrival);
            // The bound is fitted to that very sea; a wave in twelve is what adapting to any sea costs on the most ragged.
            Assert.IsTrue(every.HitPercent > r.ArrivalBound.HitPercent - 9, $"{r.Sea}: {every.HitPercent:F1} %, bound {r.ArrivalBound.HitPercent:F1} %");
            Assert.IsTrue(every.HitPercent < r.ArrivalBound.HitPercent + 2, $"{r.Sea}: {every.HitPercent:F1} % beats the bound of {r.ArrivalBound.HitPercent:F1} %");
        }
    }

    [TestMethod]
    public void MissingMarksDoNotRaiseTheChance()
    {
        // A person who stopped marking: the further the last mark lies back, the nearer the chance comes to blind luck.
        var sea = new SpectralSea(KnownSeas.All.First(s => s.Name == "swell 12 s"), 901, 2048);
        var rhythm = new WaveRhythm();
        foreach (WatchedWave w in Photographer.Watch(sea, new Habits(), 1).Take(60))
        {
            rhythm.Mark(w.TurnMarkUs);
            rhythm.LearnBackwash(Math.Max(0.5, w.HeldUs / 1e6));
        }

        long Later(double periods) => rhythm.LastMarkUs + (long)(periods * rhythm.PeriodSeconds * 1e6);
        Assert.IsTrue(rhythm.TryRelease(rhythm.LastMarkUs, 1, 1, out _, out double fresh));
        Assert.IsTrue(rhythm.TryRelease(Later(1.5), 1, 1, out _, out double late));
        Assert.IsTrue(rhythm.TryRelease(Later(2.5), 1, 1, out _, out double last));
        double blind = (rhythm.BackwashSeconds - 1) / rhythm.PeriodSeconds;
        Assert.IsTrue(late < fresh && last < late + 0.05, $"{fresh:F2}, {late:F2}, {last:F2}");
        Assert.AreEqual(blind, last, 0.1, "blind luck");
        // Not yet turned at nine tenths of a period: certain to turn soon, so better than at the mark.
        Assert.IsTrue(rhythm.TryRelease(Later(0.9), 1, 1, out _, out double waiting));
        Assert.IsTrue(waiting <= 1 && waiting > late, $"{waiting:F2}");
    }

    [TestMethod]
    public void CarelessMarksCostLittle()
    {
        foreach (SeaResult r in Played.Value.Results)
            foreach (string way in new[] { SeaStudy.AfterMark, SeaStudy.Rhythm, SeaStudy.ArrivalChosen })
            {
                double cost = Way(r.Sea, way).HitPercent - Way(r.Sea, way + SeaStudy.Careless).HitPercent;
                Assert.IsTrue(cost < 3, $"{r.Sea}, {way}: {cost:F1} points");
            }
    }

    [TestMethod]
    public void MarkedWaysBeatAFixedTimer()
    {
        foreach (SeaResult r in Played.Value.Results)
            Assert.IsTrue(Way(r.Sea, SeaStudy.AfterMark).HitInterval.Low > Way(r.Sea, SeaStudy.Timer).HitInterval.High + 30, r.Sea);
    }

    [TestMethod]
    public void RhythmForgetsALostPhotographer()
    {
        var sea = new SpectralSea(KnownSeas.All[4], 901, 1024);
        var rhythm = new WaveRhythm();
        foreach (WatchedWave w in Photographer.Watch(sea, new Habits(), 1).Take(30)) rhythm.Mark(w.TurnMarkUs);
        Assert.IsFalse(rhythm.Stale(rhythm.LastMarkUs + 20_000_000));
        Assert.IsTrue(rhythm.Stale(rhythm.LastMarkUs + (long)(3.01e6 * rhythm.PeriodSeconds)));
    }

    [TestMethod]
    public void MarkAndAskingAllocateNothing()
    {
        var rhythm = new WaveRhythm();
        var delay = new TurnDelay();
        void Go(int from)
        {
            for (int i = from; i < from + 100; i++)
            {
                delay.Arrival(i * 10_000_000L + 1_000_000);
                delay.Turn(i * 10_000_000L + 5_000_000);
                rhythm.Mark(i * 10_000_000L + 5_000_000);
                rhythm.TryRelease(rhythm.LastMarkUs, 1, 1, out _, out _);
                delay.TryRelease(rhythm.LastMarkUs, 1, out _, out _);
            }
        }

        Go(0);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Go(100);
        Assert.AreEqual(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [TestMethod]
    public void CommandSaysWhatIsWrong()
    {
        var parsed = StudyCommand.Build().Parse(["--exposure", "99"]);
        Assert.AreEqual("--exposure 99: give 0.01 to 10 seconds.", parsed.Errors.Single().Message);
    }
}
