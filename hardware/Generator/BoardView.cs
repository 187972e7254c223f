using System.Globalization;
using System.Net;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>The finished board as it lies on the table, drawn from the places and heights of its parts: seen from above at an angle, true to scale along each of the three directions.</summary>
public sealed class BoardView
{
    private const double Scale = 1.35, Thick = 1.6;
    private static readonly double Cos = Math.Cos(Math.PI / 6), Sin = Math.Sin(Math.PI / 6);

    private readonly Layout _layout;
    private readonly BoxModel _box;
    private readonly StringBuilder _out = new();

    /// <summary>Prepares the view.</summary>
    public BoardView(Layout layout, BoxModel box)
    {
        _layout = layout;
        _box = box;
    }

    /// <summary>What stands on the board, its upper left corner at 0, 0 and its upper side at 0, behind before in front.</summary>
    public IReadOnlyList<Volume> Standing()
    {
        var board = _box.Volumes.First(v => v.Name == "circuit board");
        bool OnIt(Volume v) => v.Z1 >= board.Z2 - 0.01 && v.Name != "display" && v.X1 > board.X1 && v.X2 < board.X2 && v.Y1 > board.Y1 - 4 && v.Y2 < board.Y2 && (_layout.Circuit.References.Contains(v.Name) || v.Name is "ESP32 board" or "clock module");
        var left = _box.Volumes.Where(OnIt).Where(v => v.Z2 - v.Z1 > 0.2).Select(v => Body(v, board)).ToList();
        var order = new List<Volume>();
        while (left.Count > 0)
        {
            // One that nothing else has to be drawn before; a ring of three that hide each other is cut at the farthest.
            var next = left.FirstOrDefault(v => left.All(o => o == v || !Before(o, v))) ?? left.MinBy(v => v.X1 + v.Y1)!;
            order.Add(next);
            left.Remove(next);
        }

        return order;
    }

    /// <summary>The picture, about 200 mm wide.</summary>
    public string Draw()
    {
        _out.Clear();
        var edge = _layout.Outline;
        _out.Append("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"230mm\" height=\"160mm\" viewBox=\"-106 -16 230 160\" font-family=\"DejaVu Sans, Verdana, sans-serif\">\n<rect x=\"-106\" y=\"-16\" width=\"230\" height=\"160\" fill=\"#fff\"/>\n");
        Face("#1d4a33", (edge.X1, edge.Y2, 0), (edge.X2, edge.Y2, 0), (edge.X2, edge.Y2, -Thick), (edge.X1, edge.Y2, -Thick));
        Face("#163a28", (edge.X2, edge.Y1, 0), (edge.X2, edge.Y2, 0), (edge.X2, edge.Y2, -Thick), (edge.X2, edge.Y1, -Thick));
        Face("#2f7d54", (edge.X1, edge.Y1, 0), (edge.X2, edge.Y1, 0), (edge.X2, edge.Y2, 0), (edge.X1, edge.Y2, 0));
        foreach (var f in _layout.Features)
        {
            if (f.Kind == "slot")
            {
                Face("#fff", (f.X1, f.Y1, 0), (f.X2, f.Y1, 0), (f.X2, f.Y2, 0), (f.X1, f.Y2, 0));
                Face("#163a28", (f.X1, f.Y1, 0), (f.X1, f.Y2, 0), (f.X1, f.Y2, -Thick), (f.X1, f.Y1, -Thick));
            }
            else if (f.Kind == "hole")
            {
                Disc("#fff", f.X1, f.Y1, f.X2 / 2);
            }
            else if (f.Kind == "guard")
            {
                Outline("#d9b84a", 0.5, (f.X1, f.Y1, 0), (f.X2, f.Y1, 0), (f.X2, f.Y2, 0), (f.X1, f.Y2, 0));
            }
            else if (f.Kind == "text")
            {
                OnTop(f.X1, f.Y1, 0, f.Name, f.X2 * 0.9, "#fff", f.Y2 > 0);
            }
        }

        foreach (var pad in _layout.Pads)
        {
            Disc("#d9c58a", pad.X, pad.Y, pad.Radius);
            Disc("#40331a", pad.X, pad.Y, pad.Drill / 2);
        }

        foreach (var volume in Standing())
        {
            Stand(volume);
        }

        return _out.Append("</svg>\n").ToString();
    }

    // The room of a part is a little more than the part; a header for wires is its strip, without the wires.
    private Volume Body(Volume v, Volume board)
    {
        var wires = _layout.Circuit.References.Contains(v.Name) && _layout.Circuit.PartOf(v.Name) is { Package: "panel" or "wires" or "module", Mount: not "socket" };
        var top = wires ? 3 : v.Z2 - board.Z2;
        return new(v.Name, v.X1 - board.X1 + 0.3, v.Y1 - board.Y1 + 0.3, v.Z1 - board.Z2, v.X2 - board.X1 - 0.3, v.Y2 - board.Y1 - 0.3, top);
    }

    private static bool Before(Volume a, Volume b) => Apart(a, b) && (a.X2 <= b.X1 + 0.01 || a.Y2 <= b.Y1 + 0.01 || a.Z2 <= b.Z1 + 0.01) && !(b.X2 <= a.X1 + 0.01 || b.Y2 <= a.Y1 + 0.01 || b.Z2 <= a.Z1 + 0.01);

    /// <summary>True when the two may hide each other in the picture.</summary>
    private static bool Apart(Volume a, Volume b)
    {
        (double L, double R, double T, double B) Seen(Volume v) => ((v.X1 - v.Y2) * Cos, (v.X2 - v.Y1) * Cos, (v.X1 + v.Y1) * Sin - v.Z2, (v.X2 + v.Y2) * Sin - v.Z1);
        var (p, q) = (Seen(a), Seen(b));
        return p.L < q.R && q.L < p.R && p.T < q.B && q.T < p.B;
    }

    private void Stand(Volume v)
    {
        var kind = _layout.Circuit.References.Contains(v.Name) ? _layout.Circuit.PartOf(v.Name).Kind : v.Name;
        if (kind == "board")
        {
            // Two sockets: the module that stands in them is a volume of its own.
            foreach (var row in _layout.Pads.Where(p => p.Pin.Reference == v.Name).GroupBy(p => p.Y))
            {
                Block(new(v.Name, row.Min(p => p.X) - 1.3, row.Key - 1.3, 0, row.Max(p => p.X) + 1.3, row.Key + 1.3, 8.5), "#3a3a3a");
            }

            return;
        }

        var colour = kind switch
        {
            "resistor" => "#7fb2d6",
            "capacitor" => "#e0a23c",
            "capacitor-polar" => "#4a5a7a",
            "diode" => "#b5553c",
            "npn" or "pnp" or "reference" or "regulator" => "#444",
            "opto" => "#e8e8e0",
            "fuse" => "#e6c94a",
            "ESP32 board" => "#27303a",
            "clock module" => "#3557a0",
            _ => "#3a3a3a",
        };
        if (kind == "capacitor-polar")
        {
            var (x, y, r) = ((v.X1 + v.X2) / 2, (v.Y1 + v.Y2) / 2, (v.X2 - v.X1) / 2);
            Cylinder(x, y, r, v.Z2, colour);
            return;
        }

        Block(v, colour);
        if (kind is "opto" or "ESP32 board" or "clock module" or "fuse")
        {
            OnTop((v.X1 + v.X2) / 2, (v.Y1 + v.Y2) / 2, v.Z2, v.Name, kind is "opto" or "fuse" ? 2.2 : 4, kind is "opto" or "fuse" ? "#222" : "#fff", false);
        }
    }

    private void Block(Volume v, string colour)
    {
        Face(Shade(colour, 1), (v.X1, v.Y1, v.Z2), (v.X2, v.Y1, v.Z2), (v.X2, v.Y2, v.Z2), (v.X1, v.Y2, v.Z2));
        Face(Shade(colour, 0.8), (v.X1, v.Y2, v.Z2), (v.X2, v.Y2, v.Z2), (v.X2, v.Y2, v.Z1), (v.X1, v.Y2, v.Z1));
        Face(Shade(colour, 0.62), (v.X2, v.Y1, v.Z2), (v.X2, v.Y2, v.Z2), (v.X2, v.Y2, v.Z1), (v.X2, v.Y1, v.Z1));
    }

    private void Cylinder(double x, double y, double r, double z, string colour)
    {
        var ((cx, low), (_, top)) = (P((x, y, 0)), P((x, y, z)));
        var (rx, ry) = (r * Scale * Cos * Math.Sqrt(2), r * Scale * Sin * Math.Sqrt(2));
        _out.Append($"<path d=\"M{N(cx - rx)} {N(top)}V{N(low)}A{N(rx)} {N(ry)} 0 0 0 {N(cx + rx)} {N(low)}V{N(top)}Z\" fill=\"{Shade(colour, 0.75)}\" stroke=\"#222\" stroke-width=\"0.15\"/><ellipse cx=\"{N(cx)}\" cy=\"{N(top)}\" rx=\"{N(rx)}\" ry=\"{N(ry)}\" fill=\"{Shade(colour, 1.2)}\" stroke=\"#222\" stroke-width=\"0.15\"/>\n");
    }

    private void Disc(string colour, double x, double y, double r)
    {
        var (cx, cy) = P((x, y, 0));
        _out.Append($"<ellipse cx=\"{N(cx)}\" cy=\"{N(cy)}\" rx=\"{N(r * Scale * Cos * Math.Sqrt(2))}\" ry=\"{N(r * Scale * Sin * Math.Sqrt(2))}\" fill=\"{colour}\"/>\n");
    }

    private void OnTop(double x, double y, double z, string text, double size, string colour, bool upright)
    {
        var (cx, cy) = P((x, y, z));
        var (a, b, c, d) = upright ? (Cos, -Sin, Cos, Sin) : (Cos, Sin, -Cos, Sin);
        _out.Append($"<text transform=\"matrix({N(a * Scale)} {N(b * Scale)} {N(c * Scale)} {N(d * Scale)} {N(cx)} {N(cy)})\" font-size=\"{N(size)}\" fill=\"{colour}\" text-anchor=\"middle\" dy=\"0.36em\">{WebUtility.HtmlEncode(text)}</text>\n");
    }

    private void Face(string colour, params (double X, double Y, double Z)[] corners) =>
        _out.Append($"<path d=\"M{string.Join("L", corners.Select(Xy))}Z\" fill=\"{colour}\" stroke=\"#222\" stroke-width=\"0.15\" stroke-linejoin=\"round\"/>\n");

    private void Outline(string colour, double width, params (double X, double Y, double Z)[] corners) =>
        _out.Append($"<path d=\"M{string.Join("L", corners.Select(Xy))}Z\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{N(width)}\"/>\n");

    private static string Shade(string colour, double by)
    {
        var hex = colour.Length == 4 ? $"{colour[1]}{colour[1]}{colour[2]}{colour[2]}{colour[3]}{colour[3]}" : colour[1..];
        return "#" + string.Concat(Enumerable.Range(0, 3).Select(i => ((int)Math.Min(255, int.Parse(hex.AsSpan(2 * i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) * by)).ToString("x2", CultureInfo.InvariantCulture)));
    }

    private static (double X, double Y) P((double X, double Y, double Z) p) => ((p.X - p.Y) * Cos * Scale, ((p.X + p.Y) * Sin - p.Z) * Scale);

    private static string Xy((double X, double Y, double Z) p) => $"{N(P(p).X)} {N(P(p).Y)}";

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
