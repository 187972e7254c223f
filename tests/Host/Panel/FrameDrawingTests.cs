using Intervalometer.Screens;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.Panel;

/// <summary>Drawing, compared with pictures written as text and with the drawings of the fonts.</summary>
[TestClass]
public class FrameDrawingTests
{
    private static void Same(string expected, Frame frame, int x, int y, int width, int height)
    {
        string actual = AsciiPicture.Full((px, py) => frame.Pixel(x + px, y + py), width, height);
        Assert.AreEqual(expected.ReplaceLineEndings("\n") + "\n", actual);
        Assert.AreEqual(0, frame.Clips);
    }

    [TestMethod]
    public void PrimitivesPicture()
    {
        var frame = new Frame();
        frame.Rect(0, 0, 9, 6);
        frame.FillRect(11, 1, 4, 4);
        frame.InvertRect(13, 3, 4, 4);
        frame.VLine(18, 0, 10);
        frame.HLine(0, 8, 17);
        frame.Dots(0, 10, 19, 3);
        frame.ClearRect(3, 7, 2, 3);
        Same("""
            #########.........#
            #.......#..####...#
            #.......#..####...#
            #.......#..##..##.#
            #.......#..##..##.#
            #########....####.#
            .............####.#
            ..................#
            ###..############.#
            ..................#
            #..#..#..#..#..#..#
            """, frame, 0, 0, 19, 11);
    }

    [TestMethod]
    public void ProgressPicture()
    {
        var frame = new Frame();
        frame.Progress(2, 1, 16, 7, 1, 2);
        frame.Progress(2, 9, 16, 5, 1, 4);
        Same("""
            ....................
            ..################..
            ..#..............#..
            ..#.######.......#..
            ..#.######.......#..
            ..#.######.......#..
            ..#..............#..
            ..################..
            ....................
            ..################..
            ..#####..........#..
            ..#####..........#..
            ..#####..........#..
            ..################..
            """, frame, 0, 0, 20, 14);
    }

    [TestMethod]
    public void SmallTextPicture()
    {
        var frame = new Frame();
        frame.Text(1, 3, "Ag 0O5S", Font.Small);
        Same("""
            ........................................
            ..###...........###....##...#####..####.
            .#...#.........#...#..#..#..#.....#.....
            .#...#..###....#...#.#....#.####..#.....
            .#####.#..#....#.#.#.#....#.....#..###..
            .#...#.#..#....#...#.#....#.....#.....#.
            .#...#..###....#...#..#..#..#...#.....#.
            .#...#....#.....###....##....###..####..
            .......###..............................
            """, frame, 0, 2, 40, 9);
    }

    [TestMethod]
    [DataRow("Small")]
    [DataRow("Medium")]
    [DataRow("Large")]
    [DataRow("Huge")]
    public void EveryGlyphIsDrawnAsItsDrawingAtEveryHeight(string name)
    {
        Font font = name switch { "Small" => Font.Small, "Medium" => Font.Medium, "Large" => Font.Large, _ => Font.Huge };
        FontArt art = FontArt.Read(name);
        Assert.AreEqual((art.Height, art.Baseline, art.Gap), (font.Height, font.Baseline, font.Gap));
        var frame = new Frame();
        foreach ((string glyph, string[] rows) in art.Glyphs)
        {
            string text = glyph == "space" ? " " : glyph;
            Assert.AreEqual(rows[0].Length, font.WidthOf(text), $"width of {glyph}");
            for (int y = 0; y <= 8; y++)
            {
                frame.Clear();
                frame.Text(50, y, text, font);
                int lit = 0;
                for (int row = 0; row < 64; row++)
                    for (int x = 0; x < 128; x++)
                        if (frame.Pixel(x, row)) lit++;
                Assert.AreEqual(rows.Sum(r => r.Count(c => c == '#')), lit, $"lit pixels of {glyph} at row {y}");
                string drawn = AsciiPicture.Full((px, py) => frame.Pixel(50 + px, y + py), rows[0].Length, rows.Length);
                Assert.AreEqual(string.Join('\n', rows) + "\n", drawn, $"{glyph} at row {y}");
            }
        }
        Assert.AreEqual(0, frame.MissingGlyphs + frame.Clips);
    }

    /// <summary>A text that leaves the picture on any side is the same text moved, and each lit pixel outside is counted.</summary>
    [TestMethod]
    [DataRow("Small", "Wg|x")]
    [DataRow("Medium", "Wg°x")]
    [DataRow("Large", "8:0/")]
    [DataRow("Huge", "8:0")]
    public void TextThatLeavesThePictureIsTheSameTextMoved(string name, string text)
    {
        Font font = name switch { "Small" => Font.Small, "Medium" => Font.Medium, "Large" => Font.Large, _ => Font.Huge };
        var whole = new Frame();
        whole.Text(8, 8, text, font);
        Assert.AreEqual(0, whole.Clips);
        int width = font.WidthOf(text);
        for (int y = -font.Height - 1; y <= Frame.Height + 1; y++)
        {
            foreach (int x in new[] { -width, -width / 2, -3, 20, Frame.Width - width + 1, Frame.Width - 4, Frame.Width })
            {
                var cut = new Frame();
                cut.Text(x, y, text, font);
                int lost = 0;
                for (int row = 0; row < font.Height; row++)
                {
                    for (int column = 0; column < width; column++)
                    {
                        bool lit = whole.Pixel(8 + column, 8 + row);
                        int px = x + column, py = y + row;
                        if (px >= 0 && py >= 0 && px < Frame.Width && py < Frame.Height) Assert.AreEqual(lit, cut.Pixel(px, py), $"{name} at {x},{y}: {px},{py}");
                        else if (lit) lost++;
                    }
                }
                Assert.AreEqual(lost, cut.ClippedPixels, $"{name} at {x},{y}");
            }
        }
    }

    [TestMethod]
    public void EveryIconHasItsDrawing()
    {
        CollectionAssert.AreEqual(Enum.GetNames<Icon>(), FontArt.Read("Icons").Glyphs.Select(g => g.Name).ToArray());
        var frame = new Frame();
        foreach ((string name, string[] rows) in FontArt.Read("Icons").Glyphs)
        {
            frame.Clear();
            int end = frame.Icon(20, 9, Enum.Parse<Icon>(name));
            Assert.AreEqual(20 + rows[0].Length, end);
            Assert.AreEqual(string.Join('\n', rows) + "\n", AsciiPicture.Full((px, py) => frame.Pixel(20 + px, 9 + py), rows[0].Length, 8));
        }
    }

    [TestMethod]
    public void CharacterSetsAreComplete()
    {
        for (char c = ' '; c < 127; c++) Assert.IsTrue(Font.Small.Has(c), $"Small lacks '{c}'");
        foreach (char c in "×°±·…←↑→↓") Assert.IsTrue(Font.Small.Has(c) && Font.Medium.Has(c), $"'{c}'");
        foreach (char c in "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz .,:;!?'\"()%&/+-*<=>_") Assert.IsTrue(Font.Medium.Has(c), $"Medium lacks '{c}'");
        foreach (char c in "0123456789:./sm+- ") Assert.IsTrue(Font.Large.Has(c), $"Large lacks '{c}'");
        foreach (char c in "0123456789:./+- ") Assert.IsTrue(Font.Huge.Has(c), $"Huge lacks '{c}'");
    }

    [TestMethod]
    [DataRow("Small", "17 0O 5S 68 38 1I 1l 2Z", 5)]
    [DataRow("Medium", "17 0O 5S 68 38 1I 1l 2Z", 8)]
    [DataRow("Large", "17 68 38 06 08 56 89", 20)]
    [DataRow("Huge", "17 68 38 06 08 56 89", 60)]
    public void LookAlikesDifferInEnoughPixels(string name, string pairs, int least)
    {
        // The thresholds are our own: about a tenth of a glyph's lit pixels and more, at the best overlay of the two.
        var glyphs = FontArt.Read(name).Glyphs.ToDictionary(g => g.Name, g => g.Rows);
        foreach (string pair in pairs.Split(' '))
        {
            string[] a = glyphs[pair[..1]], b = glyphs[pair[1..]];
            int best = int.MaxValue;
            for (int shift = -3; shift <= 3; shift++)
            {
                int different = 0;
                for (int y = 0; y < a.Length; y++)
                    for (int x = -4; x < 32; x++)
                        if (At(a[y], x) != At(b[y], x - shift)) different++;
                best = Math.Min(best, different);
            }
            Assert.IsTrue(best >= least, $"{name}: {pair[0]} and {pair[1]} differ in {best} pixels only, wanted {least}");
        }
    }

    private static bool At(string row, int x) => x >= 0 && x < row.Length && row[x] == '#';

    [TestMethod]
    [DataRow("Small")]
    [DataRow("Medium")]
    [DataRow("Large")]
    [DataRow("Huge")]
    public void DigitsShareOneWidth(string name)
    {
        int[] widths = FontArt.Read(name).Glyphs.Where(g => char.IsAsciiDigit(g.Name[0])).Select(g => g.Rows[0].Length).Distinct().ToArray();
        Assert.AreEqual(1, widths.Length, "a number that counts must not jump");
    }
}
