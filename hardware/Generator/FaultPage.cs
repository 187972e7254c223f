using System.Text;

namespace Intervalometer.Hardware;

/// <summary>The fault table: faults.csv as the judge writes it, and the page that a person reads.</summary>
public static class FaultPage
{
    private static readonly string[] Kinds = ["open", "short", "turned", "stuck", "bridge"];

    private static readonly (string Result, string Title, string Means)[] Groups =
    [
        ("first-power", "Only the first-power steps find it", "Nothing in the box sees these afterwards. The first-power steps of the README find them, once. Repeat the steps when water got in."),
        ("seen", "Found by the self-test", "A contact could stay closed. The firmware reads back the supply of the optocouplers and both drivers. It sees the fault at power-on, at any time afterwards or at the next run. It then says so, stops the heartbeat and starts no run."),
        ("safe", "Safe", "No contact closes that should be open, and none stays closed for more than 5 s after the last heartbeat. The box does less than it should."),
        ("none", "No effect", "The box works as without the fault."),
    ];

    /// <summary>One row a fault.</summary>
    public static string Table(IReadOnlyList<Verdict> verdicts)
    {
        var text = new StringBuilder("fault,kind,result,how,why\n");
        foreach (var v in verdicts)
        {
            text.Append($"\"{v.Fault.Words}\",{v.Fault.Kind},{v.Result},{v.How},\"{v.Why}\"\n");
        }

        return text.ToString();
    }

    /// <summary>The page: counts, then one line for faults that end alike.</summary>
    public static string Page(string folder)
    {
        var rows = Intervalometer.Hardware.Table.Read(folder, "faults.csv");
        var text = new StringBuilder("# What happens when one thing fails\n\nGenerated from `faults.csv`, which `dotnet run --project hardware/Generator -- --faults` makes: every lead open, every two leads of a part shorted, every polarised part the wrong way round, every output of the ESP32 stuck low or high, and every two neighbouring pads bridged by a film of 100 kohm, 330 kohm, 1, 1.5 and 2 Mohm. ");
        text.Append("Each fault is taken alone. Faults of the release circuit are simulated with ngspice, with the heartbeat resting low and resting high, and with neighbouring pads high and low. The others are computed, or argued in one line. A test judges all of them again and compares.\n\n");
        text.Append("| | open | short | turned | stuck | bridge | all |\n| --- | ---: | ---: | ---: | ---: | ---: | ---: |\n");
        foreach (var (result, title, _) in Groups)
        {
            var here = rows.Where(r => r["result"] == result).ToList();
            text.Append($"| {title} | {string.Join(" | ", Kinds.Select(k => here.Count(r => r["kind"] == k)))} | {here.Count} |\n");
        }

        text.Append($"| **all** | {string.Join(" | ", Kinds.Select(k => rows.Count(r => r["kind"] == k)))} | {rows.Count} |\n");
        foreach (var (result, title, means) in Groups)
        {
            text.Append($"\n## {title}\n\n{means}\n\n| Fault | What happens | How we know |\n| --- | --- | --- |\n");
            foreach (var alike in rows.Where(r => r["result"] == result).GroupBy(r => (r["why"], r["how"])))
            {
                text.Append($"| {string.Join("; ", Names(alike))} | {alike.Key.Item1} | {alike.Key.Item2} |\n");
            }
        }

        return text.ToString();
    }

    /// <summary>The faults of a line; the values of one bridge are joined.</summary>
    private static IEnumerable<string> Names(IEnumerable<IReadOnlyDictionary<string, string>> rows) =>
        rows.GroupBy(r => r["kind"] == "bridge" ? r["fault"][..r["fault"].LastIndexOf(',')] : r["fault"])
            .Select(g => g.First()["kind"] == "bridge" ? $"{g.Key}: {string.Join(", ", g.Select(r => r["fault"][(r["fault"].LastIndexOf(',') + 2)..]))}" : g.Key);
}
