using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>The room that a part takes in the box, in millimetres from the upper left corner of the floor's outside, seen from above; z upwards.</summary>
public sealed record Volume(string Name, double X1, double Y1, double Z1, double X2, double Y2, double Z2)
{
    /// <summary>Millimetres of air between two volumes; below 0 they cut into each other.</summary>
    public double Gap(Volume o) => Math.Max(Math.Max(Math.Max(X1 - o.X2, o.X1 - X2), Math.Max(Y1 - o.Y2, o.Y1 - Y2)), Math.Max(Z1 - o.Z2, o.Z1 - Z2));
}

/// <summary>The box to print: its figures, and the volumes of everything in it.</summary>
public sealed class BoxModel
{
    private readonly Layout _layout;
    private readonly IReadOnlyList<PanelHole> _holes;
    private readonly IReadOnlyList<IReadOnlyDictionary<string, string>> _rows;

    /// <summary>Reads box.csv, volumes.csv and panel.csv.</summary>
    public BoxModel(Layout layout, string folder)
    {
        _layout = layout;
        _holes = PanelPicture.Load(folder);
        _rows = Table.Read(folder, "box.csv");
        Figures = _rows.ToDictionary(r => r["name"], r => D(r["value"]));
        Placed = Table.Read(folder, "volumes.csv").Select(r => new Volume(r["name"], D(r["x1"]), D(r["y1"]), D(r["z1"]), D(r["x2"]), D(r["y2"]), D(r["z2"]))).ToList();
        Volumes = [.. Placed, .. OnBoard(), .. OnPanel()];
    }

    /// <summary>The figures of box.csv.</summary>
    public IReadOnlyDictionary<string, double> Figures { get; }

    /// <summary>Boards, modules and the cell, from volumes.csv.</summary>
    public IReadOnlyList<Volume> Placed { get; }

    /// <summary>Everything that takes room.</summary>
    public IReadOnlyList<Volume> Volumes { get; }

    /// <summary>Height of a part over the board, by its package (data sheets of the usual makers, from memory, rounded up).</summary>
    private static double Height(Part part) => part.Package switch
    {
        "axial" => 3,
        "axial-large" => 6,
        "to92" => 8,
        "dip4" => 5,
        "radial" when part.Kind == "capacitor" => part.Number < 1e-6 ? 7 : 10,
        "radial-large" => 12,
        "board" or "module" when part.Mount is "socket" or "board" => 8.5,
        "pad" => 0.1,
        "panel" when part.Kind == "buzzer" => 4, // Its wires are soldered in and lie flat: the clock module stands over them.
        _ => 11.5,
    };

    private IEnumerable<Volume> OnBoard()
    {
        var top = Placed.First(v => v.Name == "circuit board").Z2;
        foreach (var reference in _layout.Circuit.References)
        {
            var part = _layout.Circuit.PartOf(reference);
            var place = _layout.PlaceOf(reference);
            foreach (var shift in part.Kind == "board" ? new[] { 0, Layout.SocketRows } : [0.0])
            {
                var yard = Footprint.Load(part.Footprint).Root.Items.Where(i => i.Find("layer")?.Text(1) == "F.CrtYd").SelectMany(Corners).Select(p => Layout.Turn(place, p.X + shift, p.Y)).ToList();
                yield return new(reference + (shift > 0 ? " second socket" : ""), Figures["board_x"] + yard.Min(p => p.X), Figures["board_y"] + yard.Min(p => p.Y), top,
                    Figures["board_x"] + yard.Max(p => p.X), Figures["board_y"] + yard.Max(p => p.Y), top + Height(part));
            }
        }
    }

    private static IEnumerable<(double X, double Y)> Corners(Node shape)
    {
        if (shape.Head == "fp_circle")
        {
            var (c, r) = ((X: shape.Find("center")!.Number(1), Y: shape.Find("center")!.Number(2)), Math.Abs(shape.Find("end")!.Number(1) - shape.Find("center")!.Number(1)));
            return [(c.X - r, c.Y - r), (c.X + r, c.Y + r)];
        }

        return [(shape.Find("start")!.Number(1), shape.Find("start")!.Number(2)), (shape.Find("end")!.Number(1), shape.Find("end")!.Number(2))];
    }

    /// <summary>Bodies of the parts behind the lid and the ends: square over the round body.</summary>
    private IEnumerable<Volume> OnPanel()
    {
        var (length, width, height, wall, lid) = (Figures["length"], Figures["width"], Figures["height"], Figures["wall"], Figures["lid"]);
        foreach (var h in _holes.Where(h => h.Depth > 0))
        {
            var r = h.Body / 2;
            yield return h.Face switch
            {
                "lid" => new(h.Reference + " body", h.X - r, h.Y - r, height - lid - h.Depth, h.X + r, h.Y + r, height - lid),
                // The left end is seen with the box's upper edge of the drawing to its left, the right end the other way round.
                "left end" => new(h.Reference + " body", wall, h.X - r, height - h.Y - r, wall + h.Depth, h.X + r, height - h.Y + r),
                _ => new(h.Reference + " body", length - wall - h.Depth, width - h.X - r, height - h.Y - r, length - wall, width - h.X + r, height - h.Y + r),
            };
        }
    }

    /// <summary>The figures and lists that box.scad includes.</summary>
    public string Scad()
    {
        var text = new StringBuilder("// Generated from box.csv, panel.csv, board.csv and volumes.csv; edit those, not this file.\n");
        foreach (var row in _rows)
        {
            // "floor" is a function of the language.
            text.Append($"{(row["name"] == "floor" ? "floor_" : row["name"])} = {row["value"]}; // {row["meaning"]}\n");
        }

        string Holes(string face) => string.Join(",\n    ", _holes.Where(h => h.Face == face).Select(h => $"[{N(h.X)}, {N(h.Y)}, {(h.Round ? "true" : "false")}, {N(h.Width)}, {N(h.Height)}]"));
        text.Append($"board_holes = [{string.Join(", ", _layout.Features.Where(f => f.Kind == "hole").Select(f => $"[{N(f.X1)}, {N(f.Y1)}]"))}];\n");
        text.Append($"lid_holes = [\n    {Holes("lid")}];\nleft_holes = [{Holes("left end")}];\nright_holes = [{Holes("right end")}];\n");
        text.Append($"jack_y = {N(_holes.First(h => h.Reference == "J2").X)};\n");
        foreach (var (name, volume) in new[] { ("cell", "cell"), ("charger", "charger module") })
        {
            var v = Placed.First(p => p.Name == volume);
            text.Append($"{name} = [{N(v.X1)}, {N(v.Y1)}, {N(v.X2)}, {N(v.Y2)}, {N(v.Z1)}];\n");
        }

        text.Append($"part_volumes = [\n    {string.Join(",\n    ", Volumes.Where(v => v.Z2 - v.Z1 > 0.2).Select(v => $"[{N(v.X1)}, {N(v.Y1)}, {N(v.Z1)}, {N(v.X2)}, {N(v.Y2)}, {N(v.Z2)}] /* {v.Name} */"))}];\n");
        return text.ToString();
    }

    private static double D(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
