using System.Text.Json;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>The main jobs of the box, done with the mouse as a user would.</summary>
[TestClass]
public class MainJobTests
{
    [TestMethod]
    public async Task OneSecondOnTheBackwashByClicks()
    {
        await using LivePage live = await LivePage.Open();
        await live.Picture("home");
        await live.Page.Locator("input[name=spread]").FillAsync("2");
        await live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Restart" }).ClickAsync();
        await live.Page.WaitForFunctionAsync("() => byId('sea-words').textContent.includes('spread 2 %')");
        await live.Page.Locator("select[name=dial]").SelectOptionAsync(new SelectOptionValue { Label = "1 s" });

        await live.Key("down");      // filters
        await live.Key("select");
        await live.Key("down");
        await live.Key("select");    // the second of the starter kit: 1.8 density, 5.98 stops: 1/60 becomes 1 s
        await live.Page.WaitForTimeoutAsync(300);
        await live.Picture("filters");
        await live.Key("back");
        await live.Key("down");
        await live.Key("down");      // waves
        await live.Page.WaitForTimeoutAsync(300);
        Assert.AreEqual("WAVES", live.Screen);
        for (int wave = 0; wave < 4; wave++) await live.MarkTheTurn();
        await live.Picture("marked");
        await live.Key("fire");
        for (int wave = 0; wave < 4; wave++) await live.MarkTheTurn();
        Assert.AreEqual("RUN", live.Screen);
        await live.Picture("running");

        JsonElement report = await live.Report();
        StringAssert.StartsWith(report.GetProperty("exposure").GetString(), "Dial 1 ");
        Assert.AreEqual(0, report.GetProperty("missedPresses").GetArrayLength());
        Assert.AreEqual(0, report.GetProperty("busViolations").GetArrayLength());
        Assert.AreEqual(0, report.GetProperty("displayComplaints").GetArrayLength());
        Assert.AreEqual(0, report.GetProperty("pinFaults").GetArrayLength());
        foreach (JsonElement frame in report.GetProperty("frames").EnumerateArray())
        {
            Assert.AreEqual(1.0, frame.GetProperty("exposure").GetDouble(), 1e-6);
            Assert.IsTrue(Math.Abs(frame.GetProperty("pressErrorMs").GetDouble()) < 1, frame.ToString());
            Assert.IsTrue(frame.GetProperty("backwashShare").GetDouble() > 0.4, frame.ToString());
        }
        int listed = await live.Page.Locator("#frames li").CountAsync();
        Assert.IsTrue(listed >= 3, $"{listed} frames in the list");

        await live.Speed(1);
        await live.Key("fire");      // stops
        await live.Page.WaitForFunctionAsync("() => !isOn(Lines.half) && !isOn(Lines.shutter)");
        Assert.AreEqual(0, live.Complaints.Count, string.Join("; ", live.Complaints));
    }
}
