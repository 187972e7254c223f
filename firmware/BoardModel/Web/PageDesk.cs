using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Intervalometer.VirtualBoard.Desk;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.VirtualBoard.Web;

/// <summary>The answer to a question of the page.</summary>
/// <param name="Ok">True when it was done; otherwise the body says in one line what is wrong.</param>
/// <param name="Type">Media type of the body.</param>
/// <param name="Body">The bytes.</param>
/// <param name="File">The name of the file to save; null for an answer that the page itself reads.</param>
public sealed record PageAnswer(bool Ok, string Type, byte[] Body, string? File = null)
{
    /// <summary>An error message in one line.</summary>
    public static PageAnswer Wrong(string words) => new(false, "text/plain; charset=utf-8", Encoding.UTF8.GetBytes(words.ReplaceLineEndings(" ")));

    /// <summary>A text.</summary>
    public static PageAnswer Text(string text, string type = "text/plain; charset=utf-8", string? file = null) => new(true, type, Encoding.UTF8.GetBytes(text), file);

    /// <summary>Bytes to save as a file.</summary>
    public static PageAnswer Bytes(byte[] bytes, string file) => new(true, "application/octet-stream", bytes, file);
}

/// <summary>Answers the questions of the page, besides the live messages. The questions are the same over a socket and inside the browser.</summary>
public sealed class PageDesk(LiveSession session)
{
    private const string Json = "application/json; charset=utf-8", Csv = "text/csv; charset=utf-8";

    private readonly Dictionary<string, Func<byte[], PageAnswer>> _questions = new()
    {
        ["report"] = _ => PageAnswer.Text(session.ReportJson(), Json, "report.json"),
        ["lines.vcd"] = _ => PageAnswer.Text(session.LinesVcd(), file: "lines.vcd"),
        ["frames.csv"] = _ => PageAnswer.Text(session.LogbookCsv(), Csv, "frames.csv"),
        ["memory.bin"] = _ => PageAnswer.Bytes(session.Use(board => board.Memory.Snapshot()), "memory.bin"),
        ["scene"] = body => Play(session, body),
        ["mornings"] = body => Shown(MorningsDesk.Show(Mornings(body)), DeskJson.Default.MorningsShown),
        ["mornings.csv"] = body =>
        {
            var (site, ranked) = MorningsDesk.Chosen(Mornings(body));
            var text = new StringWriter();
            PlanCsv.Write(text, site, ranked);
            return PageAnswer.Text(text.ToString(), Csv, "mornings.csv");
        },
        ["mornings.ics"] = body =>
        {
            var (site, ranked) = MorningsDesk.Chosen(Mornings(body));
            return PageAnswer.Text(PlanCalendar.Text(site, ranked, DateTime.UtcNow), "text/calendar; charset=utf-8", "mornings.ics");
        },
        ["mornings.play"] = body =>
        {
            var (site, morning) = MorningsDesk.One(Mornings(body));
            session.PlayAt(site, Planner.ToDateTime(morning.SetOffAt));
            return PageAnswer.Text("");
        },
        ["place.example"] = _ => Shown(PlaceDesk.Example(), DeskJson.Default.PlaceShown),
        ["place"] = body => Shown(PlaceDesk.Check(Place(body)), DeskJson.Default.PlaceShown),
        ["place.table"] = body => Shown(PlaceDesk.Paste(Place(body)), DeskJson.Default.PlaceShown),
        ["place.week"] = body => Shown(PlaceDesk.Against(Place(body)), DeskJson.Default.WeekShown),
        ["place.memory"] = body => PageAnswer.Bytes(PlaceDesk.Memory(Place(body)), "memory.bin"),
        ["place.flash"] = body => PageAnswer.Bytes(PlaceDesk.Flash(Place(body)), "deploy.bin"),
        ["logbook"] = body => Shown(LogbookDesk.Show(Logbook(body)), DeskJson.Default.LogbookShown),
        ["logbook.csv"] = body => PageAnswer.Text(LogbookDesk.Csv(Logbook(body)), Csv, "logbook.csv"),
        ["logbook.pictures"] = body => PageAnswer.Text(LogbookDesk.Sidecar(Logbook(body)), Csv, "pictures.csv"),
        ["picture"] = body => Shown(Picture(body), DeskJson.Default.PictureTaken),
    };

    /// <summary>The most bytes that a question may bring: an image of the firmware, written as text.</summary>
    public const int LongestBody = 4_000_000;

    /// <summary>Every question.</summary>
    public IEnumerable<string> Questions => _questions.Keys;

    /// <summary>Answers one question. A mistake is reported in one line, and then nothing is changed.</summary>
    public PageAnswer Answer(string question, byte[] body)
    {
        if (body.Length > LongestBody) return PageAnswer.Wrong($"That is longer than {LongestBody} bytes; is it the right file?");
        if (!_questions.TryGetValue(question, out Func<byte[], PageAnswer>? answer)) return PageAnswer.Wrong("Unknown question; reload the page.");
        try
        {
            return answer(body);
        }
        catch (Exception e) when (e is SceneFileException or SiteFileException or FlashPlaceException or MemoryImageException or FormatException)
        {
            return PageAnswer.Wrong(e.Message);
        }
        catch (Exception e) when (e is JsonException)
        {
            return PageAnswer.Wrong("That question cannot be read; reload the page.");
        }
    }

    private static PageAnswer Play(LiveSession session, byte[] body)
    {
        if (body.Length > SceneReader.LongestBytes) return PageAnswer.Wrong($"The file is longer than {SceneReader.LongestBytes} bytes; is it a scenario?");
        session.Play(SceneReader.Parse("scenario", body));
        return PageAnswer.Text("");
    }

    // The first line is the name, and the file follows it.
    private static PictureTaken Picture(byte[] body)
    {
        int end = Array.IndexOf(body, (byte)'\n');
        return end < 0 ? throw new FormatException("Give a picture with its name.") : LogbookDesk.Picture(OneLine.Of(Encoding.UTF8.GetString(body, 0, end)), body[(end + 1)..]);
    }

    private static MorningsAsked Mornings(byte[] body) => Asked(body, DeskJson.Default.MorningsAsked);

    private static PlaceAsked Place(byte[] body) => Asked(body, DeskJson.Default.PlaceAsked);

    private static LogbookAsked Logbook(byte[] body) => Asked(body, DeskJson.Default.LogbookAsked);

    private static T Asked<T>(byte[] body, JsonTypeInfo<T> kind) => JsonSerializer.Deserialize(body, kind) ?? throw new JsonException();

    private static PageAnswer Shown<T>(T answer, JsonTypeInfo<T> kind) => PageAnswer.Text(JsonSerializer.Serialize(answer, kind), Json);
}
