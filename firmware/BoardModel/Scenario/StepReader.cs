namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>Reads the steps of a guided scenario.</summary>
internal static class StepReader
{
    private const int LongestTitle = 60;
    private const int LongestWords = 600;

    public static IReadOnlyList<SceneStep> Read(Fields top, double end, IReadOnlyList<DisplayShot> pictures)
    {
        var steps = new List<SceneStep>();
        foreach (JsonNode node in top.List("steps"))
        {
            var fields = new Fields(node, "the step");
            double at = fields.NeedNumber("at", 0, end, "s");
            if (steps.Count > 0 && at <= steps[^1].At) throw node.Fault($"the step at {at} s does not come after the one before it", "put the steps in order");
            string? picture = fields.Text("picture");
            if (picture is not null && pictures.All(p => p.Name != picture)) throw fields.Get("picture")!.Fault($"no picture is called \"{picture}\"", "add it to \"pictures\"");
            steps.Add(new SceneStep(at, Short(fields, "title", LongestTitle), Short(fields, "words", LongestWords), picture));
            fields.Done();
        }
        return steps;
    }

    private static string Short(Fields fields, string name, int most)
    {
        string text = fields.NeedText(name);
        if (text.Length == 0 || text.Length > most) throw fields.Get(name)!.Fault($"\"{name}\" has {text.Length} characters", $"use 1 to {most}");
        return text;
    }
}
