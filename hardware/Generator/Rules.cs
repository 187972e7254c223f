using System.Globalization;

namespace Intervalometer.Hardware;

/// <summary>One broken rule.</summary>
public sealed record Violation(string Rule, string Text);

/// <summary>The electrical rules of this box, over the wiring table. KiCad's own check knows none of these.</summary>
public static class ElectricalRules
{
    private static readonly int[] Strapping = [0, 2, 5, 12, 15];
    private static readonly int[] Flash = [6, 7, 8, 9, 10, 11];
    private static readonly int[] Console = [1, 3];
    private static readonly string[] HoldNets = ["HOLD", "HOLD_REF", "BEAT_AC"];

    /// <summary>Nets that the board drives.</summary>
    public static readonly string[] Outputs = ["HALF_PRESS", "SHUTTER", "LED", "BUZZER", "HEARTBEAT"];

    /// <summary>Nets of the buttons in the order of the firmware's button bits.</summary>
    public static readonly string[] Buttons = ["UP", "DOWN", "BACK", "SELECT", "MARK", "FIRE"];

    private static readonly Dictionary<string, string[]> Camera = new()
    {
        ["CAM_COMMON"] = ["J2.1", "U2.3", "U3.3"],
        ["CAM_SHUTTER"] = ["J2.2", "U3.4"],
        ["CAM_HALF"] = ["J2.3", "U2.4"],
    };

    /// <summary>Every violation found; an empty list is a table that may be built.</summary>
    public static IReadOnlyList<Violation> Check(Circuit circuit, Facts facts, IReadOnlyList<Role> roles)
    {
        var found = new List<Violation>();
        Table(circuit, found);
        if (found.Count > 0)
        {
            return found; // The other rules walk the table and would only repeat these.
        }

        CameraNets(circuit, found);
        Isolation(circuit, found);
        new Bus(circuit, facts).Check(found);
        BoardPins(circuit, found);
        OutputCurrents(circuit, facts, found);
        ReleaseLines(circuit, facts, found);
        ButtonNets(circuit, facts, found);
        Heartbeat(circuit, found);
        Gauge(circuit, facts, found);
        RoleRules.Fuse(circuit, facts, found);
        RoleRules.Check(circuit, roles, found);
        return found;
    }

    private static void Table(Circuit c, List<Violation> found)
    {
        foreach (var pin in c.Pins.Where(p => p.Net.Length == 0))
        {
            found.Add(new("pin-without-net", $"{pin.Key} ({pin.Name}) has no net; write one, or - for a pin left open"));
        }

        foreach (var twice in c.Pins.GroupBy(p => p.Key).Where(g => g.Count() > 1))
        {
            found.Add(new("reference-twice", $"{twice.Key} is in the table {twice.Count()} times"));
        }

        foreach (var group in c.Pins.GroupBy(p => p.Reference))
        {
            var names = group.Select(p => p.Part).Distinct().ToList();
            if (names.Count > 1)
            {
                found.Add(new("reference-twice", $"{group.Key} is two parts: {string.Join(", ", names)}"));
            }
            else if (!c.Parts.TryGetValue(names[0], out var part))
            {
                found.Add(new("unknown-part", $"{group.Key} uses {names[0]}, which parts.csv does not list"));
            }
            else if (!group.Select(p => p.Number).Order().SequenceEqual(Enumerable.Range(1, part.Pins)))
            {
                found.Add(new("pin-missing", $"{group.Key} must list pins 1 to {part.Pins} once each"));
            }
        }

        foreach (var net in c.Nets.Where(n => n.Key.Length > 0 && n.Count() < 2))
        {
            found.Add(new("net-of-one", $"net {net.Key} has only {net.First().Key}"));
        }
    }

    private static void CameraNets(Circuit c, List<Violation> found)
    {
        var actual = c.Nets.ToDictionary(n => n.Key, n => n.Select(p => p.Key).Order(StringComparer.Ordinal).ToList());
        foreach (var (net, members) in Camera)
        {
            if (!actual.TryGetValue(net, out var pins) || !pins.SequenceEqual(members.Order(StringComparer.Ordinal)))
            {
                found.Add(new("camera-net", $"{net} must be exactly {string.Join(" ", members)}"));
            }
        }

        foreach (var net in actual.Keys.Where(n => n.StartsWith("CAM_", StringComparison.Ordinal) && !Camera.ContainsKey(n)))
        {
            found.Add(new("camera-net", $"{net} is not a net of the camera side"));
        }
    }

    /// <summary>Walks through every part except from one side of an optocoupler to the other.</summary>
    private static void Isolation(Circuit c, List<Violation> found)
    {
        var reached = new HashSet<string>();
        var todo = new Stack<string>(Camera.Keys);
        while (todo.Count > 0)
        {
            var net = todo.Pop();
            if (!reached.Add(net))
            {
                continue;
            }

            foreach (var pin in c.Pins.Where(p => p.Net == net))
            {
                var opto = c.PartOf(pin.Reference).Kind == "opto";
                foreach (var other in c.PinsOf(pin.Reference).Where(p => !p.IsOpen && (!opto || p.Number <= 2 == pin.Number <= 2)))
                {
                    todo.Push(other.Net);
                }
            }
        }

        foreach (var net in reached.Where(n => !Camera.ContainsKey(n)).Order(StringComparer.Ordinal))
        {
            found.Add(new("isolation", $"the camera side reaches {net} without passing an optocoupler"));
        }
    }

    private static void BoardPins(Circuit c, List<Violation> found)
    {
        foreach (var pin in BoardSignals(c))
        {
            var io = Gpio(pin);
            if (Outputs.Contains(pin.Net) && io >= 34)
            {
                found.Add(new("output-on-input", $"{pin.Net} is driven by IO{io}, which can only read"));
            }

            if (Strapping.Contains(io))
            {
                found.Add(new("strapping-pin", $"{pin.Net} is on IO{io}, which sets how the board boots"));
            }

            if (Flash.Contains(io) || Console.Contains(io))
            {
                found.Add(new("reserved-pin", $"{pin.Net} is on IO{io}, which the flash or the console uses"));
            }

            // ESP32 sheet, IO_MUX: MTMS (IO14) puts out a signal during boot (from memory). Errata: IO36 and IO39 dip when the converter wakes (from memory).
            // A pin that dips for 80 ns may still be read twice, so the read-back of the limiter may sit there; those of the drivers lie behind 220 kohm, through which no pin can light a coupler.
            if (io is 14 or 36 or 39 && !(pin.Net == "LIMITER" && io != 14) && !pin.Net.EndsWith("_SENSE", StringComparison.Ordinal))
            {
                found.Add(new("restless-pin", $"{pin.Net} is on IO{io}, which is not quiet"));
            }
        }
    }

    private static void OutputCurrents(Circuit c, Facts f, List<Violation> found)
    {
        foreach (var pin in BoardSignals(c).Where(p => Outputs.Contains(p.Net)))
        {
            // The largest current: every resistor on the net with the full supply across it.
            var direct = c.Pins.Where(p => p.Net == pin.Net && p.Reference != pin.Reference && c.PartOf(p.Reference).Kind is not ("resistor" or "test-pad")).ToList();
            foreach (var other in direct)
            {
                found.Add(new("output-current", $"{pin.Net}: {other.Key} is wired to the output without a resistor"));
            }

            var milliamps = c.Pins.Where(p => p.Net == pin.Net && c.PartOf(p.Reference).Kind == "resistor")
                .Sum(p => f["supply"] / c.PartOf(p.Reference).Number * 1e3);
            if (milliamps > f["gpio_working_limit"])
            {
                found.Add(new("output-current", Invariant($"{pin.Net}: up to {milliamps:F1} mA, more than {f["gpio_working_limit"]:F0} mA")));
            }
        }

        foreach (var opto in c.References.Where(r => c.PartOf(r).Kind == "opto"))
        {
            var anode = c.PinsOf(opto)[0].Net;
            var ohms = c.Pins.Where(p => p.Net == anode && c.PartOf(p.Reference).Kind == "resistor").Select(p => c.PartOf(p.Reference).Number).DefaultIfEmpty(0).Min();
            var current = ohms > 0 ? (f["supply"] - 1.0) / ohms * 1e3 : double.PositiveInfinity;
            if (current > f["opto_if_max"] / 2)
            {
                found.Add(new("opto-current", Invariant($"{opto}: {current:F1} mA through its LED, more than half of {f["opto_if_max"]:F0} mA")));
            }
        }
    }

    /// <summary>With the board in reset, or its internal pull-up left on, both drivers must stay off.</summary>
    private static void ReleaseLines(Circuit c, Facts f, List<Violation> found)
    {
        foreach (var net in new[] { "HALF_PRESS", "SHUTTER" })
        {
            var down = Resistors(c, net, "GND").DefaultIfEmpty(double.PositiveInfinity).Min();
            var volts = double.IsInfinity(down) ? f["supply"] : f["supply"] * down / (down + f["gpio_pull_low"]);
            if (volts > 0.47) // A silicon base at 60 C passes its first microamps near 0.47 V (0.55 V at 25 C, -2 mV/K).
            {
                found.Add(new("release-pull-down", Invariant($"{net} rests at up to {volts:F2} V; it needs a pull-down that keeps it under 0.47 V")));
            }

            if (!BoardSignals(c).Any(p => p.Net == net))
            {
                found.Add(new("release-pull-down", $"{net} is on no pin of the board"));
            }
        }

        foreach (var opto in c.References.Where(r => c.PartOf(r).Kind == "opto"))
        {
            var anode = c.PinsOf(opto)[0].Net;
            if (!Through(c, anode, "resistor").Contains("LED_SUPPLY"))
            {
                found.Add(new("limiter-bypassed", $"{opto} is not fed from LED_SUPPLY, so the hardware time limit does not reach it"));
            }
        }

        var feeds = c.Pins.Where(p => p.Net == "LED_SUPPLY" && c.PartOf(p.Reference).Kind is not ("resistor" or "pnp" or "test-pad")).ToList();
        foreach (var pin in feeds)
        {
            found.Add(new("limiter-bypassed", $"{pin.Key} sits on LED_SUPPLY, which only the limiter may feed"));
        }

        foreach (var pin in c.Pins.Where(p => p.Net == "LED_SUPPLY" && c.PartOf(p.Reference).Kind == "resistor"))
        {
            if (c.PinsOf(pin.Reference).Any(p => p.Net == "V33"))
            {
                found.Add(new("limiter-bypassed", $"{pin.Reference} feeds LED_SUPPLY from V33"));
            }
        }
    }

    private static void ButtonNets(Circuit c, Facts f, List<Violation> found)
    {
        foreach (var net in Buttons)
        {
            var up = Resistors(c, net, "V33").DefaultIfEmpty(0).Max();
            var series = Resistors(c, net, net + "_CONTACT").DefaultIfEmpty(0).Max();
            var hasCap = c.Pins.Any(p => p.Net == net && c.PartOf(p.Reference).Kind == "capacitor" && c.PinsOf(p.Reference).Any(q => q.Net == "GND"));
            if (up == 0 || series == 0 || !hasCap)
            {
                found.Add(new("button", $"{net} needs a pull-up, a series resistor to its contact and a capacitor to GND"));
            }
            else if (series / (series + up) > f["gpio_low_fraction"] * 0.5)
            {
                found.Add(new("button", $"{net}: pressed level is above half of the low threshold"));
            }
        }
    }

    /// <summary>No steady level may hold the release on: from the heartbeat pin to the hold capacitor there is only a capacitor.</summary>
    private static void Heartbeat(Circuit c, List<Violation> found)
    {
        var reached = new HashSet<string> { "HEARTBEAT" };
        var grown = true;
        while (grown)
        {
            grown = false;
            foreach (var net in reached.ToList())
            {
                foreach (var next in Through(c, net, "resistor", "diode", "button", "fuse", "switch").Where(n => n is not ("GND" or "V33")))
                {
                    grown |= reached.Add(next);
                }
            }
        }

        foreach (var net in HoldNets.Where(reached.Contains))
        {
            found.Add(new("heartbeat-direct", $"a steady level on HEARTBEAT reaches {net}"));
        }

        if (!Resistors(c, "HOLD", "GND").Any())
        {
            found.Add(new("heartbeat-direct", "HOLD has no resistor to GND, so it would never let go"));
        }
    }

    private static void Gauge(Circuit c, Facts f, List<Violation> found)
    {
        foreach (var pin in BoardSignals(c).Where(p => p.Net == "BATTERY" && Gpio(p) is < 32 or > 39))
        {
            found.Add(new("gauge", $"BATTERY is on IO{Gpio(pin)}, which is not a pin of the first converter"));
        }

        var top = Resistors(c, "BATTERY", "V_SWITCHED").DefaultIfEmpty(double.NaN).First();
        var bottom = Resistors(c, "BATTERY", "GND").DefaultIfEmpty(double.NaN).First();
        var volts = 4.25 * bottom / (top + bottom);
        if (!(volts <= f["adc_top"]))
        {
            found.Add(new("gauge", Invariant($"a full cell puts {volts:F2} V on the converter, more than {f["adc_top"]:F2} V")));
        }
    }

    /// <summary>Board pins with a GPIO number that are on a net.</summary>
    public static IEnumerable<Pin> BoardSignals(Circuit c) =>
        c.Pins.Where(p => !p.IsOpen && c.PartOf(p.Reference).Kind == "board" && p.Name.StartsWith("IO", StringComparison.Ordinal));

    /// <summary>The GPIO number of a board pin named IOnn.</summary>
    public static int Gpio(Pin pin) => int.Parse(pin.Name[2..], CultureInfo.InvariantCulture);

    private static IEnumerable<double> Resistors(Circuit c, string a, string b) => c.References
        .Where(r => c.PartOf(r).Kind == "resistor" && c.PinsOf(r).Any(p => p.Net == a) && c.PinsOf(r).Any(p => p.Net == b))
        .Select(r => c.PartOf(r).Number);

    private static IEnumerable<string> Through(Circuit c, string net, params string[] kinds) => c.Pins
        .Where(p => p.Net == net && kinds.Contains(c.PartOf(p.Reference).Kind))
        .SelectMany(p => c.PinsOf(p.Reference)).Where(p => !p.IsOpen && p.Net != net).Select(p => p.Net);

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
