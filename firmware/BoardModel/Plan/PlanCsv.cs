using System.Globalization;
using CsvHelper;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>The list as CSV (RFC 4180), in order of rank, with the caution in every row so that no row travels without it.</summary>
public static class PlanCsv
{
    private static readonly string[] Columns =
    [
        "rank", "date", "kind", "sun_utc", "sun_azimuth_deg", "set_off_utc", "work_start_utc", "work_end_utc", "work_min",
        "from_m", "to_m", "leave_by_utc", "datum", "place", "reason_local_time", "caution",
    ];

    /// <summary>Writes the list.</summary>
    public static void Write(TextWriter to, Site site, IReadOnlyList<Morning> ranked)
    {
        using var csv = CsvWriter.Create(to, CsvWriterOptions.Default, leaveOpen: true);
        csv.WriteRecord(Columns);
        for (int i = 0; i < ranked.Count; i++)
        {
            Morning m = ranked[i];
            csv.WriteRecord(new[]
            {
                (i + 1).ToString(CultureInfo.InvariantCulture),
                TimeText.IsoDate(site.Place.Offset.ToLocal(m.Sun)),
                m.IsEvening ? "evening" : "morning",
                Utc(m.Sun),
                m.SunAzimuthDegrees.ToString("F1", CultureInfo.InvariantCulture),
                Utc(m.SetOffAt),
                Utc(m.WorkStart),
                Utc(m.WorkEnd),
                m.WorkMinutes.ToString(CultureInfo.InvariantCulture),
                m.FromMetres.ToString("F2", CultureInfo.InvariantCulture),
                m.ToMetres.ToString("F2", CultureInfo.InvariantCulture),
                m.PathCloses ? Utc(m.LeaveBy) : "",
                Plain(site.Place.DatumText),
                Plain(site.Place.Name),
                m.Reason(site.Place.Offset),
                TideCaution.Full,
            });
        }
    }

    // An apostrophe precedes a text that a spreadsheet would take for a formula, as the manuals of spreadsheets advise (from memory).
    private static string Plain(string text) => text.Length > 0 && "=+-@\t\r".Contains(text[0]) ? "'" + text : text;

    private static string Utc(UtcInstant instant) => Planner.ToDateTime(instant).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
