namespace Intervalometer.Hardware;

/// <summary>One thing that may go wrong on the board, in words, with what it does to the netlist.</summary>
/// <param name="Kind">open, short, turned, stuck (an output of the ESP32 stands at one level) or bridge.</param>
/// <param name="Where">The part, its pins, or the two pads.</param>
/// <param name="Ohms">Resistance of a bridge; 0 otherwise.</param>
/// <param name="Pins">The pins that are open, shorted or bridged.</param>
public sealed record Fault(string Kind, string Where, double Ohms, IReadOnlyList<Pin> Pins)
{
    /// <summary>The reference of the part, or of the first pad of a bridge.</summary>
    public string Reference => Pins[0].Reference;

    /// <summary>"R8 open", or "HOLD_REF (U5.1) to V33 (R11.1), 1M".</summary>
    public string Words => Kind switch { "bridge" => $"{Where}, {Name(Ohms)}", "stuck" => Where, _ => $"{Where} {Kind}" };

    /// <summary>The level of an output that is stuck.</summary>
    public bool High => Where.EndsWith("high", StringComparison.Ordinal);

    /// <summary>100k, 1M, 1M5.</summary>
    public static string Name(double ohms) => ohms >= 1e6 ? $"{(int)(ohms / 1e6)}M{(ohms % 1e6 > 0 ? $"{(int)(ohms % 1e6 / 1e5)}" : "")}" : $"{ohms / 1e3:0}k";
}

/// <summary>Every single fault that the tables allow: each lead open, each pair of leads shorted, each polarised part turned, each output of the ESP32 stuck, each pair of neighbouring pads bridged.</summary>
public static class FaultList
{
    /// <summary>A film of salt water between two pads (own range; fresh salt films of a few square millimetres).</summary>
    public static readonly double[] Bridges = [100e3, 330e3, 1e6, 1.5e6, 2e6];

    /// <summary>Pads whose copper is nearer than this many millimetres are neighbours: one step of 2.54 mm.</summary>
    public const double Neighbour = 1.2;

    private static readonly string[] Levels = ["low", "high"];

    private static readonly Dictionary<string, int[]> Turns = new()
    {
        ["diode"] = [2, 1],
        ["led"] = [2, 1],
        ["capacitor-polar"] = [2, 1],
        ["buzzer"] = [2, 1],
        ["connector"] = [2, 1],
        ["pnp"] = [3, 2, 1],
        ["npn"] = [3, 2, 1],
        ["reference"] = [3, 2, 1],
        ["regulator"] = [3, 2, 1],
        ["opto"] = [3, 4, 1, 2],
    };

    /// <summary>The order of the pins of a part that is put in the other way round; null when that makes no difference or is not possible.</summary>
    public static int[]? TurnOf(Part part) => Turns.GetValueOrDefault(part.Kind);

    /// <summary>All faults of the board.</summary>
    public static IReadOnlyList<Fault> All(Layout layout)
    {
        var circuit = layout.Circuit;
        var faults = new List<Fault>();
        foreach (var reference in circuit.References.Where(r => circuit.PartOf(r).Kind is not "test-pad"))
        {
            var pins = circuit.PinsOf(reference).Where(p => !p.IsOpen).ToList();
            if (circuit.PartOf(reference).Pins == 2)
            {
                faults.Add(new("open", reference, 0, [pins[0]]));
                faults.Add(new("short", reference, 0, pins));
            }
            else
            {
                faults.AddRange(pins.Select(p => new Fault("open", $"{reference} {p.Name} (pin {p.Number})", 0, [p])));
                // The ESP32 board has 38 pins: of its pairs the neighbours count.
                faults.AddRange(from a in pins
                                from b in pins
                                where a.Number < b.Number && a.Net != b.Net && (circuit.PartOf(reference).Kind != "board" || b.Number == a.Number + 1)
                                select new Fault("short", $"{reference} {a.Name} to {b.Name}", 0, [a, b]));
            }

            if (circuit.PartOf(reference).Kind == "board")
            {
                faults.AddRange(from p in pins
                                where ElectricalRules.Outputs.Contains(p.Net)
                                from level in Levels
                                select new Fault("stuck", $"{reference} {p.Name} stuck {level}", 0, [p]));
            }

            if (TurnOf(circuit.PartOf(reference)) is not null)
            {
                faults.Add(new("turned", reference, 0, circuit.PinsOf(reference)));
            }
        }

        foreach (var (a, b) in Neighbours(layout))
        {
            faults.AddRange(Bridges.Select(ohms => new Fault("bridge", $"{NetOf(a)} ({a.Pin.Key}) to {NetOf(b)} ({b.Pin.Key})", ohms, [a.Pin, b.Pin])));
        }

        return faults;
    }

    /// <summary>Pads of different nets with less than <see cref="Neighbour"/> between them, one pair of pads for each pair of nets.</summary>
    public static IReadOnlyList<(BoardPad A, BoardPad B)> Neighbours(Layout layout)
    {
        var pairs = new Dictionary<string, (BoardPad, BoardPad)>();
        for (var i = 0; i < layout.Pads.Count; i++)
        {
            for (var j = i + 1; j < layout.Pads.Count; j++)
            {
                var (a, b) = (layout.Pads[i], layout.Pads[j]);
                if (a.Pin.Net != b.Pin.Net || a.Pin.IsOpen)
                {
                    var gap = Math.Sqrt(Math.Pow(a.X - b.X, 2) + Math.Pow(a.Y - b.Y, 2)) - a.Radius - b.Radius;
                    if (gap < Neighbour)
                    {
                        var key = string.CompareOrdinal(NetOf(a), NetOf(b)) < 0 ? $"{NetOf(a)}/{NetOf(b)}" : $"{NetOf(b)}/{NetOf(a)}";
                        pairs.TryAdd(key, string.CompareOrdinal(NetOf(a), NetOf(b)) < 0 ? (a, b) : (b, a));
                    }
                }
            }
        }

        return pairs.OrderBy(p => p.Key, StringComparer.Ordinal).Select(p => p.Value).ToList();
    }

    private static string NetOf(BoardPad pad) => pad.Pin.IsOpen ? $"open {pad.Pin.Name}" : pad.Pin.Net;
}
