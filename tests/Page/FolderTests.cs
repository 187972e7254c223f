using System.Diagnostics;
using System.Text;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Web;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>The page as a folder of plain files, made by the command in README.md and opened from a plain file server. The board runs inside the browser.</summary>
[TestClass]
public class FolderTests
{
    private static readonly PageWaitForFunctionOptions Patient = new() { Timeout = 300_000 };
    private static string _folder = "";
    private static FolderServer? _server;

    [ClassInitialize]
    public static async Task Publish(TestContext context)
    {
        _folder = Directory.CreateTempSubdirectory("board-").FullName;
        string root = FindRoot();
        string[] command = ["publish", "firmware/BrowserBoard", "-o", _folder];
        StringAssert.Contains(File.ReadAllText(Path.Combine(root, "README.md")), "dotnet publish firmware/BrowserBoard -o ");
        var start = new ProcessStartInfo("dotnet", command) { WorkingDirectory = root, RedirectStandardOutput = true };
        // The outer test run passes its own settings on, which are not meant for this build.
        foreach (string name in start.Environment.Keys.Where(k => k.StartsWith("MSBUILD", StringComparison.OrdinalIgnoreCase) || k.StartsWith("VSTEST", StringComparison.OrdinalIgnoreCase)).ToArray()) start.Environment.Remove(name);
        start.Environment["MSBUILDDISABLENODEREUSE"] = "1";
        // A build is too short to win back what the runtime spends on watching which code is hot.
        start.Environment["DOTNET_TieredPGO"] = "0";
        // The build of the sources themselves runs the analyzers.
        start.Environment["RunAnalyzers"] = "false";
        using Process process = Process.Start(start)!;
        string told = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.AreEqual(0, process.ExitCode, told);
        _server = await FolderServer.StartAsync(Path.Combine(_folder, "wwwroot"));
    }

    [ClassCleanup]
    public static async Task End()
    {
        if (_server is not null) await _server.DisposeAsync();
        Directory.Delete(_folder, true);
    }

    [TestMethod]
    public async Task DisplayButtonsLinesAndSeaAreThoseOfTheBoard()
    {
        await using Opened opened = await Open();
        IPage page = opened.Page;
        await page.Locator("[data-button=down]").ClickAsync();
        // The card of the filters, as a board on this PC shows it after the same press.
        string wanted = GlassCard();
        await page.WaitForFunctionAsync("rows => btoa(String.fromCharCode(...state.screen)) === rows", wanted);
        await page.Locator("[data-button=back]").ClickAsync();
        await page.Locator("[data-speed='5']").ClickAsync();
        await page.WaitForFunctionAsync("() => state.waves.length > 1 && state.edge.some(e => e[1] > 0.5)");
        await page.Locator("[data-button=fire]").ClickAsync();
        await page.WaitForFunctionAsync("() => state.frames === 1");
        Assert.IsTrue(await page.EvaluateAsync<bool>("() => [Lines.half, Lines.shutter, Lines.sensor, Lines.fire].every(line => state.lines.some(l => l[1] === line && l[2] === 1))"));

        IDownload csv = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Logbook as CSV" }).ClickAsync());
        using var reader = new StreamReader(await csv.CreateReadStreamAsync());
        StringAssert.StartsWith(await reader.ReadToEndAsync(), "frame,session,");
        Assert.AreEqual("frames.csv", csv.SuggestedFilename);
        Assert.AreEqual(0, opened.Complaints.Count, string.Join("; ", opened.Complaints));
    }

    [TestMethod]
    public async Task AScenarioFileIsPlayedAndABadOneIsExplained()
    {
        await using Opened opened = await Open();
        await Give(opened.Page, """{ "name": "One press", "presses": [ { "at": 1, "button": "down" } ], "endAt": 3 }""");
        await opened.Page.WaitForFunctionAsync("() => state.scene === 'One press' && state.now > 2.5");
        await Give(opened.Page, """{ "presses": [ { "at": 1, "button": "left" } ], "endAt": 3 }""");
        await opened.Page.WaitForFunctionAsync("() => byId('trouble').textContent.includes('unknown button \"left\"')");
    }

    [TestMethod]
    public async Task TheDeskWorksInTheFolderToo()
    {
        await using Opened opened = await Open();
        IPage page = opened.Page;
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Mornings to come" }).ClickAsync();
        await page.WaitForFunctionAsync("() => byId('site-text').value.length > 0 && byId('mornings-told').textContent.includes('92 days')", null, Patient);
        await page.Locator("#mornings-form input[name=from]").FillAsync("2031-03-14");
        await page.Locator("#mornings-form select[name=days]").SelectOptionAsync("30");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Look for mornings" }).ClickAsync();
        await page.WaitForFunctionAsync("() => byId('mornings-told').textContent.includes('30 days') && byId('morning-title').textContent === 'Wed 19 March, morning: rank 1'", null, Patient);
        IDownload calendar = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Calendar" }).ClickAsync());
        using var reader = new StreamReader(await calendar.CreateReadStreamAsync());
        string text = await reader.ReadToEndAsync();
        StringAssert.Contains(text, "DTSTART:20310319T0527");
        StringAssert.Contains(text, "TRIGGER:-PT35M");

        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "The logbook" }).ClickAsync();
        await page.Locator("#logbook-file").SetInputFilesAsync(new FilePayload { Name = "memory.bin", MimeType = "application/octet-stream", Buffer = DeskPage.Dump });
        await page.WaitForFunctionAsync("() => !byId('logbook-open').hidden", null, Patient);
        string began = await page.Locator("#logbook-rows td").First.TextContentAsync() ?? "";
        DateTime taken = DateTime.ParseExact(began, "yyyy-MM-dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture);
        await page.Locator("#picture-files").SetInputFilesAsync(new FilePayload { Name = "shore.jpg", MimeType = "image/jpeg", Buffer = DeskPage.Photograph(taken) });
        await page.WaitForFunctionAsync("() => byId('logbook-told').textContent.includes('1 of 1 pictures have a frame')", null, Patient);
        Assert.AreEqual(0, opened.Complaints.Count, string.Join("; ", opened.Complaints));
    }

    [TestMethod]
    public async Task TheMorningIsWalkedThroughStepByStep()
    {
        await using Opened opened = await Open();
        IPage page = opened.Page;
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Walk through a morning" }).ClickAsync();
        IReadOnlyList<SceneStep> steps = GuidedMorning.Load().Steps;
        for (int i = 0; i < steps.Count; i++)
        {
            if (i > 0) await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Go on" }).ClickAsync();
            await page.WaitForFunctionAsync("step => state.step === step", i, Patient);
            await page.EvaluateAsync("() => byId('walk-hurry').click()");
            await page.WaitForFunctionAsync("step => state.step === step && state.paused", i, Patient);
            Assert.AreEqual($"{i + 1} of {steps.Count}: {steps[i].Title}", await page.Locator("#walk-title").TextContentAsync());
        }
        Assert.AreEqual(DeskPage.Morning.Report.Frames.Count, await page.EvaluateAsync<int>("() => state.frames"));
        Assert.IsTrue(await page.EvaluateAsync<bool>("() => state.over && state.missed === 0"));
        Assert.AreEqual(0, opened.Complaints.Count, string.Join("; ", opened.Complaints));
    }

    private static string GlassCard()
    {
        using var session = new LiveSession(new SeaChoice());
        while (session.Use(b => b.Time.NowUs) < 1_000_000) session.Advance(TimeSpan.FromMilliseconds(20));
        session.Down(Settings.Button.Down);
        session.Up(Settings.Button.Down);
        while (session.Use(b => b.Time.NowUs) < 4_000_000) session.Advance(TimeSpan.FromMilliseconds(20));
        Assert.AreEqual("GLASS", session.Use(b => b.Box!.Panel!.ScreenName));
        return Convert.ToBase64String(session.Use(b => b.Display.Rows()));
    }

    private static Task Give(IPage page, string json) =>
        page.Locator("#scene-file").SetInputFilesAsync(new FilePayload { Name = "scenario.json", MimeType = "application/json", Buffer = Encoding.UTF8.GetBytes(json) });

    private static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Intervalometer.sln"))) folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("Run the tests from the working tree.");
    }

    private static async Task<Opened> Open()
    {
        IBrowserContext context = await Chromium.Browser.NewContextAsync(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = 1280, Height = 720 } });
        IPage page = await context.NewPageAsync();
        var opened = new Opened(context, page);
        page.Console += (_, message) => { if (message.Type == "error") opened.Complaints.Add(message.Text); };
        page.PageError += (_, error) => opened.Complaints.Add(error);
        await page.GotoAsync(_server!.Address);
        await page.WaitForFunctionAsync("() => state.screen !== null && state.now > 0.3", null, Patient);
        return opened;
    }

    /// <summary>A browser's page on the folder.</summary>
    private sealed record Opened(IBrowserContext Context, IPage Page) : IAsyncDisposable
    {
        public List<string> Complaints { get; } = [];

        public ValueTask DisposeAsync() => Context.DisposeAsync();
    }
}
