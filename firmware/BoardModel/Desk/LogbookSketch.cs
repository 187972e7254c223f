using System.Globalization;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>The frames of a logbook as a drawing: above, how long each was open, and a bar to what the box had answered; below, where in the wave it began.</summary>
internal static class LogbookSketch
{
    private const int Width = 900, Left = 90, Right = 880, Top = 40, Middle = 230, WaveTop = 270, WaveBottom = 370, Height = 410;

    /// <summary>The drawing.</summary>
    public static string Svg(IReadOnlyList<LoggedFrame> frames)
    {
        var sketch = new Sketch(Width, Height, "Frames: exposure against the box's answer, and place in the wave");
        sketch.Words(10, 24, "Exposure, and a bar to the box's answer", Sketch.Text, size: 17);
        sketch.Words(10, WaveTop - 14, "Where in the wave it began, per cent of the period since the turn", Sketch.Text, size: 17);
        double[] seconds = [.. frames.SelectMany(f => new[] { f.ExposureSeconds, Answer(f) }).Where(s => s > 0)];
        double low = seconds.Length == 0 ? 0 : Math.Floor(Math.Log2(seconds.Min()) - 0.5), high = seconds.Length == 0 ? 1 : Math.Ceiling(Math.Log2(seconds.Max()) + 0.5);
        double Y(double s) => Middle - (Math.Log2(Math.Max(s, 1e-6)) - low) / (high - low) * (Middle - Top);
        double X(int i) => Left + (Right - Left) * (i + 0.5) / Math.Max(1, frames.Count);
        int step = Math.Max(1, (int)Math.Ceiling((high - low) / 7));
        for (double power = low; power <= high; power += step)
        {
            double s = Math.Pow(2, power);
            sketch.Line(Left, Y(s), Right, Y(s), Sketch.Faint);
            sketch.Words(Left - 8, Y(s) + 5, s >= 1 ? s.ToString("0", CultureInfo.InvariantCulture) + " s" : "1/" + (1 / s).ToString("0", CultureInfo.InvariantCulture) + " s", Sketch.Soft, "end", 14);
        }
        foreach (int percent in new[] { 0, 50, 100 })
        {
            double y = WaveBottom - percent / 100.0 * (WaveBottom - WaveTop);
            sketch.Line(Left, y, Right, y, Sketch.Faint);
            sketch.Words(Left - 8, y + 5, percent + " %", Sketch.Soft, "end", 14);
        }
        for (int i = 0; i < frames.Count; i++)
        {
            LoggedFrame f = frames[i];
            string ink = f.Verdict == "miss" ? Sketch.Alarm : f.Verdict == "hit" ? Sketch.Sea : Sketch.Amber;
            if (Answer(f) > 0) sketch.Line(X(i), Y(f.ExposureSeconds), X(i), Y(Answer(f)), Sketch.Soft, 4);
            sketch.Dot(X(i), Y(f.ExposureSeconds), 5, f.Verdict == "miss" ? Sketch.Ground : ink, ink);
            if (f.WavePercent is double wave) sketch.Dot(X(i), WaveBottom - wave / 100 * (WaveBottom - WaveTop), 5, f.Verdict == "miss" ? Sketch.Ground : ink, ink);
            if (frames.Count <= 40 || i % 10 == 0) sketch.Words(X(i), Height - 14, f.Number.ToString(CultureInfo.InvariantCulture), Sketch.Soft, "middle", 13);
        }
        return sketch.Svg();
    }

    private static double Answer(LoggedFrame f) => f.OffStops is double off ? f.ExposureSeconds / Math.Pow(2, off) : 0;
}
