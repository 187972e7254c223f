using System.Text.Json;
using Intervalometer.VirtualBoard.Scenario;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>Scenarios played on the page.</summary>
[TestClass]
public class GuidedTests
{
    [TestMethod]
    public async Task TheMorningIsWalkedThroughStepByStep()
    {
        await using LivePage live = await LivePage.Open();
        live.Server.Session.StepWallSeconds = 1;
        live.Server.Session.SeeSpeed = 60;
        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Walk through a morning" }).ClickAsync();
        IReadOnlyList<SceneStep> steps = GuidedMorning.Load().Steps;
        for (int i = 0; i < steps.Count; i++)
        {
            // The step is played and its outcome stands on the display while its words are read.
            if (i > 0) await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Go on" }).ClickAsync();
            await live.Page.WaitForFunctionAsync("step => state.step === step && state.paused", i, new PageWaitForFunctionOptions { Timeout = 120_000 });
            Assert.AreEqual($"{i + 1} of {steps.Count}: {steps[i].Title}", await live.Page.Locator("#walk-title").TextContentAsync());
            Assert.AreEqual(steps[i].Words, await live.Page.Locator("#walk-words").TextContentAsync());
            await live.Picture($"morning-{i + 1}");
        }
        await live.Page.WaitForFunctionAsync("() => state.over && byId('walk-on').disabled", null, new PageWaitForFunctionOptions { Timeout = 120_000 });
        await live.Picture("morning-end");
        JsonElement report = await live.Report();
        Assert.AreEqual(8, report.GetProperty("frames").GetArrayLength());
        Assert.AreEqual(0, report.GetProperty("missedPresses").GetArrayLength());

        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Leave it" }).ClickAsync();
        await live.Page.WaitForFunctionAsync("() => state.scene === null && state.now < 20 && !state.paused");
        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Walk through a morning" }).WaitForAsync();
        Assert.AreEqual(0, live.Complaints.Count, string.Join("; ", live.Complaints));
    }

    [TestMethod]
    public async Task WhoDoesNotWantToWatchAStepIsShownItsEnd()
    {
        await using LivePage live = await LivePage.Open();
        // At this pace the first step, a whole night, would take an hour.
        live.Server.Session.StepWallSeconds = 3600;
        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Walk through a morning" }).ClickAsync();
        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Show its end" }).ClickAsync();
        await live.Page.WaitForFunctionAsync("() => state.step === 0 && state.paused && state.now > 31000", null, new PageWaitForFunctionOptions { Timeout = 120_000 });
        Assert.IsFalse(await live.Page.Locator("#walk-hurry").IsVisibleAsync());
    }

    [TestMethod]
    public async Task AScenarioFileIsPlayedAndABadOneIsExplained()
    {
        await using LivePage live = await LivePage.Open();
        await Give(live, """{ "name": "Two presses", "presses": [ { "at": 1, "button": "down" }, { "at": 2, "button": "down" } ], "endAt": 3 }""");
        await live.Page.WaitForFunctionAsync("() => state.scene === 'Two presses' && state.now > 2.5");
        Assert.AreEqual("FRAMES", live.Screen);

        await Give(live, """{ "name": "Wrong", "presses": [ { "at": 1, "button": "left" } ], "endAt": 3 }""");
        await live.Page.WaitForFunctionAsync("() => byId('trouble').textContent.includes('unknown button \"left\"')");
        Assert.AreEqual("Two presses", await live.Page.EvaluateAsync<string>("() => state.scene"));
        await Give(live, """{ "endAt": 2 }""");
        await live.Page.WaitForFunctionAsync("() => byId('trouble').hidden");
    }

    private static Task Give(LivePage live, string json) => live.Page.Locator("#scene-file").SetInputFilesAsync(
        new FilePayload { Name = "scenario.json", MimeType = "application/json", Buffer = System.Text.Encoding.UTF8.GetBytes(json) });
}
