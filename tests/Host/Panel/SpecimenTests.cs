using Intervalometer.Screens;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.Panel;

/// <summary>
/// Every glyph of every font on one sheet, attached to the test run as specimen.png: for the eye, which no assertion
/// replaces.
/// </summary>
[TestClass]
public class SpecimenTests
{
    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void SheetShowsEveryFontWithoutLoss()
    {
        Frame[] frames = [Small(), Words(), Capitals(), Letters(), Large(), Huge(), Icons(), Mixed()];
        foreach (Frame frame in frames)
        {
            Assert.AreEqual(0, frame.Clips, "a specimen leaves its frame");
            Assert.AreEqual(0, frame.MissingGlyphs, "a specimen uses a character without a glyph");
        }
        string path = Path.Combine(TestContext.TestRunResultsDirectory!, "specimen.png");
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        const int across = 2, margin = 4;
        int width = across * (Frame.Width + margin), height = frames.Length / across * (Frame.Height + margin);
        File.WriteAllBytes(path, DisplayPicture.Png((x, y) =>
        {
            int fx = x / (Frame.Width + margin), fy = y / (Frame.Height + margin);
            return frames[fy * across + fx].Pixel(x % (Frame.Width + margin), y % (Frame.Height + margin));
        }, width, height));
        TestContext.AddResultFile(path);
        TestContext.WriteLine(path);
    }

    private static Frame Small()
    {
        var frame = new Frame();
        string[] lines = ["ABCDEFGHIJKLMNOPQRST", "UVWXYZ 0123456789 O0", "abcdefghijklmnopqrstuvw", "xyz !\"#$%&'()*+,-./:;<", "=>?@[\\]^_`{|}~ ×°±·…←↑→↓", "17 0O 5S 6S 8B 38 68 2Z", "Low water 06:42 falling", "30 s f/8 ND 1000 pqgjy"];
        for (int i = 0; i < lines.Length; i++) frame.Text(0, i * 8, lines[i], Font.Small);
        return frame;
    }

    private static Frame Words()
    {
        var frame = new Frame();
        frame.Text(0, 0, "Backwash 1 s", Font.Medium);
        frame.Text(0, 16, "Swell 11.4 s", Font.Medium);
        frame.Text(0, 32, "0123456789", Font.Medium);
        frame.Text(0, 48, "!\"%&'()*+,-./:;", Font.Medium);
        return frame;
    }

    private static Frame Capitals()
    {
        var frame = new Frame();
        frame.Text(0, 0, "ABCDEFGHIJKLM", Font.Medium);
        frame.Text(0, 16, "NOPQRSTUVWXY", Font.Medium);
        frame.Text(0, 32, "Z<=>?_×°±·… O0", Font.Medium);
        frame.Text(0, 48, "←↑→↓ 17 5S 68", Font.Medium);
        return frame;
    }

    private static Frame Letters()
    {
        var frame = new Frame();
        frame.Text(0, 0, "abcdefghijklmno", Font.Medium);
        frame.Text(0, 16, "pqrstuvwxyz", Font.Medium);
        frame.Text(0, 32, "Mark wave 38", Font.Medium);
        frame.Text(0, 48, "Tide falling", Font.Medium);
        return frame;
    }

    private static Frame Large()
    {
        var frame = new Frame();
        frame.Text(0, 0, "1234567", Font.Large);
        frame.Text(0, 32, "89 0:05", Font.Large);
        return frame;
    }

    private static Frame Huge()
    {
        var frame = new Frame();
        frame.Text(0, 0, "12:34", Font.Huge);
        frame.Text(0, 36, "1/60 s", Font.Large);
        return frame;
    }

    private static Frame Icons()
    {
        var frame = new Frame();
        frame.Text(0, 0, "56789", Font.Huge);
        int x = 0;
        for (int i = 0; i <= (int)Icon.BulbOn; i++) x = frame.Icon(x, 40, (Icon)i) + 3;
        x = 0;
        for (int i = (int)Icon.BulbOff; i <= (int)Icon.Tick; i++) x = frame.Icon(x, 52, (Icon)i) + 3;
        return frame;
    }

    private static Frame Mixed()
    {
        var frame = new Frame();
        frame.Text(0, 0, "-0.+/", Font.Huge);
        frame.Text(0, 36, "3m+2.s-", Font.Large);
        return frame;
    }
}
