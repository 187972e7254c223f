using System.Globalization;
using System.Net;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>One hole of a face of the box, in millimetres from the face's upper left corner.</summary>
public sealed record PanelHole(string Face, string Reference, string Label, double X, double Y, bool Round, double Width, double Height, double Head, double Body, double Depth, string Note);

/// <summary>The drilling drawing, at true size when printed at 100 %.</summary>
public static class PanelPicture
{
    /// <summary>Faces of the box with their sizes in millimetres.</summary>
    public static readonly IReadOnlyList<(string Face, double Width, double Height)> Faces = [("lid", 176, 104), ("left end", 104, 70), ("right end", 104, 70)];

    /// <summary>Reads panel.csv.</summary>
    public static IReadOnlyList<PanelHole> Load(string folder) => Table.Read(folder, "panel.csv").Select(r => new PanelHole(
        r["face"], r["reference"], r["label"], D(r["x"]), D(r["y"]), r["hole"] == "round", D(r["width"]), D(r["height"]), D(r["head"]), D(r["body"]), D(r["depth"]), r["note"])).ToList();

    /// <summary>All faces but the upper wall, which has a sheet of its own, on one A4 sheet, landscape.</summary>
    public static string Draw(IReadOnlyList<PanelHole> holes)
    {
        var text = new StringBuilder("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"277mm\" height=\"197mm\" viewBox=\"0 0 277 197\" font-family=\"DejaVu Sans, Verdana, sans-serif\">\n<rect width=\"277\" height=\"197\" fill=\"#fff\"/>\n");
        text.Append("<text x=\"80\" y=\"9\" font-size=\"4\" font-weight=\"bold\">Holes of the box 1:1, millimetres, seen from outside</text>\n");
        var origins = new[] { (4.0, 12.0), (4.0, 125.0), (112.0, 125.0) };
        for (var f = 0; f < Faces.Count; f++)
        {
            var (face, width, height) = Faces[f];
            var (ox, oy) = origins[f];
            text.Append($"<text x=\"{N(ox)}\" y=\"{N(oy - 3)}\" font-size=\"4\">{face}, {N(width)} x {N(height)}</text>\n");
            text.Append($"<rect x=\"{N(ox)}\" y=\"{N(oy)}\" width=\"{N(width)}\" height=\"{N(height)}\" rx=\"3\" fill=\"#f6f6f6\" stroke=\"#000\" stroke-width=\"0.3\"/>\n");
            foreach (var h in holes.Where(h => h.Face == face))
            {
                var (x, y) = (ox + h.X, oy + h.Y);
                if (h.Round)
                {
                    text.Append($"<circle cx=\"{N(x)}\" cy=\"{N(y)}\" r=\"{N(h.Head / 2)}\" fill=\"none\" stroke=\"#888\" stroke-width=\"0.25\" stroke-dasharray=\"1.5 1\"/>\n");
                    text.Append($"<circle cx=\"{N(x)}\" cy=\"{N(y)}\" r=\"{N(h.Width / 2)}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.35\"/>\n");
                }
                else
                {
                    text.Append($"<rect x=\"{N(x - h.Width / 2)}\" y=\"{N(y - h.Height / 2)}\" width=\"{N(h.Width)}\" height=\"{N(h.Height)}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.35\"/>\n");
                }

                text.Append($"<path d=\"M{N(x - 3)} {N(y)}H{N(x + 3)}M{N(x)} {N(y - 3)}V{N(y + 3)}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n");
                var reach = Math.Max(h.Head, h.Height) / 2;
                if (h.Label.Length > 0)
                {
                    text.Append($"<text x=\"{N(x)}\" y=\"{N(y - reach - 1.6)}\" font-size=\"4.6\" font-weight=\"bold\" text-anchor=\"middle\">{h.Label}</text>\n");
                }

                var size = h.Round ? $"dia {N(h.Width)}" : $"{N(h.Width)} x {N(h.Height)}";
                text.Append($"<text x=\"{N(x)}\" y=\"{N(y + reach + 3.4)}\" font-size=\"3\" text-anchor=\"middle\">{h.Reference} {size}</text>\n");
                text.Append($"<text x=\"{N(x)}\" y=\"{N(y + reach + 6.8)}\" font-size=\"3\" text-anchor=\"middle\">at {N(h.X)}, {N(h.Y)}</text>\n");
            }
        }

        if (holes.FirstOrDefault(h => h.Face == "upper wall") is { } window)
        {
            text.Append($"<text x=\"184\" y=\"{N(24 + 5 * holes.Count)}\" font-size=\"3.2\">{window.Reference} {window.Label} ({window.Note}):</text>\n");
            text.Append($"<text x=\"184\" y=\"{N(29 + 5 * holes.Count)}\" font-size=\"3.2\">upper wall, and a collar on it: light-window.svg</text>\n");
        }

        // The list beside the lid, and a ruler to check the print.
        var row = 16.0;
        text.Append("<text x=\"184\" y=\"14\" font-size=\"4\" font-weight=\"bold\">Holes (dashed: head of the part)</text>\n");
        foreach (var h in holes.Where(h => Faces.Any(f => f.Face == h.Face)))
        {
            row += 5;
            var name = h.Label.Length > 0 ? $"{h.Reference} {h.Label}" : $"{h.Reference} {h.Note}";
            var tail = h.Label.Length > 0 && h.Note.Length > 0 ? $" ({h.Note})" : "";
            text.Append($"<text x=\"184\" y=\"{N(row)}\" font-size=\"3.2\">{WebUtility.HtmlEncode(name + tail)}</text>\n");
        }

        text.Append("<path d=\"M222 150H272M222 147V153M272 147V153M232 148.5V151.5M242 148.5V151.5M252 148.5V151.5M262 148.5V151.5\" stroke=\"#000\" stroke-width=\"0.3\" fill=\"none\"/>\n");
        text.Append("<text x=\"247\" y=\"159\" font-size=\"4\" text-anchor=\"middle\">50 mm: measure it</text>\n<text x=\"247\" y=\"165\" font-size=\"4\" text-anchor=\"middle\">before you drill</text>\n");
        return text.Append("</svg>\n").ToString();
    }

    private static double D(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
