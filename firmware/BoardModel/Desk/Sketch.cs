using System.Globalization;
using System.Security;
using System.Text;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>A drawing for the page and for a file (SVG 1.1): lines, areas and words on a dark ground. It needs no other file.</summary>
internal sealed class Sketch
{
    /// <summary>Colours by what they mean.</summary>
    public const string Ground = "#16120e", Faint = "#3a3025", Soft = "#b9a78f", Text = "#f1e4d2", Amber = "#ffb454", Sea = "#5fa8b8", Alarm = "#ff7a5c", Night = "#0a0d1a", Dusk = "#1c2036", Day = "#4a3a22";

    private readonly StringBuilder _text = new();

    public Sketch(int width, int height, string title)
    {
        _text.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" font-family=\"'Noto Sans','DejaVu Sans',sans-serif\" font-size=\"15\">");
        _text.Append("<title>").Append(SecurityElement.Escape(title)).Append("</title>");
        Box(0, 0, width, height, Ground);
    }

    public void Box(double x, double y, double width, double height, string fill, double opacity = 1) =>
        _text.Append(CultureInfo.InvariantCulture, $"<rect x=\"{x:F1}\" y=\"{y:F1}\" width=\"{Math.Max(0, width):F1}\" height=\"{Math.Max(0, height):F1}\" fill=\"{fill}\" fill-opacity=\"{opacity}\"/>");

    public void Line(double x1, double y1, double x2, double y2, string stroke, double width = 1, string dash = "") =>
        _text.Append(CultureInfo.InvariantCulture, $"<line x1=\"{x1:F1}\" y1=\"{y1:F1}\" x2=\"{x2:F1}\" y2=\"{y2:F1}\" stroke=\"{stroke}\" stroke-width=\"{width}\"{(dash == "" ? "" : $" stroke-dasharray=\"{dash}\"")}/>");

    public void Curve(IEnumerable<(double X, double Y)> points, string stroke, double width) =>
        _text.Append(CultureInfo.InvariantCulture, $"<polyline points=\"{string.Join(' ', points.Select(p => FormattableString.Invariant($"{p.X:F1},{p.Y:F1}")))}\" fill=\"none\" stroke=\"{stroke}\" stroke-width=\"{width}\"/>");

    public void Area(IEnumerable<(double X, double Y)> points, string fill, double opacity) =>
        _text.Append(CultureInfo.InvariantCulture, $"<polygon points=\"{string.Join(' ', points.Select(p => FormattableString.Invariant($"{p.X:F1},{p.Y:F1}")))}\" fill=\"{fill}\" fill-opacity=\"{opacity}\"/>");

    public void Dot(double x, double y, double radius, string fill, string stroke) =>
        _text.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{x:F1}\" cy=\"{y:F1}\" r=\"{radius:F1}\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"2\"/>");

    public void Words(double x, double y, string words, string fill = Text, string anchor = "start", int size = 15) =>
        _text.Append(CultureInfo.InvariantCulture, $"<text x=\"{x:F1}\" y=\"{y:F1}\" fill=\"{fill}\" text-anchor=\"{anchor}\" font-size=\"{size}\">").Append(SecurityElement.Escape(words)).Append("</text>");

    public string Svg() => _text + "</svg>";
}
