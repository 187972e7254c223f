using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>
/// The light sensor's window in the upper wall, and the peak of the lid that keeps lamps on the photographer's side out of it. Angles are
/// counted from the window's axis, which stands square on the upper wall, towards the side to which the lid faces.
/// </summary>
public sealed class LightWindow
{
    private readonly IReadOnlyDictionary<string, double> _f;

    /// <summary>The window of a box with these figures.</summary>
    public LightWindow(BoxModel box)
    {
        _f = box.Figures;
    }

    /// <summary>Millimetres from the underside of the lid down to the far edge of the pane, and to its near edge.</summary>
    public (double Far, double Near) Depth => (Underside - _f["window_z"] + _f["pane"] / 2, Underside - _f["window_z"] - _f["pane"] / 2);

    /// <summary>From this many degrees on the peak hides a lamp from the whole pane.</summary>
    public double HiddenFrom => Degrees(Math.Atan(Depth.Far / _f["peak_length"]));

    /// <summary>Up to this many degrees the peak shades no part of the pane.</summary>
    public double OpenTo => Degrees(Math.Atan(Depth.Near / _f["peak_length"]));

    /// <summary>A lamp so many degrees to the left or right of the middle is still hidden, once it is high enough to be.</summary>
    public double Sideways => Degrees(Math.Atan((_f["peak_width"] - _f["pane"]) / 2 / Depth.Far));

    /// <summary>The highest lamp behind the box that is hidden, in degrees over the horizon, when the lid leans back so many degrees from upright.</summary>
    public double HighestLamp(double lean) => 90 + lean - HiddenFrom;

    /// <summary>Part of the light behind the pane that the chip meets: the opening as it is seen from the chip (sin squared of half its angle).</summary>
    public double Share(double chipHeight, double foam)
    {
        var away = _f["rim"] + foam - chipHeight - _f["pane_thickness"];
        return Math.Pow(Math.Sin(Math.Atan(_f["window"] / 2 / away)), 2);
    }

    /// <summary>The least angle off the axis, in degrees, at which a point of a hole of the lid stands, or what stands proud of it, seen from a corner of the pane; over 90 it lies behind the wall.</summary>
    public double Behind(PanelHole hole, double proud = 0)
    {
        var (half, least) = (_f["pane"] / 2, 180.0);
        foreach (var (px, pz) in new[] { (-half, -half), (-half, half), (half, -half), (half, half) })
        {
            foreach (var (hx, hy) in new[] { (-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5) })
            {
                var (x, y, z) = (hole.X + hx * hole.Width - _f["window_x"] - px, hole.Y + hy * hole.Height, _f["height"] + proud - _f["window_z"] - pz);
                least = Math.Min(least, Degrees(Math.Acos(-y / Math.Sqrt(x * x + y * y + z * z))));
            }
        }

        return least;
    }

    private double Underside => _f["height"] - _f["lid"];

    /// <summary>The drawing to drill by, at true size, and a cut through the window at twice the size.</summary>
    public string Draw(IReadOnlyList<PanelHole> holes)
    {
        var text = new StringBuilder("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"190mm\" height=\"236mm\" viewBox=\"0 0 190 236\" font-family=\"DejaVu Sans, Verdana, sans-serif\">\n<rect width=\"190\" height=\"236\" fill=\"#fff\"/>\n");
        Face(text, holes.Single(h => h.Face == "upper wall"));
        Cut(text);
        return text.Append("</svg>\n").ToString();
    }

    private void Face(StringBuilder text, PanelHole hole)
    {
        var (ox, oy, length, height) = (7.0, 18.0, _f["length"], _f["height"]);
        void Rect(double x, double y, double w, double h, string style) => text.Append($"<rect x=\"{N(ox + x)}\" y=\"{N(oy + y)}\" width=\"{N(w)}\" height=\"{N(h)}\" {style}/>\n");
        void Words(double x, double y, string words, string more = "") => text.Append($"<text x=\"{N(ox + x)}\" y=\"{N(oy + y)}\" font-size=\"3.2\"{more}>{words}</text>\n");
        text.Append($"<text x=\"7\" y=\"9\" font-size=\"4\" font-weight=\"bold\">Upper wall {N(length)} x {N(height)}, 1:1, millimetres, seen from outside with the lid up</text>\n");
        Rect(0, 0, length, height, "rx=\"2\" fill=\"#f6f6f6\" stroke=\"#000\" stroke-width=\"0.3\"");
        Rect(length - _f["window_x"] - _f["peak_width"] / 2, 0, _f["peak_width"], _f["lid"], "fill=\"#555\"");
        text.Append($"<path d=\"M{N(ox)} {N(oy + _f["lid"])}H{N(ox + length)}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n");
        Rect(hole.X - _f["pane"] / 2, hole.Y - _f["pane"] / 2, _f["pane"], _f["pane"], "fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.3\"");
        var (x, y) = (ox + hole.X, oy + hole.Y);
        text.Append($"<circle cx=\"{N(x)}\" cy=\"{N(y)}\" r=\"{N(hole.Width / 2)}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.3\" stroke-dasharray=\"1.5 1\"/>\n<path d=\"M{N(x - 3)} {N(y)}H{N(x + 3)}M{N(x)} {N(y - 3)}V{N(y + 3)}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n");
        Words(hole.X, hole.Y + 13, $"{hole.Reference} {hole.Label}: hole dia {N(hole.Width)} at {N(hole.X)}, {N(hole.Y)}", " text-anchor=\"middle\"");
        Words(hole.X, hole.Y + 17.5, $"pane {N(_f["pane"])} x {N(_f["pane"])} over it", " text-anchor=\"middle\"");
        Words(length - _f["window_x"], -1.5, $"peak {N(_f["peak_width"])} wide, {N(_f["peak_length"])} out from the wall", " text-anchor=\"middle\"");
        Words(4, 40, "A bought box: drill the hole, glue the pane outside over it,");
        Words(4, 44.5, "and a black strip as peak at the same distances.");
        text.Append($"<path d=\"M{N(ox + 4)} {N(oy + 60)}H{N(ox + 54)}M{N(ox + 4)} {N(oy + 57)}V{N(oy + 63)}M{N(ox + 54)} {N(oy + 57)}V{N(oy + 63)}\" stroke=\"#000\" stroke-width=\"0.3\" fill=\"none\"/>\n");
        Words(29, 66, "50 mm: measure it before you drill", " text-anchor=\"middle\"");
    }

    /// <summary>The cut: to the left is outside, upwards the side that the lid faces.</summary>
    private void Cut(StringBuilder text)
    {
        const double scale = 2;
        var (ox, oy, top) = (106.0, 134.0, _f["height"]);
        double X(double y) => ox + scale * y;
        double Y(double z) => oy + scale * (top - z);
        string Box(double y1, double z1, double y2, double z2, string fill) => $"<rect x=\"{N(X(y1))}\" y=\"{N(Y(z2))}\" width=\"{N(scale * (y2 - y1))}\" height=\"{N(scale * (z2 - z1))}\" fill=\"{fill}\" stroke=\"#000\" stroke-width=\"0.25\"/>\n";
        void Words(double y, double z, string words, string more = "") => text.Append($"<text x=\"{N(X(y))}\" y=\"{N(Y(z))}\" font-size=\"3.2\"{more}>{words}</text>\n");
        var (middle, half, pocket) = (_f["window_z"], _f["pane"] / 2, _f["pane_thickness"]);
        var low = middle - _f["boss"] / 2 - (_f["rim"] - _f["wall"]);
        text.Append("<text x=\"7\" y=\"101\" font-size=\"4\" font-weight=\"bold\">Cut through the window, 2:1</text>\n");
        // Wall and boss, with the opening cut out; rim and groove are left to the model.
        text.Append($"<path d=\"M{N(X(0))} {N(Y(Underside))}H{N(X(_f["rim"]))}V{N(Y(middle - _f["boss"] / 2))}L{N(X(_f["wall"]))} {N(Y(low))}V{N(Y(30))}H{N(X(0))}Z\" fill=\"#999\" stroke=\"#000\" stroke-width=\"0.25\"/>\n");
        text.Append(Box(pocket, middle - _f["window"] / 2, _f["rim"], middle + _f["window"] / 2, "#fff"));
        text.Append(Box(-_f["peak_length"], Underside, 24, top, "#777"));
        text.Append(Box(0, middle - half, pocket, middle + half, "#dff0ff"));
        text.Append(Box(_f["rim"], middle - 10.5, 9, middle - 5.5, "#222")).Append(Box(_f["rim"], middle + 5.5, 9, middle + 10.5, "#222"));
        text.Append(Box(9, middle - 10.5, 10.6, middle + 10.5, "#3557a0")).Append(Box(6, middle - 3.4, 9, middle + 3.4, "#444"));
        // Rays: the axis, the last angle at which the peak shades nothing, and the first at which it hides all.
        void Ray(double z, double angle, double length, string colour, string dash) => text.Append($"<path d=\"M{N(X(0))} {N(Y(z))}L{N(X(-length * Math.Cos(angle * Math.PI / 180)))} {N(Y(z + length * Math.Sin(angle * Math.PI / 180)))}\" stroke=\"{colour}\" stroke-width=\"0.4\" fill=\"none\"{dash}/>\n");
        Ray(middle, 0, 46, "#000", " stroke-dasharray=\"4 1.5 1 1.5\"");
        Ray(middle - half, HiddenFrom, 44, "#c00000", "");
        Ray(middle + half, OpenTo, 44, "#2f7d54", "");
        Words(-49, middle - 2.5, "axis: the sky in front and above");
        Words(-49, top + 12.5, $"red, {Math.Ceiling(HiddenFrom):0} degrees off the axis: from here on the peak hides a lamp", " fill=\"#c00000\"");
        Words(-49, top + 10.5, "on this side from the whole pane", " fill=\"#c00000\"");
        Words(-49, top + 7.5, $"green, {Math.Floor(OpenTo):0} degrees: up to here it shades nothing", " fill=\"#2f7d54\"");
        Words(-24, top + 1.2, "peak of the lid, matt black below");
        Words(4, top + 4, "lid: display and buttons are on this side");
        void Name(double y, double z, double toY, double toZ, string words) { text.Append($"<path d=\"M{N(X(y))} {N(Y(z))}L{N(X(toY))} {N(Y(toZ))}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n"); Words(toY + 0.5, toZ - 0.6, words); }
        Name(8, middle + 8, 16, 62, "foam 3 mm, pressed to 2.2");
        Name(10, middle + 2, 16, 57, "sensor module A3");
        Name(7.5, middle, 16, 52, "its chip, in the opening");
        Name(1.5, middle - 3, 16, 46, $"opal pane {N(pocket)} mm, in silicone");
        Name(5, middle - 10, 16, 41, $"upper wall, {N(_f["rim"])} mm here");
        Words(-49, 25, "Put silicone on the ledge all round, press the pane in until it is flush, wipe off what comes out.");
        Words(-49, 22.5, "No silicone on the middle of the pane. Black paint on the ledge and in the hole if the print is not black.");
    }

    private static double Degrees(double radians) => radians * 180 / Math.PI;

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
