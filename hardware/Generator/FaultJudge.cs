using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Intervalometer.Hardware;

/// <summary>What became of a fault: how it was judged, and why.</summary>
/// <param name="Result">none, safe, seen (the read-back of the LED supply shows it) or first-power (only the first-power steps do).</param>
public sealed record Verdict(Fault Fault, string Result, string How, string Why);

/// <summary>Judges each fault: by simulation where the release circuit is concerned, by a computed level or by one line of fault-arguments.csv elsewhere.</summary>
public sealed class FaultJudge
{
    private const double High = 0.75 * 3.3, Low = 0.25 * 3.3; // ESP32 sheet: VIH and VIL (from memory)
    private static readonly string[] ReadBacks = ["LIMITER", "HALF_SENSE", "SHUTTER_SENSE"];
    private readonly Layout _layout;
    private readonly FaultDeck _deck;
    private readonly IReadOnlyList<IReadOnlyDictionary<string, string>> _arguments;

    /// <summary>For one board.</summary>
    public FaultJudge(Layout layout, string folder)
    {
        _layout = layout;
        _deck = new(layout.Circuit);
        _arguments = Table.Read(folder, "fault-arguments.csv");
    }

    /// <summary>Judges all faults; ngspice must be installed.</summary>
    public IReadOnlyList<Verdict> All() => FaultList.All(_layout).AsParallel().AsOrdered().WithDegreeOfParallelism(2).Select(Judge).ToList();

    /// <summary>Judges one fault.</summary>
    public Verdict Judge(Fault fault)
    {
        var board = fault.Pins.Any(p => _layout.Circuit.PartOf(p.Reference).Kind == "board");
        if (fault.Kind == "bridge")
        {
            return fault.Pins.Any(Inner) ? Simulate(fault) : Level(fault);
        }

        if (FaultDeck.Parts.Contains(fault.Reference) || (board && !(fault.Kind == "open" && ReadBacks.Contains(fault.Pins[0].Net)) && fault.Pins.All(p => _deck.Nets.Contains(p.Net) && p.Net is not ("GND" or "V33"))))
        {
            return Simulate(fault);
        }

        var row = _arguments.FirstOrDefault(r => Regex.IsMatch(fault.Reference, "^(" + r["parts"] + ")$") && Regex.IsMatch(fault.Words, r["fault"]))
            ?? throw new InvalidDataException($"{fault.Words}: nothing simulates it and fault-arguments.csv has no line for it");
        return new(fault, row["result"], "argued", row["why"]);
    }

    /// <summary>A net of the release circuit that is neither ground nor the supply.</summary>
    private bool Inner(Pin pin) => _deck.Nets.Contains(pin.Net) && pin.Net is not ("GND" or "V33");

    private Verdict Simulate(Fault fault)
    {
        var outsides = fault.Kind == "bridge" && fault.Pins.Any(p => !_deck.Nets.Contains(p.Net)) ? new[] { 0, 1 } : [0];
        var camera = fault.Pins.All(p => Layout.IsCamera(p.Net));
        var worst = new Verdict(fault, "none", "simulated", "Everything works as without it.");
        foreach (var rest in new[] { 0, 1 })
        {
            foreach (var outside in outsides)
            {
                // A film between the camera's own contacts is judged with the weakest pull-up of a camera.
                var one = Read(fault, Run(_deck.Write(fault, rest, outside, camera ? 100e3 : 10e3)));
                worst = Rank(one.Result) > Rank(worst.Result) ? one : worst;
            }
        }

        return worst;
    }

    private static int Rank(string result) => Array.IndexOf(["none", "safe", "seen", "first-power"], result);

    private static Verdict Read(Fault fault, IReadOnlyDictionary<string, double> m)
    {
        bool Closed(string name) => m[name] < 0.7 * 3.3; // A camera's input is high for certain above 0.7 of its supply (JESD8C, from memory).
        bool Any(string name) => Closed(name + "_h") || Closed(name + "_s");
        var seen = m["r_idle"] > High ? "the LED supply reads high without beats" : m["r_after"] > High ? "the LED supply reads high 5 s after the last beat" : m["r_beat"] < Low ? "the LED supply reads low under beats"
            : Names("reads as conducting while its line is low", l => m["rest_" + l] < Low || m["free_" + l] < Low || m["other_" + l] < Low)
            ?? Names("reads as open while its line is high", l => m["pull_" + l] > High) ?? "";
        // Found before any contact can close: without beats, or with both lines low.
        var danger = Any("low") ? "a contact is closed while its line is low"
            : Any("alone") ? "a contact closes with the other one"
            : Any("aq") ? "a contact closes without beats when its line is high"
            : Any("off") ? "a contact is still closed 5 s after the last beat" : "";
        if (danger.Length > 0)
        {
            return seen.Length > 0
                ? new(fault, "seen", "simulated", $"{Sentence(danger)}; {seen}.")
                : new(fault, "first-power", "simulated", $"{Sentence(danger)}; a mock camera shows it in first-power step 8.");
        }

        // On must be below 0.3 of the camera's supply all the time.
        var fires = m["on_h"] < 0.3 * 3.3 && m["on_s"] < 0.3 * 3.3;
        return !fires
            ? new(fault, "safe", "simulated", $"A contact does not close, or not steadily{(seen.Length > 0 ? $"; {seen}" : "")}.")
            : seen.Length > 0
                ? new(fault, "safe", "simulated", $"The contacts work; {seen}, a false alarm that stops the next run.")
                : new(fault, "none", "simulated", "Everything works as without it.");
    }

    private static string? Names(string what, Func<string, bool> wrong) => wrong("h") ? $"the half-press driver {what}" : wrong("s") ? $"the shutter driver {what}" : null;

    private static string Sentence(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    /// <summary>A bridge between two nets outside of the release circuit: how far it moves the weaker one.</summary>
    private Verdict Level(Fault fault)
    {
        var open = fault.Pins.FirstOrDefault(p => p.IsOpen);
        if (open is not null)
        {
            return new(fault, "safe", "argued", "Nothing is on that pin; where it sets how the ESP32 starts, the box at worst does not start.");
        }

        var weakest = fault.Pins.Max(p => Source(p.Net));
        var moved = 3.3 * weakest / (weakest + fault.Ohms);
        return moved < Low
            ? new(fault, "none", "computed", string.Create(CultureInfo.InvariantCulture, $"It moves the weaker of the two by {moved:F2} V at most; a level counts wrong from {Low:F2} V."))
            : fault.Pins.Any(p => p.Net == "BATTERY")
                ? new(fault, "safe", "computed", "The battery gauge reads wrong; no contact depends on it.")
                : throw new InvalidDataException($"{fault.Words}: moves a level by {moved:F2} V; say in the judge what follows");
    }

    /// <summary>Ohms that hold a net at its level: nothing for a supply, the divider for the gauge, a pull-up for the rest.</summary>
    private double Source(string net)
    {
        if (net is "GND" or "V33" or "V_SWITCHED" or "BAT_P" or "BAT_N" or "BAT_RAW" or "PACK_OUT" or "LED" or "BUZZER")
        {
            return 100; // A supply, or a pin of the ESP32 that drives.
        }

        var resistors = _layout.Circuit.Pins.Where(p => p.Net == net && _layout.Circuit.PartOf(p.Reference).Kind == "resistor").Select(p => _layout.Circuit.PartOf(p.Reference).Number).ToList();
        return net == "BATTERY" ? 1 / resistors.Sum(r => 1 / r) : resistors.DefaultIfEmpty(10e3).Max();
    }

    /// <summary>Runs one deck and reads every value. A simulation that cannot find its next step is tried with coarser steps; a value that is still missing is a failure.</summary>
    public static IReadOnlyDictionary<string, double> Run(string deck)
    {
        var output = "";
        foreach (var options in new[] { "method=gear reltol=1e-3 abstol=1e-10 vntol=1e-5", "method=trap reltol=3e-3 abstol=1e-9 vntol=1e-4", "method=gear reltol=1e-2 abstol=1e-8 vntol=1e-4 gmin=1e-11" })
        {
            output = Ngspice(deck.Replace("@options", options, StringComparison.Ordinal));
            var found = FaultDeck.Values.Select(v => (v, Match: Regex.Match(output, $@"^{v}\s*=\s*([-+0-9.eE]+)", RegexOptions.Multiline))).ToList();
            if (found.All(f => f.Match.Success))
            {
                return found.ToDictionary(f => f.v, f => double.Parse(f.Match.Groups[1].Value, CultureInfo.InvariantCulture));
            }
        }

        throw new InvalidDataException($"ngspice did not measure every value of\n{deck}\n{output[..Math.Min(output.Length, 800)]}");
    }

    private static string Ngspice(string deck)
    {
        var file = Path.GetTempFileName();
        try
        {
            File.WriteAllText(file, deck);
            using var process = Process.Start(new ProcessStartInfo("ngspice", ["-b", file]) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true })!;
            process.StandardInput.Close();
            var errors = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return output + errors.Result;
        }
        finally
        {
            File.Delete(file);
        }
    }
}
