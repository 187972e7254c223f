using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>Currents by mode from cited figures, the hours that follow, and the sleep rule that follows from those.</summary>
public sealed class PowerBudget
{
    /// <summary>One mode: what draws how much, in milliamps from the cell.</summary>
    public sealed record Mode(string Name, string When, IReadOnlyList<(string Item, double Low, double High)> Items)
    {
        /// <summary>Smallest total, mA.</summary>
        public double Low => Items.Sum(i => i.Low);

        /// <summary>Largest total, mA.</summary>
        public double High => Items.Sum(i => i.High);
    }

    /// <summary>A board whose deep-sleep current was measured.</summary>
    public sealed record Board(string Name, string Psram, double Milliamps, string Fed, string Source, string Cut);

    private readonly Facts _f;

    /// <summary>Computes the modes.</summary>
    public PowerBudget(Circuit circuit, Facts facts, string folder)
    {
        _f = facts;
        Boards = Table.Read(folder, "boards.csv").Select(r => new Board(r["board"], r["psram"], double.Parse(r["asleep"], CultureInfo.InvariantCulture), r["fed"], r["source"], r["what to do"])).ToList();
        var supply = facts["supply"];
        double Ohms(string r) => circuit.PartOf(r).Number;
        var always = new[]
        {
            Same("clock and memory", facts["clock_current"]),
            Same("regulator and charger module", facts["regulator_own"] + facts["charger_own"]),
            Same("battery gauge divider", 3.7 / (Ohms("R15") + Ohms("R16")) * 1e3),
        };
        var contact = (supply - 0.15 - facts["opto_vf"] - 0.1) / Ohms("R1") * 1e3 + (supply - 0.75) / Ohms("R3") * 1e3 + supply / Ohms("R5") * 1e3;
        var enable = (supply - 0.75 - 1.0) / Ohms("R10") * 1e3;
        var led = (supply - 1.8) / Ohms("R12") * 1e3;
        var awake = ("ESP32, radio off, 240 MHz", facts["esp32_awake_low"], facts["esp32_awake_high"]);
        Modes =
        [
            new("Idle", "the buttons are in use and the display is lit", [awake, ("display", facts["display_dim"], facts["display_on"]), .. always]),
            new("Armed", "waiting for a wave or a time; the display is dim, the heartbeat is on and half-press is closed", [awake, Same("display, dim", facts["display_dim"]), Same("half-press contact", contact), Same("limiter", enable), .. always]),
            new("Exposing", "both contacts are closed, the display is dark and the red light is on", [awake, Same("display, dark", facts["display_off"]), Same("two contacts", 2 * contact), Same("limiter", enable), Same("status light", led), .. always]),
            new("Asleep", "deep sleep until Mark is pressed", [Same("ESP32, deep sleep", facts["esp32_deep_sleep"]), Same("the rest of the ESP32 board", facts["board_overhead"]), Same("display, dark", facts["display_off"]), .. always]),
        ];
    }

    /// <summary>Boards by what they draw asleep.</summary>
    public IReadOnlyList<Board> Boards { get; }

    /// <summary>The four modes.</summary>
    public IReadOnlyList<Mode> Modes { get; }

    /// <summary>Usable charge in mAh at a temperature: 20, 0, -10 or -20 degrees C.</summary>
    public double Usable(int celsius, double capacity) => capacity * _f["cell_usable"] * celsius switch
    {
        20 => 1,
        0 => _f["cell_at_0"],
        -10 => _f["cell_at_minus_10"],
        -20 => _f["cell_at_minus_20"],
        _ => throw new ArgumentOutOfRangeException(nameof(celsius), celsius, "20, 0, -10 or -20"),
    };

    /// <summary>The page.</summary>
    public string Page()
    {
        var text = new StringBuilder("# Power budget\n\nComputed from `facts.csv`, which names the source of each figure. Nothing here was measured on a board. First-power steps 5 and 6 of the README measure yours.\n");
        foreach (var mode in Modes)
        {
            text.Append($"\n## {mode.Name}: {mode.When}\n\n| Item | from mA | to mA |\n| --- | ---: | ---: |\n");
            foreach (var (item, low, high) in mode.Items)
            {
                text.Append($"| {item} | {N(low)} | {N(high)} |\n");
            }

            text.Append($"| **total** | **{N(mode.Low)}** | **{N(mode.High)}** |\n");
        }

        text.Append("\n## Hours from one cell\n\nThese hours count with the largest current, and with the cell used down to 3.4 V.\n\n| Cell | Air | usable mAh | idle h | armed h | exposing h | asleep days |\n| ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n");
        foreach (var capacity in new[] { 1500.0, _f["cell_capacity"], 3500.0 })
        {
            foreach (var celsius in new[] { 20, 0, -10, -20 })
            {
                var usable = Usable(celsius, capacity);
                text.Append($"| {capacity:F0} mAh | {celsius} C | {usable:F0} |");
                foreach (var mode in Modes)
                {
                    var hours = usable / mode.High;
                    text.Append(mode.Name == "Asleep" ? $" {N(hours / 24)} |" : $" {N(hours)} |");
                }

                text.Append('\n');
            }
        }

        var (lit, shut) = (_f["light_measuring"] + _f["light_module"], _f["light_shut"] + _f["light_module"]);
        text.Append($"\n## With the light sensor, an optional part\n\nNot counted above. The module adds {N(lit)} mA while its chip measures and {N(shut)} mA while it is shut down, {N(_f["light_module"])} mA of it the module's own regulator and pull-ups (limit of the parts list; its power LED removed).\n\n");
        text.Append($"| {_f["cell_capacity"]:F0} mAh at 20 C | days asleep |\n| --- | ---: |\n| without it | {N(SleepDays(_f["board_overhead"]))} |\n| with it, chip shut down | {N(SleepDays(_f["board_overhead"] + shut))} |\n| with it, chip left measuring | {N(SleepDays(_f["board_overhead"] + lit))} |\n\n");
        text.Append("No rail of this board is switched off in deep sleep: V33 stays, and LED_SUPPLY belongs to the limiter alone. So the chip has to be shut down by its own command (bit ALS_SD) before the box sleeps. A rail of its own would not do better: with the supply off, the pull-ups of the bus would feed the chip through its inputs and hold the bus down.\n");
        text.Append(CultureInfo.InvariantCulture, $"\n## Days asleep by the ESP32 board\n\nFrom `boards.csv`: deep-sleep currents of whole boards as others measured them, with {N(Modes[3].High - _f["board_overhead"])} mA of this box added, from a cell of {_f["cell_capacity"]:F0} mAh at 20 C. The table above counts with the allowed {N(_f["board_overhead"])} mA.\n\n| Board | PSRAM | mA asleep | fed with | days | What to cut or choose | Source |\n| --- | --- | ---: | --- | ---: | --- | --- |\n");
        foreach (var b in Boards)
        {
            text.Append($"| {b.Name} | {b.Psram} | {N(b.Milliamps)} | {b.Fed} | {N(SleepDays(b.Milliamps))} | {b.Cut} | {b.Source} |\n");
        }

        var cold = Usable(-10, _f["cell_capacity"]);
        text.Append("\n## What follows\n\n");
        text.Append($"- A {_f["cell_capacity"]:F0} mAh cell at -10 C lasts for a morning of {N(cold / Modes[2].High)} hours with the shutter open all the time, at the largest current of the data sheets. A normal morning takes two hours; the rest is for an old cell.\n");
        text.Append($"- If it were left on and idle overnight (12 h), the box would use {N(12 * Modes[0].High)} mAh at most, more than half of the cell. So when no run is on and no button was pressed for 10 minutes, the box goes to deep sleep. Armed or exposing it never sleeps: waking is a restart of the ESP32, and that would open the contacts.\n");
        text.Append($"- While the box is asleep, the other parts of the ESP32 board decide, as the table above shows: {N(Boards.Min(b => SleepDays(b.Milliamps)))} to {N(Boards.Max(b => SleepDays(b.Milliamps)))} days. First-power step 6 tells you which board you have. Only Mark wakes the box; the alarm of the clock chip is not wired. For storage use the power switch ({N(_f["charger_own"])} mA still flow in the charger module).\n");
        text.Append("- The display is dimmed when armed and dark while exposing. That saves a third of the current, and your night vision.\n");
        text.Append("- The box warns below 3.6 V and starts no run below 3.5 V, because at 3.4 V the regulator begins to drop out, and a cell at -10 C sags by 0.1 V or more. When the cell fails during an exposure, the contacts open and the exposure ends.\n");
        text.Append("- Carry the box inside the coat until the first frame: at 20 C the cell gives half as much again as at -10 C.\n");
        return text.ToString();
    }

    /// <summary>Days asleep with a board that draws so much, mA.</summary>
    public double SleepDays(double board) => Usable(20, _f["cell_capacity"]) / (Modes[3].High - _f["board_overhead"] + board) / 24;

    private static (string, double, double) Same(string item, double value) => (item, value, value);

    private static string N(double value) => value.ToString(value >= 100 ? "0" : value >= 1 ? "0.0" : "0.000", CultureInfo.InvariantCulture);
}
