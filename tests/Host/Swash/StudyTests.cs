using Intervalometer.Core.Swash;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.Tests.Host;

/// <summary>A small sea study: the ways of firing on held-out seas, two of them by the shallow-water equations, and on a real beach.</summary>
[TestClass]
public class StudyTests
{
    private static readonly StudyOptions Small = new()
    {
        TrainingSeeds = [1, 2, 3],
        HeldOutSeeds = [901],
        SecondsPerSeed = 8_192,
        ShallowSecondsPerSeed = 1_400,
        WatchersOfShallowSeas = 3,
        // Half as many as in the whole study. The exposures are all of its four: a class of announced chance says something only where seas have such a chance.
        WatchersOfTheRecord = 20,
        Rows =
        [
            SeaStudy.AfterMark, SeaStudy.AfterMarkUntimed, SeaStudy.AfterMark + SeaStudy.Careless, SeaStudy.Rhythm,
            SeaStudy.Arrival, SeaStudy.Arrival20, SeaStudy.Arrival50, SeaStudy.Arrival80, SeaStudy.Arrival50 + SeaStudy.Careless,
            SeaStudy.Card, SeaStudy.Vague + SeaStudy.Card, SeaStudy.Vague + SeaStudy.AfterMark, SeaStudy.Vague + SeaStudy.AfterMark + SeaStudy.NotDrilled,
        ],
    };

    private static readonly Lazy<SeaResult[]> Played = new(() =>
    {
        StudiedSea.Maker[] makers =
        [
            .. KnownSeas.All.Select(recipe => (StudiedSea.Maker)(() => StudiedSea.Of(recipe, Small))),
            .. KnownSeas.Shallow.Where(r => r.Slope is > 0.11 or < 0.08 and > 0.05).Select(recipe => (StudiedSea.Maker)(() => StudiedSea.Of(recipe, Small))),
            () => StudiedSea.Traced(Small),
        ];
        var results = new SeaResult[makers.Length];
        Parallel.For(0, makers.Length, i => results[i] = new SeaStudy(Small).Play(makers[i]()));
        return results;
    });

    private static Tally Way(string sea, string way) => Played.Value.First(r => r.Sea == sea).Way(way);

    [TestMethod]
    public void WhatTheCardRecommendsHappensAsOftenAsItAnnounces()
    {
        var report = new StudyReport(Played.Value);
        var text = new StringWriter();
        report.WriteHonesty(text);
        Console.Write(text);
        Assert.IsTrue(report.Recommended.Count > 0, "the card recommends something");
        foreach (string way in report.Recommended.Append(SeaStudy.AfterMark))
        {
            foreach (Tally t in Played.Value.SelectMany(r => r.Ways).Where(t => t.Way == way && t.AnnouncedFrames >= StudyReport.FewestFrames))
            {
                Assert.AreEqual(0, t.Excess, 5, $"{t.Sea}, {way}, {t.AnnouncedFrames} frames");
            }
            foreach (var (bin, frames, announced, actual) in report.Classes(way).Bins().Where(b => b.Frames >= StudyReport.FewestFrames))
                Assert.AreEqual(announced, actual, 8, $"{way}, class {bin}, {frames} frames");
        }
        foreach (string way in report.Recommended.Concat(report.RecommendedToVagueHands))
            Assert.DoesNotContain(FiringAdvice.Words(FiringAdvice.OnArrival), way, "too little is known of what an arrival tells");
    }

    [TestMethod]
    public void EveryFrameOfTheRecommendedWayHasAChance()
    {
        foreach (SeaResult r in Played.Value)
        {
            Tally after = r.Way(SeaStudy.AfterMark), untimed = r.Way(SeaStudy.AfterMarkUntimed);
            Assert.AreEqual(after.Frames, after.AnnouncedFrames, r.Sea);
            Assert.AreEqual(0, untimed.AnnouncedFrames, $"{r.Sea}: without a timed backwash no chance is made up");
        }
    }

    [TestMethod]
    public void TheRhythmIsHonestForWhoMarksOneWaveInThree()
    {
        foreach (SeaResult r in Played.Value.Where(r => r.Way(SeaStudy.Rhythm).Frames >= StudyReport.FewestFrames))
        {
            Tally t = r.Way(SeaStudy.Rhythm);
            // A few outings on one seed: 3 sqrt(p (1 - p)/n) is 5 to 8 points, and a lull or two make as much.
            Assert.AreEqual(0, t.Excess, 12, $"{r.Sea}: {t.AnnouncedPercent:F1} announced, {t.Frames} frames");
        }
    }

    [TestMethod]
    public void ForecastIsWithinFivePercentOfTheBestLinearPredictor()
    {
        foreach (SeaResult r in Played.Value)
        {
            if (r.Forecasts is not ForecastResult f) continue;
            Assert.IsTrue(f.Designs[0].Rms < 1.05 * f.BoundRms, $"{r.Sea}: {f.Designs[0].Rms:F3} s over {f.BoundRms:F3} s");
            Assert.IsTrue(f.Designs[0].Careless < 1.05 * f.BoundCareless, $"{r.Sea}, careless");
        }
    }

    [TestMethod]
    [DataRow("swell 8 s")]
    [DataRow("swell 12 s")]
    [DataRow("swell 16 s")]
    [DataRow("narrow swell 14 s")]
    public void ArrivalsOfWavesJudgedWellPutFramesOnTheBackwashAndJudgedBadlyFewer(string sea)
    {
        Tally well = Way(sea, SeaStudy.Arrival20), badly = Way(sea, SeaStudy.Arrival80);
        Assert.IsTrue(well.HitInterval.High >= 95, $"{well.HitPercent:F1} % [{well.HitInterval.Low:F1} {well.HitInterval.High:F1}]");
        Assert.IsTrue(badly.HitPercent < well.HitPercent, $"{badly.HitPercent:F1} % against {well.HitPercent:F1} %");
    }

    [TestMethod]
    public void AtArrivalsTheBoxIsNearTheBestLinearRuleOrSaysBeforehandThatTheTurnIsSurer()
    {
        foreach (SeaResult r in Played.Value)
        {
            if (r.Forecasts is not ForecastResult f) continue;
            double every = r.Way(SeaStudy.Arrival).HitPercent;
            // The rule is fitted to that very sea, sees every turn, and is never busy with the wave before.
            Assert.IsTrue(every > f.Arrivals.HitPercent - 18, $"{r.Sea}: {every:F1} %, bound {f.Arrivals.HitPercent:F1} %");
            // A wave before which the box did not say so had a chance within three points of that of a marked turn.
            double said = r.Way(SeaStudy.Arrival).SurerPercent;
            Assert.IsTrue(every >= f.Arrivals.HitPercent - 3 || said >= 90, $"{r.Sea}: {every:F1} %, bound {f.Arrivals.HitPercent:F1} %, said before {said:F1} % of the frames");
            Assert.AreEqual(0, r.Way(SeaStudy.Arrival).Excess, 8, r.Sea);
        }
    }

    [TestMethod]
    public void VaguePressesAreAnnouncedHonestlyOnceTheDrillHasMeasuredThem()
    {
        foreach (SeaResult r in Played.Value)
        {
            Tally drilled = r.Way(SeaStudy.Vague + SeaStudy.AfterMark), assumed = r.Way(SeaStudy.Vague + SeaStudy.AfterMark + SeaStudy.NotDrilled);
            Console.WriteLine($"{r.Sea}: {drilled.AnnouncedPercent:F1} announced, {drilled.HitPercent:F1} happened; not drilled {assumed.AnnouncedPercent:F1} and {assumed.HitPercent:F1}");
            if (drilled.AnnouncedFrames < StudyReport.FewestFrames) continue;
            // Eight or nine outings, each with a drill of its own: twelve presses tell a spread to a fifth.
            Assert.AreEqual(0, drilled.Excess, 10, r.Sea);
            Assert.IsTrue(Math.Abs(drilled.Excess) < assumed.Excess, $"{r.Sea}: {assumed.Excess:F1} points without the drill");
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
        Assert.IsTrue(last < blind + 0.1, $"{last:F2}: no more than blind luck");
    }

    [TestMethod]
    public void CarelessMarksCostLittle()
    {
        foreach (SeaResult r in Played.Value)
            foreach (string way in new[] { SeaStudy.AfterMark, SeaStudy.Arrival50 })
            {
                Tally careful = r.Way(way), careless = r.Way(way + SeaStudy.Careless);
                double half = (careless.HitInterval.High - careless.HitInterval.Low) / 2;
                Assert.IsTrue(careful.HitPercent - careless.HitPercent < 3 + half, $"{r.Sea}, {way}: {careful.HitPercent:F1} and {careless.HitPercent:F1} %");
            }
    }

    [TestMethod]
    public void MarkedWaysBeatAFixedTimer()
    {
        foreach (SeaResult r in Played.Value)
            Assert.IsTrue(r.Way(SeaStudy.AfterMark).HitInterval.Low > r.Way(SeaStudy.Timer).HitInterval.High + 20, r.Sea);
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
        var delay = new TurnDelay(rhythm.Lengths);
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
