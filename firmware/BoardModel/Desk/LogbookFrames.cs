using System.Globalization;
using System.Text.Json;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>A frame as a file tells it. Times in seconds.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Utc">When it began; null when the file does not know the day.</param>
/// <param name="Since">When it began, in words, where the day is not known.</param>
/// <param name="Seconds">How long the shutter was open.</param>
/// <param name="Answer">How long the box had wanted it to be; null when that is not known.</param>
/// <param name="WavePercent">Where in the wave it began, per cent of the learned period; null when that is not known.</param>
/// <param name="Notes">Stopped, late, in doubt.</param>
internal sealed record FileFrame(int Number, DateTime? Utc, string Since, double Seconds, double? Answer, double? WavePercent, string Notes);

/// <summary>The frames of a dump of the memory, or of a report.</summary>
/// <param name="Source">What the file is, in words.</param>
/// <param name="Local">Local time of the place in the dump; UTC for a report.</param>
/// <param name="AnswerFor">What the answers are for, in words.</param>
/// <param name="Frames">The frames.</param>
internal sealed record LogbookFrames(string Source, LocalTime Local, string AnswerFor, IReadOnlyList<FileFrame> Frames)
{
    private static readonly DateTime Epoch = new(2000, 1, 1, 0, 0, 0, DateTimeKind.Utc);

    /// <summary>Reads a file.</summary>
    /// <exception cref="FormatException">The file is neither of them; the message says so in one line.</exception>
    public static LogbookFrames Read(byte[] file)
    {
        if (file.Length == At24c32Model.Size) return OfDump(file);
        try
        {
            return OfReport(file);
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            throw new FormatException($"The file is neither a dump of a box's memory, which has {At24c32Model.Size} bytes, nor the report of a run (report.json).", e);
        }
    }

    private static LogbookFrames OfDump(byte[] cells)
    {
        var box = new OfflineBox(cells);
        var memory = new CellView(cells);
        var log = new Logbook(memory, new PageWriter(memory));
        log.Scan();
        var frames = new List<FileFrame>();
        var entry = new LogEntry();
        for (int i = 0; i < log.Count; i++)
        {
            if (!log.Read(i, entry)) continue;
            frames.Add(new FileFrame(
                i + 1,
                entry.HasUtc ? Epoch.AddSeconds(entry.StartUtcSeconds) : null,
                $"{entry.StartTenths / 10} s after it was switched on",
                entry.ExposureUs / 1e6,
                Answer(box, entry),
                entry.WaveThousandths < 0 ? null : entry.WaveThousandths / 10.0,
                Notes(entry)));
        }
        return new LogbookFrames(
            $"Memory of a box at {box.Shore.Settings.Place.Name}. A frame keeps no aperture: the answers are for the one that the box held last",
            box.Shore.Settings.Place.Offset,
            $"Answer at f/{box.Settings.Base.Aperture.Label} and ISO {box.Settings.Base.Iso.Label}",
            frames);
    }

    // The metered light and what the filters took make the time; aperture and ISO are the box's own, because a frame does not keep them.
    private static double Answer(OfflineBox box, LogEntry entry) =>
        Math.Pow(2, (box.Settings.Base.Aperture.Index - box.Settings.Base.Iso.Index) / 3.0 - entry.LightHundredths / 100.0 + entry.StopsHundredths / 100.0);

    private static string Notes(LogEntry entry)
    {
        var notes = new List<string>();
        if (entry.CutShort) notes.Add("stopped early");
        if (entry.From != Core.Light.SeriesLight.None) notes.Add("time from: " + Report.LogbookCsv.TimeFrom(entry.From));
        if (entry.LateSteps == Core.Link.FrameRing.Doubt) notes.Add("length in doubt");
        else if (entry.LateSteps > 0) notes.Add(FormattableString.Invariant($"{entry.LateSteps * Core.Link.FrameRing.LateStepUs / 1e6:F2} s late"));
        return string.Join(", ", notes);
    }

    private static LogbookFrames OfReport(byte[] file)
    {
        using JsonDocument document = JsonDocument.Parse(file);
        JsonElement root = document.RootElement;
        DateTime? start = root.TryGetProperty("startUtc", out JsonElement given) && given.ValueKind == JsonValueKind.String
            ? DateTime.ParseExact(given.GetString()!, "yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal) : null;
        var frames = new List<FileFrame>();
        foreach (JsonElement frame in root.GetProperty("frames").EnumerateArray())
        {
            double opened = frame.GetProperty("opened").GetDouble();
            string off = FormattableString.Invariant($"{frame.GetProperty("msFromTurn").GetDouble() / 1000:+0.00;-0.00} s from the turn, {100 * frame.GetProperty("backwashShare").GetDouble():F0} % on the backwash");
            frames.Add(new FileFrame(
                frame.GetProperty("number").GetInt32(),
                start?.AddSeconds(opened),
                FormattableString.Invariant($"{opened:F1} s of the run"),
                frame.GetProperty("exposure").GetDouble(),
                Wanted(frame),
                null,
                frame.GetProperty("cutShort").GetBoolean() ? "stopped early, " + off : off));
        }
        return new LogbookFrames($"Report of the run \"{root.GetProperty("name").GetString()}\"", new LocalTime(new LocalOffset(0)), "Answer", frames);
    }

    private static double? Wanted(JsonElement frame) =>
        frame.TryGetProperty("commandedExposure", out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;
}
