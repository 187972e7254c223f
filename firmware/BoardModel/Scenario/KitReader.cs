using System.Text.Json;
using Intervalometer.Core.Exposure;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>Reads the filter kit of a scenario: "kit" lists the filters owned, "filters" names those on the lens.</summary>
internal static class KitReader
{
    /// <summary>A new kit; without "kit" it is the starter kit.</summary>
    public static FilterKit Read(Fields top)
    {
        FilterKit kit = FilterKit.Starter();
        if (top.Get("kit") is not null)
        {
            kit = new FilterKit();
            foreach (JsonNode node in top.List("kit")) Add(kit, node);
        }
        var on = new HashSet<int>();
        foreach (JsonNode node in top.List("filters"))
        {
            int index = node.Kind == JsonTokenType.String ? kit.Find(node.Text) : -1;
            if (index < 0)
                throw node.Fault($"unknown filter {node.Words}", "use " + string.Join(", ", Enumerable.Range(0, kit.Count).Select(i => kit[i].Name)));
            if (!on.Add(index)) throw node.Fault($"filter \"{node.Text}\" is on twice", "name it once");
            kit[index].On = true;
        }
        return kit;
    }

    private static void Add(FilterKit kit, JsonNode node)
    {
        var fields = new Fields(node, "the filter");
        string printed = fields.NeedText("printed");
        string? name = fields.Text("name");
        double trim = fields.Number("trimStops", -2, 2, "stops") ?? 0;
        long? share = fields.Whole("sharePercent", 0, 100);
        fields.Done();
        if (!FilterNotation.TryParse(printed, out Filter read, out string problem)) throw fields.Get("printed")!.Fault(problem.TrimEnd('.'), "see the forms in --help");
        try
        {
            var filter = new Filter(name ?? read.Name, read.Kind) { EffectTenths = read.EffectTenths, TrimTenths = (int)Math.Round(trim * 10) };
            filter.SetStrength(read.Scale, read.Figure);
            if (share is long part) filter.SharePercent = (int)part;
            kit.Add(filter);
        }
        catch (ArgumentException e)
        {
            throw node.Fault(e.Message.TrimEnd('.'), "change the filter");
        }
    }
}
