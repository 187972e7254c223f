using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>The two-wire bus by the sums of UM10204: who is on it, what its lines weigh, and between which pull-ups it works.</summary>
public sealed class Bus
{
    /// <summary>Both lines.</summary>
    public static readonly string[] Lines = ["SDA", "SCL"];

    /// <summary>Part of the supply between which a rise is timed, and the same for the level that counts as low (UM10204: 0.3 and 0.7 VDD).</summary>
    private const double LowPart = 0.3, HighPart = 0.7;

    private const double LowVolts = 0.4;

    /// <summary>The seven-bit addresses at which a chip can answer, by the sheets of DS3231 (0x68), AT24C32 (0x50 to 0x57), SSD1309 and SSD1306 (0x3C, 0x3D) and VEML7700 (0x10).</summary>
    private static readonly Dictionary<string, string[][]> Possible = new()
    {
        ["clock"] = [["0x68"], ["0x50", "0x51", "0x52", "0x53", "0x54", "0x55", "0x56", "0x57"]],
        ["display"] = [["0x3C", "0x3D"]],
        ["light"] = [["0x10"]],
    };

    private readonly Circuit _c;
    private readonly Facts _f;

    /// <summary>The bus of a circuit.</summary>
    public Bus(Circuit circuit, Facts facts)
    {
        _c = circuit;
        _f = facts;
    }

    /// <summary>The parts with an address, in the order of the table.</summary>
    public IReadOnlyList<string> Modules => _c.References.Where(r => _c.PartOf(r).Addresses.Length > 0).ToList();

    /// <summary>The bus of the same box with its optional parts left out.</summary>
    public Bus WithoutOptional() => new(new(_c.Pins.Where(p => !_c.PartOf(p.Reference).Optional).ToList(), _c.Parts), _f);

    /// <summary>Chips on each line: one an address, and the ESP32.</summary>
    public int Chips => Modules.Sum(r => Addresses(r).Length) + 1;

    /// <summary>Metres of wire from the board to the parts in the lid and the walls.</summary>
    public double Leads => Modules.Where(r => _c.PartOf(r).Mount == "panel").Sum(r => _f["i2c_lead_" + _c.PartOf(r).Kind]);

    /// <summary>Picofarads of one line: chips, wires and tracks.</summary>
    public double Picofarads => Chips * _f["i2c_chip"] + Leads * _f["i2c_wire"] + _f["i2c_track_length"] * _f["i2c_track"];

    /// <summary>The pull-up of a line in ohm when no module brings one.</summary>
    public double Weakest(string line) => Own(line) is > 0 and var own ? (1 + _f["i2c_tolerance"]) / own : double.PositiveInfinity;

    /// <summary>The pull-up of a line in ohm when every module brings the strongest that the parts list allows.</summary>
    public double Strongest(string line) => 1 / (Own(line) / (1 - _f["i2c_tolerance"]) + Modules.Count(r => _c.PinsOf(r).Any(p => p.Net == line)) / _f["i2c_module_pull_low"]);

    /// <summary>The weakest pull-up in ohm that is fast enough.</summary>
    public double Allowed => WeakestPullUp(Rise, Picofarads);

    /// <summary>Nanoseconds that a line takes to rise from 0.3 to 0.7 of the supply.</summary>
    public double RiseOf(string line) => Math.Log((1 - LowPart) / (1 - HighPart)) * Weakest(line) * Picofarads * 1e-3;

    /// <summary>Milliamps that a chip must sink to hold a line low.</summary>
    public double Sink(string line) => (_f["supply"] * (1 + _f["supply_tolerance"]) - LowVolts) / Strongest(line) * 1e3;

    private double Rise => _f["i2c_speed"] <= 100 ? _f["i2c_rise_standard"] : _f["i2c_rise"];

    /// <summary>UM10204 section 7.1: the largest pull-up in ohm for a rise time in ns and a bus capacitance in pF.</summary>
    public static double WeakestPullUp(double riseNs, double picofarads) => riseNs * 1e3 / (0.8473 * picofarads);

    /// <summary>Adds a sentence for each thing that keeps the bus from working.</summary>
    public void Check(List<Violation> found)
    {
        foreach (var twice in Modules.SelectMany(r => Addresses(r).Select(a => (r, a))).GroupBy(x => x.a).Where(g => g.Count() > 1))
        {
            found.Add(new("address-twice", $"{twice.Key} is used by {string.Join(" and ", twice.Select(x => x.r))}"));
        }

        foreach (var reference in Modules)
        {
            var (part, given) = (_c.PartOf(reference), Addresses(reference));
            if (Possible.TryGetValue(part.Kind, out var possible) && (possible.Length != given.Length || possible.Where((p, i) => !p.Contains(given[i])).Any()))
            {
                found.Add(new("address-of-chip", $"{reference} is written at {part.Addresses}; a {part.Value} answers at {string.Join(" and at ", possible.Select(p => string.Join(" or ", p)))} alone"));
            }

            foreach (var pin in _c.PinsOf(reference).Where(p => part.TypeOf(p.Name) == "power_in" && p.Name == "VCC" && p.Net != "V33"))
            {
                found.Add(new("bus-supply", $"{pin.Key} feeds {reference} from {(pin.IsOpen ? "nothing" : pin.Net)}; every chip of the bus is fed from V33, to which the bus is pulled up: more burns it, and without a supply it holds the bus down"));
            }
        }

        foreach (var line in Lines)
        {
            if (Weakest(line) > Allowed)
            {
                found.Add(new("bus-pull-up", Invariant($"{line}: pull-up {Weakest(line):F0} ohm is weaker than {Allowed:F0} ohm, too slow for {_f["i2c_speed"]:F0} kHz with {Picofarads:F0} pF on it")));
            }

            if (Sink(line) > _f["i2c_sink"])
            {
                found.Add(new("bus-pull-up", Invariant($"{line}: {Sink(line):F2} mA to pull low, more than {_f["i2c_sink"]:F0} mA")));
            }
        }
    }

    /// <summary>The page: the sums without and with the optional parts.</summary>
    public string Page()
    {
        var (bare, line) = (WithoutOptional(), Lines[0]);
        var extra = string.Join(", ", Modules.Except(bare.Modules).Select(r => $"{_c.PartOf(r).Title.ToLowerInvariant()} {r}"));
        var text = new StringBuilder("# Bus budget\n\nComputed from `wiring.csv`, `parts.csv` and `facts.csv`, which names the source of each figure, by the sums of UM10204 (the standard of the two-wire bus), section 7.1. Nothing here was measured on a board.\n\n");
        text.Append("| Part | Address | Fed from |\n| --- | --- | --- |\n");
        foreach (var reference in Modules)
        {
            var part = _c.PartOf(reference);
            text.Append($"| {reference} {part.Title.ToLowerInvariant()}{(part.Optional ? " (optional)" : "")} | {part.Addresses} | {_c.PinsOf(reference).First(p => p.Name == "VCC").Net} |\n");
        }

        text.Append($"\n| One line at {N(_f["i2c_speed"])} kHz | without the {extra} | with it |\n| --- | ---: | ---: |\n");
        void Row(string what, Func<Bus, string> value) => text.Append($"| {what} | {value(bare)} | {value(this)} |\n");
        Row($"chips, {N(_f["i2c_chip"])} pF each", b => $"{b.Chips}: {N(b.Chips * _f["i2c_chip"])} pF");
        Row($"wire, {N(_f["i2c_wire"])} pF a metre", b => $"{N(b.Leads)} m: {N(b.Leads * _f["i2c_wire"])} pF");
        Row($"tracks, {N(_f["i2c_track"])} pF a millimetre", _ => $"{N(_f["i2c_track_length"])} mm: {N(_f["i2c_track_length"] * _f["i2c_track"])} pF");
        Row("**all together**", b => $"**{b.Picofarads:0} pF**");
        Row($"weakest pull-up for a rise of {N(Rise)} ns", b => $"{b.Allowed:0} ohm");
        Row("pull-up on the board, no module with its own", b => $"{b.Weakest(line):0} ohm");
        Row($"rise time then ({N(Rise)} ns allowed)", b => $"{b.RiseOf(line):0} ns");
        Row($"pull-up when every module brings {N(_f["i2c_module_pull_low"])} ohm", b => $"{b.Strongest(line):0} ohm");
        Row(Invariant($"current to pull low then ({N(_f["i2c_sink"])} mA allowed)"), b => Invariant($"{b.Sink(line):0.00} mA"));
        text.Append("\nA longer wire, a fourth module or pull-ups below the limit of the parts list leave these bounds; the generator refuses such a table and says which bound.\n");
        return text.ToString();
    }

    private string[] Addresses(string reference) => _c.PartOf(reference).Addresses.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private double Own(string line) => _c.References
        .Where(r => _c.PartOf(r).Kind == "resistor" && _c.PinsOf(r).Any(p => p.Net == line) && _c.PinsOf(r).Any(p => p.Net == "V33"))
        .Sum(r => 1 / _c.PartOf(r).Number);

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
