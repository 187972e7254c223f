using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>The mornings to come, in words for the page. The firmware's own search finds them.</summary>
public static class MorningsDesk
{
    private const int MostDays = 366;

    /// <summary>The list of the mornings that suit.</summary>
    public static MorningsShown Show(MorningsAsked asked)
    {
        Site site = SiteOf(asked.Site);
        var (ranked, unknown, withoutSun) = Planner.Search(site, Start(asked, site.Place.Offset), asked.Days);
        CoastPlace place = site.Place;
        MorningShown[] shown = [.. ranked.Select((m, i) => (m, i)).Where(x => Suits(asked, place, x.m)).OrderBy(x => x.m.Sun.Seconds).Select(x => Shown(site, x.m, x.i + 1))];
        string told = ranked.Count == 0 ? "No day fits. Widen the band or the window under [morning] of the place."
            : shown.Length == ranked.Count ? $"{ranked.Count} fit in {asked.Days} days." : $"{shown.Length} of {ranked.Count} that fit in {asked.Days} days suit.";
        if (unknown > 0) told += $" {unknown} could not be judged, because the tide is not known then.";
        if (withoutSun > 0) told += $" {withoutSun} were left out, because the sun does not rise or set on those days.";
        return new MorningsShown(
            $"{place.Name}, heights above {place.DatumText}, {Planner.OffsetWords(place.Offset)}",
            told,
            $"The box takes {place.AllowanceMinutes} minutes off every leave-by time and {place.AllowanceCentimetres} cm off every flood height of this place.",
            TideCaution.Full,
            shown);
    }

    /// <summary>The mornings that suit, best first, for the exported files; or the one that was chosen.</summary>
    public static (Site Site, IReadOnlyList<Morning> Ranked) Chosen(MorningsAsked asked)
    {
        Site site = SiteOf(asked.Site);
        IReadOnlyList<Morning> ranked = Planner.Search(site, Start(asked, site.Place.Offset), asked.Days).Ranked;
        return (site, [.. ranked.Where(m => asked.Sun is long sun ? m.Sun.Seconds == sun : Suits(asked, site.Place, m))]);
    }

    /// <summary>The morning that was chosen.</summary>
    public static (Site Site, Morning Morning) One(MorningsAsked asked)
    {
        var (site, ranked) = Chosen(asked);
        return asked.Sun is not null && ranked.Count == 1 ? (site, ranked[0]) : throw new FormatException("Choose a morning of the list first.");
    }

    private static Site SiteOf(string text) => text.Trim().Length == 0 ? DemoSite.Load() : SiteFile.Parse(text, PlaceDesk.Source);

    private static UtcInstant Start(MorningsAsked asked, LocalTime local)
    {
        if (asked.Days is < 1 or > MostDays) throw new FormatException($"The number of days is 1 to {MostDays}.");
        if (!DateTime.TryParseExact(asked.From, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime day) || day.Year is < 2000 or > 2098)
            throw new FormatException("The first day is like 2031-03-14, from 2000 to 2098.");
        return local.ToUtc(new CivilTime(day.Year, day.Month, day.Day, 0, 0, 0));
    }

    private static bool Suits(MorningsAsked asked, CoastPlace place, Morning m)
    {
        CivilTime day = place.Offset.ToLocal(m.Sun);
        return (asked.Weekdays is not { Length: > 0 } weekdays || weekdays.Contains(day.Weekday)) && (asked.Months is not { Length: > 0 } months || months.Contains(day.Month));
    }

    private static MorningShown Shown(Site site, Morning m, int rank)
    {
        CoastPlace place = site.Place;
        LocalTime local = place.Offset;
        CivilTime day = local.ToLocal(m.Sun);
        string Time(UtcInstant at) => TimeText.HourMinute(at, local);
        string sun = m.IsEvening ? "sets" : "rises";
        string way = m.PathCloses ? $"leave by {TimeText.HourMinuteBefore(m.LeaveBy, local)}, {place.AllowanceMinutes} minutes taken off" : "the path is not cut in that time";
        string reason = Invariant($"The tide falls from {m.FromMetres:F1} to {m.ToMetres:F1} m between {Time(m.WorkStart)} and {Time(m.WorkEnd)} while the sun {sun} at {Time(m.Sun)}; set off at {Time(m.SetOffAt)}, and {way}.");
        var sky = new SunDay(place.Position, local, m.Sun);
        List<Fact> facts =
        [
            new("Set off", Time(m.SetOffAt)),
            new("Twilight", m.IsEvening ? $"civil dusk {Crossing(sky.CivilDusk, local)}, nautical dusk {Crossing(sky.NauticalDusk, local)}" : $"nautical dawn {Crossing(sky.NauticalDawn, local)}, civil dawn {Crossing(sky.CivilDawn, local)}"),
            new(m.IsEvening ? "Sunset" : "Sunrise", Invariant($"{Time(m.Sun)}, bearing {m.SunAzimuthDegrees:F0} degrees")),
            new("Work", $"{Time(m.WorkStart)} to {Time(m.WorkEnd)}, {m.WorkMinutes} minutes"),
            new("Tide", Invariant($"{m.FromMetres:F1} m, falling to {m.ToMetres:F1} m")),
            new("Leave by", m.PathCloses ? $"{TimeText.HourMinuteBefore(m.LeaveBy, local)}, {place.AllowanceMinutes} minutes and {place.AllowanceCentimetres} cm taken off" : "not cut in the time looked at"),
        ];
        return new MorningShown(m.Sun.Seconds, rank, $"{MonthName(day.Month)} {day.Year}", $"{TimeText.WeekdayName(day.Weekday)} {day.Day} {MonthName(day.Month)}", m.IsEvening ? "evening" : "morning", m.WorkMinutes, reason, facts, DaySketch.Svg(site, m));
    }

    private static string MonthName(int month) => CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(month);

    private static string Crossing(SunEvent e, LocalTime local) => e.Happens ? TimeText.HourMinute(e.Time, local) : "none";

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
