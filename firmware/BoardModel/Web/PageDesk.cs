using System.Text;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.VirtualBoard.Web;

/// <summary>What the page is answered.</summary>
/// <param name="Ok">True when it was done; else the body says in one line what is wrong.</param>
/// <param name="Type">Media type of the body.</param>
/// <param name="Body">The bytes.</param>
/// <param name="File">A name to keep it under; null for what the page reads itself.</param>
public sealed record PageAnswer(bool Ok, string Type, byte[] Body, string? File = null)
{
    /// <summary>A complaint in one line.</summary>
    public static PageAnswer Wrong(string words) => new(false, "text/plain; charset=utf-8", Encoding.UTF8.GetBytes(words));

    /// <summary>A text.</summary>
    public static PageAnswer Text(string text, string type = "text/plain; charset=utf-8", string? file = null) => new(true, type, Encoding.UTF8.GetBytes(text), file);
}

/// <summary>Answers what the page asks beside the live news: the same questions, whether they come over a socket or from the page's own browser.</summary>
public sealed class PageDesk(LiveSession session)
{
    private const string Json = "application/json; charset=utf-8";

    private readonly Dictionary<string, Func<byte[], PageAnswer>> _questions = new()
    {
        ["report"] = _ => PageAnswer.Text(session.ReportJson(), Json, "report.json"),
        ["lines.vcd"] = _ => PageAnswer.Text(session.LinesVcd(), file: "lines.vcd"),
        ["frames.csv"] = _ => PageAnswer.Text(session.LogbookCsv(), "text/csv; charset=utf-8", "frames.csv"),
        ["scene"] = body => Play(session, body),
    };

    /// <summary>The most bytes that may come with a question.</summary>
    public const int LongestBody = SceneReader.LongestBytes;

    /// <summary>Every question.</summary>
    public IEnumerable<string> Questions => _questions.Keys;

    /// <summary>Answers one; an unknown question is a complaint.</summary>
    public PageAnswer Answer(string question, byte[] body)
    {
        if (body.Length > LongestBody) return PageAnswer.Wrong($"The file is longer than {LongestBody} bytes; is it the right one?");
        return _questions.TryGetValue(question, out Func<byte[], PageAnswer>? answer) ? answer(body) : PageAnswer.Wrong("Unknown question; reload the page.");
    }

    // What is wrong with a scenario is answered in one line.
    private static PageAnswer Play(LiveSession session, byte[] body)
    {
        try
        {
            session.Play(SceneReader.Parse("scenario", body));
            return PageAnswer.Text("");
        }
        catch (SceneFileException e)
        {
            return PageAnswer.Wrong(e.Message);
        }
    }
}
