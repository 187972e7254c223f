using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>The text of tracks.csv out of the ways that were found.</summary>
public sealed partial class Router
{
    private string Write()
    {
        var text = new StringBuilder("net,layer,width,points\n");
        foreach (var (net, ways) in _ways.OrderBy(w => w.Key, StringComparer.Ordinal))
        {
            var pads = _layout.Pads.Where(p => p.Pin.Net == net).ToList();
            foreach (var (way, width) in ways)
            {
                for (var start = 0; start < way.Count;)
                {
                    var end = start;
                    while (end + 1 < way.Count && way[end + 1] / _layer == way[start] / _layer)
                    {
                        end++;
                    }

                    var points = way.GetRange(start, end - start + 1).Select(c => (X: c % _layer % _w, Y: c % _layer / _w)).ToList();
                    var drawn = Corners(points).Select(p => (X: p.X * Step, Y: p.Y * Step)).ToList();
                    // Both ends reach the middle of the pad that they belong to.
                    Reach(drawn, pads, first: true);
                    Reach(drawn, pads, first: false);
                    if (drawn.Count > 1)
                    {
                        text.Append(CultureInfo.InvariantCulture, $"{net},{(way[start] / _layer == 0 ? "F.Cu" : "B.Cu")},{width},{string.Join(" ", drawn.Select(p => FormattableString.Invariant($"{p.X:0.####} {p.Y:0.####}")))}\n");
                    }

                    start = end + 1;
                    if (start < way.Count)
                    {
                        text.Append(CultureInfo.InvariantCulture, $"{net},via,{Layout.Via},{points[^1].X * Step:0.####} {points[^1].Y * Step:0.####}\n");
                    }
                }
            }
        }

        return text.ToString();
    }

    private static void Reach(List<(double X, double Y)> points, List<BoardPad> pads, bool first)
    {
        var end = first ? points[0] : points[^1];
        var pad = pads.FirstOrDefault(p => Math.Abs(p.X - end.X) <= Step / 2 + 1e-6 && Math.Abs(p.Y - end.Y) <= Step / 2 + 1e-6);
        if (pad is null || (Math.Abs(pad.X - end.X) < 1e-6 && Math.Abs(pad.Y - end.Y) < 1e-6))
        {
            return;
        }

        points.Insert(first ? 0 : points.Count, (pad.X, pad.Y));
    }

    private static List<(int X, int Y)> Corners(List<(int X, int Y)> points)
    {
        var kept = new List<(int X, int Y)>();
        for (var i = 0; i < points.Count; i++)
        {
            if (i == 0 || i == points.Count - 1 || (points[i].X - points[i - 1].X, points[i].Y - points[i - 1].Y) != (points[i + 1].X - points[i].X, points[i + 1].Y - points[i].Y))
            {
                kept.Add(points[i]);
            }
        }

        return kept;
    }
}
