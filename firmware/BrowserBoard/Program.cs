using System.Diagnostics;
using System.Runtime.InteropServices.JavaScript;
using System.Runtime.Versioning;
using System.Text;
using System.Text.Json;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Web;

[assembly: SupportedOSPlatform("browser")]

namespace Intervalometer.BrowserBoard;

/// <summary>The functions that worker.js calls: they run the board behind the page, carry out orders and answer questions.</summary>
public static partial class Program
{
    private static readonly LiveSession Session = new(new SeaChoice());
    private static readonly LiveView View = new(Session);
    private static readonly PageDesk Desk = new(Session);
    private static long _lookedAt = Stopwatch.GetTimestamp();
    private static byte[] _body = [];

    /// <summary>Does nothing by itself, because the worker calls the other functions.</summary>
    public static void Main()
    {
    }

    /// <summary>Lets the board run for the time that has passed since the last call.</summary>
    [JSExport]
    public static void Advance()
    {
        TimeSpan passed = Stopwatch.GetElapsedTime(_lookedAt);
        _lookedAt = Stopwatch.GetTimestamp();
        Session.Advance(passed);
    }

    /// <summary>What is new on the board, as JSON.</summary>
    [JSExport]
    public static string News() => Encoding.UTF8.GetString(View.Next());

    /// <summary>Carries out an order. Null when it was done, otherwise what is wrong with it.</summary>
    [JSExport]
    public static string? Order(string json) => LiveOrders.Take(Session, Encoding.UTF8.GetBytes(json));

    /// <summary>Answers a question. It returns the head of the answer as JSON; <see cref="Body"/> returns the rest.</summary>
    [JSExport]
    public static string Ask(string question, byte[] body)
    {
        PageAnswer answer = Desk.Answer(question, body);
        _body = answer.Body;
        using var head = new MemoryStream();
        using (var json = new Utf8JsonWriter(head))
        {
            json.WriteStartObject();
            json.WriteBoolean("ok", answer.Ok);
            json.WriteString("type", answer.Type);
            json.WriteString("file", answer.File);
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(head.ToArray());
    }

    /// <summary>The bytes of the last answer.</summary>
    [JSExport]
    public static byte[] Body() => _body;
}
