using System.CommandLine;
using Intervalometer.Core.Exposure;

namespace Intervalometer.VirtualBoard.Cli;

/// <summary>answer: the exposure behind a stack of filters, as the box works it out.</summary>
internal static class AnswerVerb
{
    public static Command Make(TextWriter output, TextWriter error)
    {
        var shutter = new Option<string>("--base") { Description = "Metered shutter mark without filters, such as 1/60.", Required = true };
        var aperture = new Option<string>("--aperture") { Description = "Aperture mark.", DefaultValueFactory = _ => "f/8" };
        var iso = new Option<string>("--iso") { Description = "ISO mark.", DefaultValueFactory = _ => "100" };
        var filters = new Option<string[]>("--filter") { Description = "A filter that is on; repeat for each. " + string.Join(", ", Names()) + ".", DefaultValueFactory = _ => [] };
        var limit = new Option<int>("--limit") { Description = "Longest exposure to accept, seconds.", DefaultValueFactory = _ => (int)ExposureSolver.DefaultLimitSeconds };
        var verb = new Command("answer", "Work out one exposure.") { shutter, aperture, iso, filters, limit };
        verb.SetAction(parsed =>
        {
            FilterKit kit = FilterKit.Starter();
            foreach (string name in parsed.GetValue(filters)!)
            {
                int index = kit.Find(name);
                if (index < 0) return Bad(error, $"Unknown filter \"{name}\"; use {string.Join(", ", Names())}.");
                kit[index].On = true;
            }
            if (!ShutterSetting.TryParse(parsed.GetValue(shutter), out ShutterSetting time, out string problem)) return Bad(error, problem);
            if (!ApertureSetting.TryParse(parsed.GetValue(aperture), out ApertureSetting stop, out problem)) return Bad(error, problem);
            if (!IsoSetting.TryParse(parsed.GetValue(iso), out IsoSetting speed, out problem)) return Bad(error, problem);
            var answer = new ExposureAnswer();
            ExposureSolver.Solve(new MeteredBase(stop, speed, time, 0), kit, FilmCurve.None, parsed.GetValue(limit), answer);
            output.WriteLine(ExposureText.Line(answer));
            if (answer.Kind == ExposureKind.Refused) return 1;
            output.WriteLine($"Filters take {ExposureText.StopsOf(answer.FilterStops)} stops.");
            foreach (ExposureReminders one in Enum.GetValues<ExposureReminders>())
            {
                if (one != ExposureReminders.None && answer.Reminders.HasFlag(one)) output.WriteLine(ExposureText.Reminder(one));
            }
            return 0;
        });
        return verb;
    }

    private static IEnumerable<string> Names()
    {
        FilterKit kit = FilterKit.Starter();
        for (int i = 0; i < kit.Count; i++) yield return kit[i].Name;
    }

    private static int Bad(TextWriter error, string line)
    {
        error.WriteLine(line);
        return CommandLine.BadInput;
    }
}
