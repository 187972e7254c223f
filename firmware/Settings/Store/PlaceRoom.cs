using System;

namespace Intervalometer.Settings.Store;

/// <summary>
/// Room in the firmware's own data for a place. The bytes are a mark of 16, by which a tool on a PC finds the room in a finished image;
/// then the lengths of the two records, two bytes each, and their <see cref="BuiltInSite.SumOf"/>, four bytes, each with the lowest byte first; then the
/// record of the place and that of its tide. Room that nobody has filled is all ones behind its mark.
/// </summary>
public static class PlaceRoom
{
    /// <summary>Bytes of the mark.</summary>
    public const int MarkBytes = 16;

    /// <summary>Where the records begin.</summary>
    public const int RecordsAt = MarkBytes + 8;

    /// <summary>The place that stands in the room; null when none does, or when the lengths do not fit the room.</summary>
    public static BuiltInSite? Read(byte[] room)
    {
        int siteBytes = room[MarkBytes] | (room[MarkBytes + 1] << 8);
        int tideBytes = room[MarkBytes + 2] | (room[MarkBytes + 3] << 8);
        if (RecordsAt + siteBytes + tideBytes > room.Length) return null;
        long sum = 0;
        for (int i = RecordsAt - 1; i >= MarkBytes + 4; i--) sum = (sum << 8) | room[i];
        byte[] site = new byte[siteBytes], tide = new byte[tideBytes];
        Array.Copy(room, RecordsAt, site, 0, siteBytes);
        Array.Copy(room, RecordsAt + siteBytes, tide, 0, tideBytes);
        return new BuiltInSite(site, tide, sum);
    }
}
