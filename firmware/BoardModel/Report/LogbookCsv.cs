using System.Globalization;
using CsvHelper;
using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.VirtualBoard.Report;

/// <summary>
/// The box's own logbook as a CSV file (RFC 4180), oldest frame first. Start and exposure are those of the contact, as the box keeps them: UTC
/// to the second when its clock ran, otherwise the time since it was switched on.
/// </summary>
public static class LogbookCsv
{
    private static readonly string[] Heading =
    [
        "frame", "session", "start_s", "start_utc", "exposure_s", "stopped_early", "filters_stops", "light_ev100", "wave_phase_percent", "late_s", "length_in_doubt", "planned_s", "collected_percent", "ended_by",
        "time_from", "step_stops",
    ];

    private static readonly DateTimeOffset Epoch = new(2000, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>The logbook in a memory.</summary>
    /// <param name="cells">The memory's 4096 bytes.</param>
    public static string Text(byte[] cells)
    {
        var memory = new CellView(cells);
        var log = new Logbook(memory, new PageWriter(memory));
        log.Scan();
        var text = new StringWriter { NewLine = "\r\n" };
        using (CsvWriter csv = CsvWriter.Create(text, leaveOpen: true))
        {
            csv.WriteRecord(Heading);
            var entry = new LogEntry();
            long beforeUs = 0;
            for (int i = 0; i < log.Count; i++)
            {
                if (!log.Read(i, entry)) continue;
                csv.WriteRecord(Row(i + 1, entry, beforeUs));
                beforeUs = entry.From == SeriesLight.None || entry.CutShort ? 0 : entry.ExposureUs;
            }
        }
        return text.ToString();
    }

    // The step of a series is the change from the frame before, as long as that followed the light as well.
    private static string[] Row(int number, LogEntry entry, long beforeUs)
    {
        return
        [
            Number(number, "0"),
            entry.HasUtc ? "" : Number(entry.Session, "0"),
            entry.HasUtc ? "" : Number(entry.StartTenths / 10.0, "0.0"),
            entry.HasUtc ? Epoch.AddSeconds(entry.StartUtcSeconds).UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture) : "",
            Number(entry.ExposureUs / 1e6, "0.######"),
            entry.CutShort ? "yes" : "no",
            Number(entry.StopsHundredths / 100.0, "0.00"),
            Number(entry.LightHundredths / 100.0, "0.00"),
            entry.WaveThousandths < 0 ? "" : Number(entry.WaveThousandths / 10.0, "0.0"),
            entry.LateSteps is 0 or FrameRing.Doubt ? "" : Number(entry.LateSteps * FrameRing.LateStepUs / 1e6, "0.00"),
            entry.LateSteps == FrameRing.Doubt ? "yes" : "no",
            entry.End == LightEnd.None ? "" : Number(entry.PlannedUs / 1e6, "0.######"),
            entry.End == LightEnd.None ? "" : Number(entry.CollectedThousandths / 10.0, "0.0"),
            EndedBy(entry.End),
            TimeFrom(entry.From),
            entry.From == SeriesLight.None || beforeUs == 0 || entry.ExposureUs == 0 ? "" : Number(Math.Log2((double)entry.ExposureUs / beforeUs), "+0.000;-0.000;0.000"),
        ];
    }

    // Empty for a frame that the light could not end.
    private static string EndedBy(LightEnd end) => end switch
    {
        LightEnd.None => "",
        LightEnd.Enough => "enough light",
        LightEnd.Longest => "longest time",
        LightEnd.Shortest => "shortest time",
        LightEnd.Estimated => "estimated without the sensor",
        _ => "stopped",
    };

    /// <summary>From what the exposure of a frame in a series was taken, in words; empty for a frame that did not follow the light.</summary>
    public static string TimeFrom(SeriesLight from) => from switch
    {
        SeriesLight.None => "",
        SeriesLight.Sensor => "light",
        SeriesLight.ClearSky => "clear sky",
        _ => "time kept",
    };

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
