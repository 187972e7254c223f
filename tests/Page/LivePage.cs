using System.Text.Json;
using Intervalometer.VirtualBoard.Web;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>A server on a free port with one browser page on it.</summary>
internal sealed class LivePage : IAsyncDisposable
{
    private readonly IBrowserContext _context;

    private LivePage(PageServer server, IBrowserContext context, IPage page)
    {
        Server = server;
        _context = context;
        Page = page;
    }

    public PageServer Server { get; }

    public IPage Page { get; }

    /// <summary>The errors on the console of the page.</summary>
    public List<string> Complaints { get; } = [];

    public static async Task<LivePage> Open(int width = 1280, int height = 900, bool touch = false, float ratio = 1)
    {
        PageServer server = await PageServer.StartAsync(0);
        IBrowserContext context = await Chromium.Browser.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            HasTouch = touch,
            IsMobile = touch,
            DeviceScaleFactor = ratio,
        });
        IPage page = await context.NewPageAsync();
        var live = new LivePage(server, context, page);
        page.Console += (_, message) => { if (message.Type == "error") live.Complaints.Add(message.Text); };
        page.PageError += (_, error) => live.Complaints.Add(error);
        await page.GotoAsync(server.Address);
        await page.WaitForFunctionAsync("() => state.screen !== null && state.now > 0.3");
        return live;
    }

    /// <summary>Clicks a key of the box.</summary>
    public Task Key(string name) => Page.Locator($"[data-button={name}]").ClickAsync();

    public Task Speed(int speed) => Page.Locator($"[data-speed='{speed}']").ClickAsync();

    public async Task<JsonElement> Report()
    {
        IAPIResponse response = await _context.APIRequest.GetAsync(Server.Address + "/report");
        Assert.IsTrue(response.Ok);
        return (await response.JsonAsync())!.Value;
    }

    public string Screen => Server.Session.Use(board => board.Box!.Panel!.ScreenName);

    /// <summary>Saves a picture of the page for people to look at, when PAGE_PICTURES names a folder.</summary>
    public async Task Picture(string name)
    {
        if (Environment.GetEnvironmentVariable("PAGE_PICTURES") is string folder)
            await Page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png"), FullPage = true });
    }

    /// <summary>Lets the page run to a turn and stop there, so that a slow PC marks as well as a fast one.</summary>
    public async Task MarkTheTurn()
    {
        double from = await Page.EvaluateAsync<double>("() => state.now");
        await Page.Locator("#turn").ClickAsync();
        await Page.WaitForFunctionAsync("from => state.paused && state.now > from + 0.5", from);
        await Key("mark");
    }

    /// <summary>Waits until the board is so far.</summary>
    public static async Task Until(Func<bool> ready, string otherwise, double seconds = 5)
    {
        for (double waited = 0; waited < seconds; waited += 0.025)
        {
            if (ready()) return;
            await Task.Delay(25);
        }
        Assert.Fail(otherwise);
    }

    public async ValueTask DisposeAsync()
    {
        await _context.DisposeAsync();
        await Server.DisposeAsync();
    }
}
