using Intervalometer.Screens;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The page gives the words on the display to somebody who cannot see it.</summary>
[TestClass]
public class DisplayReaderTests
{
    [TestMethod]
    public void TheFirstCardIsReadWhole()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(8_000_000);
        string words = DisplayReader.Words(board.Display.Model.Pixel);
        foreach (string part in new[] { "LIGHT", "1/60", "DIAL", "15.63 ms", "f/8 ISO 100" }) StringAssert.Contains(words, part, words);
    }

    [TestMethod]
    public void ARowThatTheCursorInvertsIsReadToo()
    {
        using var board = new Board(new BoardOptions());
        board.Press(Button.Down, 4_000_000, 100_000);
        board.Press(Button.Select, 5_000_000, 100_000);
        board.RunUntil(8_000_000);
        string words = DisplayReader.Words(board.Display.Model.Pixel);
        StringAssert.Contains(words, "GLASS", words);
        string first = board.Box!.Settings.Kit[0].Name;
        StringAssert.Contains(words, first, words);
    }

    [TestMethod]
    [DataRow("Small")]
    [DataRow("Medium")]
    public void EveryLetterOfAFontIsReadBack(string name)
    {
        Font font = name == "Small" ? Font.Small : Font.Medium;
        const string text = "Sand neck 12 min";
        var frame = new Frame();
        frame.Text(2, 20, text, font);
        Assert.AreEqual(text + ".", DisplayReader.Words(frame.Pixel));
    }

    [TestMethod]
    public void ADrawingIsNotTakenForWords()
    {
        var frame = new Frame();
        for (int x = 0; x < 128; x++) frame.SetPixel(x, 32 + (int)Math.Round(20 * Math.Sin(x / 9.0)));
        frame.Rect(10, 5, 100, 50);
        Assert.AreEqual("", DisplayReader.Words(frame.Pixel));
    }
}
