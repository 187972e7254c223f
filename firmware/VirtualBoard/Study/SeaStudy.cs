using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.VirtualBoard.Sea;
using MathNet.Numerics.Random;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>What one sea gave.</summary>
public sealed record SeaResult(
    string Sea, int Waves, double PeriodSeconds, double Variation, double LinkOne,
    IReadOnlyList<Tally> Ways, IReadOnlyList<(string Name, double Rms, double Careless)> Forecasters, double BoundRms, double BoundCareless,
    ArrivalBound ArrivalBound);

/// <summary>Plays photographers, ways of firing and forecasters on seas whose seeds took no part in choosing anything.</summary>
/// <param name="options">How much to play.</param>
public sealed class SeaStudy(StudyOptions options)
{
    /// <summary>Waves watched before anything is scored.</summary>
    public const int Learning = 20;

    /// <summary>Waves in one outing, learning included. The box begins each with nothing learned.</summary>
    public const int Outing = 170;

    /// <summary>Backwashes the photographer times while learning.</summary>
    public const int TimedBackwashes = 12;

    public const string Timer = "fixed-interval timer, no marks";
    public const string HandAimed = "by hand, aimed at the turn";
    public const string HandWaiting = "by hand, once it is seen to roll back";
    public const string AtOnce = "mark, fires at once";
    public const string AfterMark = "mark, fires after a set delay";
    public const string Rhythm = "on the rhythm, next wave";
    public const string RhythmLate = "on the rhythm, asked half a period after a mark";
    public const string RhythmTwo = "on the rhythm, two waves ahead";
    public const string Arrival = "mark the arrival, every wave";
    public const string ArrivalChosen = "mark the arrival, larger half";
    public const string Careless = ", careless";

    private static readonly Habits Careful = new();
    private static readonly Habits Chosen = new(WorthReach: 1.0);

    /// <summary>
    /// Announced chances of the ways that forecast (rhythm and arrival) against what happened. The ways that fire on a mark
    /// at the turn are kept apart in <see cref="MarkReliability"/>.
    /// </summary>
    public Reliability Reliability { get; } = new();

    /// <summary>The same for a mark at the turn and a set delay: it rests on press habits that box and study share.</summary>
    public Reliability MarkReliability { get; } = new();

    /// <summary>Plays one sea.</summary>
    public SeaResult Play(SeaRecipe recipe)
    {
        Habits careless = Careful with { Missed = 0.10, Doubled = 0.05 };
        SpectralSea[] training = [.. options.TrainingSeeds.Select(s => new SpectralSea(recipe, s, options.SecondsPerSeed))];
        SpectralSea[] heldOut = [.. options.HeldOutSeeds.Select(s => new SpectralSea(recipe, s, options.SecondsPerSeed))];
        var ways = new Dictionary<string, Tally>();
        Tally Way(string name) => ways.TryGetValue(name, out Tally? t) ? t : ways[name] = new Tally(recipe.Name, name);
        int waves = 0;
        double sum = 0, squares = 0, link = 0;
        foreach (SpectralSea sea in heldOut)
        {
            WatchedWave[] watched = Photographer.Watch(sea, Careful, sea.Seed);
            waves += watched.Length;
            double[] gaps = [.. watched.Zip(watched.Skip(1), (a, b) => (b.TurnMarkUs - a.TurnMarkUs) / 1e6)];
            double mean = gaps.Average();
            sum += mean / heldOut.Length;
            squares += gaps.Average(g => (g - mean) * (g - mean)) / heldOut.Length;
            link += gaps.Zip(gaps.Skip(1), (a, b) => (a - mean) * (b - mean)).Average() / heldOut.Length;
            PlayTimer(watched, Way(Timer), mean, sea.Seed);
            PlayHands(watched, Way(HandAimed), Way(HandWaiting), sea.Seed);
            PlayMarks(watched, Way, "");
            PlayArrivals(watched, Way(Arrival), true);
            PlayArrivals(Photographer.Watch(sea, Chosen, sea.Seed), Way(ArrivalChosen), true);
            PlayMarks(Photographer.Watch(sea, careless, sea.Seed), Way, Careless);
            PlayArrivals(Photographer.Watch(sea, Chosen with { Missed = 0.10, Doubled = 0.05 }, sea.Seed), Way(ArrivalChosen + Careless), false);
        }
        var clean = Forecasts(training, heldOut, Careful);
        var rough = Forecasts(training, heldOut, careless);
        return new SeaResult(recipe.Name, waves, sum, Math.Sqrt(squares) / sum, link / squares, [.. ways.Values],
            [.. clean.Designs.Zip(rough.Designs, (a, b) => (a.Name, a.Rms, b.Rms))], clean.Bound, rough.Bound,
            BoundOfArrivals(training, heldOut));
    }

    /// <summary>Whether an exposure lies wholly inside the backwash of some wave near one index.</summary>
    public bool Hit(WatchedWave[] waves, int near, long releaseUs)
    {
        long end = releaseUs + (long)(options.ExposureSeconds * 1e6);
        for (int i = Math.Max(0, near - 3); i < Math.Min(waves.Length, near + 5); i++)
            if (waves[i].Swash.TurnUs <= releaseUs && end <= waves[i].Swash.EndUs) return true;
        return false;
    }

    private void PlayTimer(WatchedWave[] waves, Tally tally, double period, int seed)
    {
        double start = waves[Learning].Swash.TurnUs / 1e6 + period * new MersenneTwister(seed, false).NextDouble();
        int near = Learning;
        for (double t = start; near < waves.Length - 6; t += period)
        {
            while (near < waves.Length - 1 && Math.Abs(waves[near + 1].Swash.TurnUs / 1e6 - t) < Math.Abs(waves[near].Swash.TurnUs / 1e6 - t)) near++;
            tally.Add(Hit(waves, near, (long)(t * 1e6)), t - waves[near].Swash.TurnUs / 1e6);
        }
    }

    private void PlayHands(WatchedWave[] waves, Tally aimed, Tally waiting, int seed)
    {
        var random = new MersenneTwister(seed + 1, false);
        for (int i = Learning; i < waves.Length - 6; i++)
        {
            aimed.Add(Hit(waves, i, waves[i].TurnMarkUs), (waves[i].TurnMarkUs - waves[i].Swash.TurnUs) / 1e6);
            // Sees it roll back, then reacts: simple reaction after the edge has begun to move.
            double lag = MathNet.Numerics.Distributions.Normal.Sample(random, 0.45, 0.20);
            waiting.Add(Hit(waves, i, waves[i].Swash.TurnUs + (long)(lag * 1e6)), lag);
        }
    }

    // First wave and the one after the last of every outing; the waves at the very end only serve to judge the last frames.
    private static IEnumerable<(int From, int To)> Outings(WatchedWave[] waves)
    {
        for (int from = 0; from + Math.Min(Outing, waves.Length / 2) + 6 <= waves.Length; from += Outing)
            yield return (from, Math.Min(from + Outing, waves.Length - 6));
    }

    private void PlayMarks(WatchedWave[] waves, Func<string, Tally> way, string suffix)
    {
        foreach (var (from, to) in Outings(waves))
        {
            var rhythm = new WaveRhythm();
            var advice = new FiringAdvice();
            var unused = new TurnDelay();
            for (int i = from; i < to; i++)
            {
                WatchedWave w = waves[i];
                bool scored = i >= from + Learning;
                if (i < from + TimedBackwashes && w.HeldUs >= WaveRun.ShortestHoldUs) rhythm.LearnBackwash(w.HeldUs / 1e6);
                if (w.Missed) continue;
                if (scored)
                {
                    if (i % 16 == 4) advice.Update(rhythm, unused, rhythm.LastMarkUs, options.ExposureSeconds);
                    long later = w.TurnMarkUs + (long)(advice.DelayAfterMarkSeconds * 1e6);
                    Score(way(AtOnce + suffix), waves, i, w.TurnMarkUs, w.TurnMarkUs, i, advice.Chance(FiringAdvice.AtOnce), null);
                    Score(way(AfterMark + suffix), waves, i, later, w.TurnMarkUs, i, advice.Chance(FiringAdvice.AfterMark), suffix == "" ? MarkReliability : null);
                }
                else if (i == from + Learning - 1)
                {
                    advice.Update(rhythm, unused, rhythm.LastMarkUs, options.ExposureSeconds);
                }
                rhythm.Mark(w.TurnMarkUs);
                if (w.SecondPressUs != 0) rhythm.Mark(w.SecondPressUs);
                if (!scored || rhythm.Stale(w.TurnMarkUs)) continue;
                for (int ahead = 1; ahead <= 2; ahead++)
                    PlayRhythm(rhythm, waves, i, w.TurnMarkUs, ahead, way((ahead == 1 ? Rhythm : RhythmTwo) + suffix), suffix == "");
                long late = w.TurnMarkUs + (long)(0.5e6 * rhythm.PeriodSeconds);
                if (late < waves[i + 1].TurnMarkUs) PlayRhythm(rhythm, waves, i, late, 1, way(RhythmLate + suffix), suffix == "");
            }
        }
    }

    private void PlayRhythm(WaveRhythm rhythm, WatchedWave[] waves, int i, long nowUs, int ahead, Tally tally, bool judged)
    {
        rhythm.TryForecast(nowUs, ahead, out long turn, out _);
        if (!rhythm.TryRelease(nowUs, ahead, options.ExposureSeconds, out long release, out double chance)) return;
        Score(tally, waves, i, release, turn, i + ahead, chance, judged ? Reliability : null);
    }

    private void PlayArrivals(WatchedWave[] waves, Tally tally, bool judged)
    {
        foreach (var (from, to) in Outings(waves))
        {
            var delay = new TurnDelay();
            for (int i = from; i < to; i++)
            {
                WatchedWave w = waves[i];
                if (i < from + TimedBackwashes && w.HeldUs >= WaveRun.ShortestHoldUs) delay.LearnBackwash(w.HeldUs / 1e6);
                if (w.Missed) continue;
                if (i >= from + Learning && delay.TryRelease(w.ArrivalMarkUs, options.ExposureSeconds, out long release, out double chance))
                {
                    delay.TryForecast(w.ArrivalMarkUs, out long turn, out _);
                    Score(tally, waves, i, release, turn, i, chance, judged ? Reliability : null);
                }
                delay.Arrival(w.ArrivalMarkUs);
                delay.Turn(w.TurnMarkUs);
                if (w.SecondPressUs != 0) delay.Turn(w.SecondPressUs);
            }
        }
    }

    private ArrivalBound BoundOfArrivals(SpectralSea[] training, SpectralSea[] heldOut)
    {
        ArrivalPredictor predictor = new(training.Select(s => Photographer.Watch(s, Careful, s.Seed)).ToArray(), Hit);
        var tally = new Tally("", "");
        foreach (SpectralSea sea in heldOut)
        {
            WatchedWave[] waves = Photographer.Watch(sea, Careful, sea.Seed);
            for (int i = ArrivalPredictor.Needed; i < waves.Length - 6; i++)
            {
                double turn = predictor.DelaySeconds(waves, i);
                tally.Add(Hit(waves, i, predictor.ReleaseUs(waves, i)), turn - (waves[i].Swash.TurnUs - waves[i].ArrivalMarkUs) / 1e6);
            }
        }
        return new ArrivalBound(tally.Rms, tally.HitPercent);
    }

    private void Score(Tally tally, WatchedWave[] waves, int near, long release, long forecast, int aimed, double chance, Reliability? judge)
    {
        bool hit = Hit(waves, near, release);
        tally.Add(hit, (forecast - waves[aimed].Swash.TurnUs) / 1e6, chance);
        judge?.Add(chance, hit);
    }

    private static (IReadOnlyList<(string Name, double Rms)> Designs, double Bound) Forecasts(SpectralSea[] training, SpectralSea[] heldOut, Habits habits)
    {
        var bound = new LinearBound(training.Select(s => Presses(Photographer.Watch(s, habits, s.Seed))));
        var test = heldOut.Select(s => Presses(Photographer.Watch(s, habits, s.Seed))).ToArray();
        double squares = 0;
        int count = 0;
        foreach (var (marks, turns) in test)
        {
            for (int i = LinearBound.Needed; i < marks.Length; i++, count++)
            {
                double error = bound.NextSeconds(marks, i) - (turns[i] - marks[i]) / 1e6;
                squares += error * error;
            }
        }
        Func<IForecaster>[] makers = [() => new RenewalForecaster(), () => new PhaseTracker(0.9, 0.03), () => new AutoregressiveForecaster(2, 0.995, 20)];
        var designs = new List<(string, double)>();
        foreach (var make in makers)
        {
            double own = 0;
            string name = "";
            foreach (var (marks, turns) in test)
            {
                IForecaster forecaster = make();
                name = forecaster.Name;
                for (int i = 0; i < marks.Length; i++)
                {
                    forecaster.Mark(marks[i]);
                    if (i < LinearBound.Needed) continue;
                    double error = forecaster.NextSeconds - (turns[i] - marks[i]) / 1e6;
                    own += error * error;
                }
            }
            designs.Add((name, Math.Sqrt(own / count)));
        }
        return (designs, Math.Sqrt(squares / count));
    }

    // The marks that a box would keep (bounces within 1.2 s dropped) and the true next turn after each.
    private static (long[] Marks, long[] NextTurns) Presses(WatchedWave[] waves)
    {
        var marks = new List<long>();
        var turns = new List<long>();
        for (int i = 0; i + 1 < waves.Length; i++)
        {
            if (waves[i].Missed || marks.Count > 0 && waves[i].TurnMarkUs - marks[^1] < 1_200_000) continue;
            marks.Add(waves[i].TurnMarkUs);
            turns.Add(waves[i + 1].Swash.TurnUs);
        }
        return ([.. marks], [.. turns]);
    }
}
