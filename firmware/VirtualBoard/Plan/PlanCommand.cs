using System.CommandLine;
using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Cli;
using Intervalometer.VirtualBoard.Report;
using Spectre.Console;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>The command plan: on which mornings, by prediction, the tide falls at sunrise and the path stays open.</summary>
public static class PlanCommand
{
    /// <summary>The command, to be added to a root.</summary>
    public static Command Build()
    {
        var file = new Argument<string?>("site-file") { Description = "Site text file; without it, an invented demo site", Arity = ArgumentArity.ZeroOrOne };
        var from = new Option<string?>("--from") { Description = "First local day as 2026-03-01; without it, today" };
        var days = new Option<int>("--days") { Description = "How many days, 1 to 366", DefaultValueFactory = _ => 60 };
        var top = new Option<int>("--top") { Description = "How many rows to show; the files hold every morning that fits", DefaultValueFactory = _ => 15 };
        var csv = new Option<string?>("--csv") { Description = "Write the list as CSV to this file" };
        var ics = new Option<string?>("--ics") { Description = "Write the list as iCalendar to this file" };
        var plots = new Option<string?>("--plots") { Description = "Write a picture of each shown day into this folder" };
        var svg = new Option<bool>("--svg") { Description = "Pictures as SVG, not PNG" };
        var command = new Command("plan", "List the mornings when the tide falls at sunrise. " + TideCaution.Short) { file, from, days, top, csv, ics, plots, svg };
        command.SetAction(parsed => Run(
            parsed.InvocationConfiguration.Output,
            parsed.InvocationConfiguration.Error,
            new Wanted(parsed.GetValue(file), parsed.GetValue(from), parsed.GetValue(days), parsed.GetValue(top), parsed.GetValue(csv), parsed.GetValue(ics), parsed.GetValue(plots), parsed.GetValue(svg))));
        return command;
    }

    private sealed record Wanted(string? File, string? From, int Days, int Top, string? Csv, string? Ics, string? Plots, bool Svg);

    private static int Run(TextWriter output, TextWriter error, Wanted wanted)
    {
        try
        {
            Site site = wanted.File == null ? DemoSite.Load() : SiteFile.Load(wanted.File);
            UtcInstant start = Start(wanted.From, site.Place.Offset);
            if (wanted.Days is < 1 or > 366) throw new SiteFileException($"--days is 1 to 366, not {wanted.Days}.");
            if (wanted.Top < 0) throw new SiteFileException($"--top is 0 or more, not {wanted.Top}.");
            var (ranked, unknown, withoutSun) = Planner.Search(site, start, wanted.Days);
            int shown = Math.Min(wanted.Top, ranked.Count);
            Show(output, site, ranked, shown, unknown, withoutSun);
            if (wanted.Csv != null) WholeFile.Write(wanted.Csv, to => PlanCsv.Write(to, site, ranked));
            if (wanted.Ics != null) WholeFile.Write(wanted.Ics, to => to.Write(PlanCalendar.Text(site, ranked, DateTime.UtcNow)));
            if (wanted.Plots != null) Pictures(wanted.Plots, site, ranked, shown, wanted.Svg ? ".svg" : ".png");
            return 0;
        }
        catch (SiteFileException e)
        {
            error.WriteLine(e.Message);
            return CommandLine.BadInput;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            error.WriteLine(e.Message);
            return CommandLine.BadInput;
        }
    }

    private static UtcInstant Start(string? from, LocalTime offset)
    {
        if (from == null) return Planner.FromDateTime(DateTime.UtcNow);
        if (!DateTime.TryParseExact(from, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime day) || day.Year is < 2000 or > 2098)
            throw new SiteFileException($"--from is a day like 2026-03-01, 2000 to 2098, not '{from}'.");
        return offset.ToUtc(new CivilTime(day.Year, day.Month, day.Day, 12, 0, 0));
    }

    private static void Show(TextWriter output, Site site, IReadOnlyList<Morning> ranked, int shown, int unknown, int withoutSun)
    {
        LocalTime offset = site.Place.Offset;
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(output) });
        console.Profile.Width = Math.Max(console.Profile.Width, 110);
        var table = new Table().Title(Markup.Escape($"{site.Place.Name}, local time {Planner.OffsetWords(offset)}, heights above {site.Place.DatumText}"));
        foreach (string column in new[] { "Day", "Set off", "Sun", "Work", "Tide m", "Leave by" }) table.AddColumn(column);
        foreach (Morning m in ranked.Take(shown))
        {
            table.AddRow(
                TimeText.ShortDate(offset.ToLocal(m.Sun)),
                TimeText.HourMinute(m.SetOffAt, offset),
                (m.IsEvening ? "set " : "rise ") + TimeText.HourMinute(m.Sun, offset),
                $"{TimeText.HourMinute(m.WorkStart, offset)}-{TimeText.HourMinute(m.WorkEnd, offset)}",
                $"{m.FromMetres:F1} to {m.ToMetres:F1}",
                m.PathCloses ? TimeText.HourMinuteBefore(m.LeaveBy, offset) : "not cut then");
        }
        console.Write(table);
        output.WriteLine(ranked.Count == 0 ? withoutSun > 0 ? "No day fits." : "No day fits. Widen the band or the window in [morning]." : $"{shown} of {ranked.Count} that fit.");
        if (withoutSun > 0) output.WriteLine($"{withoutSun} mornings or evenings were left out because the sun does not rise or set on those days.");
        if (unknown > 0) output.WriteLine($"{unknown} could not be judged: the tide is not known then.");
        output.WriteLine(TideCaution.Full);
    }

    private static void Pictures(string folder, Site site, IReadOnlyList<Morning> ranked, int shown, string ending)
    {
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new IOException(OneLine.CannotWrite(folder, e), e);
        }
        foreach (Morning m in ranked.Take(shown))
        {
            string name = TimeText.IsoDate(site.Place.Offset.ToLocal(m.Sun)) + (m.IsEvening ? "-evening" : "-morning") + ending;
            PlanPlot.Save(PlanPlot.Day(site, m.Sun, m), Path.Combine(folder, name));
        }
    }
}
