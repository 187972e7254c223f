using System.Runtime.CompilerServices;
using Intervalometer.Screens;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>
/// The expected screens are ASCII pictures beside the tests. Run with INTERVALOMETER_REDRAW=1 to write them again (and look at
/// every difference), and with INTERVALOMETER_PICTURES=folder to get PNG files too. The dashes that show a card's place in its
/// ring are left out of the comparison, so that a new card changes no picture but its own. <see cref="RingMarkTests"/> checks the dashes.
/// </summary>
internal static class GoldenPictures
{
    public static void Check(PanelRig rig, string name) => Check(rig.Ascii(), rig.Png, name);

    /// <summary>A picture that no panel shows.</summary>
    public static void Check(Action<Frame> draw, string name)
    {
        var frame = new Frame();
        draw(frame);
        Assert.AreEqual(0, frame.ClippedPixels, $"{name}: pixels drawn outside the frame");
        Assert.AreEqual(0, frame.CoveredPixels, $"{name}: text drawn over something");
        Assert.AreEqual(0, frame.MissingGlyphs, $"{name}: characters that the font lacks");
        Check(AsciiPicture.Full(frame.Pixel, Frame.Width, Frame.Height), () => DisplayPicture.Png(frame.Pixel, Frame.Width, Frame.Height, 5), name);
    }

    private static void Check(string picture, Func<byte[]> png, string name)
    {
        string ascii = picture.ReplaceLineEndings("\n");
        string? pictures = Environment.GetEnvironmentVariable("INTERVALOMETER_PICTURES");
        if (pictures != null)
        {
            Directory.CreateDirectory(pictures);
            File.WriteAllBytes(Path.Combine(pictures, name + ".png"), png());
        }
        string path = Path.Combine(Folder(), name + ".txt");
        if (Environment.GetEnvironmentVariable("INTERVALOMETER_REDRAW") == "1") File.WriteAllText(path, ascii);
        Assert.IsTrue(File.Exists(path), $"no picture {path}; run once with INTERVALOMETER_REDRAW=1 and look at it");
        string golden = File.ReadAllText(path).ReplaceLineEndings("\n");
        string[] was = WithoutRing(golden.Split('\n')), isNow = WithoutRing(ascii.Split('\n'));
        if (was.SequenceEqual(isNow)) return;
        int row = 0;
        while (row < was.Length && row < isNow.Length && was[row] == isNow[row]) row++;
        Assert.Fail($"{name} differs from row {row} on:\nwas {(row < was.Length ? was[row] : "")}\nnow {(row < isNow.Length ? isNow[row] : "")}");
    }

    /// <summary>The rows of a picture with its ring mark blanked, where the heading has one: bright on dark, or dark on bright
    /// while the box is locked.</summary>
    internal static string[] WithoutRing(string[] rows)
    {
        // A heading may reach to the first column, and eight dashes begin at the second.
        const int From = 74, Blank = 56;
        if (rows.Length <= 8 || RingRows.Any(y => rows[y].Length != 128)) return rows;
        char ground = rows[0][^1], ink = ground == '.' ? '#' : '.';
        bool ring = QuietRows.All(y => rows[y][From..].All(c => c == ground)) && rows[4][From..].Contains(new string(ink, 4));
        if (!ring) return rows;
        return [.. rows.Select((row, y) => RingRows.Contains(y) ? row[..Blank] + new string(ground, 128 - Blank) : row)];
    }

    private static readonly int[] RingRows = [2, 3, 4, 5];
    private static readonly int[] QuietRows = [0, 1, 6, 7];

    private static string Folder([CallerFilePath] string here = "") => Path.Combine(Path.GetDirectoryName(here)!, "Golden");
}
