using System.Diagnostics;
using Intervalometer.Tests.Page;
using Intervalometer.VirtualBoard.Web;
using Microsoft.Playwright;

namespace Intervalometer.Benchmarks;

/// <summary>How many messages a second the page gets and how often it paints, while the board plays fast.</summary>
internal static class PageSpeed
{
    private const string Program = "/usr/bin/chromium";
    private const double WarmSeconds = 3;
    private const double Seconds = 5;
    private const int Rounds = 3;

    private static readonly int[] Speeds = [1, 60];

    /// <summary>Counts in the page: messages, their bytes, paints, and how far the board's clock came.</summary>
    private const string Count = """
        seconds => new Promise(done => {
          const from = performance.now(), clock = state.now;
          let messages = 0, bytes = 0, paints = 0, over = false;
          const hear = message => { messages++; bytes += message.data.length; };
          transport.socket.addEventListener("message", hear);
          const paintOne = () => { if (!over) { paints++; requestAnimationFrame(paintOne); } };
          requestAnimationFrame(paintOne);
          setTimeout(() => {
            over = true;
            transport.socket.removeEventListener("message", hear);
            const took = (performance.now() - from) / 1000;
            done([messages / took, bytes / Math.max(1, messages), paints / took, (state.now - clock) / took]);
          }, seconds * 1000);
        })
        """;

    /// <summary>Measures and prints.</summary>
    public static async Task Measure()
    {
        await using PageServer server = await PageServer.StartAsync(0);
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await Launch(playwright);
        IPage page = await browser.NewPageAsync(new BrowserNewPageOptions { ViewportSize = new ViewportSize { Width = 1280, Height = 900 } });
        await page.GotoAsync(server.Address);
        await page.WaitForFunctionAsync("() => state.screen !== null");
        Console.WriteLine($"{Environment.ProcessorCount} processors, headless Chromium {browser.Version}, 1280 x 900; median of {Rounds} stretches of {Seconds} s each.");
        Console.WriteLine();
        Console.WriteLine("| speed | messages a second | bytes each | paints a second | virtual seconds a second | server, % of one processor |");
        Console.WriteLine("| ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (int speed in Speeds)
        {
            server.Session.SetSpeed(speed);
            await Task.Delay(TimeSpan.FromSeconds(WarmSeconds));
            var found = new double[Rounds][];
            for (int round = 0; round < Rounds; round++)
            {
                TimeSpan busy = Busy();
                long from = Stopwatch.GetTimestamp();
                double[] counted = await page.EvaluateAsync<double[]>(Count, Seconds);
                found[round] = [.. counted, 100 * (Busy() - busy) / Stopwatch.GetElapsedTime(from)];
            }
            double Median(int column) => found.Select(f => f[column]).Order().ElementAt(Rounds / 2);
            Console.WriteLine($"| {speed} x | {Median(0):F1} | {Median(1):F0} | {Median(2):F1} | {Median(3):F1} | {Median(4):F0} |");
        }
    }

    /// <summary>Measures the folder of plain files, whose board runs inside the browser, and prints.</summary>
    /// <param name="folder">The wwwroot that dotnet publish firmware/BrowserBoard has made.</param>
    public static async Task MeasureFolder(string folder)
    {
        if (!File.Exists(Path.Combine(folder, "index.html"))) throw new MissingException($"{folder}: has no index.html; name the folder wwwroot that dotnet publish firmware/BrowserBoard -o has made");
        await using FolderServer server = await FolderServer.StartAsync(Path.GetFullPath(folder));
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await Launch(playwright);
        IPage page = await browser.NewPageAsync(new BrowserNewPageOptions { ViewportSize = new ViewportSize { Width = 1280, Height = 900 } });
        long from = Stopwatch.GetTimestamp();
        await page.GotoAsync(server.Address);
        await page.WaitForFunctionAsync("() => state.screen !== null");
        Console.WriteLine($"{Environment.ProcessorCount} processors, headless Chromium {browser.Version}; the display stands {Stopwatch.GetElapsedTime(from).TotalSeconds:F1} s after the address is opened.");
        Console.WriteLine();
        Console.WriteLine("| speed | virtual seconds a second |");
        Console.WriteLine("| ---: | ---: |");
        foreach (int speed in (int[])[60, 600])
        {
            await page.Locator($"[data-speed='{speed}']").ClickAsync();
            await Task.Delay(TimeSpan.FromSeconds(WarmSeconds));
            var found = new double[Rounds];
            for (int round = 0; round < Rounds; round++)
                found[round] = await page.EvaluateAsync<double>("seconds => new Promise(done => { const from = performance.now(), clock = state.now; setTimeout(() => done((state.now - clock) / (performance.now() - from) * 1000), seconds * 1000); })", Seconds);
            Console.WriteLine($"| {speed} x | {found.Order().ElementAt(Rounds / 2):F1} |");
        }
    }

    private static Task<IBrowser> Launch(IPlaywright playwright)
    {
        if (!File.Exists(Program)) throw new MissingException($"{Program}: not found; install Chromium (Debian: apt-get install chromium), then run this again");
        return playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Program,
            Args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    private static TimeSpan Busy()
    {
        using var self = Process.GetCurrentProcess();
        return self.TotalProcessorTime;
    }
}
