using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>The page is accessible: axe-core finds no violation on any of its places, the keyboard does the main jobs, and small or enlarged windows show together what belongs together.</summary>
[TestClass]
public class AccessTests
{
    [TestMethod]
    [DataRow(1280, 720)]
    [DataRow(390, 844)]
    [DataRow(844, 390)]
    public async Task AxeFindsNoViolationOnAnyPlace(int width, int height)
    {
        await using LivePage live = await LivePage.Open(width, height);
        List<string> found = [];
        foreach (string place in DeskPage.Places)
        {
            await live.Go(place);
            if (place == "Mornings to come") await live.LookFor("2031-03-14", 92);
            if (place == "The logbook")
            {
                await live.Page.Locator("#logbook-file").SetInputFilesAsync(new FilePayload { Name = "memory.bin", MimeType = "application/octet-stream", Buffer = DeskPage.Dump });
                await live.Page.WaitForFunctionAsync("() => !byId('logbook-open').hidden");
            }
            AxeResult result = await live.Page.RunAxe();
            Assert.IsGreaterThan(10, result.Passes.Length, $"{place}: axe looked at nothing");
            found.AddRange(result.Violations.SelectMany(v => v.Nodes.Select(n => $"{place}: {v.Id} {n.Html}")));
        }
        Assert.AreEqual("", string.Join("\n", found));
    }

    [TestMethod]
    public async Task TheKeyboardAloneFiresAFrameAndFindsAMorning()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        IKeyboard keys = live.Page.Keyboard;
        await keys.PressAsync("Space");
        await live.Page.WaitForFunctionAsync("() => state.frames === 1");

        await Reach(live, "Mornings to come");
        await keys.PressAsync("Enter");
        await live.Page.WaitForFunctionAsync("() => !byId('where-mornings').hidden && byId('mornings-told').textContent.includes('92 days')");
        await Reach(live, "Look for mornings");
        await keys.PressAsync("Enter");
        await live.Page.WaitForFunctionAsync("() => document.querySelectorAll('.staves button').length > 0");
        await Reach(live, "Play this morning on the box");
        await keys.PressAsync("Enter");
        await live.Page.WaitForFunctionAsync("() => location.hash === '#box' && state.now < 30");
        // The arrow keys work the box again.
        await keys.PressAsync("ArrowDown");
        await LivePage.Until(() => live.Screen == "GLASS", "Down did not reach the next card", 20);
    }

    /// <summary>A window of 1280 by 720, the same enlarged to 200 %, and a phone on its side.</summary>
    [TestMethod]
    [DataRow(1280, 720, 1f)]
    [DataRow(640, 360, 2f)]
    [DataRow(844, 390, 3f)]
    public async Task DisplayButtonsAndStatusStandTogetherInTheWindow(int width, int height, float ratio)
    {
        await using LivePage live = await LivePage.Open(width, height, ratio: ratio);
        foreach (string part in new[] { "#screen", "[data-button=up]", "[data-button=down]", "[data-button=back]", "[data-button=select]", "[data-button=mark]", "[data-button=fire]", "dl.now" })
        {
            LocatorBoundingBoxResult box = (await live.Page.Locator(part).BoundingBoxAsync())!;
            Assert.IsTrue(box.Y >= 0 && box.Y + box.Height <= height, $"{part} ends at {box.Y + box.Height} of {height}");
            Assert.IsTrue(box.X >= 0 && box.X + box.Width <= width, $"{part} ends at {box.X + box.Width} of {width}");
        }
        Assert.IsGreaterThan(180, (await live.Page.Locator("#screen").BoundingBoxAsync())!.Width);
        await live.Picture($"window-{width}");
    }

    /// <summary>The labels of the strips are drawn in a light colour, so their background must stay dark when the user's system chooses the colours.</summary>
    [TestMethod]
    public async Task TheStripsKeepTheirGroundUnderForcedColours()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Page.EmulateMediaAsync(new PageEmulateMediaOptions { ForcedColors = ForcedColors.Active });
        Assert.AreEqual("rgb(22, 18, 14)", await live.Page.EvaluateAsync<string>("() => getComputedStyle(byId('strip')).backgroundColor"));
        await live.Picture("forced");
    }

    [TestMethod]
    public async Task TheClockIsNotReadOutAndTheDisplayIsWhenItChangesForAReason()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        // Changes of whatever a screen reader reads out by itself, over two seconds in which the clock runs.
        int spoken = await live.Page.EvaluateAsync<int>("""
            () => new Promise(done => {
              let changes = 0;
              const watch = new MutationObserver(list => changes += list.length);
              for (const live of document.querySelectorAll("output, [aria-live], [role=status], [role=alert]")) watch.observe(live, { childList: true, characterData: true, subtree: true });
              setTimeout(() => { watch.disconnect(); done(changes); }, 2000);
            })
            """);
        Assert.IsLessThanOrEqualTo(1, spoken);
        await live.Key("down");
        await live.Page.WaitForFunctionAsync("() => byId('said').textContent.includes('GLASS') && byId('screen').getAttribute('aria-label').includes('GLASS')");
    }

    [TestMethod]
    public async Task TheCellOfTheBoxCanBeRunDown()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Page.Locator("input[name=millivolts]").FillAsync("3400");
        await live.Page.Locator("input[name=millivolts]").PressAsync("Tab");
        await LivePage.Until(() => live.Server.Session.Use(b => b.Battery.Millivolts) < 3401, "the cell keeps its voltage");
        await live.Speed(60);
        await LivePage.Until(() => live.Server.Session.Use(b => b.Box!.Panel!.Health.Battery.Refuses), "the box does not read that the cell is empty", 60);
        await live.Speed(1);
        await live.Key("fire");
        await LivePage.Until(() => live.Screen == "NOTICE", "the box does not say why it starts nothing", 20);
    }

    // Tab after Tab until the element of that name has the focus.
    private static async Task Reach(LivePage live, string name)
    {
        for (int i = 0; i < 120; i++)
        {
            await live.Page.Keyboard.PressAsync("Tab");
            if (await live.Page.EvaluateAsync<string>("() => document.activeElement.textContent.trim()") == name) return;
        }
        Assert.Fail($"{name} is not reached by the keyboard");
    }
}
