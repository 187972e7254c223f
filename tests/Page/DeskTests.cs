using System.Globalization;
using System.Text;
using Intervalometer.VirtualBoard.Plan;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>The work of the evening before, by clicks: a morning is found and saved, a place is made and brought to a box, a logbook is read.</summary>
[TestClass]
public class DeskTests
{
    private const string Caution = "Official tide tables, the coastguard and local advice come first";

    [TestMethod]
    public async Task NextMonthsBestMorningIsFoundKeptAndPlayed()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Go("Mornings to come");
        await live.LookFor("2031-03-14", 30);
        // The same search as the command "plan" makes of the invented place.
        Assert.AreEqual("Wed 19 March, morning: rank 1", await live.Page.Locator("#morning-title").TextContentAsync());
        StringAssert.Contains(await live.Page.Locator("#morning-reason").TextContentAsync(), "set off at 04:53");
        Assert.IsTrue(await live.Page.EvaluateAsync<bool>("() => byId('morning-picture').complete && byId('morning-picture').naturalWidth > 0"));
        StringAssert.Contains(await live.Page.Locator("#where-mornings .caution").TextContentAsync(), Caution);

        (string name, string calendar) = await live.KeptText(() => live.Click("Calendar"));
        Assert.AreEqual("mornings.ics", name);
        StringAssert.Contains(calendar, "BEGIN:VEVENT");
        StringAssert.Contains(calendar, "DTSTART:20310319T0527");
        (_, string csv) = await live.KeptText(() => live.Click("CSV"));
        StringAssert.Contains(csv, "1,2031-03-19,morning,");
        (name, string picture) = await live.KeptText(() => live.Click("Keep the picture"));
        Assert.AreEqual("Wed-19-March-morning.svg", name);
        StringAssert.Contains(picture, "coastguard");
        await live.Picture("desk-mornings");

        await live.Click("Play this morning on the box");
        await live.Page.WaitForFunctionAsync("() => location.hash === '#box' && state.now < 30 && byId('day').textContent.startsWith('Wed 19 Mar 04:53')");
        Assert.AreEqual("Gannet Ledge", live.Server.Session.Use(b => b.Box!.Shore.Settings.Name));
        Assert.AreEqual(0, live.Complaints.Count, string.Join("; ", live.Complaints));
    }

    [TestMethod]
    public async Task OnlyTheDaysAndSeasonsThatSuitAreListed()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Go("Mornings to come");
        await live.LookFor("2031-03-14", 92);
        int all = await live.Page.Locator(".staves button").CountAsync();
        foreach (string day in new[] { "Monday", "Tuesday", "Wednesday", "Thursday", "Friday" }) await live.Page.GetByLabel(day).UncheckAsync();
        await live.Page.GetByLabel("March to May").UncheckAsync();
        await live.Click("Look for mornings");
        await live.Page.WaitForFunctionAsync("() => byId('mornings-told').textContent.includes('suit')");
        string[] days = [.. await live.Page.Locator(".staves button").EvaluateAllAsync<string[]>("all => all.map(b => b.getAttribute('aria-label'))")];
        Assert.IsTrue(days.Length > 0 && days.Length < all, $"{days.Length} of {all}");
        foreach (string day in days) Assert.IsTrue(day.StartsWith("Sat ", StringComparison.Ordinal) || day.StartsWith("Sun ", StringComparison.Ordinal), day);
        foreach (string day in days) StringAssert.Contains(day, "June");
    }

    [TestMethod]
    public async Task APlaceFromAPastedTableGoesIntoAFlashImageAndIsPlayed()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Go("The place");
        await live.Page.WaitForFunctionAsync("() => byId('site-text').value.length > 0");
        string text = (await live.Page.Locator("#site-text").InputValueAsync()).Replace("Gannet Ledge", "Plover Spit", StringComparison.Ordinal);
        await live.Page.Locator("#site-text").FillAsync(text);
        await live.Page.Locator("#table-text").FillAsync(Week());
        await live.Click("Take it as the tide of the place");
        await live.Page.WaitForFunctionAsync("() => byId('table-told').textContent.startsWith('The table is now the tide')");
        Assert.AreEqual("The box can hold this place.", await live.Page.Locator("#site-fault").TextContentAsync());
        StringAssert.Contains(await live.Page.Locator("#site-lines-told").TextContentAsync(), "28 printed turns");
        StringAssert.Contains(await live.Page.Locator("#where-place .caution").TextContentAsync(), Caution);

        await live.Click("Compare the place with it");
        await live.Page.WaitForFunctionAsync("() => byId('table-told').textContent.startsWith('The place agrees with the table.')");
        await live.Picture("desk-place");

        byte[] image = DeskPage.FlashImage();
        (string name, byte[] placed) = await live.Kept(() => live.Page.Locator("#flash-file").SetInputFilesAsync(new FilePayload { Name = "deploy.bin", MimeType = "application/octet-stream", Buffer = image }));
        Assert.AreEqual("deploy.bin", name);
        for (int at = 0; at < placed.Length; at += DeviceFile.Padded(DeviceFile.LengthAt(placed, at))) Assert.IsNull(DeviceFile.FaultAt(placed, at));
        using var board = new VirtualBoard.Board(new VirtualBoard.BoardOptions { Place = null, BuiltIn = FlashPlace.Held(placed) });
        Assert.AreEqual("Plover Spit", board.Box!.Shore.Settings.Name);

        (name, byte[] memory) = await live.Kept(() => live.Click("Make an image of the memory"));
        Assert.AreEqual("memory.bin", name);
        Assert.AreEqual("Plover Spit", new VirtualBoard.Memory.OfflineBox(memory).Shore.Settings.Name);

        await live.Go("Mornings to come");
        await live.Page.WaitForFunctionAsync("() => byId('mornings-place').textContent.startsWith('Plover Spit')");
        await live.LookFor("2031-03-17", 30);
        await live.Click("Play this morning on the box");
        await LivePage.Until(() => live.Server.Session.Use(b => b.Box!.Shore.Settings.Name) == "Plover Spit", "the box is not at the new place", 20);
        Assert.AreEqual(0, live.Complaints.Count, string.Join("; ", live.Complaints));
    }

    [TestMethod]
    public async Task EveryMistakeStandsBesideItsLine()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Go("The place");
        await live.Page.WaitForFunctionAsync("() => byId('site-text').value.length > 0");
        string text = await live.Page.Locator("#site-text").InputValueAsync();
        await live.Page.Locator("#site-text").FillAsync(text.Replace("latitude: 50.20", "latitude: north", StringComparison.Ordinal).Replace("evenings: no", "evenings: perhaps", StringComparison.Ordinal));
        await live.Click("Check it");
        await live.Page.WaitForFunctionAsync("() => byId('site-text').getAttribute('aria-invalid') === 'true'");
        Assert.AreEqual("The place, line 4: latitude: 'north' is not a number; write it with a decimal point.\nThe place, line 33: evenings is yes or no, not 'perhaps'.", await live.Page.Locator("#site-fault").TextContentAsync());
        CollectionAssert.AreEqual(new[] { "4", "33" }, (await live.Page.Locator("#site-lines li.wrong").AllTextContentsAsync()).ToArray());

        await live.Page.Locator("#table-text").FillAsync("date,time,height\n2031-03-17 05:00 high 4.0\n2031-03-17 later 1.0\n");
        await live.Click("Take it as the tide of the place");
        await live.Page.WaitForFunctionAsync("() => byId('table-told').textContent.startsWith('Row 3 of the table')");
        await live.Page.Locator("#flash-file").SetInputFilesAsync(new FilePayload { Name = "x.bin", MimeType = "application/octet-stream", Buffer = Encoding.ASCII.GetBytes("nothing of the kind") });
        await live.Page.WaitForFunctionAsync("() => byId('bring-told').textContent.length > 0 && byId('bring-told').classList.contains('wrong')");
    }

    [TestMethod]
    public async Task ADumpsFramesAreReadJudgedAndMatchedWithPictures()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Go("The logbook");
        await live.Page.Locator("#logbook-file").SetInputFilesAsync(new FilePayload { Name = "memory.bin", MimeType = "application/octet-stream", Buffer = DeskPage.Dump });
        await live.Page.WaitForFunctionAsync("() => !byId('logbook-open').hidden");
        string[] rows = [.. await live.Page.Locator("#logbook-rows tr").AllTextContentsAsync()];
        StringAssert.StartsWith(rows[0], "12031-03-19 06:");
        await live.Page.GetByLabel("Frame 1, hit or miss").SelectOptionAsync("hit");
        await live.Page.GetByLabel("Frame 2, hit or miss").SelectOptionAsync("miss");
        await live.Page.WaitForFunctionAsync("() => byId('logbook-told').textContent.includes('1 of 2 that you judged are hits')");

        // A camera whose clock is an hour and seven seconds ahead, as one that was left on summer time.
        DateTime[] began = [.. rows.Take(3).Select(r => DateTime.ParseExact(r[1..20], "yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture))];
        await live.Page.Locator("#picture-files").SetInputFilesAsync(began.Select((t, i) => new FilePayload { Name = $"shore-{i + 1}.jpg", MimeType = "image/jpeg", Buffer = DeskPage.Photograph(t.AddSeconds(3607)) }));
        await live.Page.WaitForFunctionAsync("() => byId('logbook-told').textContent.includes('3 of 3 pictures have a frame')");
        StringAssert.Contains(await live.Page.Locator("#logbook-told").TextContentAsync(), "3607 s ahead of the time of the place");
        await live.Picture("desk-logbook");

        (string name, string csv) = await live.KeptText(() => live.Click("Frames as CSV"));
        Assert.AreEqual("logbook.csv", name);
        string[] lines = csv.TrimEnd().Split("\r\n");
        Assert.AreEqual("frame,start,exposure_s,answer_s,off_answer_stops,wave_percent,notes,hit_or_miss,picture", lines[0]);
        Assert.AreEqual(rows.Length + 1, lines.Length);
        StringAssert.EndsWith(lines[1], ",hit,shore-1.jpg");
        (name, string sidecar) = await live.KeptText(() => live.Click("List of pictures"));
        Assert.AreEqual("pictures.csv", name);
        StringAssert.StartsWith(sidecar.Split("\r\n")[2], "shore-2.jpg,2,");

        // A file that is not a logbook is refused, and the open logbook stays.
        await live.Page.Locator("#logbook-file").SetInputFilesAsync(new FilePayload { Name = "x.bin", MimeType = "application/octet-stream", Buffer = [1, 2, 3] });
        await live.Page.WaitForFunctionAsync("() => byId('logbook-told').textContent.startsWith('The file is neither')");
        Assert.AreEqual(rows.Length, await live.Page.Locator("#logbook-rows tr").CountAsync());
    }

    [TestMethod]
    public async Task TheBoxOnThePageLendsItsOwnLogbook()
    {
        await using LivePage live = await LivePage.Open(1280, 720);
        await live.Go("The logbook");
        await live.Click("Read the box on this page");
        await live.Page.WaitForFunctionAsync("() => byId('logbook-told').textContent === 'The logbook holds no frame.'");
        Assert.IsFalse(await live.Page.Locator("#logbook-open").IsVisibleAsync(), "without a frame there is no table and no picture");
        await live.Go("The box");
        await live.Key("fire");
        await live.Page.WaitForFunctionAsync("() => state.frames === 1");
        await LivePage.Until(() => live.Server.Session.Use(b => b.Box!.Shore is not null && VirtualBoard.Report.LogbookCsv.Text(b.Memory.Snapshot()).Split('\n').Length > 2), "the frame is not in the memory", 30);
        await live.Go("The logbook");
        await live.Click("Read the box on this page");
        await live.Page.WaitForFunctionAsync("() => byId('logbook-told').textContent === '1 frame.'");
    }

    // A week of the invented place's own turns, as a table prints them.
    private static string Week()
    {
        Site site = DemoSite.Load();
        var rows = new StringBuilder("date time turn metres\n");
        Coast.Time.UtcInstant at = Planner.FromDateTime(new DateTime(2031, 3, 17, 0, 0, 0, DateTimeKind.Utc));
        for (int i = 0; i < 28 && site.Place.Tide.TryNextTurn(at, out Coast.Tide.TideTurn turn); i++)
        {
            rows.AppendLine(CultureInfo.InvariantCulture, $"{Planner.ToDateTime(turn.Time):yyyy-MM-dd HH:mm},{(turn.IsHigh ? "high" : "low")},{turn.HeightMetres:F2}");
            at = turn.Time;
        }
        return rows.ToString();
    }
}
