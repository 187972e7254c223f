using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>
/// A morning as one drawing, to be read from left to right: the hours around sunrise or sunset, the water below with the sand that it uncovers, the
/// light of the sky as the background, the heights at which the path is cut, and the time for work.
/// </summary>
internal static class DaySketch
{
    private const int Width = 900, Height = 410, Left = 14, Right = 886, Top = 46, Bottom = 300;
    private const int StepSeconds = 600;

    // Letters that stand beside each other in the drawing's width.
    private const int LongestLine = 115;
    private const int HoursBefore = 6, HoursAfter = 8;

    /// <summary>The drawing.</summary>
    public static string Svg(Site site, Morning m)
    {
        CoastPlace place = site.Place;
        LocalTime local = place.Offset;
        UtcInstant from = m.Sun.PlusHours(-HoursBefore);
        UtcInstant until = m.Sun.PlusHours(HoursAfter);
        CivilTime day = local.ToLocal(m.Sun);
        double X(UtcInstant at) => Left + (Right - Left) * Math.Clamp(at.SecondsSince(from) / (double)until.SecondsSince(from), 0, 1);
        var sketch = new Sketch(Width, Height, $"{place.Name}, {TimeText.IsoDate(day)}: tide, light, time for work and time to leave");
        sketch.Words(Left, 28, $"{place.Name}, {TimeText.ShortDate(day)} {day.Year}, local time", Sketch.Text, size: 17);
        Sky(sketch, place, m, X, from, until);

        int points = (int)(until.SecondsSince(from) / StepSeconds) + 1;
        var curve = new TideCurve(points);
        curve.Begin(place.Tide, from, StepSeconds, points);
        while (!curve.Step())
        {
        }
        int[] known = [.. Enumerable.Range(0, curve.Count).Where(i => place.Tide.CertaintyAt(curve.TimeAt(i)) != TideCertainty.None)];
        double low = known.Length == 0 ? 0 : known.Min(curve.HeightMetres), high = known.Length == 0 ? 1 : known.Max(curve.HeightMetres);
        for (int i = 0; i < place.PathCount; i++) high = Math.Max(high, place.CutMetres(i));
        double Y(double metres) => Bottom - 34 - (metres - low) / Math.Max(0.1, high - low) * (Bottom - Top - 66);

        sketch.Box(X(m.WorkStart), Top, X(m.WorkEnd) - X(m.WorkStart), Bottom - Top, Sketch.Amber, 0.22);
        if (known.Length > 1)
        {
            (double, double)[] line = [.. known.Select(i => (X(curve.TimeAt(i)), Y(curve.HeightMetres(i))))];
            sketch.Area([(line[0].Item1, Bottom), .. line, (line[^1].Item1, Bottom)], Sketch.Sea, 0.35);
            sketch.Curve(line, Sketch.Sea, 2.5);
        }
        for (int i = 0; i < curve.TurnCount; i++)
        {
            TideTurn turn = curve.Turn(i);
            sketch.Words(Math.Clamp(X(turn.Time), Left + 60, Right - 60), Y(turn.HeightMetres) + (turn.IsHigh ? -8 : 20), FormattableString.Invariant($"{TimeText.HourMinute(turn.Time, local)}  {turn.HeightMetres:F1} m"), Sketch.Text, "middle");
        }
        for (int i = 0; i < place.PathCount; i++)
        {
            double y = Y(place.CutMetres(i));
            sketch.Line(Left, y, Right, y, Sketch.Alarm, 1.5, "7 5");
            sketch.Words(Left + 4, y - 5, FormattableString.Invariant($"{place.PathPoint(i).Name}: cut at {place.CutMetres(i):F1} m"), Sketch.Alarm, size: 14);
        }
        if (m.PathCloses && m.LeaveBy < until)
        {
            sketch.Line(X(m.LeaveBy), Top, X(m.LeaveBy), Bottom, Sketch.Alarm, 3);
            sketch.Words(X(m.LeaveBy) - 6, Top + 18, "leave by " + TimeText.HourMinuteBefore(m.LeaveBy, local), Sketch.Alarm, "end");
        }
        sketch.Words((X(m.WorkStart) + X(m.WorkEnd)) / 2, Top + 38, $"work {m.WorkMinutes} min", Sketch.Amber, "middle");
        Hours(sketch, local, X, from, until);
        int row = 0;
        foreach (string line in Lines(TideCaution.Full)) sketch.Words(Left, Bottom + 52 + 17 * row++, line, Sketch.Soft, size: 13);
        return sketch.Svg();
    }

    private static IEnumerable<string> Lines(string text)
    {
        string line = "";
        foreach (string word in text.Split(' '))
        {
            if (line.Length + 1 + word.Length > LongestLine)
            {
                yield return line;
                line = "";
            }
            line += (line.Length > 0 ? " " : "") + word;
        }
        yield return line;
    }

    private static void Sky(Sketch sketch, CoastPlace place, Morning m, Func<UtcInstant, double> x, UtcInstant from, UtcInstant until)
    {
        var day = new SunDay(place.Position, place.Offset, m.Sun);
        sketch.Box(Left, Top, Right - Left, Bottom - Top, Sketch.Night);
        void Light(SunEvent begin, SunEvent end, string colour, double opacity)
        {
            double a = begin.Happens ? x(begin.Time) : Left, b = end.Happens ? x(end.Time) : Right;
            if (begin.Crossing != SunCrossing.StaysBelow) sketch.Box(a, Top, b - a, Bottom - Top, colour, opacity);
        }
        Light(day.NauticalDawn, day.NauticalDusk, Sketch.Dusk, 1);
        Light(day.CivilDawn, day.CivilDusk, Sketch.Day, 0.5);
        Light(day.Rise, day.Set, Sketch.Day, 0.9);
        foreach ((SunEvent e, string words) in new[] { (day.Rise, "sunrise"), (day.Set, "sunset") })
        {
            if (!e.Happens || e.Time < from || e.Time > until) continue;
            sketch.Line(x(e.Time), Top, x(e.Time), Bottom, Sketch.Amber, 2);
            sketch.Words(x(e.Time) + 6, Top + 18, $"{words} {TimeText.HourMinute(e.Time, place.Offset)}", Sketch.Amber);
        }
    }

    private static void Hours(Sketch sketch, LocalTime local, Func<UtcInstant, double> x, UtcInstant from, UtcInstant until)
    {
        UtcInstant hour = local.MidnightBefore(from);
        for (; hour < until; hour = hour.PlusHours(1))
        {
            if (hour <= from) continue;
            sketch.Line(x(hour), Bottom, x(hour), Bottom + 6, Sketch.Soft);
            if (local.ToLocal(hour).Hour % 2 == 0) sketch.Words(x(hour), Bottom + 24, TimeText.HourMinute(hour, local), Sketch.Soft, "middle", 14);
        }
    }
}
