using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>
/// Writes the KiCad 6 schematic and its symbol library from the wiring table. Positions and drawn wires come from sheet.csv,
/// sheet-wires.csv and sheet-frames.csv (grid units of 2.54 mm, y downwards); a pin that no drawn wire reaches gets a labelled
/// stub. The nets are whatever the wiring table says: KiCad's own netlist is compared with it in the tests.
/// </summary>
public sealed class Schematic
{
    private const double G = Symbols.Grid;
    private const double Margin = 3; // Room for the border of the sheet.
    private readonly Circuit _circuit;
    private readonly string _folder;
    private readonly StringBuilder _out = new();
    private readonly List<((double X, double Y) A, (double X, double Y) B)> _wires = [];
    private readonly List<PowerSymbol> _powers = [];

    /// <summary>Prepares the writer for one circuit; <paramref name="folder"/> holds the sheet tables.</summary>
    public Schematic(Circuit circuit, string folder)
    {
        _circuit = circuit;
        _folder = folder;
    }

    /// <summary>The symbol library as a file of its own, so that KiCad finds every symbol it checks.</summary>
    public string Library()
    {
        var text = new StringBuilder("(kicad_symbol_lib (version 20211014) (generator intervalometer)\n");
        foreach (var (symbol, part) in AllSymbols())
        {
            text.Append(Definition(symbol, part, ""));
        }

        text.Append(PowerSymbol.Definitions(""));

        return text.Append(")\n").ToString();
    }

    /// <summary>The schematic.</summary>
    public string Write()
    {
        var root = SExpr.Uuid("sheet");
        _out.Append("(kicad_sch (version 20211123) (generator intervalometer)\n");
        _out.Append($"(uuid {root})\n(paper \"User\" 358.14 388.62)\n");
        _out.Append("(title_block (title \"Intervalometer: circuit\") (rev \"2\") (comment 1 \"Generated from hardware/wiring.csv; edit the table, not this file\"))\n");
        _out.Append("(lib_symbols\n");
        foreach (var (symbol, part) in AllSymbols())
        {
            _out.Append(Definition(symbol, part, "intervalometer:"));
        }

        _out.Append(PowerSymbol.Definitions("intervalometer:"));

        _out.Append(")\n");
        Frames();
        var placed = Place();
        Wires();
        Connect(placed);
        foreach (var p in placed)
        {
            Instance(p);
        }

        foreach (var power in _powers)
        {
            _out.Append(power.Instance());
        }

        _out.Append("(sheet_instances (path \"/\" (page \"1\")))\n(symbol_instances\n");
        foreach (var p in placed)
        {
            _out.Append($"(path \"/{SExpr.Uuid("symbol/" + p.Reference)}\" (reference {SExpr.Quote(p.Reference)}) (unit 1) (value {SExpr.Quote(p.Value)}) (footprint {SExpr.Quote(p.Footprint)}))\n");
        }

        foreach (var power in _powers)
        {
            _out.Append($"(path \"/{SExpr.Uuid("symbol/" + power.Reference)}\" (reference {SExpr.Quote(power.Reference)}) (unit 1) (value {SExpr.Quote(power.Net)}) (footprint \"\"))\n");
        }

        return _out.Append("))\n").ToString();
    }

    private sealed record Placed(string Reference, string Value, Symbol Symbol, double X, double Y, int Rotation, IReadOnlyDictionary<int, string> Nets, string Footprint)
    {
        public (double X, double Y) End(SymbolPin pin) => Turn(pin.X, pin.Y);

        /// <summary>The direction away from the body at a pin, y downwards.</summary>
        public (int X, int Y) Away(SymbolPin pin) => ((pin.Angle + Rotation) % 360) switch
        {
            0 => (-1, 0),
            90 => (0, 1),
            180 => (1, 0),
            _ => (0, -1),
        };

        private (double X, double Y) Turn(double x, double y) => Rotation switch
        {
            90 => (X - y, Y - x),
            180 => (X - x, Y + y),
            270 => (X + y, Y + x),
            _ => (X + x, Y - y),
        };
    }

    private IEnumerable<(Symbol, Part?)> AllSymbols()
    {
        var seen = new HashSet<string>();
        foreach (var reference in _circuit.References)
        {
            var part = _circuit.PartOf(reference);
            if (seen.Add(part.Name))
            {
                yield return (Symbols.For(part, _circuit.PinsOf(reference)), part);
            }
        }

        yield return (Symbols.Flag, null);
    }

    private static string Definition(Symbol s, Part? part, string prefix)
    {
        var letter = part is null ? "#FLG" : part.Kind switch
        {
            "resistor" => "R",
            "capacitor" or "capacitor-polar" => "C",
            "diode" or "led" => "D",
            "npn" or "pnp" => "Q",
            "button" => "S",
            "switch" => "SW",
            "fuse" => "F",
            "buzzer" => "BZ",
            "connector" or "jack" or "header" => "J",
            "test-pad" => "TP",
            "clock" or "charger" => "A",
            "display" => "DS",
            _ => "U",
        };
        var text = new StringBuilder();
        text.Append($"(symbol {SExpr.Quote(prefix + s.Name)}{(part is null ? " (power)" : "")}{(s.ShowNames || s.Pins.Count > 2 ? "" : " (pin_numbers hide)")} (pin_names (offset 0.508){(s.ShowNames ? "" : " hide")}) (in_bom {(part is null ? "no" : "yes")}) (on_board yes)\n");
        text.Append(Property("Reference", letter, 0, 0, 2, 0, 0, part is null, ""));
        text.Append(Property("Value", part is null ? "PWR_FLAG" : Value(part), 1, 0, -2, 0, 0, part is null, ""));
        text.Append(Property("Footprint", part?.Footprint ?? "", 2, 0, 0, 0, 0, true, "") + Property("Datasheet", "", 3, 0, 0, 0, 0, true, ""));
        text.Append($"(symbol {SExpr.Quote(s.Name + "_0_1")}\n{s.Graphics})\n(symbol {SExpr.Quote(s.Name + "_1_1")}\n");
        foreach (var pin in s.Pins)
        {
            var type = part is null ? "power_out" : part.TypeOf(pin.Name);
            text.Append($"(pin {type} line (at {SExpr.Mm(pin.X * G)} {SExpr.Mm(pin.Y * G)} {pin.Angle}) (length {SExpr.Mm(pin.Length * G)}) (name {SExpr.Quote(pin.Name)} (effects (font (size 1.27 1.27)))) (number \"{pin.Number}\" (effects (font (size 1 1)))))\n");
        }

        return text.Append("))\n").ToString();
    }

    private static string Value(Part part) => part.Value.Length > 0 ? part.Value : part.Title;

    private static string Property(string name, string value, int id, double x, double y, double ox, double oy, bool hide, string justify, int angle = 0) =>
        $"(property {SExpr.Quote(name)} {SExpr.Quote(value)} (id {id}) (at {SExpr.Mm(x * G + ox)} {SExpr.Mm(y * G + oy)} {angle}) (effects (font (size 1.27 1.27)){(justify.Length > 0 ? $" (justify {justify})" : "")}{(hide ? " hide" : "")}))\n";

    private List<Placed> Place()
    {
        var placed = new List<Placed>();
        foreach (var row in Table.Read(_folder, "sheet.csv"))
        {
            var (reference, x, y, turn) = (row["reference"], Margin + Parse(row["x"]), Margin + Parse(row["y"]), int.Parse(row["rotation"], CultureInfo.InvariantCulture));
            if (reference.StartsWith("#FLG", StringComparison.Ordinal))
            {
                placed.Add(new(reference, "PWR_FLAG", Symbols.Flag, x, y, turn, new Dictionary<int, string> { [1] = row["net"] }, ""));
                continue;
            }

            var part = _circuit.PartOf(reference);
            var pins = _circuit.PinsOf(reference);
            placed.Add(new(reference, Value(part), Symbols.For(part, pins), x, y, turn, pins.ToDictionary(p => p.Number, p => p.Net), part.Footprint));
        }

        var missing = _circuit.References.Except(placed.Select(p => p.Reference)).ToList();
        return missing.Count == 0 ? placed : throw new InvalidDataException($"sheet.csv gives no place to {string.Join(", ", missing)}");
    }

    private void Wires()
    {
        foreach (var row in Table.Read(_folder, "sheet-wires.csv"))
        {
            var n = row["points"].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(t => Margin + Parse(t)).ToArray();
            for (var i = 0; i + 3 < n.Length; i += 2)
            {
                _wires.Add(((n[i], n[i + 1]), (n[i + 2], n[i + 3])));
            }
        }
    }

    /// <summary>Splits wires where something joins them, draws junctions, and labels every pin or group of wires once.</summary>
    private void Connect(List<Placed> placed)
    {
        var ends = placed.SelectMany(p => p.Symbol.Pins.Select(pin => (Placed: p, Pin: pin, At: p.End(pin)))).ToList();
        var stops = _wires.SelectMany(w => new[] { w.A, w.B }).Concat(ends.Select(e => e.At)).Distinct().ToList();
        var pieces = new List<((double X, double Y) A, (double X, double Y) B)>();
        foreach (var (a, b) in _wires)
        {
            var on = stops.Where(s => On(s, a, b)).OrderBy(s => Math.Abs(s.X - a.X) + Math.Abs(s.Y - a.Y)).ToList();
            for (var i = 0; i + 1 < on.Count; i++)
            {
                pieces.Add((on[i], on[i + 1]));
            }
        }

        var groups = Groups(pieces);
        var named = new HashSet<int>();
        foreach (var (p, pin, at) in ends)
        {
            var net = p.Nets[pin.Number];
            if (net == Pin.Open)
            {
                _out.Append($"(no_connect (at {Xy(at)}) (uuid {SExpr.Uuid("open/" + p.Reference + pin.Number)}))\n");
            }
            else if (!groups.TryGetValue(at, out var group))
            {
                var away = p.Away(pin);
                // A supply symbol of a part with many pins stands beyond the names of the pins beside it.
                var reach = PowerSymbol.Nets.Contains(net) && p.Symbol.Pins.Count >= 4 ? 6 : 1;
                var tip = (at.X + away.X * reach, at.Y + away.Y * reach);
                pieces.Add((at, tip));
                if (PowerSymbol.Nets.Contains(net))
                {
                    _powers.Add(new(net, $"#PWR{_powers.Count + 1:000}", tip.Item1, tip.Item2, away));
                }
                else
                {
                    Label(net, tip, away, p.Reference + pin.Number);
                }
            }
            else if (named.Add(group))
            {
                // The label goes to the middle of the longest level piece of the group, over the wire.
                var piece = pieces.Where(w => groups.TryGetValue(w.A, out var g) && g == group)
                    .OrderByDescending(w => w.A.Y == w.B.Y ? Math.Abs(w.A.X - w.B.X) : -1).First();
                Label(net, piece.A.X <= piece.B.X ? piece.A : piece.B, (1, 0), "group" + group);
            }
        }

        for (var i = 0; i < pieces.Count; i++)
        {
            _out.Append($"(wire (pts (xy {Xy(pieces[i].A)}) (xy {Xy(pieces[i].B)})) (stroke (width 0) (type default) (color 0 0 0 0)) (uuid {SExpr.Uuid("wire" + i)}))\n");
        }

        foreach (var point in pieces.SelectMany(w => new[] { w.A, w.B }).Concat(ends.Select(e => e.At)).GroupBy(p => p).Where(g => g.Count() > 2).Select(g => g.Key))
        {
            _out.Append($"(junction (at {Xy(point)}) (diameter 0) (color 0 0 0 0) (uuid {SExpr.Uuid("junction" + Xy(point))}))\n");
        }
    }

    private static Dictionary<(double X, double Y), int> Groups(List<((double X, double Y) A, (double X, double Y) B)> pieces)
    {
        var group = new Dictionary<(double X, double Y), int>();
        foreach (var (a, b) in pieces)
        {
            var ga = group.TryGetValue(a, out var x) ? x : group[a] = group.Count;
            var gb = group.TryGetValue(b, out var y) ? y : group[b] = ga;
            if (ga != gb)
            {
                foreach (var point in group.Where(g => g.Value == gb).Select(g => g.Key).ToList())
                {
                    group[point] = ga;
                }
            }
        }

        return group;
    }

    private static bool On((double X, double Y) p, (double X, double Y) a, (double X, double Y) b) =>
        (a.X == b.X && p.X == a.X && p.Y >= Math.Min(a.Y, b.Y) && p.Y <= Math.Max(a.Y, b.Y)) ||
        (a.Y == b.Y && p.Y == a.Y && p.X >= Math.Min(a.X, b.X) && p.X <= Math.Max(a.X, b.X));

    private void Label(string net, (double X, double Y) at, (int X, int Y) away, string key)
    {
        var (angle, justify) = away switch { (1, 0) => (0, "left"), (-1, 0) => (180, "right"), (0, -1) => (90, "left"), _ => (270, "right") };
        _out.Append($"(label {SExpr.Quote(net)} (at {Xy(at)} {angle}) (effects (font (size 1.27 1.27)) (justify {justify} bottom)) (uuid {SExpr.Uuid("label/" + key)}))\n");
    }

    private void Instance(Placed p)
    {
        var flag = p.Reference.StartsWith('#');
        var upright = p.Rotation is 90 or 270;
        var turn = upright ? 90 : 0;
        _out.Append($"(symbol (lib_id {SExpr.Quote("intervalometer:" + p.Symbol.Name)}) (at {Xy((p.X, p.Y))} {p.Rotation}) (unit 1) (in_bom {(flag ? "no" : "yes")}) (on_board yes) (uuid {SExpr.Uuid("symbol/" + p.Reference)})\n");
        if (p.Symbol.Pins.Count == 2 && upright)
        {
            _out.Append(Property("Reference", p.Reference, 0, p.X + 1.2, p.Y - 0.35, 0, 0, false, "left", turn));
            _out.Append(Property("Value", p.Value, 1, p.X + 1.2, p.Y + 0.35, 0, 0, false, "left", turn));
        }
        else if (p.Symbol.Pins.Count == 2)
        {
            _out.Append(Property("Reference", p.Reference, 0, p.X, p.Y - 1.3, 0, 0, false, ""));
            _out.Append(Property("Value", p.Value, 1, p.X, p.Y + 1.1, 0, 0, false, ""));
        }
        else if (p.Symbol.ShowNames || p.Symbol.HalfWidth > 1.5)
        {
            _out.Append(Property("Reference", p.Reference, 0, p.X, p.Y - p.Symbol.HalfHeight - 0.5, 0, 0, flag, ""));
            _out.Append(Property("Value", p.Value, 1, p.X, p.Y + p.Symbol.HalfHeight + 0.6, 0, 0, flag, ""));
        }
        else
        {
            _out.Append(Property("Reference", p.Reference, 0, p.X + 2, p.Y - 0.35, 0, 0, flag, "left"));
            _out.Append(Property("Value", p.Value, 1, p.X + 2, p.Y + 0.35, 0, 0, flag, "left"));
        }

        _out.Append(Property("Footprint", p.Footprint, 2, p.X, p.Y, 0, 0, true, "") + Property("Datasheet", "", 3, p.X, p.Y, 0, 0, true, ""));
        foreach (var pin in p.Symbol.Pins)
        {
            _out.Append($"(pin \"{pin.Number}\" (uuid {SExpr.Uuid($"pin/{p.Reference}.{pin.Number}")}))\n");
        }

        _out.Append(")\n");
    }

    private void Frames()
    {
        foreach (var row in Table.Read(_folder, "sheet-frames.csv"))
        {
            var (x, y, w, h) = (Margin + Parse(row["x"]), Margin + Parse(row["y"]), Parse(row["width"]), Parse(row["height"]));
            var dash = row["style"] == "dash" ? "dash" : "default";
            var corners = new[] { (x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y) };
            for (var i = 0; i < 4; i++)
            {
                _out.Append($"(polyline (pts (xy {Xy(corners[i])}) (xy {Xy(corners[i + 1])})) (stroke (width 0.15) (type {dash}) (color 0 0 0 0)) (uuid {SExpr.Uuid($"frame/{i}/{row["title"]}")}))\n");
            }

            _out.Append($"(text {SExpr.Quote(row["title"])} (at {Xy((x + 0.5, y + 1.2))} 0) (effects (font (size 2 2) bold) (justify left bottom)) (uuid {SExpr.Uuid("title/" + row["title"])}))\n");
        }
    }

    private static double Parse(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string Xy((double X, double Y) p) => $"{SExpr.Mm(p.X * G)} {SExpr.Mm(p.Y * G)}";
}
