using System.Globalization;

namespace Intervalometer.Tests.Hardware;

/// <summary>One piece of copper of a board file: a pad, a track, a via or a filled area, with its layer ("*" is both).</summary>
internal sealed record Copper(string Kind, string Layer, string Owner, double Width, IReadOnlyList<(double X, double Y)> Points)
{
    /// <summary>How far the copper reaches beyond its points; a filled area ends at its outline.</summary>
    public double Reach { get; } = Kind == "area" ? 0 : Width / 2;

    /// <summary>Numbers of the line pieces that cross each row of a millimetre: a filled area has thousands.</summary>
    private readonly Dictionary<int, List<int>> _rows = Points.Take(Points.Count - 1).SelectMany((p, i) => Enumerable.Range((int)Math.Floor(Math.Min(p.Y, Points[i + 1].Y)), (int)Math.Floor(Math.Max(p.Y, Points[i + 1].Y)) - (int)Math.Floor(Math.Min(p.Y, Points[i + 1].Y)) + 1).Select(row => (row, i)))
        .GroupBy(x => x.row).ToDictionary(g => g.Key, g => g.Select(x => x.i).ToList());

    /// <summary>The line pieces that come near a range of heights; a single point is a piece from itself to itself.</summary>
    public IEnumerable<int> Lines(double top, double bottom) => Points.Count < 20
        ? Enumerable.Range(0, Math.Max(1, Points.Count - 1))
        : Enumerable.Range((int)Math.Floor(top), (int)Math.Floor(bottom) - (int)Math.Floor(top) + 1).Where(_rows.ContainsKey).SelectMany(r => _rows[r]).Distinct();

    /// <summary>The box round the points.</summary>
    public (double Left, double Top, double Right, double Bottom) Box { get; } = (Points.Min(p => p.X), Points.Min(p => p.Y), Points.Max(p => p.X), Points.Max(p => p.Y));
}

/// <summary>
/// Reads the copper out of a KiCad board file and joins what touches, by geometry alone: the net names in the file are not looked at.
/// </summary>
internal sealed class BoardCopper
{
    public BoardCopper(string text)
    {
        var root = Node.Parse(text);
        foreach (var part in root.All("footprint"))
        {
            var reference = part.All("fp_text").First(t => t.Text(1) == "reference").Text(2);
            var at = part.Find("at")!;
            var turn = at.Items.Count > 3 ? at.Number(3) * Math.PI / 180 : 0;
            foreach (var pad in part.All("pad").Where(p => p.Text(2) == "thru_hole"))
            {
                var (x, y) = (pad.Find("at")!.Number(1), pad.Find("at")!.Number(2));
                var centre = (at.Number(1) + x * Math.Cos(turn) + y * Math.Sin(turn), at.Number(2) - x * Math.Sin(turn) + y * Math.Cos(turn));
                var size = pad.Find("size")!.Number(1);
                if (pad.Text(3) == "rect")
                {
                    // A square is a disc and four more at its corners' inside, near enough and never too small by more than 0.02 mm.
                    var h = size / 2 - 0.05;
                    Pieces.Add(new("pad", "*", $"{reference}.{pad.Text(1)}", 0.1, [(centre.Item1 - h, centre.Item2 - h), (centre.Item1 + h, centre.Item2 - h), (centre.Item1 + h, centre.Item2 + h), (centre.Item1 - h, centre.Item2 + h), (centre.Item1 - h, centre.Item2 - h), (centre.Item1 + h, centre.Item2 + h)]));
                }
                else
                {
                    Pieces.Add(new("pad", "*", $"{reference}.{pad.Text(1)}", size, [centre]));
                }
            }
        }

        foreach (var s in root.All("segment"))
        {
            Pieces.Add(new("track", s.Find("layer")!.Text(1), "", s.Find("width")!.Number(1), [P(s.Find("start")!), P(s.Find("end")!)]));
        }

        foreach (var v in root.All("via"))
        {
            Pieces.Add(new("via", "*", "", v.Find("size")!.Number(1), [P(v.Find("at")!)]));
        }

        foreach (var area in root.All("zone").SelectMany(z => z.All("filled_polygon")))
        {
            Pieces.Add(new("area", area.Find("layer")!.Text(1), "", 0, Closed(area.Find("pts")!.All("xy").Select(P).ToList())));
        }

        Slots = root.All("gr_line").Where(l => l.Find("layer")!.Text(1) == "Edge.Cuts").Select(l => (P(l.Find("start")!), P(l.Find("end")!))).ToList();
    }

    public List<Copper> Pieces { get; } = [];

    /// <summary>Every line of the edge, of the outline and of the slot.</summary>
    public List<((double X, double Y) A, (double X, double Y) B)> Slots { get; }

    /// <summary>The pieces in groups that touch; only tracks at least so wide are counted when a width is given.</summary>
    public List<List<Copper>> Groups(double leastWidth = 0)
    {
        var pieces = Pieces.Where(p => leastWidth == 0 || p.Kind == "pad" || p.Kind == "via" || (p.Kind == "track" && p.Width >= leastWidth)).ToList();
        var up = Enumerable.Range(0, pieces.Count).ToArray();
        int Find(int i) => up[i] == i ? i : up[i] = Find(up[i]);
        for (var i = 0; i < pieces.Count; i++)
        {
            for (var j = i + 1; j < pieces.Count; j++)
            {
                if (Find(i) != Find(j) && SameLayer(pieces[i], pieces[j]) && Far(pieces[i].Box, pieces[j].Box) <= pieces[i].Reach + pieces[j].Reach + 0.01 && Gap(pieces[i], pieces[j], 0.1) <= 0.001)
                {
                    up[Find(i)] = Find(j);
                }
            }
        }

        return pieces.Select((p, i) => (p, Find(i))).GroupBy(p => p.Item2).Select(g => g.Select(p => p.p).ToList()).ToList();
    }

    public static bool SameLayer(Copper a, Copper b) => a.Layer == "*" || b.Layer == "*" || a.Layer == b.Layer;

    /// <summary>Millimetres of bare board between two pieces, 0 or less when they touch; beyond the horizon it is not told apart.</summary>
    public static double Gap(Copper a, Copper b, double horizon = 10)
    {
        if (Far(a.Box, b.Box) - a.Reach - b.Reach > horizon)
        {
            return horizon;
        }

        if ((a.Kind == "area" && Inside(b.Points[0], a)) || (b.Kind == "area" && Inside(a.Points[0], b)))
        {
            return 0;
        }

        var least = horizon + a.Reach + b.Reach;
        foreach (var i in a.Lines(b.Box.Top - least, b.Box.Bottom + least))
        {
            var (p, q) = (a.Points[i], a.Points[Math.Min(i + 1, a.Points.Count - 1)]);
            var box = (Math.Min(p.X, q.X), Math.Min(p.Y, q.Y), Math.Max(p.X, q.X), Math.Max(p.Y, q.Y));
            if (Far(box, b.Box) >= least)
            {
                continue;
            }

            foreach (var j in b.Lines(box.Item2 - least, box.Item4 + least))
            {
                least = Math.Min(least, Between(p, q, b.Points[j], b.Points[Math.Min(j + 1, b.Points.Count - 1)]));
            }
        }

        return least - a.Reach - b.Reach;
    }

    private static double Far((double Left, double Top, double Right, double Bottom) a, (double Left, double Top, double Right, double Bottom) b) =>
        Math.Max(Math.Max(a.Left - b.Right, b.Left - a.Right), Math.Max(a.Top - b.Bottom, b.Top - a.Bottom));

    private static bool Inside((double X, double Y) p, Copper area)
    {
        var inside = false;
        foreach (var i in area.Lines(p.Y, p.Y))
        {
            var (a, b) = (area.Points[i], area.Points[i + 1]);
            if (a.Y > p.Y != b.Y > p.Y && p.X < (b.X - a.X) * (p.Y - a.Y) / (b.Y - a.Y) + a.X)
            {
                inside = !inside;
            }
        }

        return inside;
    }

    private static double Between((double X, double Y) a, (double X, double Y) b, (double X, double Y) c, (double X, double Y) d)
    {
        if (Side(a, b, c) * Side(a, b, d) < 0 && Side(c, d, a) * Side(c, d, b) < 0)
        {
            return 0;
        }

        return Math.Min(Math.Min(To(a, c, d), To(b, c, d)), Math.Min(To(c, a, b), To(d, a, b)));
    }

    private static double Side((double X, double Y) a, (double X, double Y) b, (double X, double Y) p) => Math.Sign((b.X - a.X) * (p.Y - a.Y) - (b.Y - a.Y) * (p.X - a.X));

    /// <summary>From a point to a line piece.</summary>
    public static double To((double X, double Y) p, (double X, double Y) a, (double X, double Y) b)
    {
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        var length = dx * dx + dy * dy;
        var t = length == 0 ? 0 : Math.Clamp(((p.X - a.X) * dx + (p.Y - a.Y) * dy) / length, 0, 1);
        return Math.Sqrt(Math.Pow(a.X + t * dx - p.X, 2) + Math.Pow(a.Y + t * dy - p.Y, 2));
    }

    private static List<(double X, double Y)> Closed(List<(double X, double Y)> points) => [.. points, points[0]];

    private static (double X, double Y) P(Node n) => (n.Number(1), n.Number(2));

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Pieces.Count} pieces of copper");
}
