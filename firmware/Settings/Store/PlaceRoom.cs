using System;

namespace Intervalometer.Settings.Store;

/// <summary>
/// Room for a place in the firmware's own data. It begins with a marker of 16 bytes, by which a tool on a PC finds it in a finished image.
/// Then follow the lengths of the two records, two bytes each, and their checksum (<see cref="BuiltInSite.SumOf"/>), four bytes, all with the
/// lowest byte first, and after that the record of the place and that of its tide. In room that nobody has filled, all bytes after the marker are 0xFF.
/// </summary>
public static class PlaceRoom
{
    /// <summary>How many bytes the marker has.</summary>
    public const int MarkerBytes = 16;

    /// <summary>The index at which the records begin.</summary>
    public const int RecordsAt = MarkerBytes + 8;

    /// <summary>The place in the room; null when there is none, or when the lengths do not fit the room.</summary>
    public static BuiltInSite? Read(byte[] room)
    {
        int siteBytes = room[MarkerBytes] | (room[MarkerBytes + 1] << 8);
        int tideBytes = room[MarkerBytes + 2] | (room[MarkerBytes + 3] << 8);
        if (RecordsAt + siteBytes + tideBytes > room.Length) return null;
        long sum = 0;
        for (int i = RecordsAt - 1; i >= MarkerBytes + 4; i--) sum = (sum << 8) | room[i];
        byte[] site = new byte[siteBytes], tide = new byte[tideBytes];
        Array.Copy(room, RecordsAt, site, 0, siteBytes);
        Array.Copy(room, RecordsAt + siteBytes, tide, 0, tideBytes);
        return new BuiltInSite(site, tide, sum);
    }
}
