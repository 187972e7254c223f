using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using ScottPlot;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>One local day as a picture: tide curve, night and twilight, sunrise and sunset, the limits of the path, the working time.</summary>
public static class PlanPlot
{
    private const int StepSeconds = 600;

    /// <summary>Width of a saved picture, pixels.</summary>
    public const int Width = 1000;

    /// <summary>Height of a saved picture, pixels.</summary>
    public const int Height = 520;

    /// <summary>The local day that holds an instant; the working time is shaded when a morning of that day is given.</summary>
    public static Plot Day(Site site, UtcInstant within, Morning? morning)
    {
        CoastPlace place = site.Place;
        UtcInstant midnight = place.Offset.MidnightBefore(within);
        var plot = new Plot();
        Sky(plot, place, midnight);
        if (morning != null)
        {
            var work = plot.Add.HorizontalSpan(Hour(morning.WorkStart, midnight), Hour(morning.WorkEnd, midnight));
            work.FillColor = Colors.Gold.WithAlpha(0.45);
            work.LineWidth = 0;
            work.LegendText = "working time";
        }
        Tide(plot, place, midnight);
        for (int i = 0; i < place.PathCount; i++)
        {
            var limit = plot.Add.HorizontalLine(place.CutMetres(i));
            limit.Color = Colors.DarkRed;
            limit.LinePattern = LinePattern.Dashed;
            limit.LegendText = $"{place.PathPoint(i).Name}: cut at {place.CutMetres(i):F1} m";
        }
        plot.Axes.SetLimitsX(0, 24);
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericFixedInterval(2);
        plot.Title($"{place.Name}, {TimeText.IsoDate(place.Offset.ToLocal(within))}, UTC{TimeText.Offset(place.Offset.At(within))}");
        plot.YLabel($"metres above {place.DatumText}");
        plot.XLabel("local hour\n" + TideCaution.Full.Replace(". ", ".\n"), 11);
        plot.ShowLegend(Alignment.UpperRight);
        return plot;
    }

    /// <summary>Saves a day as PNG or SVG, by the ending of the path.</summary>
    public static void Save(Plot plot, string path)
    {
        if (path.EndsWith(".svg", StringComparison.OrdinalIgnoreCase)) plot.SaveSvg(path, Width, Height);
        else plot.SavePng(path, Width, Height);
    }

    private static void Tide(Plot plot, CoastPlace place, UtcInstant midnight)
    {
        var curve = new TideCurve(145);
        curve.Begin(place.Tide, midnight, StepSeconds, 145);
        while (!curve.Step())
        {
        }
        // Hours outside a printed table are left out, not drawn flat.
        int[] known = Enumerable.Range(0, curve.Count).Where(i => place.Tide.CertaintyAt(curve.TimeAt(i)) != TideCertainty.None).ToArray();
        if (known.Length == 0) return;
        var line = plot.Add.ScatterLine(known.Select(i => Hour(curve.TimeAt(i), midnight)).ToArray(), known.Select(curve.HeightMetres).ToArray());
        line.LineWidth = 2.5f;
        line.Color = Colors.SteelBlue;
        line.LegendText = "predicted tide";
        for (int i = 0; i < curve.TurnCount; i++)
        {
            TideTurn turn = curve.Turn(i);
            var text = plot.Add.Text($"{TimeText.HourMinute(turn.Time, place.Offset)}  {turn.HeightMetres:F1} m", Hour(turn.Time, midnight), turn.HeightMetres);
            text.LabelAlignment = turn.IsHigh ? Alignment.LowerCenter : Alignment.UpperCenter;
        }
        double margin = Math.Max(0.3, (curve.HighestMetres - curve.LowestMetres) * 0.2);
        double top = curve.HighestMetres;
        for (int i = 0; i < place.PathCount; i++) top = Math.Max(top, place.CutMetres(i));
        plot.Axes.SetLimitsY(curve.LowestMetres - margin, top + margin);
    }

    private static void Sky(Plot plot, CoastPlace place, UtcInstant midnight)
    {
        var day = new SunDay(place.Position, place.Offset, midnight.PlusHours(12));
        double last = 0;
        (SunEvent Event, double Shade)[] steps =
        [
            (day.NauticalDawn, 0.42), (day.CivilDawn, 0.30), (day.Rise, 0.16), (day.Set, 0), (day.CivilDusk, 0.16), (day.NauticalDusk, 0.30),
        ];
        foreach (var (e, shade) in steps)
        {
            if (!e.Happens) continue;
            double hour = Hour(e.Time, midnight);
            Band(plot, last, hour, shade);
            last = hour;
        }
        if (day.NauticalDusk.Happens) Band(plot, last, 24, 0.42);
        foreach (SunEvent e in new[] { day.Rise, day.Set })
        {
            if (!e.Happens) continue;
            var line = plot.Add.VerticalLine(Hour(e.Time, midnight));
            line.Color = Colors.DarkOrange;
            line.LineWidth = 1.5f;
        }
        string words = day.Words();
        if (words.Length > 0) plot.Add.Annotation(words, Alignment.UpperLeft);
    }

    private static void Band(Plot plot, double from, double to, double shade)
    {
        if (shade <= 0 || to <= from) return;
        var band = plot.Add.HorizontalSpan(Math.Clamp(from, 0, 24), Math.Clamp(to, 0, 24));
        band.FillColor = Colors.MidnightBlue.WithAlpha(shade);
        band.LineWidth = 0;
    }

    private static double Hour(UtcInstant time, UtcInstant midnight) => time.SecondsSince(midnight) / 3600.0;
}
