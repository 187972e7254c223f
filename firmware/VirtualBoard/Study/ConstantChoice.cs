using Intervalometer.Core.Swash;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The constants of <see cref="BackwashLengths"/>.</summary>
/// <param name="PriorVariation">Spread assumed before anything was timed, as a share of the mean.</param>
/// <param name="PriorWeight">For how many lengths that goes on counting.</param>
/// <param name="SmoothingShare">How wide the curve about each length is.</param>
public readonly record struct LengthConstants(double PriorVariation, double PriorWeight, double SmoothingShare)
{
    /// <summary>Those in the box.</summary>
    public static LengthConstants OfTheBox => new(BackwashLengths.PriorVariation, BackwashLengths.PriorWeight, BackwashLengths.SmoothingShare);

    public override string ToString() => $"{PriorVariation:F2}, {PriorWeight:F0}, {SmoothingShare:F2}";
}

/// <summary>How well chances foretold what happened.</summary>
/// <param name="LogScore">Mean logarithmic score (Good 1952), nats; nearer to 0 is better. It is best for whoever announces what is true.</param>
/// <param name="WorstSea">Announced less happened on the sea and exposure where that is farthest from 0, points.</param>
/// <param name="WorstClass">The same in the worst class of announced chance with <see cref="StudyReport.FewestFrames"/> frames or more.</param>
public readonly record struct Foretold(double LogScore, double WorstSea, double WorstClass);

/// <summary>
/// A cross-validation of the constants behind the chance after a mark: they are weighed on the model seas of the training seeds alone,
/// and judged on the same seas with other seeds, and on the traced beach. The moment of opening is that of the box's constants for all
/// of them, so that each foretells the same frames.
/// </summary>
public sealed class ConstantChoice
{
    private const long TapUs = 150_000;
    private const double CameraLagSeconds = 0.05;
    private const int TimedOf = 4;

    private static readonly Habits Hand = SeaStudy.Careful;

    private readonly List<OutingHeard> _outings = [];

    private sealed record OutingHeard(string Sea, double Exposure, double Into, IReadOnlyList<(long HeldUs, bool InRun, bool? Hit)> Waves);

    /// <summary>Watches the frames of a careful hand that fires a little after the mark.</summary>
    public ConstantChoice(IEnumerable<IRepeatingSea> seas, StudyOptions options)
    {
        double[] exposures = [options.ExposureSeconds, .. options.OtherExposures.Select(multiple => multiple * options.ExposureSeconds)];
        foreach (IRepeatingSea sea in seas)
        {
            var judge = new Judge(sea);
            WatchedWave[] watched = Photographer.Watch(sea, Hand, sea.Seed);
            foreach (var (from, to) in SeaStudy.Outings(watched).Where(o => o.To - o.From > Outing.Learning))
                foreach (double exposure in exposures) _outings.Add(Hear(sea.Name, judge, watched[from..to], exposure));
        }
    }

    /// <summary>Every candidate: a third less and a third more of each constant of the box, and what lies between.</summary>
    public static IEnumerable<LengthConstants> Candidates { get; } =
    [
        .. from variation in (double[])[0.2, 0.3, 0.4]
           from weight in (double[])[1, 2, 4]
           from smoothing in (double[])[0.5, 0.7, 1.06]
           select new LengthConstants(variation, weight, smoothing),
    ];

    /// <summary>What the box would have foretold with these constants.</summary>
    public Foretold Try(LengthConstants constants)
    {
        double score = 0;
        int frames = 0;
        var seas = new Dictionary<(string, double), Tally>();
        var classes = new Reliability();
        foreach (OutingHeard outing in _outings)
        {
            if (!seas.TryGetValue((outing.Sea, outing.Exposure), out Tally? tally)) seas[(outing.Sea, outing.Exposure)] = tally = new Tally(outing.Sea, "", outing.Exposure);
            var lengths = new BackwashLengths(constants.PriorVariation, constants.PriorWeight, constants.SmoothingShare);
            var holds = new HeldMarks(lengths);
            double chance = double.NaN;
            foreach (var (heldUs, inRun, hit) in outing.Waves)
            {
                holds.Take(heldUs, inRun);
                if (heldUs > TapUs || double.IsNaN(chance)) chance = lengths.Ready ? Shown(lengths, outing) : double.NaN;
                if (hit is null || double.IsNaN(chance)) continue;
                tally.Add(hit.Value, chance);
                classes.Add(chance, hit.Value);
                score += Math.Log(Math.Max(0.005, hit.Value ? chance : 1 - chance));
                frames++;
            }
        }
        double Farthest(IEnumerable<double> apart) => apart.OrderByDescending(Math.Abs).FirstOrDefault();
        return new Foretold(score / frames, Farthest(seas.Values.Where(t => t.Frames >= StudyReport.FewestFrames).Select(t => t.Excess)),
            Farthest(classes.Bins().Where(b => b.Frames >= StudyReport.FewestFrames).Select(b => b.Announced - b.Actual)));
    }

    /// <summary>Writes what every candidate scores where it was weighed, and the best and the box's where they are judged.</summary>
    public static void Write(StudyOptions options, TextWriter to)
    {
        IEnumerable<IRepeatingSea> Seas(IReadOnlyList<int> seeds) =>
            [.. StudiedSea.ModelMakers(options with { TrainingSeeds = [], HeldOutSeeds = seeds }).AsParallel().AsOrdered().SelectMany(make => make().HeldOut)];

        var weighed = new ConstantChoice(Seas(options.TrainingSeeds), options);
        var candidates = Candidates.AsParallel().AsOrdered().Select(c => (Constants: c, Foretold: weighed.Try(c))).OrderByDescending(c => c.Foretold.LogScore).ToArray();
        to.WriteLine("Each row is a set of constants: the spread that is assumed before any backwash was timed, the weight of that assumption, and the width of the curve about each length.");
        to.WriteLine("Then come the mean logarithmic score of the announced chances, and by how many points they are too high (+) or too low (-) on the sea and exposure");
        to.WriteLine($"and in the class of announced chance where that is farthest. The sets were weighed on the model seas with the seeds {string.Join(", ", options.TrainingSeeds)}:");
        foreach (var (constants, foretold) in candidates) Line(constants, foretold);
        LengthConstants best = candidates[0].Constants;
        foreach (var (name, judged) in new[]
        {
            ($"the model seas with the seeds {string.Join(", ", options.HeldOutSeeds)}", new ConstantChoice(Seas(options.HeldOutSeeds), options)),
            ("the traced beach", new ConstantChoice(StudiedSea.Traced(options).HeldOut, options)),
        })
        {
            to.WriteLine($"These are the best of them and the box's on {name}:");
            foreach (LengthConstants constants in new[] { best, LengthConstants.OfTheBox }.Distinct()) Line(constants, judged.Try(constants));
        }

        void Line(LengthConstants c, Foretold f) =>
            to.WriteLine($"  {c}: {f.LogScore:F4}, {f.WorstSea:+0.0;-0.0}, {f.WorstClass:+0.0;-0.0}{(c == LengthConstants.OfTheBox ? ", the box's" : "")}");
    }

    private static double Shown(BackwashLengths lengths, OutingHeard outing) =>
        FiringAdvice.WholePercent(FiringAdvice.ChanceOnBackwash(lengths, lengths.MeanSeconds, outing.Into, outing.Exposure, Hand.TurnSpreadSeconds)) / 100.0;

    // What the box hears of an outing, and what became of each frame. The camera is busy until a frame is over.
    private static OutingHeard Hear(string name, Judge judge, WatchedWave[] waves, double exposure)
    {
        var rhythm = new WaveRhythm();
        var holds = new HeldMarks(rhythm.Lengths);
        var heard = new List<(long, bool, bool?)>();
        for (int i = 0; i < Outing.Learning; i++)
        {
            long held = i < new OutingPlan(null, Hand).Timed ? Math.Max(TapUs, waves[i].HeldUs) : TapUs;
            rhythm.Mark(waves[i].TurnMarkUs);
            holds.Take(held, false);
            heard.Add((held, false, null));
        }
        var advice = new FiringAdvice();
        advice.Update(rhythm, new TurnDelay(rhythm.Lengths), rhythm.LastMarkUs, exposure, CameraLagSeconds);
        long after = (long)(advice.DelayAfterMarkSeconds * 1e6), span = (long)(exposure * 1e6), freeUs = 0;
        for (int i = Outing.Learning; i < waves.Length; i++)
        {
            if (waves[i].TurnMarkUs < freeUs) continue;
            long open = waves[i].TurnMarkUs + after;
            bool timed = i % TimedOf == 0 || rhythm.Lengths.Count < BackwashLengths.Kept;
            long held = timed ? Math.Max(TapUs, waves[i].HeldUs) : TapUs;
            holds.Take(held, true);
            heard.Add((held, true, judge.OnBackwash(open, open + span)));
            freeUs = open + span;
        }
        return new OutingHeard(name, exposure, advice.DelayAfterMarkSeconds + Hand.TurnLagSeconds, heard);
    }
}
