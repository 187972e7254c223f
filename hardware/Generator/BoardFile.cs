using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>Writes the printed circuit board as KiCad 6 reads it, and the project file with the rules that KiCad checks it by.</summary>
public sealed class BoardFile
{
    private readonly Layout _layout;
    private readonly Dictionary<string, int> _nets;
    private readonly StringBuilder _out = new();

    /// <summary>Prepares the writer for one board.</summary>
    public BoardFile(Layout layout)
    {
        _layout = layout;
        _nets = layout.Circuit.Nets.Select((n, i) => (n.Key, i + 1)).ToDictionary(n => n.Key, n => n.Item2);
    }

    /// <summary>The board. The planes are drawn as outlines: KiCad fills them (key B), and tools/board.py fills them before it checks and plots.</summary>
    public string Write()
    {
        _out.Clear();
        _out.Append("(kicad_pcb (version 20211014) (generator intervalometer)\n(general (thickness 1.6))\n(paper \"A4\")\n");
        _out.Append("(title_block (title \"Intervalometer\") (comment 1 \"Generated from the tables of the hardware folder; edit those, not this file\"))\n");
        _out.Append("(layers (0 \"F.Cu\" signal) (31 \"B.Cu\" signal) (36 \"B.SilkS\" user \"B.Silkscreen\") (37 \"F.SilkS\" user \"F.Silkscreen\") (38 \"B.Mask\" user) (39 \"F.Mask\" user) (44 \"Edge.Cuts\" user) (46 \"B.CrtYd\" user \"B.Courtyard\") (47 \"F.CrtYd\" user \"F.Courtyard\") (48 \"B.Fab\" user) (49 \"F.Fab\" user) (40 \"Dwgs.User\" user))\n");
        _out.Append("(setup (pad_to_mask_clearance 0.05))\n(net 0 \"\")\n");
        foreach (var (net, number) in _nets)
        {
            _out.Append($"(net {number} {SExpr.Quote(NetName(net))})\n");
        }

        foreach (var reference in _layout.Circuit.References)
        {
            Part(reference);
        }

        Features();
        foreach (var (track, index) in _layout.Tracks.Select((t, i) => (t, i)))
        {
            if (track.Layer == "via")
            {
                _out.Append($"(via (at {Xy(track.Points[0])}) (size {SExpr.Mm(Layout.Via)}) (drill {SExpr.Mm(Layout.ViaDrill)}) (layers \"F.Cu\" \"B.Cu\") (net {_nets[track.Net]}) (tstamp {SExpr.Uuid("via" + index)}))\n");
                continue;
            }

            for (var i = 1; i < track.Points.Count; i++)
            {
                Segment(track.Points[i - 1], track.Points[i], track.Width, track.Layer, track.Net, $"track{index}.{i}");
            }
        }

        return _out.Append(")\n").ToString();
    }

    /// <summary>The project file: clearances, widths, and what counts as an error.</summary>
    public string Project()
    {
        static string Class(string name, double clearance, double width, IEnumerable<string> nets) => string.Create(CultureInfo.InvariantCulture,
            $"      {{ \"name\": \"{name}\", \"clearance\": {clearance}, \"track_width\": {width}, \"via_diameter\": {Layout.Via}, \"via_drill\": {Layout.ViaDrill}, \"microvia_diameter\": 0.3, \"microvia_drill\": 0.1, \"diff_pair_gap\": 0.25, \"diff_pair_via_gap\": 0.25, \"diff_pair_width\": 0.2, \"wire_width\": 6, \"bus_width\": 12, \"line_style\": 0, \"pcb_color\": \"rgba(0, 0, 0, 0.000)\", \"schematic_color\": \"rgba(0, 0, 0, 0.000)\", \"nets\": [{string.Join(", ", nets.Select(n => $"\"{NetName(n)}\""))}] }}");
        return "{\n  \"board\": { \"design_settings\": {\n    \"rules\": { \"min_clearance\": 0.25, \"min_copper_edge_clearance\": 0.5, \"min_track_width\": 0.4, \"min_through_hole_diameter\": 0.5, \"min_via_diameter\": 1.0, \"min_via_annular_width\": 0.25, \"min_hole_clearance\": 0.25, \"min_hole_to_hole\": 0.25, \"solder_mask_clearance\": 0.05 },\n" +
            "    \"rule_severities\": { \"courtyards_overlap\": \"error\", \"silk_over_copper\": \"ignore\", \"silk_overlap\": \"ignore\", \"unconnected_items\": \"error\", \"starved_thermal\": \"error\" }\n  } },\n" +
            "  \"net_settings\": { \"classes\": [\n" +
            string.Join(",\n", Class("Default", 0.25, 0.4, []), Class("Camera", 0.25, 0.4, _nets.Keys.Where(Layout.IsCamera)), Class("Power", 0.25, 1.5, _nets.Keys.Where(n => Layout.WidthOf(n) > 1))) +
            "\n    ], \"meta\": { \"version\": 2 } },\n  \"meta\": { \"filename\": \"intervalometer.kicad_pro\", \"version\": 1 }\n}\n";
    }

    /// <summary>A rule of our own for KiCad's check: the distance between the camera's copper and the box's.</summary>
    public static string Rules() =>
        "(version 1)\n(rule \"camera side\"\n  (constraint clearance (min " + SExpr.Mm(Layout.CameraDistance) + "mm))\n  (condition \"A.NetClass == 'Camera' && B.NetClass != 'Camera'\"))\n";

    private void Part(string reference)
    {
        var place = _layout.PlaceOf(reference);
        var part = _layout.Circuit.PartOf(reference);
        var footprint = Footprint.Load(part.Footprint);
        var numbered = _layout.Numbered(reference);
        _out.Append($"(footprint {SExpr.Quote(part.Footprint)} (layer \"F.Cu\") (tedit 0) (tstamp {SExpr.Uuid("footprint/" + reference)})\n(at {Xy((place.X, place.Y))} {place.Rotation})\n");
        _out.Append($"(path \"/{SExpr.Uuid("symbol/" + reference)}\")\n(attr through_hole)\n");
        var (rx, ry) = ReferenceAt(part, numbered);
        var pad = part.Kind == "test-pad";
        Label("reference", reference, rx, ry, place.Rotation, pad ? "F.Fab" : "F.SilkS", 1, reference + "/reference");
        Label("value", part.Value.Length > 0 ? part.Value : part.Title, rx, ry + 1.6, place.Rotation, "F.Fab", 0.8, reference + "/value");
        if (pad)
        {
            var beside = place.X > 92;
            Label("user", _layout.Circuit.PinsOf(reference)[0].Net, beside ? -1.7 : 0, beside ? 0 : -1.8, place.Rotation, "F.SilkS", 0.9, reference + "/net", beside ? "right" : "");
        }

        foreach (var shift in part.Kind == "board" ? new[] { 0, Layout.SocketRows } : [0.0])
        {
            var index = 0;
            foreach (var item in footprint.Root.Items.Where(i => i.Head is "fp_line" or "fp_circle" or "fp_arc" && i.Find("layer")!.Text(1) is "F.SilkS" or "F.CrtYd" or "F.Fab"))
            {
                Graphic(item, shift, $"{reference}/graphic{shift}/{index++}");
            }
        }

        foreach (var (p, pin) in numbered)
        {
            var net = pin.IsOpen ? "" : $" (net {_nets[pin.Net]} {SExpr.Quote(NetName(pin.Net))})";
            _out.Append($"(pad \"{pin.Number}\" thru_hole {p.Shape} (at {Xy((p.X, p.Y))}{(place.Rotation == 0 ? "" : " " + place.Rotation)}) (size {SExpr.Mm(p.Width)} {SExpr.Mm(p.Height)}) (drill {SExpr.Mm(p.Drill)}) (layers *.Cu *.Mask){net} (tstamp {SExpr.Uuid($"pad/{pin.Key}")}))\n");
            PinName(part, p, pin, place.Rotation);
        }

        foreach (var model in footprint.Root.All("model").Take(part.Kind == "board" ? 0 : 1))
        {
            _out.Append($"(model {SExpr.Quote(model.Text(1))} (offset (xyz 0 0 0)) (scale (xyz 1 1 1)) (rotate (xyz 0 0 0)))\n");
        }

        _out.Append(")\n");
    }

    private static (double X, double Y) ReferenceAt(Part part, IReadOnlyList<(Pad Pad, Pin Pin)> pads)
    {
        var (x, y) = (pads.Average(p => p.Pad.X), pads.Average(p => p.Pad.Y));
        return part.Package switch
        {
            "to92" => (x, -1.7),
            "module" or "panel" or "wires" or "pad" => (0, -2.6),
            "board" => (-2.6, 0),
            _ => (x, y),
        };
    }

    /// <summary>The name of a pin beside each pad where a wire lands.</summary>
    private void PinName(Part part, Pad pad, Pin pin, int rotation)
    {
        if (part.Package is "module" or "panel" or "wires")
        {
            var plain = pin.Name == pin.Number.ToString(CultureInfo.InvariantCulture);
            if (!plain || pin.Net == "GND")
            {
                Label("user", plain ? "GND" : pin.Name, -1.5, pad.Y, rotation, "F.SilkS", 0.8, $"{pin.Key}/name", "right");
            }
        }
    }

    private void Label(string kind, string text, double x, double y, int rotation, string layer, double size, string key, string justify = "") =>
        _out.Append($"(fp_text {kind} {SExpr.Quote(text)} (at {Xy((x, y))} {(rotation is 90 or 270 ? 90 : 0)}) (layer {SExpr.Quote(layer)}) (effects (font (size {SExpr.Mm(size)} {SExpr.Mm(size)}) (thickness 0.15)){(justify.Length > 0 ? $" (justify {(rotation is 180 or 270 ? "left" : justify)})" : "")}) (tstamp {SExpr.Uuid(key)}))\n");

    private void Graphic(Node item, double shift, string key)
    {
        string P(string name) => item.Find(name) is { } n ? $" ({name} {Xy((n.Number(1) + shift, n.Number(2)))})" : "";
        _out.Append($"({item.Head}{P("start")}{P("center")}{P("mid")}{P("end")} (layer {SExpr.Quote(item.Find("layer")!.Text(1))}) (width {item.Find("width")!.Text(1)}){(item.Head == "fp_circle" ? $" (fill {item.Find("fill")?.Text(1) ?? "none"})" : "")} (tstamp {SExpr.Uuid(key)}))\n");
    }

    private void Features()
    {
        foreach (var (f, index) in _layout.Features.Select((f, i) => (f, i)))
        {
            var corners = new[] { (f.X1, f.Y1), (f.X2, f.Y1), (f.X2, f.Y2), (f.X1, f.Y2) };
            switch (f.Kind)
            {
                case "outline" or "slot":
                    for (var i = 0; i < 4; i++)
                    {
                        _out.Append($"(gr_line (start {Xy(corners[i])}) (end {Xy(corners[(i + 1) % 4])}) (layer \"Edge.Cuts\") (width 0.1) (tstamp {SExpr.Uuid($"edge{index}.{i}")}))\n");
                    }

                    break;
                case "hole":
                    _out.Append($"(footprint \"MountingHole:MountingHole_3.2mm_M3\" (layer \"F.Cu\") (tedit 0) (tstamp {SExpr.Uuid("hole/" + f.Name)})\n(at {Xy((f.X1, f.Y1))})\n(attr exclude_from_pos_files exclude_from_bom)\n");
                    Label("reference", f.Name, 0, 0, 0, "F.Fab", 1, f.Name + "/reference");
                    Label("value", "M3", 0, 1.6, 0, "F.Fab", 1, f.Name + "/value");
                    _out.Append($"(fp_circle (center 0 0) (end 3.45 0) (layer \"F.CrtYd\") (width 0.05) (fill none) (tstamp {SExpr.Uuid(f.Name + "/yard")}))\n");
                    _out.Append($"(pad \"\" np_thru_hole circle (at 0 0) (size {SExpr.Mm(f.X2)} {SExpr.Mm(f.X2)}) (drill {SExpr.Mm(f.X2)}) (layers *.Cu *.Mask) (tstamp {SExpr.Uuid(f.Name + "/pad")})))\n");
                    break;
                case "guard":
                    foreach (var side in new[] { "F", "B" })
                    {
                        for (var i = 0; i < 4; i++)
                        {
                            Segment(corners[i], corners[(i + 1) % 4], 0.5, side + ".Cu", f.Net, $"guard{index}.{side}{i}");
                            _out.Append($"(gr_line (start {Xy(corners[i])}) (end {Xy(corners[(i + 1) % 4])}) (layer \"{side}.Mask\") (width 0.5) (tstamp {SExpr.Uuid($"bare{index}.{side}{i}")}))\n");
                        }
                    }

                    break;
                case "plane":
                    _out.Append($"(zone (net {_nets[f.Net]}) (net_name {SExpr.Quote(NetName(f.Net))}) (layer {SExpr.Quote(f.Name)}) (tstamp {SExpr.Uuid("plane/" + f.Name)}) (hatch edge 0.508)\n(connect_pads (clearance 0.3))\n(min_thickness 0.3)\n(fill yes (thermal_gap 0.4) (thermal_bridge_width 0.7))\n(polygon (pts {string.Join(" ", corners.Select(c => $"(xy {Xy(c)})"))})))\n");
                    break;
                case "text":
                    _out.Append($"(gr_text {SExpr.Quote(f.Name)} (at {Xy((f.X1, f.Y1))} {SExpr.Mm(f.Y2)}) (layer \"F.SilkS\") (tstamp {SExpr.Uuid($"text{index}")}) (effects (font (size {SExpr.Mm(f.X2)} {SExpr.Mm(f.X2)}) (thickness 0.15))))\n");
                    break;
                default:
                    throw new InvalidDataException($"board.csv: {f.Kind} is not a feature; use outline, slot, hole, guard, plane or text");
            }
        }
    }

    private void Segment((double X, double Y) a, (double X, double Y) b, double width, string layer, string net, string key) =>
        _out.Append($"(segment (start {Xy(a)}) (end {Xy(b)}) (width {SExpr.Mm(width)}) (layer {SExpr.Quote(layer)}) (net {_nets[net]}) (tstamp {SExpr.Uuid(key)}))\n");

    /// <summary>As KiCad names it in the schematic: a net with a symbol of its own is known everywhere, any other on its sheet.</summary>
    private static string NetName(string net) => PowerSymbol.Nets.Contains(net) ? net : "/" + net;

    private static string Xy((double X, double Y) p) => $"{SExpr.Mm(p.X)} {SExpr.Mm(p.Y)}";
}
