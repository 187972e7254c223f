using System.Globalization;

namespace Intervalometer.Hardware;

/// <summary>A pad on the board: its pin, where it is in millimetres (y downwards) and how large.</summary>
public sealed record BoardPad(Pin Pin, string Shape, double X, double Y, double Width, double Height, double Drill)
{
    /// <summary>Half of its larger side, the radius of a circle that a router stays out of.</summary>
    public double Radius => Math.Max(Width, Height) / 2;
}

/// <summary>Where a part sits, and which way it is turned (degrees, counter-clockwise).</summary>
public sealed record Place(string Reference, double X, double Y, int Rotation);

/// <summary>A drawn feature of the board: outline, slot, mounting hole, guard ring, plane or text.</summary>
public sealed record Feature(string Kind, string Name, double X1, double Y1, double X2, double Y2, string Net);

/// <summary>A piece of track: a line of points on one layer, or a via when the layer is "via".</summary>
public sealed record Track(string Net, string Layer, double Width, IReadOnlyList<(double X, double Y)> Points);

/// <summary>One step of the assembly guide.</summary>
public sealed record Step(int Number, string Title, IReadOnlyList<string> References, string Text, string Check);

/// <summary>The printed circuit board as the tables place it: placement.csv, board.csv and tracks.csv.</summary>
public sealed class Layout
{
    /// <summary>Row spacing of the sockets of the ESP32 board.</summary>
    public const double SocketRows = 25.4;

    /// <summary>Diameter and hole of a via.</summary>
    public const double Via = 1.0, ViaDrill = 0.5;

    /// <summary>No copper of the box comes nearer to copper of the camera (own limit: the wide legs of the couplers keep 8.56 mm).</summary>
    public const double CameraDistance = 8.0;

    private readonly Dictionary<string, Place> _places;

    /// <summary>Reads the tables.</summary>
    public Layout(Circuit circuit, string folder)
    {
        Circuit = circuit;
        _places = Table.Read(folder, "placement.csv").ToDictionary(r => r["reference"], r => new Place(r["reference"], D(r["x"]), D(r["y"]), int.Parse(r["rotation"], CultureInfo.InvariantCulture)));
        Features = Table.Read(folder, "board.csv").Select(r => new Feature(r["feature"], r["name"], D(r["x1"]), D(r["y1"]), D(r["x2"]), D(r["y2"]), r["net"])).ToList();
        Tracks = Table.Read(folder, "tracks.csv").Select(r => new Track(r["net"], r["layer"], D(r["width"]), Points(r["points"]))).ToList();
        Steps = Table.Read(folder, "steps.csv").Select(r => new Step(
            int.Parse(r["step"], CultureInfo.InvariantCulture), r["title"], r["references"].Split(' '), r["text"], r["check"])).ToList();
        var missing = circuit.References.Where(r => !_places.ContainsKey(r)).ToList();
        if (missing.Count > 0)
        {
            throw new InvalidDataException($"placement.csv gives no place to {string.Join(", ", missing)}");
        }

        Pads = circuit.References.SelectMany(PadsOf).ToList();
    }

    /// <summary>The circuit it carries.</summary>
    public Circuit Circuit { get; }

    /// <summary>Outline, slot, holes, ring, planes and texts.</summary>
    public IReadOnlyList<Feature> Features { get; }

    /// <summary>The kept tracks.</summary>
    public IReadOnlyList<Track> Tracks { get; }

    /// <summary>The steps of assembly.</summary>
    public IReadOnlyList<Step> Steps { get; }

    /// <summary>Every pad.</summary>
    public IReadOnlyList<BoardPad> Pads { get; }

    /// <summary>Where a part sits.</summary>
    public Place PlaceOf(string reference) => _places[reference];

    /// <summary>The edges of the board.</summary>
    public Feature Outline => Features.First(f => f.Kind == "outline");

    /// <summary>Width of a net's tracks in millimetres: what carries the cell's current is wide, the supply is wider than a signal.</summary>
    public static double WidthOf(string net) => net switch
    {
        "BAT_RAW" or "BAT_P" or "BAT_N" or "PACK_OUT" or "V_SWITCHED" => 1.5,
        "V33" => 0.9,
        _ => 0.4,
    };

    /// <summary>Width of the track that ends at a pad: a divider or a test pad carries no current.</summary>
    public double WidthAt(BoardPad pad) => Circuit.PartOf(pad.Pin.Reference).Kind is "resistor" or "test-pad" ? 0.4 : WidthOf(pad.Pin.Net);

    /// <summary>True for a net of the camera's side.</summary>
    public static bool IsCamera(string net) => net.StartsWith("CAM_", StringComparison.Ordinal);

    /// <summary>Turns a point of a part into a point of the board.</summary>
    public static (double X, double Y) Turn(Place p, double x, double y) => p.Rotation switch
    {
        90 => (p.X + y, p.Y - x),
        180 => (p.X - x, p.Y - y),
        270 => (p.X - y, p.Y + x),
        _ => (p.X + x, p.Y + y),
    };

    /// <summary>The pads of a footprint with the pin that each one carries: all pins, or the connected ones when the footprint has fewer.</summary>
    public IReadOnlyList<(Pad Pad, Pin Pin)> Numbered(string reference)
    {
        var part = Circuit.PartOf(reference);
        var pads = Footprint.Load(part.Footprint).Pads.ToList();
        if (part.Kind == "board")
        {
            pads.AddRange(pads.Select(p => p with { Number = p.Number + pads.Count, X = p.X + SocketRows }).ToList());
        }

        var pins = Circuit.PinsOf(reference);
        var used = pins.Count == pads.Count ? pins : pins.Where(p => !p.IsOpen).ToList();
        return used.Count == pads.Count
            ? pads.OrderBy(p => p.Number).Zip(used.OrderBy(p => p.Number)).ToList()
            : throw new InvalidDataException($"{reference} has {pins.Count} pins and its footprint {part.Footprint} {pads.Count} pads; correct parts.csv");
    }

    private IEnumerable<BoardPad> PadsOf(string reference)
    {
        var place = _places[reference];
        foreach (var (pad, pin) in Numbered(reference))
        {
            var (x, y) = Turn(place, pad.X, pad.Y);
            yield return new(pin, pad.Shape, Math.Round(x, 4), Math.Round(y, 4), pad.Width, pad.Height, pad.Drill);
        }
    }

    private static List<(double, double)> Points(string text)
    {
        var n = text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(D).ToArray();
        return Enumerable.Range(0, n.Length / 2).Select(i => (n[2 * i], n[2 * i + 1])).ToList();
    }

    private static double D(string text) => text.Length == 0 ? 0 : double.Parse(text, CultureInfo.InvariantCulture);
}
