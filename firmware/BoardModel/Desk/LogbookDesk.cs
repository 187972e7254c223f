using System.Globalization;
using CsvHelper;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>A logbook on the page: its frames in words, as a drawing and as files.</summary>
public static class LogbookDesk
{
    private const string Hit = "hit";
    private static readonly string[] Columns = ["frame", "start", "exposure_s", "answer_s", "off_answer_stops", "wave_percent", "notes", "hit_or_miss", "picture"];

    /// <summary>Reads a picture's capture time.</summary>
    public static PictureTaken Picture(string name, byte[] head) => PictureMatch.Read(name, head);

    /// <summary>The frames and what is known of them.</summary>
    public static LogbookShown Show(LogbookAsked asked)
    {
        LogbookFrames book = LogbookFrames.Read(asked.File);
        string matched = "";
        IReadOnlyDictionary<int, string> files = new Dictionary<int, string>();
        if (asked.Pictures is { Count: > 0 } pictures)
        {
            (files, double ahead) = PictureMatch.Find(book, pictures, asked.Ahead);
            matched = FormattableString.Invariant($"{files.Count} of {pictures.Count} pictures have a frame. The camera's clock is {Math.Abs(ahead):F0} s {(ahead < 0 ? "behind" : "ahead of")} the time of the place{(asked.Ahead is null ? ", as the pictures say themselves" : "")}.");
        }
        LoggedFrame[] frames = [.. book.Frames.Select(f => Shown(book, f, asked.Verdicts?.GetValueOrDefault(f.Number.ToString(CultureInfo.InvariantCulture)) ?? "", files.GetValueOrDefault(f.Number) ?? ""))];
        int judged = frames.Count(f => f.Verdict.Length > 0), hits = frames.Count(f => f.Verdict == Hit);
        string told = frames.Length == 0 ? "The logbook holds no frame." : $"{frames.Length} frame{(frames.Length == 1 ? "" : "s")}." + (judged > 0 ? $" {hits} of {judged} that you judged are hits." : "");
        return new LogbookShown(book.Source, book.AnswerFor, frames, told, matched, LogbookSketch.Svg(frames));
    }

    /// <summary>The frames as CSV (RFC 4180).</summary>
    public static string Csv(LogbookAsked asked) => Rows(Show(asked).Frames);

    /// <summary>The picture files, each with its frame, as CSV; a picture without a frame has empty cells.</summary>
    public static string Sidecar(LogbookAsked asked)
    {
        LogbookShown shown = Show(asked);
        LoggedFrame none = new(0, "", 0, "", "", null, null, "", "", "");
        return Text(["picture", .. Columns[..^1]], (asked.Pictures ?? []).Select(p => (p.Name, Frame: shown.Frames.FirstOrDefault(f => f.File == p.Name) ?? none))
            .Select(p => (string[])[p.Name, .. p.Frame == none ? new string[Columns.Length - 1].Select(_ => "") : Cells(p.Frame)[..^1]]));
    }

    private static string Rows(IReadOnlyList<LoggedFrame> frames) => Text(Columns, frames.Select(Cells));

    private static string[] Cells(LoggedFrame f) =>
    [
        f.Number.ToString(CultureInfo.InvariantCulture), f.Start, Number(f.ExposureSeconds), f.OffStops is double off ? Number(f.ExposureSeconds / Math.Pow(2, off)) : "", f.OffStops is double stops ? Number(stops) : "",
        f.WavePercent is double wave ? Number(wave) : "", f.Notes, f.Verdict, f.File,
    ];

    private static string Text(string[] heading, IEnumerable<string[]> rows)
    {
        var text = new StringWriter { NewLine = "\r\n" };
        using (CsvWriter csv = CsvWriter.Create(text, leaveOpen: true))
        {
            csv.WriteRecord(heading);
            foreach (string[] row in rows) csv.WriteRecord(row);
        }
        return text.ToString();
    }

    private static LoggedFrame Shown(LogbookFrames book, FileFrame f, string verdict, string file)
    {
        string start = f.Utc is DateTime utc ? utc.AddMinutes(book.Local.MinutesAt(Plan.Planner.FromDateTime(utc))).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture) : f.Since;
        double? off = f.Answer is > 0 && f.Seconds > 0 ? Math.Round(Math.Log2(f.Seconds / f.Answer.Value), 2) : null;
        return new LoggedFrame(f.Number, start, f.Seconds, Seconds(f.Seconds), f.Answer is double answer ? Seconds(answer) : "", off, f.WavePercent, f.Notes, verdict, file);
    }

    private static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    private static string Seconds(double s) => FormattableString.Invariant($"{s:0.###} s");
}
