using System.Globalization;
using CsvHelper;
using ScottPlot;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>What the study found, as a table, a CSV file and plots.</summary>
/// <param name="results">One for each sea.</param>
/// <param name="reliability">Announced against actual, rhythm and arrival ways.</param>
/// <param name="markReliability">Announced against actual, mark and delay.</param>
public sealed class StudyReport(IReadOnlyList<SeaResult> results, Reliability reliability, Reliability markReliability)
{
    private static readonly string[] Columns =
    [
        "sea", "way", "frames", "hits", "hit_percent", "hit_low", "hit_high", "announced_percent",
        "rms_s", "rms_half_s", "mean_period_s", "period_spread_share", "best_linear_rms_s",
    ];

    /// <summary>Writes the tables as plain text.</summary>
    public void WriteTables(TextWriter to)
    {
        to.WriteLine("Frames of which the whole exposure lies on the backwash, percent, with 95 % interval; announced; RMS of the timing error, s");
        foreach (SeaResult r in results)
        {
            to.WriteLine();
            to.WriteLine($"{r.Sea}: {r.Waves} waves, mean period {r.PeriodSeconds:F1} s, spread {100 * r.Variation:F0} %, lag-one link {r.LinkOne:F2}");
            foreach (Tally t in r.Ways)
            {
                var (low, high) = t.HitInterval;
                string announced = double.IsNaN(t.AnnouncedPercent) ? "     " : $"{t.AnnouncedPercent,5:F1}";
                to.WriteLine($"  {t.Way,-48} {t.HitPercent,5:F1} [{low,5:F1} {high,5:F1}]  said {announced}  error {t.Rms:F2} +- {t.RmsHalf:F2}  n {t.Frames}");
            }
        }
        to.WriteLine();
        to.WriteLine("RMS error of the next turn forecast at a mark, s; over the best linear predictor fitted to that sea; careless: 10 % missed, 5 % double");
        foreach (SeaResult r in results)
        {
            to.WriteLine($"  {r.Sea,-18} best linear {r.BoundRms:F3} s, careless {r.BoundCareless:F3} s");
            foreach (var (name, rms, careless) in r.Forecasters)
                to.WriteLine($"    {name,-36} {rms:F3} ({Over(rms, r.BoundRms)})  careless {careless:F3} ({Over(careless, r.BoundCareless)})");
        }
        to.WriteLine();
        to.WriteLine("Marking arrivals, percent wholly on the backwash: waves of usual size and up; every wave; every wave by the best linear predictor");
        foreach (SeaResult r in results)
        {
            Tally every = Way(r, SeaStudy.Arrival), chosen = Way(r, SeaStudy.ArrivalChosen);
            to.WriteLine($"  {r.Sea,-18} {chosen.HitPercent,5:F1} (error {chosen.Rms:F2} s)  {every.HitPercent,5:F1} (error {every.Rms:F2} s)  {r.ArrivalBound.HitPercent,5:F1} (error {r.ArrivalBound.Rms:F2} s)");
        }
        double[] shorts = [.. results.Select(r => r.ArrivalBound.HitPercent - Way(r, SeaStudy.Arrival).HitPercent)];
        to.WriteLine("  The limit: bores come alike whatever they carry, so an arrival does not tell how far its wave will run;");
        to.WriteLine($"  no linear rule on all the marks does better than the last column, and the box is {shorts.Min():F1} to {shorts.Max():F1} points short of it.");
        to.WriteLine();
        WriteReliability(to, "Announced chance against what happened, rhythm and arrival ways on all seas", reliability);
        WriteReliability(to, "The same, a mark at the turn and a set delay", markReliability);
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
                    t.Sea, t.Way, $"{t.Frames}", $"{t.Hits}", Number(t.HitPercent), Number(low), Number(high), Number(t.AnnouncedPercent),
                    Number(t.Rms), Number(t.RmsHalf), Number(r.PeriodSeconds), Number(r.Variation), Number(r.BoundRms),
                });
            }
        }
    }

    /// <summary>Writes the table of what to expect, one column a sea, as Markdown.</summary>
    public void WriteMarkdown(string path)
    {
        var text = new StringWriter();
        void Row(string name, Func<SeaResult, string> cell) => text.WriteLine($"| {name} | {string.Join(" | ", results.Select(cell))} |");
        void Hits(string name, string way) => Row(name, r => Share(Way(r, way).HitPercent));
        void Said(string name, string way) => Row(name, r => $"{Math.Min(99, Way(r, way).AnnouncedPercent):F0} / {Math.Min(99, Way(r, way).HitPercent):F0}");
        text.WriteLine($"| | {string.Join(" | ", results.Select(r => r.Sea))} |");
        text.WriteLine($"| --- |{string.Concat(results.Select(_ => " ---: |"))}");
        Row("waves; mean time between turns", r => $"{r.Waves}; {r.PeriodSeconds:F1} s");
        Hits("a fixed timer", SeaStudy.Timer);
        Hits("by hand, on seeing it roll back", SeaStudy.HandWaiting);
        Hits("mark the turn, fire at once", SeaStudy.AtOnce);
        Hits("**mark the turn, fire a little later**", SeaStudy.AfterMark);
        Hits("on the rhythm, next wave", SeaStudy.Rhythm);
        Hits("**mark the arrival**, waves of usual size and up", SeaStudy.ArrivalChosen);
        Hits("mark the arrival, every wave", SeaStudy.Arrival);
        Row("the same, by the best linear rule", r => Share(r.ArrivalBound.HitPercent));
        Said("announced / happened: a little later", SeaStudy.AfterMark);
        Said("announced / happened: rhythm", SeaStudy.Rhythm);
        Said("announced / happened: arrival, usual size and up", SeaStudy.ArrivalChosen);
        Row("next turn, best linear rule, RMS", r => $"{r.BoundRms:F2} s");
        Row("the box over it", r => Over(r.Forecasters[0].Rms, r.BoundRms));
        text.WriteLine();
        text.WriteLine($"95 % half-width of a share: at most {results.SelectMany(r => r.Ways).Max(t => (t.HitInterval.High - t.HitInterval.Low) / 2):F1} points.");
        File.WriteAllText(path, text.ToString());
    }

    /// <summary>Writes hit rates and the reliability diagram, together as one PNG and each as SVG.</summary>
    public void WritePlots(string folder)
    {
        Plot bars = HitRates(), diagram = ReliabilityDiagram();
        var both = new Multiplot();
        both.AddPlot(bars);
        both.AddPlot(diagram);
        var grid = new ScottPlot.MultiplotLayouts.CustomGrid();
        grid.Set(bars, new GridCell(0, 0, 1, 10, 1, 7));
        grid.Set(diagram, new GridCell(0, 7, 1, 10, 1, 3));
        both.Layout = grid;
        Enlarge(bars);
        Enlarge(diagram);
        both.SavePng(Path.Combine(folder, "sea-study.png"), 1500, 620);
        bars.SaveSvg(Path.Combine(folder, "hit-rates.svg"), 1120, 560);
        diagram.SaveSvg(Path.Combine(folder, "reliability.svg"), 560, 560);
    }

    private static void Enlarge(Plot plot)
    {
        plot.Axes.Title.Label.FontSize = 22;
        plot.Legend.FontSize = 17;
        foreach (IAxis axis in new IAxis[] { plot.Axes.Left, plot.Axes.Bottom })
        {
            axis.Label.FontSize = 20;
            axis.TickLabelStyle.FontSize = 17;
        }
    }

    private static string Share(double percent) => percent >= 99.5 ? "over 99 %" : $"{percent:F0} %";

    private static Tally Way(SeaResult result, string way) => result.Ways.First(t => t.Way == way);

    private static void WriteReliability(TextWriter to, string heading, Reliability of)
    {
        to.WriteLine(heading);
        foreach (var (bin, frames, announced, actual) in of.Bins())
            to.WriteLine($"  {10 * bin,3}-{10 * bin + 10,3} %: said {announced,5:F1}, was {actual,5:F1}, n {frames}");
        to.WriteLine();
    }

    private static string Number(double value) => double.IsNaN(value) ? "" : value.ToString("F4", CultureInfo.InvariantCulture);

    private static string Over(double rms, double bound) => $"{100 * (rms / bound - 1):+0.0;-0.0} %";

    private Plot HitRates()
    {
        string[] shown = [SeaStudy.Timer, SeaStudy.Rhythm, SeaStudy.Arrival, SeaStudy.ArrivalChosen, SeaStudy.AfterMark];
        string[] names = ["fixed timer", "rhythm", "mark every arrival", "mark arrivals of usual size and up", "mark the turn, a little later"];
        var plot = new Plot();
        for (int w = 0; w < shown.Length; w++)
        {
            List<Bar> bars = [];
            for (int s = 0; s < results.Count; s++)
            {
                Tally t = Way(results[s], shown[w]);
                var (low, high) = t.HitInterval;
                bars.Add(new Bar
                {
                    Position = s * (shown.Length + 1.5) + w,
                    Value = t.HitPercent,
                    Error = (high - low) / 2,
                    Size = 0.9,
                    FillColor = plot.Add.Palette.GetColor(w),
                    LineWidth = 0,
                });
            }
            plot.Add.Bars(bars).LegendText = names[w];
        }
        double[] places = [.. Enumerable.Range(0, results.Count).Select(s => s * (shown.Length + 1.5) + (shown.Length - 1) / 2.0)];
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual(places, [.. results.Select(r => r.Sea.Replace(" swell", "\nswell").Replace(" sea", "\nsea"))]);
        plot.Axes.SetLimitsY(0, 105);
        plot.YLabel("% of frames");
        plot.Title("One-second exposures wholly on the backwash");
        plot.ShowLegend(Edge.Bottom);
        return plot;
    }

    private Plot ReliabilityDiagram()
    {
        var plot = new Plot();
        var line = plot.Add.Line(0, 0, 100, 100);
        line.LinePattern = LinePattern.Dashed;
        line.LegendText = "perfect";
        foreach (var (bins, name) in new[] { (reliability, "rhythm and arrival"), (markReliability, "mark and delay") })
        {
            var kept = bins.Bins().Where(b => b.Frames >= 500).ToArray();
            var points = plot.Add.Scatter(kept.Select(b => b.Announced).ToArray(), kept.Select(b => b.Actual).ToArray());
            points.LegendText = name;
            points.MarkerSize = 9;
        }
        plot.Axes.SetLimits(0, 102, 0, 102);
        plot.XLabel("the box said, %");
        plot.YLabel("it happened, %");
        plot.Title("Said, and happened");
        plot.ShowLegend(Alignment.UpperLeft);
        return plot;
    }
}
