using System.Buffers.Binary;
using System.Text;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>An image of the firmware into which no place can be put. The message is one line.</summary>
public sealed class FlashPlaceException(string message) : Exception(message);

/// <summary>
/// Puts a place into a finished image of the firmware, into the room that <c>firmware/Esp32/CompiledSite.cs</c> keeps for it. It then works out the
/// two checksums of that assembly again. So the user needs neither a compiler nor a programmer for a memory chip.
/// </summary>
public static class FlashPlace
{
    /// <summary>The marker with which the room begins, as PlaceRoom has it.</summary>
    public static byte[] Placeholder => Encoding.ASCII.GetBytes("PLACE COMES HERE");

    /// <summary>Bytes of the whole room.</summary>
    public static int RoomBytes => PlaceRoom.RecordsAt + StoreMap.Capacity(RecordId.Site) + StoreMap.Capacity(RecordId.Tide);

    /// <summary>The room as it stands in the firmware: empty, or with a place.</summary>
    /// <param name="site">The place; null for none.</param>
    /// <param name="made">The present time: the box takes the later one of two places.</param>
    public static byte[] Room(Site? site, UtcInstant made)
    {
        var room = new byte[RoomBytes];
        Array.Fill(room, (byte)0xFF);
        Placeholder.CopyTo(room, 0);
        if (site is null) return room;
        var box = new OfflineBox(SiteImage.Make(site, made));
        byte[] place = box.Payload(RecordId.Site)!, tide = box.Payload(RecordId.Tide)!;
        BinaryPrimitives.WriteUInt16LittleEndian(room.AsSpan(PlaceRoom.MarkerBytes), (ushort)place.Length);
        BinaryPrimitives.WriteUInt16LittleEndian(room.AsSpan(PlaceRoom.MarkerBytes + 2), (ushort)tide.Length);
        BinaryPrimitives.WriteUInt32LittleEndian(room.AsSpan(PlaceRoom.MarkerBytes + 4), (uint)BuiltInSite.SumOf(place, tide));
        place.CopyTo(room, PlaceRoom.RecordsAt);
        tide.CopyTo(room, PlaceRoom.RecordsAt + place.Length);
        return room;
    }

    /// <summary>The image with a place in it; the image that is given stays as it is.</summary>
    /// <param name="image">One device file, or the joined image of all.</param>
    /// <param name="site">The place.</param>
    /// <param name="made">The present time: the box takes the later one of two places.</param>
    public static byte[] Put(byte[] image, Site site, UtcInstant made)
    {
        var placed = (byte[])image.Clone();
        int piece = 0;
        int at = -1;
        for (int next = 0; next < placed.Length; next += DeviceFile.Padded(DeviceFile.LengthAt(placed, next)))
        {
            if (DeviceFile.FaultAt(placed, next) is string fault) throw new FlashPlaceException($"The image cannot be read as the firmware's: at byte {next}, {fault}; take the file that firmware/Flash has written.");
            int found = placed.AsSpan(next, DeviceFile.LengthAt(placed, next)).IndexOf(Placeholder);
            if (found < 0) continue;
            (piece, at) = (next, next + found);
        }
        if (at < 0) throw new FlashPlaceException("This image has no room for a place; build the firmware again, and let firmware/Flash write the image.");
        Room(site, made).CopyTo(placed, at);
        DeviceFile.Seal(placed, piece);
        return placed;
    }

    /// <summary>The place that an image holds; null for none.</summary>
    public static BuiltInSite? Held(byte[] image)
    {
        int at = image.AsSpan().IndexOf(Placeholder);
        return at < 0 || at + RoomBytes > image.Length ? null : PlaceRoom.Read(image[at..(at + RoomBytes)]);
    }
}
