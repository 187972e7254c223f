using System.Net;
using System.Net.WebSockets;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Web;

/// <summary>Serves the page and one live session on 127.0.0.1.</summary>
public sealed class PageServer : IAsyncDisposable
{
    private static readonly TimeSpan FrameTime = TimeSpan.FromMilliseconds(33);
    private const int LongestOrder = 4096;

    private static readonly (string Path, string Resource, string Type)[] Assets =
    [
        ("/", "index.html", "text/html; charset=utf-8"),
        ("/page.css", "page.css", "text/css; charset=utf-8"),
        ("/desk.css", "desk.css", "text/css; charset=utf-8"),
        ("/page.js", "page.js", "text/javascript; charset=utf-8"),
        ("/desk.js", "desk.js", "text/javascript; charset=utf-8"),
        ("/place.js", "place.js", "text/javascript; charset=utf-8"),
        ("/logbook.js", "logbook.js", "text/javascript; charset=utf-8"),
        ("/transport.js", "transport.js", "text/javascript; charset=utf-8"),
        ("/charts.js", "charts.js", "text/javascript; charset=utf-8"),
        ("/icon.svg", "icon.svg", "image/svg+xml"),
    ];

    private readonly WebApplication _app;

    private readonly SessionThread _clock;
    private readonly PageDesk _desk;

    private PageServer(WebApplication app, LiveSession session)
    {
        _app = app;
        Session = session;
        _clock = new SessionThread(session);
        _desk = new PageDesk(session);
    }

    /// <summary>The board behind the page.</summary>
    public LiveSession Session { get; }

    /// <summary>Address of the page.</summary>
    public string Address => _app.Urls.First();

    /// <summary>Starts on a port; 0 takes a free one. Throws <see cref="IOException"/> when the port is taken.</summary>
    public static async Task<PageServer> StartAsync(int port)
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(k => k.Listen(IPAddress.Loopback, port));
        WebApplication app = builder.Build();
        var session = new LiveSession(new SeaChoice());
        var server = new PageServer(app, session);
        app.Use(OwnHostOnly);
        app.UseWebSockets();
        foreach (var (path, resource, type) in Assets)
        {
            byte[] bytes = Resource(resource);
            app.MapGet(path, () => Results.Bytes(bytes, type));
        }
        foreach (string question in server._desk.Questions) app.MapMethods("/" + question, [HttpMethods.Get, HttpMethods.Post], (Delegate)(async (HttpContext context) => await server.Ask(question, context)));
        app.Map("/live", server.Live);
        try
        {
            await app.StartAsync();
        }
        catch
        {
            server._clock.Dispose();
            await app.DisposeAsync();
            throw;
        }
        return server;
    }

    /// <summary>Serves until told to end.</summary>
    public Task RunAsync(CancellationToken cancel) => _app.WaitForShutdownAsync(cancel);

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync(TimeSpan.FromSeconds(1));
        await _app.DisposeAsync();
        _clock.Dispose();
    }

    private static byte[] Resource(string name)
    {
        using Stream stream = typeof(PageServer).Assembly.GetManifestResourceStream("page/" + name)!;
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }

    /// <summary>Refuses requests from other sites, which could reach the board through a host name that points to this PC.</summary>
    private static Task OwnHostOnly(HttpContext context, RequestDelegate next)
    {
        string host = context.Request.Host.Host;
        string? origin = context.Request.Headers.Origin;
        bool own = host is "127.0.0.1" or "localhost" && (string.IsNullOrEmpty(origin) || origin == "http://" + context.Request.Host);
        if (own)
        {
            context.Response.Headers.ContentSecurityPolicy = "default-src 'self'; img-src 'self' data:; frame-ancestors 'none'";
            context.Response.Headers.CacheControl = "no-store";
            return next(context);
        }
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        return context.Response.WriteAsync("Open the page at its own address.");
    }

    private async Task<IResult> Ask(string question, HttpContext context)
    {
        using var body = new MemoryStream();
        var chunk = new byte[LongestOrder];
        // One byte too many is enough, because the desk then reports the length.
        for (int got; body.Length <= PageDesk.LongestBody && (got = await context.Request.Body.ReadAsync(chunk, context.RequestAborted)) > 0;) body.Write(chunk, 0, got);
        PageAnswer answer = _desk.Answer(question, body.ToArray());
        if (!answer.Ok) context.Response.StatusCode = StatusCodes.Status400BadRequest;
        if (answer.File is not null) context.Response.Headers.ContentDisposition = $"attachment; filename=\"{answer.File}\"";
        return new Plain(answer);
    }

    private sealed class Plain(PageAnswer answer) : IResult
    {
        public Task ExecuteAsync(HttpContext context)
        {
            context.Response.ContentType = answer.Type;
            return context.Response.Body.WriteAsync(answer.Body).AsTask();
        }
    }

    private async Task Live(HttpContext context)
    {
        if (!context.WebSockets.IsWebSocketRequest)
        {
            context.Response.StatusCode = StatusCodes.Status400BadRequest;
            await context.Response.WriteAsync("This address talks to the page only.");
            return;
        }
        using WebSocket socket = await context.WebSockets.AcceptWebSocketAsync();
        using var end = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted, _app.Lifetime.ApplicationStopping);
        Task listening = Listen(socket, end);
        try
        {
            var view = new LiveView(Session);
            using var beat = new PeriodicTimer(FrameTime); // keeps the rate when one message is late; with a delay after each message the delays would add up
            do await socket.SendAsync(view.Next(), WebSocketMessageType.Text, true, end.Token);
            while (await beat.WaitForNextTickAsync(end.Token));
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
            // The page was closed.
        }
        end.Cancel();
        await listening;
    }

    private async Task Listen(WebSocket socket, CancellationTokenSource end)
    {
        var buffer = new byte[LongestOrder];
        try
        {
            int length = 0;
            while (true)
            {
                ValueWebSocketReceiveResult got = await socket.ReceiveAsync(buffer.AsMemory(length), end.Token);
                if (got.MessageType == WebSocketMessageType.Close) break;
                length += got.Count;
                if (length == buffer.Length) break; // no request is this long
                if (!got.EndOfMessage) continue;
                if (LiveOrders.Take(Session, buffer.AsSpan(0, length)) is string wrong) Console.Error.WriteLine("Page: " + wrong);
                length = 0;
            }
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
            // The page was closed.
        }
        end.Cancel();
    }
}
