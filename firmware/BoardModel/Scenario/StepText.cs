using System.Globalization;
using System.Text;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>The steps of a guided scenario as text.</summary>
public static class StepText
{
    /// <summary>Every step with its time of day, words and picture, as Markdown; pictures are looked for in the same folder.</summary>
    public static string Markdown(SceneFile scene)
    {
        var text = new StringBuilder();
        text.Append("# ").Append(scene.Name).Append('\n');
        int number = 0;
        foreach (SceneStep step in scene.Steps)
        {
            number++;
            text.Append(CultureInfo.InvariantCulture, $"\n## {number}. {step.Title}\n\n{Planner.LocalWords(scene.Start.AddSeconds(step.At), scene.Place)}. {step.Words}\n");
            if (step.Picture is not null) text.Append(CultureInfo.InvariantCulture, $"\n![{step.Title}]({step.Picture}.png)\n");
        }
        return text.Append('\n').Append(Coast.Tide.TideCaution.Full).Append('\n').ToString();
    }
}
