using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>Bill of materials, wiring guide and the limits file, from the tables.</summary>
public static class Documents
{
    /// <summary>One line a part: references, quantity, what to order.</summary>
    public static string BomTable(Circuit circuit, string folder)
    {
        var text = new StringBuilder("references,quantity,title,value,order,optional,substitute\n");
        foreach (var (part, references) in Lines(circuit))
        {
            text.Append(string.Join(",", Csv(string.Join(" ", references)), references.Count.ToString(CultureInfo.InvariantCulture), Csv(part.Title), Csv(part.Value), Csv(part.Order), Optional(circuit, references), Csv(part.Substitute))).Append('\n');
        }

        foreach (var row in Table.Read(folder, "accessories.csv"))
        {
            text.Append(string.Join(",", "", Csv(row["quantity"]), Csv(row["name"]), "", Csv(row["order"]), "", Csv(row["substitute"]))).Append('\n');
        }

        return text.ToString();
    }

    /// <summary>The same list to read, as Markdown.</summary>
    public static string BomPage(Circuit circuit, string folder)
    {
        var text = new StringBuilder("# Parts\n\nGenerated from `parts.csv`, `wiring.csv` and `accessories.csv`. Order by the text in the third column; the last column says what may replace it and by which figure.\n\n");
        text.Append("| Qty | References | Order | May be replaced by |\n| ---: | --- | --- | --- |\n");
        foreach (var (part, references) in Lines(circuit))
        {
            var optional = Optional(circuit, references) == "yes" ? " (optional)" : "";
            text.Append($"| {references.Count} | {string.Join(" ", references)}{optional} | {part.Title}: {part.Order} | {part.Substitute} |\n");
        }

        text.Append("\n## Not on the wiring table\n\n| Qty | What | Order | May be replaced by |\n| ---: | --- | --- | --- |\n");
        foreach (var row in Table.Read(folder, "accessories.csv"))
        {
            text.Append($"| {row["quantity"]} | {row["name"]} | {row["order"]} | {row["substitute"]} |\n");
        }

        return text.ToString();
    }

    /// <summary>The wiring guide: step by step, with the holes of every lead and wire.</summary>
    public static string Guide(Perfboard board)
    {
        var text = new StringBuilder("# Wiring guide\n\nGenerated from the wiring table. All pictures show the component side: wires run on the solder side, seen through the board. ");
        text.Append("A hole is a column number and a row letter: 8T. Every wire is insulated and goes from hole to hole as listed; tick each one off. ");
        text.Append("Squares are holes where the wires of parts off the board land. A part of an earlier step is grey. Parts with three legs in a row stand with the flat face towards row Z, so that their legs read from left to right as listed.\n\n");
        text.Append("**A line shows which two holes a wire joins, not where the wire lies.** Where a line passes over another hole, nothing is joined there, and two nets can share a colour. Lead each wire round the holes of other nets. In step 1 a joint between BAT_P and BAT_N shorts the cell: follow the list, and do the check. " +
            "Do the check at the end of each step before the next one: a fault found there is one step old. Unplug the cell while you solder.\n");
        foreach (var step in board.Steps)
        {
            text.Append($"\n## Step {step.Number}: {step.Title}\n\n{step.Text}\n\n![Step {step.Number}](pictures/step-{step.Number:00}.svg)\n\n");
            text.Append("| Part | What | Leads in holes |\n| --- | --- | --- |\n");
            foreach (var reference in step.References)
            {
                var part = board.Circuit.PartOf(reference);
                var pins = board.Circuit.PinsOf(reference).Where(board.Has).ToList();
                var leads = part.Package == "board"
                    ? "pin 1 (3V3) in 20H to pin 19 (5V) in 2H; pin 20 (GND) in 20R to pin 38 (IO6) in 2R"
                    : string.Join(", ", pins.Select(p => (p.Name == p.Number.ToString(CultureInfo.InvariantCulture) ? "" : p.Name + " ") + Perfboard.Name(board.Hole(p))));
                text.Append($"| {reference} | {part.Title}{(part.Value.Length > 0 ? " " + part.Value : "")}{(part.Mount == "board" ? "" : ", by wires")} | {leads} |\n");
            }

            text.Append("\n| Wire | From | To | Net |\n| ---: | --- | --- | --- |\n");
            var number = 0;
            foreach (var joint in board.Joints.Where(j => j.Step == step.Number))
            {
                text.Append($"| {step.Number}.{++number} | {Perfboard.Name(board.Hole(joint.From))} ({Called(joint.From)}) | {Perfboard.Name(board.Hole(joint.To))} ({Called(joint.To)}) | {joint.Net} |\n");
            }

            text.Append($"\n**Check.** {step.Check} Stop if not.\n");
        }

        text.Append("\n## Pins of the ESP32 board\n\nThe firmware's `firmware/Esp32/PinMap.cs` holds the same numbers; a test compares the two both ways.\n\n| Pin | Name | Hole | Net |\n| ---: | --- | --- | --- |\n");
        foreach (var pin in board.Circuit.PinsOf("U1").Where(p => !p.IsOpen))
        {
            text.Append($"| {pin.Number} | {pin.Name} | {Perfboard.Name(board.Hole(pin))} | {pin.Net} |\n");
        }

        text.Append("\n## Left open\n\nThese pins have no wire, on purpose: ");
        text.Append(string.Join("; ", board.Circuit.Pins.Where(p => p.IsOpen).GroupBy(p => p.Reference).Select(g => $"{g.Key}: {string.Join(" ", g.Select(p => p.Name))}"))).Append(".\n");
        return text.ToString();
    }

    /// <summary>The C# constants that the firmware compiles in.</summary>
    public static string Limits(string folder)
    {
        var text = new StringBuilder("// Generated by hardware/Generator from hardware/release-limits.csv; edit the table, not this file.\n");
        text.Append("// The circuit simulations under hardware/spice hold the table to its figures.\nnamespace Intervalometer.Core.Release;\n\n");
        text.Append("/// <summary>What the release circuit can do, in microseconds. Source: hardware/release-limits.csv.</summary>\npublic static class ReleaseLimits\n{\n");
        var first = true;
        foreach (var row in Table.Read(folder, "release-limits.csv"))
        {
            var source = row["measure"].Length > 0 ? $"Simulated: {row["measure"]}." : "Chosen, see the table.";
            text.Append($"{(first ? "" : "\n")}    /// <summary>{row["meaning"]}, in microseconds. {source}</summary>\n    public const int {row["name"]} = {Grouped(row["value"])};\n");
            first = false;
        }

        return text.Append("}\n").ToString();
    }

    private static string Grouped(string digits)
    {
        for (var i = digits.Length - 3; i > 0; i -= 3)
        {
            digits = digits.Insert(i, "_");
        }

        return digits;
    }

    private static string Called(Pin pin) => pin.Name == pin.Number.ToString(CultureInfo.InvariantCulture) ? pin.Reference : $"{pin.Reference} {pin.Name}";

    private static IEnumerable<(Part, List<string>)> Lines(Circuit circuit) =>
        circuit.References.GroupBy(r => circuit.PartOf(r).Name).Select(g => (circuit.Parts[g.Key], g.ToList()));

    private static string Optional(Circuit circuit, List<string> references) => references.All(r => circuit.PartOf(r).Optional) ? "yes" : "";

    private static string Csv(string text) => text.Contains(',') || text.Contains('"') ? "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : text;
}
