using System.Text;

namespace Intervalometer.Hardware;

/// <summary>A supply or ground symbol at the end of a short wire, drawn the way the wire leads: ground downwards where it can.</summary>
/// <param name="Net">GND or V33.</param>
/// <param name="Reference">KiCad's own numbering: #PWR001.</param>
/// <param name="X">Grid units.</param>
/// <param name="Y">Grid units, downwards.</param>
/// <param name="Away">The direction away from the part, y downwards.</param>
public sealed record PowerSymbol(string Net, string Reference, double X, double Y, (int X, int Y) Away)
{
    /// <summary>The nets that have a symbol and no label.</summary>
    public static readonly string[] Nets = ["GND", "V33"];

    /// <summary>Both symbols: GND points down, V33 up, at rotation 0.</summary>
    public static string Definitions(string prefix)
    {
        var text = new StringBuilder();
        foreach (var (net, y, shape) in new[]
        {
            ("GND", -1, "(polyline (pts (xy 0 0) (xy 0 -1.27) (xy 1.27 -1.27) (xy 0 -2.54) (xy -1.27 -1.27) (xy 0 -1.27)) (stroke (width 0.2) (type default) (color 0 0 0 0)) (fill (type none)))"),
            ("V33", 1, "(polyline (pts (xy 0 0) (xy 0 1.905) (xy -0.762 0.762) (xy 0 1.905) (xy 0.762 0.762)) (stroke (width 0.2) (type default) (color 0 0 0 0)) (fill (type none)))"),
        })
        {
            text.Append($"(symbol {SExpr.Quote(prefix + net)} (power) (pin_numbers hide) (pin_names (offset 0) hide) (in_bom no) (on_board no)\n");
            text.Append($"(property \"Reference\" \"#PWR\" (id 0) (at 0 0 0) (effects (font (size 1.27 1.27)) hide))\n(property \"Value\" {SExpr.Quote(net)} (id 1) (at 0 {SExpr.Mm(y * 3.6)} 0) (effects (font (size 1.27 1.27))))\n");
            text.Append("(property \"Footprint\" \"\" (id 2) (at 0 0 0) (effects (font (size 1.27 1.27)) hide))\n(property \"Datasheet\" \"\" (id 3) (at 0 0 0) (effects (font (size 1.27 1.27)) hide))\n");
            text.Append($"(symbol {SExpr.Quote(net + "_0_1")}\n{shape})\n(symbol {SExpr.Quote(net + "_1_1")}\n(pin power_in line (at 0 0 {(y < 0 ? 270 : 90)}) (length 0) hide (name {SExpr.Quote(net)} (effects (font (size 1.27 1.27)))) (number \"1\" (effects (font (size 1.27 1.27)))))))\n");
        }

        return text.ToString();
    }

    /// <summary>The symbol on the sheet.</summary>
    public string Instance()
    {
        // Degrees counter-clockwise that bring the symbol's own direction (down for ground, up for the supply) to the wire's.
        var wanted = Away switch { (1, 0) => 0, (0, -1) => 90, (-1, 0) => 180, _ => 270 };
        var turn = (wanted - (Net == "GND" ? 270 : 90) + 360) % 360;
        var (x, y) = (X + Away.X * 1.5, Y + Away.Y * 1.5);
        var justify = Away switch { (1, 0) => " (justify left)", (-1, 0) => " (justify right)", _ => "" };
        // A field's angle is relative to its symbol: it reads from left to right when both are upright or both lie.
        var angle = turn is 90 or 270 ? 90 : 0;
        var mirrored = turn is 90 or 180 ? justify.Replace("left", "LEFT", StringComparison.Ordinal).Replace("right", "left", StringComparison.Ordinal).Replace("LEFT", "right", StringComparison.Ordinal) : justify;
        var text = new StringBuilder();
        text.Append($"(symbol (lib_id {SExpr.Quote("intervalometer:" + Net)}) (at {At(X, Y)} {turn}) (unit 1) (in_bom no) (on_board no) (uuid {SExpr.Uuid("symbol/" + Reference)})\n");
        text.Append($"(property \"Reference\" {SExpr.Quote(Reference)} (id 0) (at {At(X, Y)} 0) (effects (font (size 1.27 1.27)) hide))\n");
        text.Append($"(property \"Value\" {SExpr.Quote(Net)} (id 1) (at {At(x, y)} {angle}) (effects (font (size 1.27 1.27)){mirrored}))\n");
        text.Append($"(property \"Footprint\" \"\" (id 2) (at {At(X, Y)} 0) (effects (font (size 1.27 1.27)) hide))\n(property \"Datasheet\" \"\" (id 3) (at {At(X, Y)} 0) (effects (font (size 1.27 1.27)) hide))\n");
        return text.Append($"(pin \"1\" (uuid {SExpr.Uuid("pin/" + Reference)}))\n)\n").ToString();
    }

    private static string At(double x, double y) => $"{SExpr.Mm(x * Symbols.Grid)} {SExpr.Mm(y * Symbols.Grid)}";
}
