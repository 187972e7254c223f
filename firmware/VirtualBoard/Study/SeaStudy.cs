using Intervalometer.Core.Swash;
using Intervalometer.VirtualBoard.Sea;
using MathNet.Numerics.Random;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The results of one sea.</summary>
public sealed record SeaResult(
    string Sea, int Waves, double PeriodSeconds, double Variation, double LinkOne, double BackwashSeconds, double BackwashVariation,
    IReadOnlyList<Tally> Ways, IReadOnlyList<Tally> OtherExposures, ForecastResult? Forecasts)
{
    /// <summary>The tally of a way.</summary>
    public Tally Way(string way) => Ways.First(t => t.Way == way);
}

/// <summary>How well the next turn can be predicted, for seas that have other seeds on which the best rule can be fitted.</summary>
public sealed record ForecastResult(IReadOnlyList<(string Name, double Rms, double Careless)> Designs, double BoundRms, double BoundCareless, ArrivalBound Arrivals);

/// <summary>
/// Plays photographers on seas with seeds on which nothing was chosen. Every frame comes from the contacts of the
/// firmware's run desk, every press is a press of its buttons, and every chance is the one that the run showed.
/// </summary>
/// <param name="options">How much to play.</param>
public sealed class SeaStudy(StudyOptions options)
{
    /// <summary>Waves in one outing, learning included. The box begins each with nothing learned.</summary>
    public const int OutingWaves = 170;

    private const int ShortestToAsk = Outing.Learning + Outing.Arrivals + Outing.Refreshing + 12;

    public const string Timer = "fixed interval, no marks";
    public const string HandAimed = "by hand, aimed at the turn";
    public const string HandWaiting = "by hand, once it is seen to roll back";
    public const string AtOnce = "mark the turn, fires at once";
    public const string AfterMark = "mark the turn, fires a little later";
    public const string AfterMarkUntimed = "the same, no backwash timed";
    public const string Rhythm = "on the rhythm, one wave in three marked";
    public const string RhythmMarked = "on the rhythm, every wave marked";
    public const string Arrival = "mark every arrival";
    public const string Arrival20 = "mark arrivals of usual size and up, judged to 20 %";
    public const string Arrival50 = "mark arrivals of usual size and up, judged to 50 %";
    public const string Arrival80 = "mark arrivals of usual size and up, judged to 80 %";
    public const string Card = "as the card recommends: ";
    public const string TooLong = "nothing, the exposure is too long here, and it was fired all the same";
    public const string FiredAnyway = "nothing any more, the run said that the exposure is too long, and it was fired all the same";
    public const string HeldNowAndThen = ", a dozen timed before the run and one in four in it";
    public const string Vague = "an uneven hand, ";
    public const string NotDrilled = ", without the drill";
    public const string Careless = ", careless";

    /// <summary>A careful hand. At the turn the photographer sees how large the wave is.</summary>
    public static readonly Habits Careful = new();

    /// <summary>A hand that presses within half a second or so of a turn.</summary>
    public static readonly Habits VagueHand = new(TurnSpreadSeconds: 0.45);

    /// <summary>The ways whose announced chances are judged over other exposures too: those that the card recommends, whatever was set.</summary>
    public static readonly IReadOnlyList<string> Judged = [AfterMark, Card, Vague + Card, Vague + AfterMark];

    private static readonly Habits Rough = Careful with { Missed = 0.10, Doubled = 0.05 };
    private static readonly Habits AnyArrival = new(WorthReach: 0);

    private static readonly (string Name, OutingPlan Plan)[] Rows =
    [
        (AtOnce, new(FiringWay.OnMark, Careful)),
        (AfterMark, new(FiringWay.AfterMark, Careful)),
        (AfterMarkUntimed, new(FiringWay.AfterMark, Careful, Timed: 0)),
        (Rhythm, new(FiringWay.OnRhythm, Careful)),
        (RhythmMarked, new(FiringWay.OnRhythm, Careful, MarkedShare: 1)),
        (Arrival, new(FiringWay.OnArrival, AnyArrival)),
        (Arrival20, new(FiringWay.OnArrival, Usual(0.20))),
        (Arrival50, new(FiringWay.OnArrival, Usual(0.50))),
        (Arrival80, new(FiringWay.OnArrival, Usual(0.80))),
        (Card, new(null, Usual(0.50), Drilled: true)),
        (Vague + Card, new(null, Usual(0.50) with { TurnSpreadSeconds = VagueHand.TurnSpreadSeconds }, Drilled: true)),
        (Vague + AfterMark, new(FiringWay.AfterMark, VagueHand, Drilled: true)),
        (Vague + AfterMark + NotDrilled, new(FiringWay.AfterMark, VagueHand)),
        (AfterMark + HeldNowAndThen, new(FiringWay.AfterMark, Careful, Timed: 12, HoldsWhenAsked: false)),
        (AfterMark + Careless, new(FiringWay.AfterMark, Rough)),
        (Rhythm + Careless, new(FiringWay.OnRhythm, Rough)),
        (Arrival50 + Careless, new(FiringWay.OnArrival, Usual(0.50) with { Missed = 0.10, Doubled = 0.05 })),
    ];

    /// <summary>Plays one sea.</summary>
    public SeaResult Play(StudiedSea studied)
    {
        var ways = new Dictionary<(string, double), Tally>();
        Tally At(string name, double seconds) => ways.TryGetValue((name, seconds), out Tally? t) ? t : ways[(name, seconds)] = new Tally(studied.Name, name, seconds);
        Tally Way(string name) => At(name, options.ExposureSeconds);
        int waves = 0;
        double sum = 0, squares = 0, link = 0;
        var lengths = new List<double>();
        foreach (IRepeatingSea sea in studied.HeldOut)
        {
            var judge = new Judge(sea);
            WatchedWave[] watched = Photographer.Watch(sea, Careful, sea.Seed);
            waves += watched.Length;
            double[] gaps = [.. watched.Zip(watched.Skip(1), (a, b) => (b.Swash.TurnUs - a.Swash.TurnUs) / 1e6)];
            double mean = gaps.Average();
            sum += mean / studied.HeldOut.Count;
            squares += gaps.Average(g => (g - mean) * (g - mean)) / studied.HeldOut.Count;
            link += gaps.Zip(gaps.Skip(1), (a, b) => (a - mean) * (b - mean)).Average() / studied.HeldOut.Count;
            lengths.AddRange(watched.Select(w => (w.Swash.EndUs - w.Swash.TurnUs) / 1e6));
            foreach (var (from, to) in Outings(watched))
                foreach (RigFrame frame in Outing.Timer(watched, from, to, mean, options.ExposureSeconds, sea.Seed + from)) Count(Way(Timer), judge, frame);
            PlayHands(watched, judge, Way(HandAimed), Way(HandWaiting), sea.Seed);
            foreach (var (name, plan) in Rows.Where(r => options.Rows?.Contains(r.Name) ?? true))
            {
                PlayRow(sea, judge, name, plan, options.ExposureSeconds, Way);
                if (!Judged.Contains(name)) continue;
                foreach (double seconds in options.OtherExposures.Select(multiple => multiple * options.ExposureSeconds))
                    PlayRow(sea, judge, name, plan, seconds, n => At(n, seconds));
            }
        }
        double length = lengths.Average();
        double spread = Math.Sqrt(lengths.Average(l => (l - length) * (l - length)));
        ForecastResult? forecasts = studied.Training.Count == 0 ? null : ForecastStudy.Of(studied, Careful, Rough, AnyArrival, options.ExposureSeconds);
        return new SeaResult(studied.Name, waves, sum, Math.Sqrt(squares) / sum, link / squares, length, spread / length,
            [.. ways.Values.Where(t => t.ExposureSeconds == options.ExposureSeconds)], [.. ways.Values.Where(t => t.ExposureSeconds != options.ExposureSeconds)], forecasts);
    }

    private static Habits Usual(double judgedTo) => new(WorthReach: 1.0, JudgeSpread: judgedTo);

    private static void PlayRow(IRepeatingSea sea, Judge judge, string name, OutingPlan plan, double exposureSeconds, Func<string, Tally> way)
    {
        WatchedWave[] watched = Photographer.Watch(sea, plan.Habits, sea.Seed);
        // A record of a quarter of an hour has too few waves of the usual size to ask the card. There every wave that is worth a frame is photographed.
        if (plan.Way is null && watched.Length < ShortestToAsk) watched = Photographer.Watch(sea, plan.Habits with { WorthReach = Careful.WorthReach, JudgeSpread = Careful.JudgeSpread }, sea.Seed);
        foreach (var (from, to) in Outings(watched))
        {
            var outing = new Outing(watched, from, to, plan, exposureSeconds);
            Tally tally = way(plan.Way is not null ? name : name + (outing.Recommended ? FiringAdvice.Words((int)outing.Way) : TooLong));
            tally.Outings++;
            if (plan.Way is not null || !outing.Recommended)
            {
                foreach (RigFrame frame in outing.Frames) Count(tally, judge, frame);
                continue;
            }
            // Once the run says that the exposure is too long, the box does not recommend it any more.
            foreach (RigFrame frame in outing.Frames) Count(frame.TooLong ? way(name + FiredAnyway) : tally, judge, frame);
            if (outing.Frames.Any(frame => frame.TooLong)) way(name + FiredAnyway).Outings++;
        }
    }

    private static void Count(Tally tally, Judge judge, RigFrame frame) =>
        tally.Add(judge.OnBackwash(frame.OpenUs, frame.CloseUs), frame.ChancePercent < 0 ? double.NaN : frame.ChancePercent / 100.0, frame.TurnIsSurer);

    private void PlayHands(WatchedWave[] waves, Judge judge, Tally aimed, Tally waiting, int seed)
    {
        var random = new MersenneTwister(seed + 1, false);
        long exposure = (long)(options.ExposureSeconds * 1e6);
        for (int i = Outing.Learning; i < waves.Length - 6; i++)
        {
            aimed.Add(judge.OnBackwash(waves[i].TurnMarkUs, waves[i].TurnMarkUs + exposure), double.NaN);
            // The photographer sees the wave roll back and then reacts: a simple reaction after the edge has begun to move.
            long late = waves[i].Swash.TurnUs + (long)(1e6 * MathNet.Numerics.Distributions.Normal.Sample(random, 0.45, 0.20));
            waiting.Add(judge.OnBackwash(late, late + exposure), double.NaN);
        }
    }

    /// <summary>The first wave of every outing and the one after its last. The waves at the very end only serve to judge the last frames.</summary>
    internal static IEnumerable<(int From, int To)> Outings(WatchedWave[] waves)
    {
        for (int from = 0; from + Math.Min(OutingWaves, waves.Length / 2) + 6 <= waves.Length; from += OutingWaves)
            yield return (from, Math.Min(from + OutingWaves, waves.Length - 6));
    }
}
