using ScottPlot;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The plots of the study.</summary>
public sealed partial class StudyReport
{
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

    private Plot HitRates()
    {
        string[] shown = [SeaStudy.Timer, SeaStudy.Rhythm, SeaStudy.Arrival, SeaStudy.Arrival50, SeaStudy.AfterMark];
        string[] names = ["fixed timer", "rhythm", "mark every arrival", "mark arrivals of usual size and up", "mark the turn, a little later"];
        var plot = new Plot();
        for (int w = 0; w < shown.Length; w++)
        {
            List<Bar> bars = [];
            for (int s = 0; s < results.Count; s++)
            {
                Tally t = results[s].Way(shown[w]);
                // The table has "too few" there.
                if (t.Frames < FewestFrames / 2) continue;
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
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual(places, [.. results.Select(r => string.Join('\n', r.Sea.Split(' ', 2)).Replace(", ", "\n"))]);
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
        foreach (var (way, name) in new[] { (SeaStudy.Rhythm, "rhythm"), (SeaStudy.Arrival50, "arrival"), (SeaStudy.AfterMark, "mark, a little later") })
        {
            var kept = Classes(way).Bins().Where(b => b.Frames >= FewestFrames).ToArray();
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
