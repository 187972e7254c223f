using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>
/// The light sensor's window in the upper wall, and the collar on it that carries the pane: its top is slanted, so that the pane is level on a leg
/// of a tripod, and it stands higher than the lid. On the side of the lid, where the photographer stands, it has no rim, and all of the pane's edge stands free.
/// </summary>
public sealed class LightWindow
{
    private readonly IReadOnlyDictionary<string, double> _f;

    /// <summary>The window of a box with these figures.</summary>
    public LightWindow(BoxModel box)
    {
        _f = box.Figures;
    }

    /// <summary>By so many degrees the edge of the lid lies below the plane of the pane, seen from the edge of the pane that is nearest to it.</summary>
    public double LidBelow
    {
        get
        {
            var (y, z) = Slanted(_f["pane"] / 2, _f["pane_thickness"]);
            var (along, below) = OnPane(0 - y, _f["height"] - _f["window_z"] - z);
            return Degrees(Math.Atan2(-below, along));
        }
    }

    /// <summary>So many degrees over the plane of the pane the rim reaches, seen from the foot of the pane's free edge: lower light does not meet all of the edge.</summary>
    public double RimTo => Degrees(Math.Atan((_f["pane_thickness"] - _f["pane_bed"]) / RimAway));

    /// <summary>Light from so many degrees below the plane of the pane just meets the upper end of the edge on the side of the lid, past the end of the plate.</summary>
    public double PlateHides => Degrees(Math.Atan(_f["pane_thickness"] / ((_f["collar_side"] - _f["pane"]) / 2)));

    /// <summary>Millimetres from the edge of the pane to the rim.</summary>
    public double RimAway => (_f["collar_side"] - _f["pane"]) / 2 - _f["rim_wall"];

    /// <summary>
    /// Part of the light that comes through the pane into the bore which meets the plane of the chip: a tube with a matt white wall between
    /// the pane, which sends half of what comes back down again, and a black end. View factors of two equal discs (standard tables of heat transfer).
    /// </summary>
    /// <param name="chipHeight">Height of the chip over its board, millimetres.</param>
    /// <param name="foam">Thickness of the pressed foam, millimetres.</param>
    /// <param name="white">Part of the light that the wall throws back.</param>
    public double Share(double chipHeight, double foam, double white)
    {
        const double pane = 0.5;
        var (radius, length) = (_f["window"] / 2, _f["collar_height"] + _f["rim"] + foam - chipHeight);
        var x = 2 + length * length / (radius * radius);
        var across = (x - Math.Sqrt(x * x - 4)) / 2;
        var toEnd = (1 - across) * radius / (2 * length);
        // What leaves the wall: from the pane, from the pane again, and from the wall itself.
        var wall = white * (1 - across) / (1 - white * (1 - across) * pane * toEnd - white * (1 - 2 * toEnd));
        return across * (1 + pane * toEnd * wall) + toEnd * wall;
    }

    /// <summary>The least angle off the axis of the pane, in degrees, at which a point of a hole of the lid stands, or what stands proud of it, seen from the middle of the pane; over 90 it lies below the pane's plane.</summary>
    public double Behind(PanelHole hole, double proud = 0)
    {
        var (least, (py, pz)) = (180.0, Slanted(0, _f["pane_thickness"]));
        foreach (var (hx, hy) in new[] { (-0.5, -0.5), (-0.5, 0.5), (0.5, -0.5), (0.5, 0.5) })
        {
            var (x, y, z) = (hole.X + hx * hole.Width - _f["window_x"], -(hole.Y + hy * hole.Height) - py, _f["height"] + proud - _f["window_z"] - pz);
            var (_, above) = OnPane(y, z);
            least = Math.Min(least, Degrees(Math.Acos(above / Math.Sqrt(x * x + y * y + z * z))));
        }

        return least;
    }

    private double Underside => _f["height"] - _f["lid"];

    /// <summary>From a place along the slanted top (towards the lid, and square to it from the pane's underside) to the wall: out of it, and towards the lid.</summary>
    private (double Y, double Z) Slanted(double along, double above)
    {
        var (sin, cos) = Math.SinCos(_f["collar_slant"] * Math.PI / 180);
        return (_f["collar_height"] - along * sin + above * cos, along * cos + above * sin);
    }

    /// <summary>A direction out of the wall and towards the lid, along the slanted top and square to it.</summary>
    private (double Along, double Above) OnPane(double y, double z)
    {
        var (sin, cos) = Math.SinCos(_f["collar_slant"] * Math.PI / 180);
        return (-y * sin + z * cos, y * cos + z * sin);
    }

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
        Rect(hole.X - _f["collar_side"] / 2, hole.Y - _f["collar_side"] / 2, _f["collar_side"], _f["collar_side"], "fill=\"none\" stroke=\"#888\" stroke-width=\"0.3\" stroke-dasharray=\"2 1\"");
        text.Append($"<path d=\"M{N(ox)} {N(oy + _f["lid"])}H{N(ox + length)}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n");
        Rect(hole.X - _f["pane"] / 2, hole.Y - _f["pane"] / 2, _f["pane"], _f["pane"], "fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.3\"");
        var (x, y) = (ox + hole.X, oy + hole.Y);
        text.Append($"<circle cx=\"{N(x)}\" cy=\"{N(y)}\" r=\"{N(hole.Width / 2)}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.3\" stroke-dasharray=\"1.5 1\"/>\n<path d=\"M{N(x - 3)} {N(y)}H{N(x + 3)}M{N(x)} {N(y - 3)}V{N(y + 3)}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n");
        Words(hole.X, hole.Y + 13, $"{hole.Reference} {hole.Label}: hole dia {N(hole.Width)} at {N(hole.X)}, {N(hole.Y)}", " text-anchor=\"middle\"");
        Words(4, -1.5, "Dashed: about so far the collar reaches");
        Words(4, 45, "A bought box: drill the hole, print the collar, saw off its foot");
        Words(4, 49.5, "and glue it over the hole, its low side towards the lid.");
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
        var (middle, half, thick, pocket) = (_f["window_z"], _f["pane"] / 2, _f["pane_thickness"], _f["collar_pocket"]);
        var low = middle - _f["boss"] / 2 - (_f["rim"] - _f["wall"]);
        text.Append("<text x=\"7\" y=\"101\" font-size=\"4\" font-weight=\"bold\">Cut through the window, 2:1</text>\n");
        // Wall and boss, with the opening cut out; rim and groove are left to the model.
        text.Append($"<path d=\"M{N(X(0))} {N(Y(Underside))}H{N(X(_f["rim"]))}V{N(Y(middle - _f["boss"] / 2))}L{N(X(_f["wall"]))} {N(Y(low))}V{N(Y(30))}H{N(X(0))}Z\" fill=\"#999\" stroke=\"#000\" stroke-width=\"0.25\"/>\n");
        text.Append(Box(0, middle - _f["window"] / 2, _f["rim"], middle + _f["window"] / 2, "#fff"));
        text.Append(Box(0, Underside, 24, top, "#777"));
        text.Append(Box(_f["rim"], middle - 10.5, 9, middle - 5.5, "#222")).Append(Box(_f["rim"], middle + 5.5, 9, middle + 10.5, "#222"));
        text.Append(Box(9, middle - 10.5, 10.6, middle + 10.5, "#3557a0")).Append(Box(6, middle - 3.4, 9, middle + 3.4, "#444"));
        // The collar: foot and stem, with the bore, then the slanted plate with its rim, then the pane.
        string Point((double Y, double Z) p) => $"{N(X(-p.Y))} {N(Y(middle + p.Z))}";
        string Shape(string fill, params (double Y, double Z)[] points) => $"<path d=\"M{string.Join('L', points.Select(Point))}Z\" fill=\"{fill}\" stroke=\"#000\" stroke-width=\"0.25\"/>\n";
        var (bore, bed, side, rim, stem) = (_f["window"] / 2, _f["pane_bed"], _f["collar_side"] / 2, _f["rim_wall"], half + 4);
        var under = bed - _f["collar_floor"];
        double Out(double z) => Slanted(z / Math.Cos(_f["collar_slant"] * Math.PI / 180), 0).Y;
        (double Y, double Z)[] Below(int sign) => [(Out(sign * bore), sign * bore), (0.2 - pocket, sign * bore), (0.2 - pocket, sign * _f["collar_foot"] / 2), (0, sign * _f["collar_foot"] / 2), (0, sign * stem), Slanted(sign * stem, under)];
        var pit = half + _f["pane_free"] / 2;
        text.Append(Shape("#bbb", [.. Below(1), Slanted(side, under), Slanted(side, 0), Slanted(half, 0)]));
        text.Append(Shape("#bbb", [.. Below(-1), Slanted(-side, under), Slanted(-side, thick), Slanted(rim - side, thick), Slanted(rim - side, bed), Slanted(-pit, bed), Slanted(-pit, 0)]));
        text.Append(Shape("#dff0ff", Slanted(-half, 0), Slanted(half, 0), Slanted(half, thick), Slanted(-half, thick)));
        void Ray((double Y, double Z) from, double along, double above, double length, string colour, string dash)
        {
            var ((y0, z0), (y1, z1)) = (Slanted(0, 0), Slanted(along, above));
            text.Append($"<path d=\"M{Point(from)}L{Point((from.Y + length * (y1 - y0), from.Z + length * (z1 - z0)))}\" stroke=\"{colour}\" stroke-width=\"0.4\" fill=\"none\"{dash}/>\n");
        }

        Ray(Slanted(0, thick), 0, 1, 26, "#000", " stroke-dasharray=\"4 1.5 1 1.5\"");
        Ray(Slanted(half, thick), 1, 0, 34, "#2f7d54", "");
        Words(-51, middle + 15, "axis: the zenith, on a leg");
        Words(-51, middle + 12.5, $"that leans {N(_f["collar_slant"])} degrees");
        Words(3, top + 11, "green: the plane of the pane", " fill=\"#2f7d54\"");
        Words(3, top + 8.5, $"the lid's edge lies {Math.Floor(LidBelow):0} degrees below it", " fill=\"#2f7d54\"");
        Words(4, top + 4, "lid: display and buttons are on this side");
        void Name(double y, double z, double toY, double toZ, string words) { text.Append($"<path d=\"M{N(X(y))} {N(Y(z))}L{N(X(toY))} {N(Y(toZ))}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n"); Words(toY + 0.5, toZ - 0.6, words); }
        Name(8, middle + 8, 16, 62, "foam 3 mm, pressed to 2.2");
        Name(10, middle + 2, 16, 57, "sensor module A3");
        Name(7.5, middle, 16, 52, "its chip, in the opening");
        Name(-8, middle - 3, 16, 46, "collar, bore matt white");
        Name(5, middle - 10, 16, 41, $"upper wall, {N(_f["rim"])} mm here");
        var edge = Slanted(half, thick / 2);
        text.Append($"<path d=\"M{Point(edge)}L{N(X(-31))} {N(Y(middle + 22))}\" stroke=\"#000\" stroke-width=\"0.2\"/>\n");
        Words(-51, middle + 24.5, "no rim on the side of the lid:");
        Words(-51, middle + 22, "this edge stands free");
        Words(-49, 26.5, $"Opal pane {N(_f["pane"])} x {N(_f["pane"])} x {N(thick)} mm, {N(thick - bed)} mm of three edges free, and all of the one towards the lid.");
        Words(-49, 24, "Silicone on the white bed all round, none on the bore, on the top of the pane or on its free edges.");
        Words(-49, 21.5, "The gaps of the rim and its open side stay clear: water runs off there.");
    }

    private static double Degrees(double radians) => radians * 180 / Math.PI;

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
