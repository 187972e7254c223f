using System.Globalization;
using System.Net;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>Draws the perforated board from the component side: one picture a step, and one of everything.</summary>
public sealed class BoardPicture
{
    private const double P = 30; // Picture units a hole.
    private const double Left = 46;
    private const double Top = 112;
    private readonly Perfboard _board;
    private readonly StringBuilder _out = new();
    private readonly StringBuilder _labels = new();

    /// <summary>Prepares a picture of one board.</summary>
    public BoardPicture(Perfboard board) => _board = board;

    /// <summary>The picture after a step, with that step in strong colour; step 0 shows everything alike.</summary>
    public string Draw(int step)
    {
        var width = Left + Perfboard.Columns * P + 30;
        var height = Top + Perfboard.Rows * P + 46;
        _out.Clear();
        _labels.Clear();
        _out.Append($"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {N(width)} {N(height)}\" font-family=\"DejaVu Sans, Verdana, sans-serif\">\n");
        _out.Append($"<rect width=\"{N(width)}\" height=\"{N(height)}\" fill=\"#fff\"/>\n");
        var title = step == 0 ? "All parts, component side" : $"Step {step}: {_board.Steps.First(s => s.Number == step).Title}";
        Text(Left, 34, title, 26, "start", "#000", bold: true);
        _out.Append($"<rect x=\"{N(Left - 8)}\" y=\"{N(Top - 8)}\" width=\"{N(Perfboard.Columns * P + 16)}\" height=\"{N(Perfboard.Rows * P + 16)}\" rx=\"6\" fill=\"#f4efe2\" stroke=\"#8a7c5a\" stroke-width=\"2\"/>\n");
        for (var c = 1; c <= Perfboard.Columns; c++)
        {
            Text(X(c), Top - 18, c.ToString(CultureInfo.InvariantCulture), 14, "middle", "#555");
        }

        for (var r = 0; r < Perfboard.Rows; r++)
        {
            Text(Left - 24, Y(r) + 5, ((char)('A' + r)).ToString(), 14, "middle", "#555");
            for (var c = 1; c <= Perfboard.Columns; c++)
            {
                _out.Append($"<circle cx=\"{N(X(c))}\" cy=\"{N(Y(r))}\" r=\"3\" fill=\"#cfc6ad\"/>\n");
            }
        }

        if (step is 0 or >= 9)
        {
            _out.Append($"<rect x=\"{N(X(28) - 12)}\" y=\"{N(Y(18) - 12)}\" width=\"{N(P + 24)}\" height=\"{N(7 * P + 24)}\" fill=\"#fff\" stroke=\"#b00020\" stroke-width=\"2\" stroke-dasharray=\"7 5\"/>\n");
            Text(X(28) + 15, Y(24) + 4, "keep", 15, "middle", "#b00020");
            Text(X(28) + 15, Y(25) + 4, "bare", 15, "middle", "#b00020");
        }

        foreach (var s in _board.Steps.Where(s => step == 0 || s.Number <= step))
        {
            foreach (var reference in s.References)
            {
                Component(reference, step == 0 || s.Number == step);
            }
        }

        foreach (var joint in _board.Joints.Where(j => step != 0 && j.Step == step))
        {
            var (a, b) = (_board.Hole(joint.From), _board.Hole(joint.To));
            var (colour, dash) = Look(joint.Net);
            _out.Append($"<line x1=\"{N(X(a.Column))}\" y1=\"{N(Y(a.Row))}\" x2=\"{N(X(b.Column))}\" y2=\"{N(Y(b.Row))}\" stroke=\"{colour}\" stroke-width=\"4\" stroke-linecap=\"round\" stroke-opacity=\"0.85\"{dash}/>\n");
            foreach (var hole in new[] { a, b })
            {
                _out.Append($"<circle cx=\"{N(X(hole.Column))}\" cy=\"{N(Y(hole.Row))}\" r=\"6\" fill=\"{colour}\"/>\n");
            }
        }

        _out.Append("<g paint-order=\"stroke\" stroke=\"#fff\" stroke-width=\"4\" stroke-linejoin=\"round\">\n").Append(_labels).Append("</g>\n");
        var legend = Top + Perfboard.Rows * P + 36;
        if (step != 0)
        {
            double x = Left;
            foreach (var (name, net) in new[] { ("GND (dashed)", "GND"), ("V33, 3.3 V", "V33"), ("camera side (dotted)", "CAM_HALF"), ("all other wires", "UP") })
            {
                var (colour, dash) = Look(net);
                _out.Append($"<line x1=\"{N(x)}\" y1=\"{N(legend - 5)}\" x2=\"{N(x + 46)}\" y2=\"{N(legend - 5)}\" stroke=\"{colour}\" stroke-width=\"4\"{dash}/>\n");
                Text(x + 54, legend, name, 17, "start", "#000");
                x += 260;
            }
        }

        return _out.Append("</svg>\n").ToString();
    }

    private static (string Colour, string Dash) Look(string net) => net switch
    {
        "GND" => ("#111", " stroke-dasharray=\"10 6\""),
        "V33" => ("#c62828", ""),
        _ when net.StartsWith("CAM_", StringComparison.Ordinal) => ("#00695c", " stroke-dasharray=\"2 7\""),
        _ => ("#1565c0", ""),
    };

    private void Component(string reference, bool now)
    {
        var part = _board.Circuit.PartOf(reference);
        var holes = _board.Circuit.PinsOf(reference).Where(_board.Has).Select(p => (Pin: p, At: _board.Hole(p))).ToList();
        var (stroke, fill, ink) = now ? ("#000", "#ffe9a8", "#000") : ("#b3b3b3", "#f3f3f3", "#9a9a9a");
        var (x1, y1) = (holes.Min(h => X(h.At.Column)), holes.Min(h => Y(h.At.Row)));
        var (x2, y2) = (holes.Max(h => X(h.At.Column)), holes.Max(h => Y(h.At.Row)));
        var (mx, my) = ((x1 + x2) / 2, (y1 + y2) / 2);
        if (part.Mount != "board")
        {
            foreach (var (pin, at) in holes)
            {
                _out.Append($"<rect x=\"{N(X(at.Column) - 9)}\" y=\"{N(Y(at.Row) - 9)}\" width=\"18\" height=\"18\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"2\"/>\n");
                _out.Append($"<circle cx=\"{N(X(at.Column))}\" cy=\"{N(Y(at.Row))}\" r=\"3\" fill=\"{stroke}\"/>\n");
                if (pin.Name != pin.Number.ToString(CultureInfo.InvariantCulture))
                {
                    var beside = y2 > y1;
                    Text(beside ? X(at.Column) + 12 : X(at.Column), beside ? Y(at.Row) + 5 : Y(at.Row) - 11, pin.Name, pin.Name.Length > 3 && !beside ? 9 : 11, beside ? "start" : "middle", ink);
                }
            }

            if (holes[0].At.Row == 0)
            {
                Text(mx, Top - 40, reference, 15, "middle", ink, bold: true);
            }
            else if (y2 > y1)
            {
                Text(mx, y1 - 16, reference, 15, "middle", ink, bold: true);
            }
            else
            {
                Text(x2 + 14, my + 24, reference, 15, "end", ink, bold: true);
            }

            return;
        }

        foreach (var (_, at) in holes.Take(part.Package == "board" ? 0 : 99))
        {
            _out.Append($"<line x1=\"{N(X(at.Column))}\" y1=\"{N(Y(at.Row))}\" x2=\"{N(mx)}\" y2=\"{N(part.Package == "to92" || part.Package == "dip4" ? Y(at.Row) : my)}\" stroke=\"{stroke}\" stroke-width=\"2\"/>\n");
        }

        var upright = y2 - y1 > x2 - x1;
        switch (part.Package)
        {
            case "axial" or "axial-large":
                var (l, w) = part.Package == "axial" ? (66.0, 22.0) : (100.0, 40.0);
                Box(upright ? mx - w / 2 : mx - l / 2, upright ? my - l / 2 : my - w / 2, upright ? w : l, upright ? l : w, fill, stroke);
                if (part.Kind == "diode")
                {
                    var k = holes.First(h => h.Pin.Name == "K").At;
                    var end = upright ? Math.Sign(Y(k.Row) - my) * (l / 2 - 9) : Math.Sign(X(k.Column) - mx) * (l / 2 - 9);
                    Box(upright ? mx - w / 2 : mx + end - 3, upright ? my + end - 3 : my - w / 2, upright ? w : 6, upright ? 6 : w, stroke, stroke);
                }

                break;
            case "radial" when part.Kind != "capacitor-polar":
                Box(upright ? mx - 10 : mx - 22, upright ? my - 22 : my - 10, upright ? 20 : 44, upright ? 44 : 20, fill, stroke);
                break;
            case "radial" or "radial-large":
                var r = part.Package == "radial" ? 24 : 40;
                _out.Append($"<circle cx=\"{N(mx)}\" cy=\"{N(my)}\" r=\"{r}\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"2\"/>\n");
                if (part.Kind == "capacitor-polar")
                {
                    var plus = holes.First(h => h.Pin.Name == "+").At;
                    Text(X(plus.Column) + Math.Sign(X(plus.Column) - mx) * -2, Y(plus.Row) - 12, "+", 20, "middle", ink, bold: true);
                }

                break;
            case "to92":
                // Round back upwards, flat face towards row Z.
                _out.Append($"<path d=\"M{N(x1 - 13)} {N(y1 + 24)}V{N(y1 + 4)}Q{N(x1 - 11)} {N(y1 - 14)} {N(x1 + 12)} {N(y1 - 14)}H{N(x2 - 12)}Q{N(x2 + 11)} {N(y1 - 14)} {N(x2 + 13)} {N(y1 + 4)}V{N(y1 + 24)}Z\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"2\"/>\n");
                break;
            case "dip4":
                Box(x1 + 12, y1 - 16, x2 - x1 - 24, y2 - y1 + 32, fill, stroke);
                var one = holes.First(h => h.Pin.Number == 1).At;
                _out.Append($"<circle cx=\"{N(X(one.Column) + 22)}\" cy=\"{N(Y(one.Row) - 6)}\" r=\"4\" fill=\"{stroke}\"/>\n");
                break;
            case "board":
                Box(X(1) - 12, y1 - 26, X(22) - X(1) + 26, y2 - y1 + 52, now ? "#e8f0fb" : fill, stroke);
                foreach (var (pin, at) in holes)
                {
                    _out.Append($"<circle cx=\"{N(X(at.Column))}\" cy=\"{N(Y(at.Row))}\" r=\"5\" fill=\"{(pin.IsOpen ? "#fff" : stroke)}\" stroke=\"{stroke}\"/>\n");
                    var ty = at.Row == holes[0].At.Row ? Y(at.Row) + 14 : Y(at.Row) - 14;
                    _out.Append($"<text x=\"{N(X(at.Column))}\" y=\"{N(ty + 5)}\" font-size=\"15\" fill=\"{ink}\" text-anchor=\"{(at.Row == holes[0].At.Row ? "end" : "start")}\" transform=\"rotate(-90 {N(X(at.Column))} {N(ty)})\">{pin.Name}</text>\n");
                }

                Text(mx, my + 2, "U1  ESP32 board", 22, "middle", ink, bold: true);
                Text(X(2) - 12, my + 2, "USB", 15, "start", ink);
                Text(X(22), my + 2, "antenna", 15, "end", ink);
                return;
        }

        foreach (var (_, at) in holes)
        {
            _out.Append($"<circle cx=\"{N(X(at.Column))}\" cy=\"{N(Y(at.Row))}\" r=\"4\" fill=\"{stroke}\"/>\n");
        }

        if (upright && part.Package != "dip4")
        {
            _labels.Append($"<text x=\"{N(mx)}\" y=\"{N(my + 5.5)}\" font-size=\"15\" font-weight=\"bold\" fill=\"{ink}\" text-anchor=\"middle\" transform=\"rotate(-90 {N(mx)} {N(my)})\">{reference}</text>\n");
        }
        else
        {
            _labels.Append($"<text x=\"{N(mx)}\" y=\"{N(part.Package == "to92" ? my + 17 : my + 6)}\" font-size=\"{(part.Package == "to92" ? 13 : 16)}\" font-weight=\"bold\" fill=\"{ink}\" text-anchor=\"middle\">{reference}</text>\n");
        }
    }

    private void Box(double x, double y, double w, double h, string fill, string stroke) =>
        _out.Append($"<rect x=\"{N(x)}\" y=\"{N(y)}\" width=\"{N(w)}\" height=\"{N(h)}\" rx=\"4\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"2\"/>\n");

    private void Text(double x, double y, string text, double size, string anchor, string colour, bool bold = false) =>
        _out.Append($"<text x=\"{N(x)}\" y=\"{N(y)}\" font-size=\"{N(size)}\" fill=\"{colour}\" text-anchor=\"{anchor}\"{(bold ? " font-weight=\"bold\"" : "")}>{WebUtility.HtmlEncode(text)}</text>\n");

    private static double X(int column) => Left + (column - 1) * P + P / 2;

    private static double Y(int row) => Top + row * P + P / 2;

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
