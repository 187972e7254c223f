using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>
/// The limiter, both release channels and the camera's inputs as one circuit for ngspice, written from the wiring table, with one
/// fault in it. The part models are those of the decks under hardware/spice.
/// </summary>
public sealed class FaultDeck
{
    /// <summary>What is measured, in the order of <see cref="Measured"/>.</summary>
    public static readonly string[] Values = ["aq_h", "aq_s", "low_h", "low_s", "alone_h", "alone_s", "on_h", "on_s", "off_h", "off_s", "r_idle", "r_beat", "r_after", "rest_h", "rest_s", "free_h", "free_s", "other_h", "other_s", "pull_h", "pull_s"];

    /// <summary>Parts that are simulated.</summary>
    public static readonly string[] Parts = ["U2", "U3", "U5", "Q1", "Q2", "Q3", "D2", "D3", "C4", "C5", "R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8", "R9", "R10", "R11", "R31", "R32", "R33", "R34", "R35", "R36"];

    private static readonly string[] Driven = ["HEARTBEAT", "SHUTTER", "HALF_PRESS"];
    private readonly Circuit _circuit;

    /// <summary>For one circuit.</summary>
    public FaultDeck(Circuit circuit)
    {
        _circuit = circuit;
        Nets = Parts.SelectMany(circuit.PinsOf).Select(p => p.Net).ToHashSet();
    }

    /// <summary>Nets of the simulated parts.</summary>
    public IReadOnlySet<string> Nets { get; }

    /// <summary>
    /// The deck. Time: to 0.6 s no beats and both lines high, as when the program died so; 0.7 to 1.9 s beats, half-press alone high from 1.5 s,
    /// the shutter alone from 1.6 s, both from 1.7 s;
    /// then the beats stop at the level <paramref name="rest"/> with the lines still high, which must let go within 5 s.
    /// A net outside of this circuit stands at the level <paramref name="outside"/>.
    /// </summary>
    public string Write(Fault? fault, int rest, int outside, double pull)
    {
        var text = new StringBuilder($"* {fault?.Words ?? "no fault"}; heartbeat rests at {rest}\n.options @options\n");
        text.Append(CultureInfo.InvariantCulture, $"V33 v33 0 3.3\nVcam vcam cam_common 3.3\nRph vcam cam_half {pull}\nRps vcam cam_shutter {pull}\nCph cam_half cam_common 300p\nCps cam_shutter cam_common 300p\nRiso cam_common 0 1G\nCiso cam_common 0 100p\n");
        text.Append("Eh ph 0 cam_half cam_common 1\nRh ph 0 1k\nEs ps 0 cam_shutter cam_common 1\nRs ps 0 1k\n");
        text.Append(CultureInfo.InvariantCulture, $"Vbeat pin_heartbeat 0 PULSE({3.3 * rest} {3.3 * (1 - rest)} 0.7 1u 1u 10m 20m 60)\n");
        text.Append("Vhalf_press pin_half_press 0 PWL(0 3.3 0.6 3.3 0.601 0 1.5 0 1.501 3.3 1.6 3.3 1.601 0 1.7 0 1.701 3.3)\n");
        text.Append("Vshutter pin_shutter 0 PWL(0 3.3 0.6 3.3 0.601 0 1.6 0 1.601 3.3)\n");
        if (fault?.Kind == "stuck")
        {
            var pin = "pin_" + fault.Pins[0].Net.ToLowerInvariant();
            text.Replace($" {pin} 0 P", $" free_{pin} 0 P").Append($"Vstuck {pin} 0 {(fault.High ? 3.3 : 0)}\nRfree free_{pin} 0 1k\n");
        }

        foreach (var net in Driven)
        {
            var pin = _circuit.Pins.First(p => p.Net == net && _circuit.PartOf(p.Reference).Kind == "board");
            text.Append($"Rpin{net} pin_{net.ToLowerInvariant()} {Node(pin, fault)} 30\n");
        }

        foreach (var net in Nets.Where(n => n is not ("GND" or "V33")))
        {
            text.Append($"Rleak{net} {N(net)} 0 1G\n");
        }

        foreach (var reference in Parts)
        {
            Element(text, reference, fault);
        }

        if (fault?.Kind is "short" or "bridge")
        {
            var nodes = fault.Pins.Select(p => Nets.Contains(p.Net) ? N(p.Net) : outside == 1 ? "v33" : "0").ToList();
            text.Append(CultureInfo.InvariantCulture, $"Rfault {nodes[0]} {nodes[1]} {(fault.Kind == "short" ? 0.1 : fault.Ohms)}\n");
        }

        text.Append(".model D1N4148 D(IS=2.5n N=1.75 RS=0.6 CJO=4p TT=6n EG=1.11 XTI=3)\n.model DLED D(IS=1.7e-12 N=2 RS=1 CJO=30p TT=100n EG=1.4 BV=6)\n.model PHOTO NPN(IS=1e-14 BF=500 BR=5 CJE=20p CJC=15p TF=0.5n TR=50n VAF=100)\n");
        text.Append(".model BC327 PNP(IS=4e-14 BF=160 BR=5 CJE=40p CJC=20p TF=1n TR=50n VAF=60)\n.model BC337 NPN(IS=4e-14 BF=200 BR=5 CJE=40p CJC=12p TF=0.6n TR=50n VAF=80)\n.tran 5m 7.0 0 20m\n");
        foreach (var (channel, letter) in new[] { ("ph", "h"), ("ps", "s") })
        {
            text.Append($".meas tran aq_{letter} MIN V({channel}) FROM=0.3 TO=0.59\n.meas tran low_{letter} MIN V({channel}) FROM=0.9 TO=1.49\n.meas tran on_{letter} MAX V({channel}) FROM=1.8 TO=1.89\n.meas tran off_{letter} FIND V({channel}) AT=6.95\n");
            text.Append($".meas tran alone_{letter} MIN V({channel}) {(letter == "h" ? "FROM=1.64 TO=1.69" : "FROM=1.54 TO=1.59")}\n");
            // The driver read back: at rest, under beats, while the other line alone is high, and while its own is.
            var read = N(letter == "h" ? "HALF_SENSE" : "SHUTTER_SENSE");
            text.Append($".meas tran rest_{letter} MIN V({read}) FROM=0.65 TO=0.69\n.meas tran free_{letter} MIN V({read}) FROM=0.75 TO=1.49\n.meas tran other_{letter} MIN V({read}) {(letter == "h" ? "FROM=1.64 TO=1.69" : "FROM=1.54 TO=1.59")}\n.meas tran pull_{letter} MAX V({read}) FROM=1.8 TO=1.89\n");
        }

        var sense = N("LIMITER");
        return text.Append($".meas tran r_idle MAX V({sense}) FROM=0.3 TO=0.59\n.meas tran r_beat MIN V({sense}) FROM=1.45 TO=1.89\n.meas tran r_after FIND V({sense}) AT=6.95\n.end\n").ToString();
    }

    private static string N(string net) => net == "GND" ? "0" : net.ToLowerInvariant();

    private static string Node(Pin pin, Fault? fault) =>
        fault?.Kind == "open" && fault.Pins.Any(p => p.Key == pin.Key) ? $"open_{pin.Reference.ToLowerInvariant()}_{pin.Number}" : N(pin.Net);

    private void Element(StringBuilder text, string reference, Fault? fault)
    {
        var part = _circuit.PartOf(reference);
        var pins = _circuit.PinsOf(reference).OrderBy(p => p.Number).ToList();
        if (fault?.Kind == "turned" && fault.Reference == reference)
        {
            pins = FaultList.TurnOf(part)!.Select(i => pins[i - 1]).ToList();
        }

        var n = pins.Select(p => Node(p, fault)).ToArray();
        foreach (var open in n.Where(x => x.StartsWith("open_", StringComparison.Ordinal)))
        {
            text.Append($"Rfloat{open} {open} 0 1G\n");
        }

        switch (part.Kind)
        {
            case "resistor" or "capacitor":
                text.Append(CultureInfo.InvariantCulture, $"{reference} {n[0]} {n[1]} {part.Number:G6}\n");
                break;
            case "diode":
                text.Append($"{reference} {n[1]} {n[0]} D1N4148\n");
                break;
            case "pnp":
                text.Append($"{reference} {n[0]} {n[1]} {n[2]} BC327\n");
                break;
            case "npn":
                text.Append($"{reference} {n[0]} {n[1]} {n[2]} BC337\n");
                break;
            case "reference":
                // Above 1.24 V at REF it sinks, down to about 1 V; a cathode below its anode conducts as a diode.
                text.Append($"Biref {n[0]} {n[1]} I={{0.15u*max(0,min(1,V({n[0]},{n[1]})/0.6))}}\nCref {n[0]} {n[1]} 5p\n");
                text.Append($"Bsink {n[2]} {n[1]} I={{max(0,V({n[2]},{n[1]})-1.0)/20/(1+exp(-max(-40,min(40,(V({n[0]},{n[1]})-1.24)/2m))))}}\nCsink {n[2]} {n[1]} 20p\nDsub{reference} {n[1]} {n[2]} D1N4148\n");
                break;
            case "opto":
                text.Append($"D{reference} {n[0]} s{reference} DLED\nVs{reference} s{reference} {n[1]} 0\nF{reference} {n[3]} b{reference} Vs{reference} 0.006\nQ{reference} {n[3]} b{reference} {n[2]} PHOTO\nRb{reference} b{reference} {n[2]} 1G\n");
                break;
            default:
                throw new InvalidDataException($"{reference}: a {part.Kind} is not modelled");
        }
    }
}
