using System.CommandLine;
using System.Globalization;
using Intervalometer.Core.Exposure;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.VirtualBoard.Cli;

/// <summary>The command answer: the exposure through a stack of filters, as the box works it out.</summary>
internal static class AnswerVerb
{
    public static Command Make(TextWriter output, TextWriter error)
    {
        var shutter = new Option<string>("--base") { Description = "Metered shutter time without filters, as the dial prints it, such as 1/60.", Required = true };
        var aperture = new Option<string>("--aperture") { Description = "Aperture, as the lens prints it.", DefaultValueFactory = _ => "f/8" };
        var iso = new Option<string>("--iso") { Description = "ISO, as the dial prints it.", DefaultValueFactory = _ => "100" };
        var filters = new Option<string[]>("--filter") { Description = $"A filter on the lens; repeat for each. {FilterNotation.Forms}.", DefaultValueFactory = _ => [] };
        var hand = new Option<int>("--hand") { Description = "Trim by hand in thirds of a stop, -30 to 30; positive is longer.", DefaultValueFactory = _ => 0 };
        var film = new Option<string>("--film") { Description = "Film whose reciprocity failure is corrected, by the exponent of the time that its data sheet gives: " + string.Join(", ", Films()) + ".", DefaultValueFactory = _ => FilmCurve.None.Label };
        var limit = new Option<int>("--limit") { Description = "Longest exposure to accept, seconds.", DefaultValueFactory = _ => (int)ExposureSolver.DefaultLimitSeconds };
        var verb = new Command("answer", "Work out one exposure.") { shutter, aperture, iso, filters, hand, film, limit };
        verb.SetAction(parsed =>
        {
            var kit = new FilterKit();
            string problem;
            foreach (string text in parsed.GetValue(filters)!)
            {
                if (!FilterNotation.TryParse(text, out Filter filter, out problem)) return Bad(error, problem);
                try
                {
                    kit.Add(Named(filter, kit));
                }
                catch (ArgumentException e)
                {
                    return Bad(error, $"Filter \"{text}\": {e.Message}");
                }
            }
            int filmIndex = Array.FindIndex([.. Films()], name => string.Equals(name, parsed.GetValue(film), StringComparison.OrdinalIgnoreCase));
            if (filmIndex < 0) return Bad(error, $"Unknown film \"{parsed.GetValue(film)}\"; use {string.Join(", ", Films())}.");
            int thirds = parsed.GetValue(hand);
            if (Math.Abs(thirds) > MeteredBase.MaxHandThirds) return Bad(error, $"Trim by hand {thirds}: outside -30 to 30 thirds of a stop.");
            if (!ShutterSetting.TryParse(parsed.GetValue(shutter), out ShutterSetting time, out problem)) return Bad(error, problem);
            if (!ApertureSetting.TryParse(parsed.GetValue(aperture), out ApertureSetting stop, out problem)) return Bad(error, problem);
            if (!IsoSetting.TryParse(parsed.GetValue(iso), out IsoSetting speed, out problem)) return Bad(error, problem);
            int seconds = parsed.GetValue(limit);
            if (seconds < 1) return Bad(error, $"Longest exposure {seconds}: give 1 second or more.");
            var answer = new ExposureAnswer();
            ExposureSolver.Solve(new MeteredBase(stop, speed, time, thirds), kit, new FilmCurve(filmIndex), seconds, answer);
            output.WriteLine(ExposureText.Line(answer));
            if (answer.Kind == ExposureKind.Refused) return 1;
            output.WriteLine($"Metered {time.Label} is truly {ExposureText.TrueTime(time)}.");
            if (parsed.GetResult(aperture) is { Implicit: false } || parsed.GetResult(iso) is { Implicit: false })
                output.WriteLine($"Metered at f/{stop.Label} and ISO {speed.Label}; both stay as they are, so they do not change the time.");
            if (PrintedTime(time) is var printed && printed != time.Seconds)
            {
                double off = Math.Log2(printed / time.Seconds);
                output.WriteLine($"Multiplying the printed {time.Label} would give {ExposureText.Seconds(answer.Seconds * printed / time.Seconds)}, {Math.Abs(off):F2} stops off: dials print rounded figures and run in true thirds of a stop.");
            }
            for (int i = 0; i < kit.Count; i++) output.WriteLine($"{kit[i].Name} takes {ExposureText.StopsOf(kit[i].EffectiveStops)} stops.");
            if (kit.Count > 1) output.WriteLine($"Together {ExposureText.StopsOf(answer.FilterStops)} stops.");
            if (answer.Kind == ExposureKind.Dial && Math.Abs(answer.DialError.Value) >= 0.005)
            {
                output.WriteLine($"Wanted {ExposureText.Seconds(answer.Seconds)}; the dial is {ExposureText.StopsOf(answer.DialError)} stops off.");
            }
            foreach (ExposureReminders one in Enum.GetValues<ExposureReminders>())
            {
                if (one != ExposureReminders.None && answer.Reminders.HasFlag(one)) output.WriteLine(ExposureText.Reminder(one));
            }
            return 0;
        });
        return verb;
    }

    // Two equal filters may be on a lens, but the filters of a kit need different names.
    private static Filter Named(Filter filter, FilterKit kit)
    {
        if (kit.Find(filter.Name) < 0) return filter;
        for (int number = 2; number <= FilterKit.Capacity; number++)
        {
            string end = " " + number.ToString(CultureInfo.InvariantCulture);
            string name = filter.Name[..Math.Min(filter.Name.Length, Filter.LongestName - end.Length)] + end;
            if (kit.Find(name) >= 0) continue;
            var other = new Filter(name, filter.Kind) { EffectTenths = filter.EffectTenths, SharePercent = filter.SharePercent, On = filter.On };
            other.SetStrength(filter.Scale, filter.Figure);
            return other;
        }
        return filter;
    }

    private static IEnumerable<string> Films() => Enumerable.Range(0, FilmCurve.Count).Select(i => new FilmCurve(i).Label);

    /// <summary>What the dial's print says in seconds: "1/60" is 1/60 s, "15" is 15 s.</summary>
    private static double PrintedTime(ShutterSetting time) => time.Label.StartsWith("1/", StringComparison.Ordinal)
        ? 1 / double.Parse(time.Label[2..], CultureInfo.InvariantCulture)
        : double.Parse(time.Label, CultureInfo.InvariantCulture);

    private static int Bad(TextWriter error, string line)
    {
        error.WriteLine(line);
        return CommandLine.BadInput;
    }
}
