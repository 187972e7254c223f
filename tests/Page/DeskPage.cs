using System.Text;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Scenario;
using Microsoft.Playwright;

namespace Intervalometer.Tests.Page;

/// <summary>What the tests of the desk share: helpers to move about the page, and files that a user would bring.</summary>
internal static class DeskPage
{
    /// <summary>A morning's walk by menu: the four places of the page.</summary>
    public static readonly string[] Places = ["The box", "Mornings to come", "The place", "The logbook"];

    /// <summary>Turns to a place of the page by its name in the row at the top.</summary>
    public static Task Go(this LivePage live, string place) => live.Page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = place }).ClickAsync();

    /// <summary>Clicks a button by its name.</summary>
    public static Task Click(this LivePage live, string button) => live.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = button, Exact = true }).ClickAsync();

    /// <summary>Looks for mornings from a day on, and waits for the list.</summary>
    public static async Task LookFor(this LivePage live, string from, int days)
    {
        await live.Page.WaitForFunctionAsync("() => byId('site-text').value.length > 0 && byId('mornings-told').textContent !== ''");
        await live.Page.Locator("#mornings-form input[name=from]").FillAsync(from);
        await live.Page.Locator("#mornings-form select[name=days]").SelectOptionAsync($"{days}");
        await live.Click("Look for mornings");
        await live.Page.WaitForFunctionAsync("days => byId('mornings-told').textContent.includes(`in ${days} days`)", days);
    }

    /// <summary>The file that a click saves, with its name.</summary>
    public static async Task<(string Name, byte[] Bytes)> Kept(this LivePage live, Func<Task> click)
    {
        IDownload kept = await live.Page.RunAndWaitForDownloadAsync(click);
        using var copy = new MemoryStream();
        using (Stream from = await kept.CreateReadStreamAsync()) await from.CopyToAsync(copy);
        return (kept.SuggestedFilename, copy.ToArray());
    }

    /// <summary>The text of the file that was saved.</summary>
    public static async Task<(string Name, string Text)> KeptText(this LivePage live, Func<Task> click)
    {
        (string name, byte[] bytes) = await live.Kept(click);
        return (name, Encoding.UTF8.GetString(bytes));
    }

    /// <summary>The guided morning without a page.</summary>
    public static ScenePlayed Morning { get; } = ScenePlayer.Play(GuidedMorning.Load());

    /// <summary>The memory of a box after the guided morning.</summary>
    public static byte[] Dump => Morning.Memory;

    /// <summary>An image as firmware/Flash joins it: a piece, and one with room for a place.</summary>
    public static byte[] FlashImage()
    {
        byte[] room = FlashPlace.Room(null, new Coast.Time.UtcInstant(0));
        return [.. Piece(new byte[40]), .. Piece([.. new byte[12], .. room, .. new byte[8]])];
    }

    private static byte[] Piece(byte[] content)
    {
        byte[] bytes = [.. new byte[DeviceFile.HeadBytes], .. content];
        Encoding.ASCII.GetBytes("NFMRK1").CopyTo(bytes, 0);
        // Where the last table ends: the length of the whole.
        BitConverter.GetBytes(bytes.Length).CopyTo(bytes, 0x64);
        DeviceFile.Seal(bytes, 0);
        return bytes;
    }

    /// <summary>A picture file of a few bytes with a capture time, laid out as EXIF 2.32 has it: a JPEG whose APP1 segment is a TIFF with one directory that leads to another.</summary>
    public static byte[] Photograph(DateTime taken)
    {
        byte[] time = Encoding.ASCII.GetBytes(taken.ToString("yyyy:MM:dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture) + "\0");
        byte[] tiff =
        [
            .. "II*\0"u8, 8, 0, 0, 0,
            // One entry: 0x8769, where the EXIF directory begins.
            1, 0, 0x69, 0x87, 4, 0, 1, 0, 0, 0, 26, 0, 0, 0, 0, 0, 0, 0,
            // One entry: 0x9003, DateTimeOriginal, 20 letters behind the directory.
            1, 0, 0x03, 0x90, 2, 0, 20, 0, 0, 0, 44, 0, 0, 0, 0, 0, 0, 0,
            .. time,
        ];
        byte[] segment = [.. "Exif\0\0"u8, .. tiff];
        int length = segment.Length + 2;
        return [0xFF, 0xD8, 0xFF, 0xE1, (byte)(length >> 8), (byte)length, .. segment, 0xFF, 0xD9];
    }
}
