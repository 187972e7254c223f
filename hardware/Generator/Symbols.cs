using System.Text;

namespace Intervalometer.Hardware;

/// <summary>Where a pin of a symbol ends, in grid units of 2.54 mm with y upwards, and the angle from its end towards the body.</summary>
public sealed record SymbolPin(int Number, string Name, double X, double Y, int Angle, double Length);

/// <summary>A schematic symbol of our own: pins and a picture.</summary>
public sealed record Symbol(string Name, IReadOnlyList<SymbolPin> Pins, string Graphics, double HalfWidth, double HalfHeight, bool ShowNames);

/// <summary>Draws one symbol for each part kind. Coordinates are grid units; the writer turns them into millimetres.</summary>
public static class Symbols
{
    /// <summary>The grid in millimetres.</summary>
    public const double Grid = 2.54;

    /// <summary>The symbol of a part, with the pins that the wiring table gives it.</summary>
    public static Symbol For(Part part, IReadOnlyList<Pin> pins) => part.Kind switch
    {
        "resistor" => TwoPin(part.Name, pins, Box(-1, -0.4, 1, 0.4)),
        "fuse" => TwoPin(part.Name, pins, Box(-1, -0.4, 1, 0.4) + Line((-1, 0), (1, 0))),
        "capacitor" => TwoPin(part.Name, pins, Plates),
        "capacitor-polar" => TwoPin(part.Name, pins, Plates + Line((-0.9, 0.5), (-0.5, 0.5)) + Line((-0.7, 0.3), (-0.7, 0.7))),
        "diode" => TwoPin(part.Name, pins, DiodeBody),
        "led" => TwoPin(part.Name, pins, DiodeBody + Line((0, -0.7), (0.3, -1.2)) + Line((0.3, -0.7), (0.6, -1.2))),
        "button" => TwoPin(part.Name, pins, Line((-1, 0), (-0.6, 0)) + Line((0.6, 0), (1, 0)) + Line((-0.7, 0.4), (0.7, 0.4)) + Line((0, 0.4), (0, 0.9))),
        "switch" => TwoPin(part.Name, pins, Line((-1, 0), (-0.5, 0)) + Line((-0.5, 0), (0.6, 0.5)) + Line((0.6, 0), (1, 0))),
        "buzzer" => TwoPin(part.Name, pins, Circle(0, 0, 1)),
        "npn" => Transistor(part.Name, pins, pnp: false),
        "pnp" => Transistor(part.Name, pins, pnp: true),
        "opto" => Opto(part.Name, pins),
        "reference" => new(part.Name,
            [At(pins, 1, -2, 0, 0), At(pins, 2, 0, -2, 90), At(pins, 3, 0, 2, 270)],
            Line((0, 1), (0, 0.5)) + Line((0, -0.5), (0, -1)) + Line((-0.5, -0.5), (0.5, -0.5), (0, 0.5), (-0.5, -0.5)) +
            Line((-0.5, 0.5), (0.5, 0.5)) + Line((-1, 0), (-0.25, 0)), 1, 1, false),
        "board" => Module(part.Name, pins, pins.Take(19).ToList(), pins.Skip(19).ToList(), 5),
        "test-pad" => new(part.Name, [At(pins, 1, -1, 0, 0)], Circle(0.4, 0, 0.4), 0.5, 0.5, false),
        "regulator" => Module(part.Name, pins, [pins[1], pins[0]], [pins[2]], 3),
        "charger" => Module(part.Name, pins, pins.Take(4).ToList(), pins.Skip(4).ToList(), 3),
        _ => Module(part.Name, pins, [.. pins], [], 3),
    };

    /// <summary>The power flag: tells the rule check that a net is fed by something that is not a part of the sheet.</summary>
    public static Symbol Flag => new("PWR_FLAG", [new(1, "pwr", 0, 0, 90, 0)], Line((0, 0), (0, 0.5), (-0.4, 0.8), (0, 1.1), (0.4, 0.8), (0, 0.5)), 0.5, 1, false);

    private static string Plates => Line((-0.25, -0.7), (-0.25, 0.7)) + Line((0.25, -0.7), (0.25, 0.7)) + Line((-1, 0), (-0.25, 0)) + Line((0.25, 0), (1, 0));

    private static string DiodeBody => Line((-0.5, -0.5), (-0.5, 0.5)) + Line((0.5, -0.5), (0.5, 0.5), (-0.5, 0), (0.5, -0.5)) + Line((-1, 0), (-0.5, 0)) + Line((0.5, 0), (1, 0));

    private static Symbol TwoPin(string name, IReadOnlyList<Pin> pins, string body) =>
        new(name, [At(pins, 1, -2, 0, 0), At(pins, 2, 2, 0, 180)], body, 1, 0.5, false);

    private static Symbol Transistor(string name, IReadOnlyList<Pin> pins, bool pnp)
    {
        var arrow = pnp ? Line((0.5, 0.35), (0.35, 0.75)) + Line((0.5, 0.35), (0.9, 0.45)) : Line((0.9, -0.9), (0.5, -0.85)) + Line((0.9, -0.9), (0.75, -0.5));
        return new(name,
            [At(pins, pnp ? 3 : 1, 1, 2, 270), At(pins, 2, -2, 0, 0), At(pins, pnp ? 1 : 3, 1, -2, 90)],
            Line((-1, 0), (0, 0)) + Line((0, -0.8), (0, 0.8)) + Line((0, 0.2), (1, 1)) + Line((0, -0.2), (1, -1)) + arrow + Circle(0.35, 0, 1.2), 1, 1, false);
    }

    private static Symbol Opto(string name, IReadOnlyList<Pin> pins) => new(name,
        [At(pins, 1, -3, 1, 0), At(pins, 2, -3, -1, 0), At(pins, 3, 3, -1, 180), At(pins, 4, 3, 1, 180)],
        Box(-2, -1.6, 2, 1.6) +
        Line((-2, 1), (-1, 1), (-1, -1), (-2, -1)) + Line((-1.4, 0.4), (-0.6, 0.4), (-1, -0.3), (-1.4, 0.4)) + Line((-1.4, -0.3), (-0.6, -0.3)) +
        Line((-0.4, 0.2), (0.3, 0.2)) + Line((-0.4, -0.2), (0.3, -0.2)) +
        Line((0.7, -0.7), (0.7, 0.7)) + Line((0.7, 0.2), (1.4, 1), (2, 1)) + Line((0.7, -0.2), (1.4, -1), (2, -1)), 2, 1.6, false);

    private static Symbol Module(string name, IReadOnlyList<Pin> all, List<Pin> left, List<Pin> right, double half)
    {
        var rows = Math.Max(left.Count, right.Count);
        var top = Math.Floor((rows - 1) / 2.0);
        var pins = left.Select((p, i) => At(all, p.Number, -half - 1, top - i, 0))
            .Concat(right.Select((p, i) => At(all, p.Number, half + 1, top - i, 180))).ToList();
        return new(name, pins, Box(-half, top - rows + 0.25, half, top + 0.75), half, Math.Max(top + 0.75, rows - top - 0.25), true);
    }

    private static SymbolPin At(IReadOnlyList<Pin> pins, int number, double x, double y, int angle) =>
        new(number, pins.First(p => p.Number == number).Name, x, y, angle, 1);

    private static string Line(params (double X, double Y)[] points)
    {
        var text = new StringBuilder("(polyline (pts");
        foreach (var (x, y) in points)
        {
            text.Append($" (xy {SExpr.Mm(x * Grid)} {SExpr.Mm(y * Grid)})");
        }

        return text.Append(") (stroke (width 0.2032) (type default) (color 0 0 0 0)) (fill (type none)))\n").ToString();
    }

    private static string Box(double x1, double y1, double x2, double y2) =>
        $"(rectangle (start {SExpr.Mm(x1 * Grid)} {SExpr.Mm(y1 * Grid)}) (end {SExpr.Mm(x2 * Grid)} {SExpr.Mm(y2 * Grid)}) (stroke (width 0.254) (type default) (color 0 0 0 0)) (fill (type background)))\n";

    private static string Circle(double x, double y, double r) =>
        $"(circle (center {SExpr.Mm(x * Grid)} {SExpr.Mm(y * Grid)}) (radius {SExpr.Mm(r * Grid)}) (stroke (width 0.2032) (type default) (color 0 0 0 0)) (fill (type none)))\n";
}
