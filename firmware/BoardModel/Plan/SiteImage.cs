using System.Text;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>Brings a place to a box, as an image of its memory or as a source file of its firmware. The firmware's own store makes both.</summary>
public static class SiteImage
{
    private const int BytesPerLine = 16;

    /// <summary>The image of a memory that holds a place.</summary>
    /// <param name="site">The place.</param>
    /// <param name="made">The present time: the box takes the later one of two places.</param>
    /// <param name="into">An image whose settings and logbook stay; null for a blank chip.</param>
    public static byte[] Make(Site site, UtcInstant made, byte[]? into = null)
    {
        var box = new OfflineBox(into);
        foreach (RecordId id in new[] { RecordId.Site, RecordId.Tide })
        {
            if (box.Keeper.Records.Held(id))
                throw new MemoryImageException($"What the memory holds as {StoreMap.Words(id)} {(box.Keeper.Records.Status(id) == RecordStatus.Newer ? "is of a later firmware" : "cannot be read")}; start from a blank memory, without --into");
        }
        box.Shore.Settings.Use(site.Place, site.Wish);
        box.Shore.Settings.Stamp = made.Seconds;
        box.Shore.Settings.Table.Restart(0, true);
        byte[] cells = box.Settle();
        var back = new OfflineBox(cells);
        if (back.Shore.Settings.Stamp != made.Seconds || !back.Shore.Settings.HasGivenTide)
            throw new MemoryImageException($"{site.Place.Name}: what was written does not read back; look at the heights and times of the site file");
        return cells;
    }

    /// <summary>The source file of the place that is part of the firmware: with room for one, or with one in the room.</summary>
    /// <param name="site">The place; null for none.</param>
    /// <param name="made">Now.</param>
    public static string Source(Site? site, UtcInstant made)
    {
        CivilTime at = CivilTime.FromUtc(made);
        string brings = site is null ? "It holds none yet." : $"It was filled {TimeText.IsoDate(at)} {TimeText.HourMinute(at)} UTC.";
        var text = new StringBuilder();
        text.Append("using Intervalometer.Settings.Store;\n\nnamespace Intervalometer.Esp32;\n\n");
        text.Append($"/// <summary>Room in the firmware for a place. {brings} The verb \"site\" of the virtual board writes this file (--source); firmware/Flash fills the room of a finished image (--place).</summary>\n");
        text.Append("public static class CompiledSite\n{\n    /// <summary>The place and its tide; null for none.</summary>\n    public static BuiltInSite? Make() => PlaceRoom.Read(new byte[]\n    {\n");
        foreach (byte[] line in FlashPlace.Room(site, made).Chunk(BytesPerLine)) text.Append($"        {string.Join(", ", line.Select(b => $"0x{b:X2}"))},\n");
        text.Append("    });\n}\n");
        return text.ToString();
    }
}
