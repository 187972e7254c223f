using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>The assembly guide: which part goes where, step by step, and which wire leads from which pad to the lid.</summary>
public static class AssemblyGuide
{
    /// <summary>The page.</summary>
    public static string Page(Layout layout)
    {
        var circuit = layout.Circuit;
        var text = new StringBuilder("# Assembly guide\n\nGenerated from the tables. The board makes the connections. Put each part into the holes that carry its name, from the printed side, and solder it below. ");
        text.Append("The only wires are those to the parts in the lid and the walls, and each of their pads carries its name. The pictures show the printed side; the parts of the step are yellow, those of an earlier step grey. ");
        text.Append("A square pad is pin 1. Parts with three legs stand with their flat face as the print shows it.\n\nDo the check at the end of each step before you begin the next one: a fault that you find there was made in that step. Unplug the cell while you solder. Names in capitals such as `V33` are the round test pads.\n");
        foreach (var step in layout.Steps)
        {
            text.Append($"\n## Step {step.Number}: {step.Title}\n\n{step.Text}\n\n![Step {step.Number}](pictures/step-{step.Number:00}.svg)\n\n| Part | What | How |\n| --- | --- | --- |\n");
            foreach (var reference in step.References)
            {
                var part = circuit.PartOf(reference);
                text.Append($"| {reference} | {part.Title}{(part.Value.Length > 0 ? " " + part.Value : "")} | {How(circuit, reference)} |\n");
            }

            text.Append($"\n**Check.** {step.Check} Stop if not.\n");
        }

        text.Append("\n## Pins of the ESP32 board\n\nThe firmware's `firmware/Esp32/PinMap.cs` holds the same numbers. A test compares the two in both directions.\n\n| Pin | Name | Net |\n| ---: | --- | --- |\n");
        foreach (var pin in circuit.PinsOf("U1").Where(p => !p.IsOpen))
        {
            text.Append($"| {pin.Number} | {pin.Name} | {pin.Net} |\n");
        }

        text.Append("\n## Left open\n\nThese pins have no connection, on purpose: ");
        text.Append(string.Join("; ", circuit.Pins.Where(p => p.IsOpen).GroupBy(p => p.Reference).Select(g => $"{g.Key}: {string.Join(" ", g.Select(p => p.Name))}"))).Append(".\n");
        return text.ToString();
    }

    private static string How(Circuit circuit, string reference)
    {
        var part = circuit.PartOf(reference);
        var pins = circuit.PinsOf(reference);
        var named = string.Join(", ", pins.Where(p => !p.IsOpen).Select(p => $"{(p.Name == p.Number.ToString(CultureInfo.InvariantCulture) ? $"pad {p.Number}" : p.Name)} ({p.Net})"));
        return part.Package switch
        {
            "board" => "two 19-way sockets, then the board: 3V3 at the square pads",
            "panel" when part.Kind == "buzzer" => $"by wires, soldered in and laid flat under the clock module: {named}",
            "panel" or "wires" => $"by wires: {named}",
            "module" when part.Mount == "socket" => $"in a 6-way socket: {named}",
            "module" when part.Mount == "board" => $"pin header: {named}",
            "module" => $"by wires: {named}",
            "to92" => "flat face as printed: " + string.Join(", ", pins.Select(p => p.Name)) + " from the square pad",
            "dip4" => "dot at the square pad, legs spread over the slot",
            _ when part.Kind == "diode" => "stripe to the square pad",
            _ when part.Kind == "capacitor-polar" => "long leg to the square pad",
            _ => "either way round",
        };
    }
}
