using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>The list as iCalendar (RFC 5545): one event a morning, times in UTC, a reminder at the time to set off.</summary>
public static class PlanCalendar
{
    /// <summary>The calendar as text. The stamp is when it was made, UTC.</summary>
    public static string Text(Site site, IReadOnlyList<Morning> ranked, DateTime stampUtc)
    {
        CoastPlace place = site.Place;
        var calendar = new Calendar { ProductId = "-//Intervalometer//Plan//EN" };
        for (int i = 0; i < ranked.Count; i++)
        {
            Morning m = ranked[i];
            var item = new CalendarEvent
            {
                // The same morning keeps its identity when the plan is made again.
                Uid = $"{TimeText.IsoDate(place.Offset.ToLocal(m.Sun))}-{(m.IsEvening ? "evening" : "morning")}-{Slug(place.Name)}@plan.invalid",
                DtStamp = new CalDateTime(stampUtc, true),
                DtStart = new CalDateTime(Planner.ToDateTime(m.WorkStart), true),
                DtEnd = new CalDateTime(Planner.ToDateTime(m.WorkEnd), true),
                Summary = $"{place.Name}: {(m.IsEvening ? "evening" : "morning")} ebb, {m.FromMetres:F1} to {m.ToMetres:F1} m",
                Description = $"Rank {i + 1} of {ranked.Count}: {m.Reason(place.Offset)}. Heights above {place.DatumText}. {TideCaution.Full}",
                Location = place.Name,
                GeographicLocation = new GeographicLocation(place.Position.LatitudeDegrees, place.Position.LongitudeDegrees),
            };
            item.Alarms.Add(new Alarm
            {
                Action = AlarmAction.Display,
                Trigger = new Trigger(Duration.FromMinutes(-place.WalkInMinutes)),
                Description = "Set off to " + place.Name + ". " + TideCaution.Short,
            });
            calendar.Events.Add(item);
        }
        return new CalendarSerializer().SerializeToString(calendar) ?? "";
    }

    private static string Slug(string name) => new(name.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToLowerInvariant(c) : '-').ToArray());
}
