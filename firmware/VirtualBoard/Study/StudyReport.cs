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
        "sea", "way", "exposure_s", "frames", "hits", "hit_percent", "hit_low", "hit_high", "announced_frames", "announced_percent",
        "mean_period_s", "period_spread_share", "backwash_s", "backwash_spread_share",
    ];

    /// <summary>The ways that the card recommended to a careful hand, on any sea, with any exposure.</summary>
    public IReadOnlyList<string> Recommended { get; } = [.. RecommendedTo(results, "")];

    /// <summary>The same for an uneven hand that did the drill.</summary>
    public IReadOnlyList<string> RecommendedToVagueHands { get; } = [.. RecommendedTo(results, SeaStudy.Vague)];

    /// <summary>Announced against happened for a way, over all seas and exposures.</summary>
    public Reliability Classes(string way)
    {
        var all = new Reliability();
        foreach (Tally t in results.SelectMany(Everything).Where(t => t.Way == way)) all.With(t.Classes);
        return all;
    }

    // The same with one exposure alone.
    private Reliability ClassesAtMainExposure(string way)
    {
        var all = new Reliability();
        foreach (Tally t in results.SelectMany(r => r.Ways).Where(t => t.Way == way)) all.With(t.Classes);
        return all;
    }

    private static IEnumerable<Tally> Everything(SeaResult result) => result.Ways.Concat(result.OtherExposures);

    private static IEnumerable<string> RecommendedTo(IEnumerable<SeaResult> results, string hand) =>
        results.SelectMany(Everything).Where(t => t.Frames > 0 && t.Way.StartsWith(hand + SeaStudy.Card, StringComparison.Ordinal) && !IsNotRecommended(t)).Select(t => t.Way).Distinct();

    /// <summary>Writes the tables as plain text.</summary>
    public void WriteTables(TextWriter to)
    {
        to.WriteLine("Each row is a way of firing. It shows how many of 100 frames lay wholly on the backwash, and the 95 % interval of that number.");
        to.WriteLine("Then come the chance that the box had announced, by how many points it was too high or too low, and the number of frames.");
        foreach (SeaResult r in results)
        {
            to.WriteLine();
            to.WriteLine($"{r.Sea} has {r.Waves} waves. One turns every {r.PeriodSeconds:F1} s on average, with a spread of {100 * r.Variation:F0} %. The correlation of one such time with the next is {r.LinkOne:F2}.");
            to.WriteLine($"The backwash lasts {r.BackwashSeconds:F1} s on average, with a spread of {100 * r.BackwashVariation:F0} %.");
            foreach (Tally t in r.Ways)
            {
                var (low, high) = t.HitInterval;
                string announced = t.AnnouncedFrames == 0 ? "no chance was announced" : $"announced {t.AnnouncedPercent,5:F1}, {TooMuch(t.Excess)}";
                to.WriteLine($"  {t.Way}: {t.HitPercent:F1} [{low:F1} to {high:F1}], {announced}, {t.Frames} frames");
            }
        }
        to.WriteLine();
        WriteHonesty(to);
        WriteForecasts(to);
        to.WriteLine("If one mark in ten is missed and one in twenty is doubled, so many frames of 100 fewer lie on the backwash:");
        foreach (SeaResult r in results)
        {
            var costs = from t in r.Ways
                        let rough = r.Ways.FirstOrDefault(x => x.Way == t.Way + SeaStudy.Careless)
                        where rough is not null
                        select $"{t.Way} {t.HitPercent - rough.HitPercent:F1}";
            to.WriteLine($"  {r.Sea,-18} {string.Join("; ", costs)}");
        }
    }

    /// <summary>Writes, for what the card recommends, how far announced and happened are apart: by sea and exposure, and by class of announced chance.</summary>
    public void WriteHonesty(TextWriter to)
    {
        string[] against =
        [
            .. from hand in (string[])["", SeaStudy.Vague] from rest in (string[])[SeaStudy.TooLong, SeaStudy.FiredAnyway] select hand + SeaStudy.Card + rest,
        ];
        foreach (string way in (string[])[.. Recommended, SeaStudy.AfterMark, .. RecommendedToVagueHands, SeaStudy.Vague + SeaStudy.AfterMark, .. against])
        {
            to.WriteLine($"This is what was announced and what happened, {way}:");
            foreach (SeaResult r in results)
            {
                foreach (Tally t in Everything(r).Where(t => t.Way == way && t.AnnouncedFrames > 0).OrderBy(t => t.ExposureSeconds))
                    to.WriteLine($"  {r.Sea,-18} {t.ExposureSeconds,4} s  announced {t.AnnouncedPercent,5:F1}, happened {t.AnnouncedPercent - t.Excess,5:F1}, {TooMuch(t.Excess)}, {t.AnnouncedFrames} frames in {t.Outings} outings");
            }
            WriteClasses(to, "all exposures", Classes(way));
            WriteClasses(to, "one exposure ", ClassesAtMainExposure(way));
            to.WriteLine();
        }
    }

    private static void WriteClasses(TextWriter to, string which, Reliability classes)
    {
        foreach (var (bin, frames, announced, actual) in classes.Bins())
            to.WriteLine($"  {10 * bin,3} to {10 * bin + 10,3} %, {which}  announced {announced,5:F1}, happened {actual,5:F1}, {TooMuch(announced - actual)}, {frames} frames{(frames < FewestFrames ? ", too few to judge" : "")}");
    }

    private static string TooMuch(double points) => $"{Math.Abs(points):F1} points too {(points < 0 ? "low" : "high")}";

    private void WriteForecasts(TextWriter to)
    {
        to.WriteLine("At each mark the next turn is forecast. This is the root mean square of how far off it is, and by how much that is more than with the best linear rule fitted to that very sea.");
        to.WriteLine("Careless marks are those of a person who misses one in ten and doubles one in twenty.");
        foreach (SeaResult r in results)
        {
            if (r.Forecasts is not ForecastResult f) continue;
            to.WriteLine($"  {r.Sea}: the best linear rule is off by {f.BoundRms:F3} s, and with careless marks by {f.BoundCareless:F3} s");
            foreach (var (name, rms, careless) in f.Designs)
                to.WriteLine($"    {name,-36} {rms:F3} s ({Over(rms, f.BoundRms)}), with careless marks {careless:F3} s ({Over(careless, f.BoundCareless)})");
        }
        to.WriteLine();
        to.WriteLine("Where every arrival is marked, so many of 100 frames lie wholly on the backwash when the box fires and when the best linear rule does.");
        to.WriteLine("The last number is the share of frames before which the box said that marking the turn is surer.");
        foreach (SeaResult r in results)
        {
            if (r.Forecasts is ForecastResult f) to.WriteLine($"  {r.Sea,-18} the box {r.Way(SeaStudy.Arrival).HitPercent:F1}, the best linear rule {f.Arrivals.HitPercent:F1} (it is off by {f.Arrivals.Rms:F2} s), said before {r.Way(SeaStudy.Arrival).SurerPercent:F1} %");
        }
        to.WriteLine("Bores look alike whatever they carry, so an arrival does not tell how far its wave will run. No rule can do much better.");
        to.WriteLine();
    }

    /// <summary>Writes every row as CSV.</summary>
    public void WriteCsv(string path)
    {
        using var csv = CsvWriter.ToFile(path);
        csv.WriteRecord(Columns);
        foreach (SeaResult r in results)
        {
            foreach (Tally t in Everything(r))
            {
                var (low, high) = t.HitInterval;
                csv.WriteRecord(new[]
                {
                    t.Sea, t.Way, Number(t.ExposureSeconds), $"{t.Frames}", $"{t.Hits}", Number(t.HitPercent), Number(low), Number(high), $"{t.AnnouncedFrames}", Number(t.AnnouncedPercent),
                    Number(r.PeriodSeconds), Number(r.Variation), Number(r.BackwashSeconds), Number(r.BackwashVariation),
                });
            }
        }
    }

    /// <summary>Writes the tables of the study's page as Markdown.</summary>
    public void WriteMarkdown(string path)
    {
        var text = new StringWriter();
        text.WriteLine("| | turns every | backwash | fixed timer | by hand | rhythm | mark, at once | **mark, a little later** | every arrival | arrivals, usual size and up |");
        text.WriteLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (SeaResult r in results) text.WriteLine(ExpectedRow(r));
        text.WriteLine();
        text.WriteLine("| a little after the mark, exposure | 0.5 s | 1 s | 2 s | 4 s |");
        text.WriteLine("| --- | ---: | ---: | ---: | ---: |");
        foreach (SeaResult r in results) text.WriteLine(ExposuresRow(r));
        text.WriteLine();
        text.WriteLine("| as the card recommends, exposure | 0.5 s | 1 s | 2 s | 4 s |");
        text.WriteLine("| --- | ---: | ---: | ---: | ---: |");
        foreach (SeaResult r in results) text.WriteLine(CardRow(r, ""));
        text.WriteLine();
        text.WriteLine("| an uneven hand, as the card recommends, exposure | 0.5 s | 1 s | 2 s | 4 s |");
        text.WriteLine("| --- | ---: | ---: | ---: | ---: |");
        foreach (SeaResult r in results) text.WriteLine(CardRow(r, SeaStudy.Vague));
        text.WriteLine();
        text.WriteLine("| fired although the run said that it is too long: announced / happened | a careful hand | an uneven hand |");
        text.WriteLine("| --- | ---: | ---: |");
        foreach (string row in results.SelectMany(FiredAnywayRows)) text.WriteLine(row);
        text.WriteLine();
        text.WriteLine("| announced | every turn marked | as the card recommends | an uneven hand, as the card recommends |");
        text.WriteLine("| --- | ---: | ---: | ---: |");
        for (int bin = 0; bin < 10; bin++)
            text.WriteLine($"| {10 * bin} to {10 * bin + 10} % | {InClass(bin, [SeaStudy.AfterMark])} | {InClass(bin, Recommended)} | {InClass(bin, RecommendedToVagueHands)} |");
        text.WriteLine();
        text.WriteLine("| | happened | announced | without the drill |");
        text.WriteLine("| --- | ---: | ---: | ---: |");
        foreach (SeaResult r in results) text.WriteLine(VagueRow(r));
        File.WriteAllText(path, text.ToString());
    }

    /// <summary>What to expect of one sea, as a row of the study's page: happened, and in brackets announced.</summary>
    public static string ExpectedRow(SeaResult r)
    {
        string[] cells =
        [
            r.Sea, $"{r.PeriodSeconds:F1} s", $"{r.BackwashSeconds:F1} s", Share(r.Way(SeaStudy.Timer).HitPercent), Share(r.Way(SeaStudy.HandWaiting).HitPercent),
            Both(r.Way(SeaStudy.Rhythm)), Both(r.Way(SeaStudy.AtOnce)), $"**{Both(r.Way(SeaStudy.AfterMark))}**",
            Both(r.Way(SeaStudy.Arrival)), Both(r.Way(SeaStudy.Arrival50)),
        ];
        return $"| {string.Join(" | ", cells)} |";
    }

    /// <summary>Frames fired a little after every mark, by exposure, as a row of the page: happened, and in brackets announced.</summary>
    public static string ExposuresRow(SeaResult r) =>
        $"| {r.Sea} | {string.Join(" | ", Everything(r).Where(t => t.Way == SeaStudy.AfterMark).OrderBy(t => t.ExposureSeconds).Select(Both))} |";

    /// <summary>
    /// Frames fired as the card recommends, by exposure, as a row of the page: happened, and in brackets announced. Where the card called the
    /// exposure too long in some outings, the cell says in how many of them it did not.
    /// </summary>
    /// <param name="r">The sea.</param>
    /// <param name="hand">Nothing for a careful hand, or <see cref="SeaStudy.Vague"/>.</param>
    public static string CardRow(SeaResult r, string hand)
    {
        var cells = from exposure in Everything(r).Where(t => t.Way.StartsWith(hand + SeaStudy.Card, StringComparison.Ordinal)).GroupBy(t => t.ExposureSeconds).OrderBy(g => g.Key)
                    let taken = exposure.Where(t => !IsNotRecommended(t)).OrderByDescending(t => t.Frames).FirstOrDefault()
                    let outings = exposure.Where(t => !WasFiredAnyway(t)).Sum(t => t.Outings)
                    select taken is null ? "too long"
                        : taken.Outings == outings ? Both(taken)
                        : $"{(taken.Frames < FewestFrames ? "too few" : Both(taken))} in {taken.Outings} of {outings}";
        return $"| {r.Sea} | {string.Join(" | ", cells)} |";
    }

    private static bool IsNotRecommended(Tally t) => t.Way.EndsWith(SeaStudy.TooLong, StringComparison.Ordinal) || WasFiredAnyway(t);

    private static bool WasFiredAnyway(Tally t) => t.Way.EndsWith(SeaStudy.FiredAnyway, StringComparison.Ordinal);

    /// <summary>
    /// Frames of one sea that were fired although the run had begun to say that the exposure is too long, by hand and exposure, as rows of the page:
    /// announced, happened and the number of frames.
    /// </summary>
    public static IEnumerable<string> FiredAnywayRows(SeaResult r) =>
        from exposure in Everything(r).Where(t => WasFiredAnyway(t) && t.Frames > 0).GroupBy(t => t.ExposureSeconds).OrderBy(g => g.Key)
        let cells = from hand in (string[])["", SeaStudy.Vague]
                    let t = exposure.FirstOrDefault(t => t.Way == hand + SeaStudy.Card + SeaStudy.FiredAnyway)
                    select t is null ? "" : $"{t.AnnouncedPercent:F0} / {t.HitPercent:F0} of {t.Frames}"
        select $"| {r.Sea}, {exposure.Key:0.#} s | {string.Join(" | ", cells)} |";

    /// <summary>An uneven hand on one sea, as a row of the page.</summary>
    public static string VagueRow(SeaResult r) =>
        $"| {r.Sea} | {r.Way(SeaStudy.Vague + SeaStudy.AfterMark).HitPercent:F0} | {r.Way(SeaStudy.Vague + SeaStudy.AfterMark).AnnouncedPercent:F0} | {r.Way(SeaStudy.Vague + SeaStudy.AfterMark + SeaStudy.NotDrilled).AnnouncedPercent:F0} |";

    // Announced and happened, and of how many frames; nothing for a class without any.
    private string InClass(int bin, IEnumerable<string> ways)
    {
        var all = new Reliability();
        foreach (string way in ways) all.With(Classes(way));
        return string.Concat(all.Bins().Where(b => b.Bin == bin).Select(b => $"{b.Announced:F1} / {b.Actual:F1} of {b.Frames}"));
    }

    private static string Share(double percent) => $"{Math.Min(99, percent):F0}";

    // Happened, and what was announced.
    private static string Both(Tally t) => t.Frames < FewestFrames / 2 ? "too few" : $"{Share(t.HitPercent)} ({Share(t.AnnouncedPercent)})";

    private static string Number(double value) => double.IsNaN(value) ? "" : value.ToString("F4", CultureInfo.InvariantCulture);

    private static string Over(double rms, double bound) => $"{100 * (rms / bound - 1):+0.0;-0.0} %";
}
