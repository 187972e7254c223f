using System.Globalization;
using CsvHelper;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>What the study found, as a table, a CSV file and plots.</summary>
/// <param name="results">One for each sea.</param>
public sealed partial class StudyReport(IReadOnlyList<SeaResult> results)
{
    /// <summary>Classes of announced chance with fewer frames are not judged.</summary>
    public const int FewestFrames = 200;

    private static readonly string[] Columns =
    [
        "sea", "way", "frames", "hits", "hit_percent", "hit_low", "hit_high", "announced_frames", "announced_percent",
        "mean_period_s", "period_spread_share", "backwash_s", "backwash_spread_share",
    ];

    /// <summary>The ways that the card recommended, on any sea.</summary>
    public IReadOnlyList<string> Recommended { get; } =
        [.. results.SelectMany(r => r.Ways).Where(t => t.Frames > 0 && t.Way.StartsWith(SeaStudy.Card, StringComparison.Ordinal)).Select(t => t.Way).Distinct()];

    /// <summary>For one way of firing over all seas, what was announced against what happened.</summary>
    public Reliability Classes(string way)
    {
        var all = new Reliability();
        foreach (Tally t in results.SelectMany(r => r.Ways).Where(t => t.Way == way)) all.With(t.Classes);
        return all;
    }

    /// <summary>Writes the tables as plain text.</summary>
    public void WriteTables(TextWriter to)
    {
        to.WriteLine("Frames of which the whole exposure lies on the backwash, percent, with 95 % interval; announced; announced less happened, points");
        foreach (SeaResult r in results)
        {
            to.WriteLine();
            to.WriteLine($"{r.Sea}: {r.Waves} waves, mean period {r.PeriodSeconds:F1} s, spread {100 * r.Variation:F0} %, lag-one link {r.LinkOne:F2}; backwash {r.BackwashSeconds:F1} s, spread {100 * r.BackwashVariation:F0} %");
            foreach (Tally t in r.Ways)
            {
                var (low, high) = t.HitInterval;
                string announced = t.AnnouncedFrames == 0 ? "  none      " : $"{t.AnnouncedPercent,5:F1} {t.Excess,6:+0.0;-0.0}";
                to.WriteLine($"  {t.Way,-70} {t.HitPercent,5:F1} [{low,5:F1} {high,5:F1}]  said {announced}  n {t.Frames}");
            }
        }
        to.WriteLine();
        WriteHonesty(to);
        WriteForecasts(to);
        to.WriteLine("Cost of careless marks, points of hit rate");
        foreach (SeaResult r in results)
        {
            var costs = from t in r.Ways
                        let rough = r.Ways.FirstOrDefault(x => x.Way == t.Way + SeaStudy.Careless)
                        where rough is not null
                        select $"{t.Way} {t.HitPercent - rough.HitPercent:F1}";
            to.WriteLine($"  {r.Sea,-18} {string.Join("; ", costs)}");
        }
    }

    /// <summary>Writes, for what the card recommends, how far announced and happened are apart: by sea, and by class of announced chance.</summary>
    public void WriteHonesty(TextWriter to)
    {
        foreach (string way in Recommended.Append(SeaStudy.AfterMark))
        {
            to.WriteLine($"Announced / happened, {way}");
            foreach (SeaResult r in results)
            {
                if (r.Ways.FirstOrDefault(t => t.Way == way) is { AnnouncedFrames: > 0 } t)
                    to.WriteLine($"  {r.Sea,-18} {t.AnnouncedPercent,5:F1} / {t.AnnouncedPercent - t.Excess,5:F1}  apart {t.Excess,5:+0.0;-0.0}, n {t.AnnouncedFrames}");
            }
            foreach (var (bin, frames, announced, actual) in Classes(way).Bins())
                to.WriteLine($"  {10 * bin,3}-{10 * bin + 10,3} %           {announced,5:F1} / {actual,5:F1}  apart {announced - actual,5:+0.0;-0.0}, n {frames}{(frames < FewestFrames ? ", too few to judge" : "")}");
            to.WriteLine();
        }
    }

    private void WriteForecasts(TextWriter to)
    {
        to.WriteLine("RMS error of the next turn forecast at a mark, s; over the best linear predictor fitted to that sea; careless: 10 % missed, 5 % double");
        foreach (SeaResult r in results)
        {
            if (r.Forecasts is not ForecastResult f) continue;
            to.WriteLine($"  {r.Sea,-18} best linear {f.BoundRms:F3} s, careless {f.BoundCareless:F3} s");
            foreach (var (name, rms, careless) in f.Designs)
                to.WriteLine($"    {name,-36} {rms:F3} ({Over(rms, f.BoundRms)})  careless {careless:F3} ({Over(careless, f.BoundCareless)})");
        }
        to.WriteLine();
        to.WriteLine("Marking every arrival, percent wholly on the backwash: the box, and the best linear predictor; frames before which the box said that marking the turn is surer");
        foreach (SeaResult r in results)
        {
            if (r.Forecasts is ForecastResult f) to.WriteLine($"  {r.Sea,-18} {r.Way(SeaStudy.Arrival).HitPercent,5:F1}  {f.Arrivals.HitPercent,5:F1} (error {f.Arrivals.Rms:F2} s)  said before {r.Way(SeaStudy.Arrival).SurerPercent:F1} %");
        }
        to.WriteLine("  The limit: bores come alike whatever they carry, so an arrival does not tell how far its wave will run.");
        to.WriteLine();
    }

    /// <summary>Writes every row as CSV.</summary>
    public void WriteCsv(string path)
    {
        using var csv = CsvWriter.ToFile(path);
        csv.WriteRecord(Columns);
        foreach (SeaResult r in results)
        {
            foreach (Tally t in r.Ways)
            {
                var (low, high) = t.HitInterval;
                csv.WriteRecord(new[]
                {
                    t.Sea, t.Way, $"{t.Frames}", $"{t.Hits}", Number(t.HitPercent), Number(low), Number(high), $"{t.AnnouncedFrames}", Number(t.AnnouncedPercent),
                    Number(r.PeriodSeconds), Number(r.Variation), Number(r.BackwashSeconds), Number(r.BackwashVariation),
                });
            }
        }
    }

    /// <summary>Writes the table of what to expect, one row a sea, as Markdown.</summary>
    public void WriteMarkdown(string path)
    {
        var text = new StringWriter();
        text.WriteLine("| | turns every | backwash | fixed timer | by hand | rhythm | mark, at once | **mark, a little later** | every arrival | arrivals, usual size and up |");
        text.WriteLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (SeaResult r in results)
        {
            string[] cells =
            [
                r.Sea, $"{r.PeriodSeconds:F1} s", $"{r.BackwashSeconds:F1} s", Share(r.Way(SeaStudy.Timer).HitPercent), Share(r.Way(SeaStudy.HandWaiting).HitPercent),
                Both(r.Way(SeaStudy.Rhythm)), Both(r.Way(SeaStudy.AtOnce)), $"**{Both(r.Way(SeaStudy.AfterMark))}**",
                Both(r.Way(SeaStudy.Arrival)), Both(r.Way(SeaStudy.Arrival50)),
            ];
            text.WriteLine($"| {string.Join(" | ", cells)} |");
        }
        text.WriteLine();
        text.WriteLine($"95 % half-width of a share: at most {results.SelectMany(r => r.Ways).Where(t => t.Frames >= 500).Max(t => (t.HitInterval.High - t.HitInterval.Low) / 2):F1} points with 500 frames or more.");
        File.WriteAllText(path, text.ToString());
    }

    private static string Share(double percent) => $"{Math.Min(99, percent):F0}";

    // Happened, and what was announced.
    private static string Both(Tally t) => t.Frames < FewestFrames / 2 ? "too few" : $"{Share(t.HitPercent)} ({Share(t.AnnouncedPercent)})";

    private static string Number(double value) => double.IsNaN(value) ? "" : value.ToString("F4", CultureInfo.InvariantCulture);

    private static string Over(double rms, double bound) => $"{100 * (rms / bound - 1):+0.0;-0.0} %";
}
