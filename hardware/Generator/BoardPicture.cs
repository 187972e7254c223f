using System.Globalization;
using System.Net;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>
/// Draws the printed circuit board from the component side: one picture a step, and one of everything. There are no wires in these
/// pictures, as the board itself makes every connection; wires only lead to the parts of the lid, from pads with names.
/// </summary>
public sealed class BoardPicture
{
    private readonly Layout _layout;
    private readonly StringBuilder _out = new();

    /// <summary>Prepares a picture of one board.</summary>
    public BoardPicture(Layout layout) => _layout = layout;

    /// <summary>The picture after a step, with that step's parts in strong colour; step 0 shows everything alike.</summary>
    public string Draw(int step)
    {
        var edge = _layout.Outline;
        _out.Clear();
        _out.Append($"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-2 -9 {N(edge.X2 + 4)} {N(edge.Y2 + 15)}\" font-family=\"DejaVu Sans, Verdana, sans-serif\">\n");
        _out.Append($"<rect x=\"-2\" y=\"-9\" width=\"{N(edge.X2 + 4)}\" height=\"{N(edge.Y2 + 15)}\" fill=\"#fff\"/>\n");
        Text(0, -3.5, step == 0 ? "All parts, component side" : $"Step {step}: {_layout.Steps.First(s => s.Number == step).Title}", 3.2, "start", "#000", bold: true);
        _out.Append($"<rect width=\"{N(edge.X2)}\" height=\"{N(edge.Y2)}\" rx=\"1\" fill=\"#eef5ee\" stroke=\"#2e5e3e\" stroke-width=\"0.4\"/>\n");
        foreach (var f in _layout.Features)
        {
            if (f.Kind == "slot")
            {
                _out.Append($"<rect x=\"{N(f.X1)}\" y=\"{N(f.Y1)}\" width=\"{N(f.X2 - f.X1)}\" height=\"{N(f.Y2 - f.Y1)}\" fill=\"#fff\" stroke=\"#b00020\" stroke-width=\"0.3\" stroke-dasharray=\"1 0.6\"/>\n");
                Text((f.X1 + f.X2) / 2, f.Y2 - 1.2, "slot", 1.6, "middle", "#b00020");
            }
            else if (f.Kind == "hole")
            {
                _out.Append($"<circle cx=\"{N(f.X1)}\" cy=\"{N(f.Y1)}\" r=\"{N(f.X2 / 2)}\" fill=\"#fff\" stroke=\"#2e5e3e\" stroke-width=\"0.3\"/>\n");
            }
            else if (f.Kind == "guard")
            {
                _out.Append($"<rect x=\"{N(f.X1)}\" y=\"{N(f.Y1)}\" width=\"{N(f.X2 - f.X1)}\" height=\"{N(f.Y2 - f.Y1)}\" fill=\"none\" stroke=\"#c9a227\" stroke-width=\"0.5\"/>\n");
            }
            else if (f.Kind == "text")
            {
                _out.Append($"<text x=\"{N(f.X1)}\" y=\"{N(f.Y1)}\" font-size=\"1.8\" fill=\"#2e5e3e\" text-anchor=\"middle\" dy=\"0.36em\" transform=\"rotate({N(-f.Y2)} {N(f.X1)} {N(f.Y1)})\">{WebUtility.HtmlEncode(f.Name)}</text>\n");
            }
        }

        foreach (var pad in _layout.Pads)
        {
            Copper(pad, "#d9c58a", "#fff");
        }

        foreach (var s in _layout.Steps.Where(s => step == 0 || s.Number <= step))
        {
            foreach (var reference in s.References)
            {
                Part(reference, step == 0 || s.Number == step);
            }
        }

        foreach (var reference in _layout.Circuit.References.Where(r => _layout.Circuit.PartOf(r).Kind == "test-pad"))
        {
            var pad = _layout.Pads.First(p => p.Pin.Reference == reference);
            var beside = pad.X > 92;
            Text(beside ? pad.X - 1.4 : pad.X, beside ? pad.Y + 0.4 : pad.Y - 1.5, pad.Pin.Net, 1.3, beside ? "end" : "middle", "#2e5e3e", bold: true);
        }

        Text(0, edge.Y2 + 4, "Square pad: pin 1.  Yellow line: bare guard ring.  Camera side: everything left of the slot.", 2, "start", "#000");
        return _out.Append("</svg>\n").ToString();
    }

    private void Copper(BoardPad pad, string colour, string hole)
    {
        var (w, h) = (pad.Width, pad.Height);
        _out.Append(pad.Shape == "rect"
            ? $"<rect x=\"{N(pad.X - w / 2)}\" y=\"{N(pad.Y - h / 2)}\" width=\"{N(w)}\" height=\"{N(h)}\" fill=\"{colour}\"/>"
            : $"<circle cx=\"{N(pad.X)}\" cy=\"{N(pad.Y)}\" r=\"{N(w / 2)}\" fill=\"{colour}\"/>");
        _out.Append($"<circle cx=\"{N(pad.X)}\" cy=\"{N(pad.Y)}\" r=\"{N(pad.Drill / 2)}\" fill=\"{hole}\"/>\n");
    }

    private void Part(string reference, bool now)
    {
        var part = _layout.Circuit.PartOf(reference);
        var place = _layout.PlaceOf(reference);
        var footprint = Footprint.Load(part.Footprint);
        var pads = _layout.Pads.Where(p => p.Pin.Reference == reference).ToList();
        var (ink, fill) = now ? ("#000", part.Kind == "board" ? "#dbe7fb" : "#ffdf80") : ("#a9a9a9", "#f4f4f4");
        var shapes = footprint.Root.Items.Where(i => i.Head is "fp_line" or "fp_circle" or "fp_arc").ToList();
        if (part.Kind == "board")
        {
            var (x1, y1, x2, y2) = (pads.Min(p => p.X) - 1.7, pads.Min(p => p.Y) - 1.3, pads.Max(p => p.X) + 7, pads.Max(p => p.Y) + 1.3);
            _out.Append($"<rect x=\"{N(x1)}\" y=\"{N(y1)}\" width=\"{N(x2 - x1)}\" height=\"{N(y2 - y1)}\" rx=\"1\" fill=\"{fill}\" fill-opacity=\"0.55\" stroke=\"{ink}\" stroke-width=\"0.3\"/>\n");
            foreach (var pad in pads)
            {
                Copper(pad, now ? "#8a6d1a" : "#d9c58a", "#fff");
                var top = pad.Y < (y1 + y2) / 2;
                _out.Append($"<text x=\"{N(pad.X)}\" y=\"{N(pad.Y)}\" font-size=\"1.4\" fill=\"{ink}\" text-anchor=\"{(top ? "end" : "start")}\" dy=\"0.36em\" transform=\"rotate(-90 {N(pad.X)} {N(pad.Y)}) translate({(top ? "-1.4" : "1.4")} 0)\">{pad.Pin.Name}</text>\n");
            }

            Text((x1 + x2) / 2, (y1 + y2) / 2, "U1, in sockets", 2.4, "middle", ink, bold: true);
            Text(x1 + 1, (y1 + y2) / 2, "USB", 1.8, "start", ink);
            Text(x2 - 1, (y1 + y2) / 2, "antenna", 1.8, "end", ink);
            return;
        }

        Body(shapes, place, fill);
        foreach (var shape in shapes.Where(s => s.Find("layer")!.Text(1) == "F.SilkS"))
        {
            Graphic(shape, place, ink);
        }

        foreach (var pad in pads)
        {
            Copper(pad, now ? "#8a6d1a" : "#d9c58a", "#fff");
            if (part.Package is "module" or "panel" or "wires")
            {
                var plain = pad.Pin.Name == pad.Pin.Number.ToString(CultureInfo.InvariantCulture);
                var name = !plain ? pad.Pin.Name : pad.Pin.Net == "GND" ? "GND" : "";
                var (nx, ny) = Layout.Turn(place, -1.4, 0);
                var (dx, dy) = (nx - place.X, ny - place.Y);
                Text(pad.X + dx, pad.Y + dy + (dy > 0 ? 1.2 : dy < 0 ? -0.2 : 0.5), name, 1.25, dx < 0 ? "end" : dx > 0 ? "start" : "middle", ink);
            }
        }

        var (mx, my) = (pads.Average(p => p.X), pads.Average(p => p.Y));
        if (part.Package is "module" or "panel" or "wires")
        {
            var (rx, ry) = place.Rotation == 90 ? (pads[^1].X + 1.6, my + 0.6) : (mx, pads.Min(p => p.Y) - 1.5);
            Text(rx, ry, reference, 1.5, place.Rotation == 90 ? "start" : "middle", ink, bold: true);
        }
        else if (part.Package == "to92")
        {
            var (rx, ry) = Layout.Turn(place, 2.54, -1.6);
            Text(rx, ry + 0.5, reference, 1.4, "middle", ink, bold: true);
        }
        else if (part.Kind == "capacitor-polar")
        {
            Text(mx, my + (part.Package == "radial" ? 4.2 : 4.9), $"{reference} {part.Value}", 1.4, "middle", ink, bold: true);
        }
        else
        {
            var upright = place.Rotation is 90 or 270 && part.Package != "dip4";
            var name = reference + (part.Kind == "resistor" ? " " + part.Value : "");
            _out.Append($"<text x=\"{N(mx)}\" y=\"{N(my)}\" font-size=\"{(name.Length > 7 ? "1.2" : "1.4")}\" font-weight=\"bold\" fill=\"{ink}\" text-anchor=\"middle\" dy=\"0.36em\"{(upright ? $" transform=\"rotate(-90 {N(mx)} {N(my)})\"" : "")}>{name}</text>\n");
        }
    }

    /// <summary>The body of the part, filled: the box round its outline as the library draws it.</summary>
    private void Body(List<Node> shapes, Place place, string fill)
    {
        var fab = shapes.Where(s => s.Find("layer")!.Text(1) == "F.Fab").ToList();
        if (fab.FirstOrDefault(s => s.Head == "fp_circle") is { } round)
        {
            var (cx, cy) = Layout.Turn(place, round.Find("center")!.Number(1), round.Find("center")!.Number(2));
            _out.Append($"<circle cx=\"{N(cx)}\" cy=\"{N(cy)}\" r=\"{N(Math.Abs(round.Find("end")!.Number(1) - round.Find("center")!.Number(1)))}\" fill=\"{fill}\"/>\n");
            return;
        }

        // Lines along the axis of a lead are no body.
        var points = fab.SelectMany(s => new[] { s.Find("start")!, s.Find("end")! }).Where(p => p.Number(2) != 0 || shapes.Count < 8).Select(p => Layout.Turn(place, p.Number(1), p.Number(2))).ToList();
        var (x, y) = (points.Min(p => p.X), points.Min(p => p.Y));
        _out.Append($"<rect x=\"{N(x)}\" y=\"{N(y)}\" width=\"{N(points.Max(p => p.X) - x)}\" height=\"{N(points.Max(p => p.Y) - y)}\" fill=\"{fill}\"/>\n");
    }

    private void Graphic(Node shape, Place place, string ink)
    {
        (double X, double Y) At(string name) => Layout.Turn(place, shape.Find(name)!.Number(1), shape.Find(name)!.Number(2));
        var look = $"fill=\"none\" stroke=\"{ink}\" stroke-width=\"0.2\"";
        switch (shape.Head)
        {
            case "fp_circle":
                var (c, e) = (At("center"), At("end"));
                _out.Append($"<circle cx=\"{N(c.X)}\" cy=\"{N(c.Y)}\" r=\"{N(Math.Sqrt(Math.Pow(e.X - c.X, 2) + Math.Pow(e.Y - c.Y, 2)))}\" {look}/>\n");
                break;
            case "fp_line":
                _out.Append($"<line x1=\"{N(At("start").X)}\" y1=\"{N(At("start").Y)}\" x2=\"{N(At("end").X)}\" y2=\"{N(At("end").Y)}\" {look}/>\n");
                break;
            default:
                // Through three points: a quadratic curve is near enough for a picture.
                var (s, m, t) = (At("start"), At("mid"), At("end"));
                _out.Append($"<path d=\"M{N(s.X)} {N(s.Y)}Q{N(2 * m.X - (s.X + t.X) / 2)} {N(2 * m.Y - (s.Y + t.Y) / 2)} {N(t.X)} {N(t.Y)}\" {look}/>\n");
                break;
        }
    }

    private void Text(double x, double y, string text, double size, string anchor, string colour, bool bold = false) =>
        _out.Append($"<text x=\"{N(x)}\" y=\"{N(y)}\" font-size=\"{N(size)}\" fill=\"{colour}\" text-anchor=\"{anchor}\"{(bold ? " font-weight=\"bold\"" : "")}>{WebUtility.HtmlEncode(text)}</text>\n");

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
