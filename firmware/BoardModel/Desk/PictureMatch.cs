using System.Globalization;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Plan;
using MetadataExtractor;
using MetadataExtractor.Formats.Exif;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>Finds the picture file of each frame by the moment when it was taken.</summary>
internal static class PictureMatch
{
    /// <summary>A picture that is further than this from a frame does not belong to it, s; both clocks keep whole seconds.</summary>
    private const double MostApart = 3;

    /// <summary>The clock of the camera is searched for this far from the time of the place, s: a day and the time zones of the world.</summary>
    private const double MostAhead = 30 * 3600;

    /// <summary>The capture time that a camera wrote into a picture (EXIF 2.32: DateTimeOriginal, OffsetTimeOriginal).</summary>
    /// <param name="name">File name.</param>
    /// <param name="head">The file, or its beginning.</param>
    /// <exception cref="FormatException">The picture has no capture time; the message says so in one line.</exception>
    public static PictureTaken Read(string name, byte[] head)
    {
        try
        {
            ExifSubIfdDirectory? exif = ImageMetadataReader.ReadMetadata(new MemoryStream(head)).OfType<ExifSubIfdDirectory>().FirstOrDefault(d => d.ContainsTag(ExifDirectoryBase.TagDateTimeOriginal));
            string? taken = exif?.GetString(ExifDirectoryBase.TagDateTimeOriginal);
            if (taken is not null && DateTime.TryParseExact(taken.Trim('\0', ' '), "yyyy:MM:dd HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime at))
                return new PictureTaken(name, at.ToString("yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture) + exif!.GetString(ExifDirectoryBase.TagTimeZoneOriginal)?.Trim('\0', ' '));
        }
        catch (Exception e) when (e is ImageProcessingException or System.IO.IOException)
        {
            throw new FormatException($"{name} is no picture that can be read.", e);
        }
        throw new FormatException($"{name} holds no time at which it was taken.");
    }

    /// <summary>File names by the frame's number, and how many seconds the camera's clock is ahead.</summary>
    public static (IReadOnlyDictionary<int, string> Files, double Ahead) Find(LogbookFrames book, IReadOnlyList<PictureTaken> pictures, double? ahead)
    {
        (FileFrame Frame, DateTime Utc)[] frames = [.. book.Frames.Where(f => f.Utc is not null).Select(f => (f, f.Utc!.Value)).OrderBy(f => f.Value)];
        (string Name, DateTime Utc)[] taken = [.. pictures.Select(p => (p.Name, Utc(p, book.Local))).OrderBy(p => p.Item2)];
        double shift = ahead ?? Ahead(frames, taken);
        return (Match(frames, taken, shift), shift);
    }

    private static DateTime Utc(PictureTaken picture, LocalTime local)
    {
        if (DateTimeOffset.TryParseExact(picture.Taken, "yyyy-MM-dd'T'HH:mm:sszzz", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTimeOffset whole)) return whole.UtcDateTime;
        if (!DateTime.TryParseExact(picture.Taken, "yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime at)) throw new FormatException($"{picture.Name}: '{picture.Taken}' is no time such as 2031-03-19T05:50:12.");
        return Planner.ToDateTime(local.ToUtc(new CivilTime(at.Year, at.Month, at.Day, at.Hour, at.Minute, at.Second)));
    }

    // The shift under which most frames have a picture; among equal ones the smallest.
    private static double Ahead((FileFrame Frame, DateTime Utc)[] frames, (string Name, DateTime Utc)[] taken)
    {
        var votes = new Dictionary<double, int>();
        foreach (var frame in frames)
        {
            foreach (var picture in taken)
            {
                double apart = Math.Round((picture.Utc - frame.Utc).TotalSeconds);
                if (Math.Abs(apart) <= MostAhead) votes[apart] = votes.GetValueOrDefault(apart) + 1;
            }
        }
        return votes.OrderByDescending(v => v.Value).ThenBy(v => Math.Abs(v.Key)).Select(v => v.Key).FirstOrDefault();
    }

    // Each picture belongs to one frame, and each frame has one picture.
    private static Dictionary<int, string> Match((FileFrame Frame, DateTime Utc)[] frames, (string Name, DateTime Utc)[] taken, double ahead)
    {
        var found = new Dictionary<int, string>();
        var used = new HashSet<string>();
        foreach (var frame in frames)
        {
            var nearest = taken.Where(p => !used.Contains(p.Name)).Select(p => (p.Name, Apart: Math.Abs((p.Utc - frame.Utc).TotalSeconds - ahead))).OrderBy(p => p.Apart).FirstOrDefault();
            if (nearest.Name is null || nearest.Apart > MostApart) continue;
            used.Add(nearest.Name);
            found[frame.Frame.Number] = nearest.Name;
        }
        return found;
    }
}
