using Intervalometer.Screens;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The picture of the panel: what must hold on the device as on the PC.</summary>
[TestClass]
public class FrameTests
{
    private static int Count(Frame frame)
    {
        int lit = 0;
        for (int y = 0; y < Frame.Height; y++)
        {
            for (int x = 0; x < Frame.Width; x++)
            {
                if (frame.Pixel(x, y)) lit++;
            }
        }
        return lit;
    }

    private static void AllSent(Frame frame)
    {
        for (int page = 0; page < Frame.Pages; page++) frame.MarkSent(page);
    }

    private static string Changed(Frame frame)
    {
        string pages = "";
        for (int page = 0; page < Frame.Pages; page++)
        {
            if (frame.PageChanged(page)) pages += page.ToString();
        }
        return pages;
    }

    [TestMethod]
    public void PixelsLieInPages()
    {
        Frame frame = new Frame();
        frame.SetPixel(3, 0);
        frame.SetPixel(3, 15);
        byte[] page = new byte[130];
        frame.CopyPage(0, page, 2);
        Assert.AreEqual(1, (int)page[5]);
        frame.CopyPage(1, page, 2);
        Assert.AreEqual(128, (int)page[5]);
        frame.ClearPixel(3, 15);
        Assert.AreEqual(1, Count(frame));
        frame.Clear();
        Assert.AreEqual(0, Count(frame));
    }

    [TestMethod]
    public void RectanglesCoverExactlyTheirPixels()
    {
        Frame frame = new Frame();
        frame.FillRect(5, 6, 10, 20);
        Assert.AreEqual(200, Count(frame));
        Assert.IsTrue(frame.Pixel(5, 6) && frame.Pixel(14, 25));
        Assert.IsFalse(frame.Pixel(4, 6) || frame.Pixel(15, 25) || frame.Pixel(5, 5) || frame.Pixel(14, 26));
        frame.InvertRect(0, 0, 128, 64);
        Assert.AreEqual(8192 - 200, Count(frame));
        frame.ClearRect(0, 3, 128, 50);
        Assert.AreEqual(128 * 14, Count(frame));
        frame.Clear();
        frame.Rect(0, 0, 128, 64);
        Assert.AreEqual(2 * 128 + 2 * 62, Count(frame));
        Assert.AreEqual(0, frame.Clips);
    }

    [TestMethod]
    public void WhatFallsOutsideIsDroppedAndCounted()
    {
        Frame frame = new Frame();
        frame.SetPixel(-1, 0);
        frame.SetPixel(0, 64);
        frame.FillRect(126, 62, 4, 4);
        frame.HLine(-500, 9, 100);
        Assert.AreEqual(4, frame.Clips);
        Assert.AreEqual(2 + 12 + 100, frame.ClippedPixels);
        Assert.AreEqual(4, Count(frame));
        frame.Text(125, 0, "W", Font.Medium);
        Assert.AreEqual(5, frame.Clips);
        frame.Text(-300, -300, "far", Font.Huge);
        frame.Icon(0, 60, Icon.Sun);
        Assert.IsTrue(frame.Clips > 5);
        frame.Text(0, 58, "LOW", Font.Small);
        int before = frame.Clips;
        frame.Text(0, 57, "LOW", Font.Small);
        Assert.AreEqual(before, frame.Clips, "a dark row outside is no loss");
    }

    [TestMethod]
    public void OnlyPagesThatDifferCountAsChanged()
    {
        Frame frame = new Frame();
        Assert.AreEqual("01234567", Changed(frame));
        AllSent(frame);
        Assert.AreEqual("", Changed(frame));
        frame.Text(10, 12, "Hello", Font.Small);
        Assert.AreEqual("12", Changed(frame));
        AllSent(frame);
        frame.Clear();
        frame.Text(10, 12, "Hello", Font.Small);
        Assert.AreEqual("", Changed(frame));
        frame.Clear();
        Assert.AreEqual("12", Changed(frame));
        frame.MarkSent(1);
        Assert.AreEqual("2", Changed(frame));
        frame.ForgetSent();
        Assert.AreEqual("01234567", Changed(frame));
    }

    [TestMethod]
    public void AlignedAndShiftedTextAreTheSamePicture()
    {
        Font[] fonts = new Font[] { Font.Small, Font.Medium, Font.Large, Font.Huge };
        for (int f = 0; f < fonts.Length; f++)
        {
            Frame aligned = new Frame();
            int end = aligned.Text(4, 0, "10:3", fonts[f]);
            Assert.AreEqual(4 + fonts[f].WidthOf("10:3"), end);
            Frame over = new Frame();
            over.HLine(100, 0, 1);
            over.ClearPixel(100, 0);
            over.Text(4, 0, "10:3", fonts[f]);
            for (int shift = 1; shift < 9; shift++)
            {
                Frame shifted = new Frame();
                int wrong = 0;
                shifted.Text(4, shift, "10:3", fonts[f]);
                for (int y = 0; y < fonts[f].Height; y++)
                {
                    for (int x = 0; x < Frame.Width; x++)
                    {
                        bool lit = aligned.Pixel(x, y);
                        if (lit != shifted.Pixel(x, y + shift) || lit != over.Pixel(x, y)) wrong++;
                    }
                }
                Assert.AreEqual(0, wrong, "pixels of font " + f.ToString() + " shifted by " + shift.ToString());
                Assert.AreEqual(Count(aligned), Count(shifted));
            }
        }
    }

    [TestMethod]
    public void TextKeepsWhatLiesUnderIt()
    {
        Frame frame = new Frame();
        frame.HLine(0, 7, 128);
        frame.Text(0, 0, "Tide", Font.Small);
        for (int x = 0; x < 128; x++) Assert.IsTrue(frame.Pixel(x, 7));
        Assert.IsTrue(Count(frame) > 128);
    }

    private static string Written(FrameText text)
    {
        string s = "";
        for (int i = 0; i < text.Length; i++) s += text[i].ToString();
        return s;
    }

    [TestMethod]
    public void NumbersAreComposedWithoutStrings()
    {
        FrameText text = new FrameText();
        Assert.AreEqual("12.34", Written(text.Clear().AddNumber(1234, 2)));
        Assert.AreEqual("-0.05", Written(text.Clear().AddNumber(-5, 2)));
        Assert.AreEqual("0", Written(text.Clear().AddNumber(0)));
        Assert.AreEqual("007", Written(text.Clear().AddNumber(7, 0, 3)));
        Assert.AreEqual("-9223372036854775808", Written(text.Clear().AddNumber(long.MinValue)));
        Assert.AreEqual("7", Written(text.Clear().AddSeconds(7)));
        Assert.AreEqual("1:15", Written(text.Clear().AddSeconds(75)));
        Assert.AreEqual("1:00:00", Written(text.Clear().AddSeconds(3600)));
        Assert.AreEqual("-1:15", Written(text.Clear().AddSeconds(-75)));
        Assert.AreEqual("0:07", Written(text.Clear().AddClock(7, false)));
        Assert.AreEqual("0:01:07", Written(text.Clear().AddClock(67, true)));
        Assert.AreEqual("f/8 in 30 s", Written(text.Clear().Add("f/").AddNumber(8).Add(" in ").AddNumber(30).Add(" s")));
        Assert.AreEqual(0, text.Dropped);
        text.Clear().Add("0123456789012345678901234567890123456789!");
        Assert.AreEqual(1, text.Dropped);
        Assert.AreEqual(40, text.Length);
    }

    [TestMethod]
    public void NumbersEndAndCentreWhereTold()
    {
        Frame frame = new Frame();
        int left = frame.NumberRight(128, 0, 205, 1, Font.Medium);
        Assert.AreEqual(128 - Font.Medium.WidthOf("20.5"), left);
        Assert.AreEqual(left, frame.TextRight(128, 0, "20.5", Font.Medium));
        int centre = frame.NumberCentre(0, 128, 20, 88, 0, Font.Large);
        Assert.AreEqual((128 - Font.Large.WidthOf("88")) / 2, centre);
        Assert.AreEqual(0, frame.Clips);
    }

    [TestMethod]
    public void AMissingGlyphIsCountedAndShown()
    {
        Frame frame = new Frame();
        Assert.IsFalse(Font.Huge.Has('x'));
        frame.Text(0, 0, "x", Font.Huge);
        Assert.AreEqual(1, frame.MissingGlyphs);
        Assert.IsTrue(Count(frame) > 0);
        Assert.IsTrue(Font.Small.Has('\u00D7') && Font.Medium.Has('\u2192'));
    }

    [TestMethod]
    public void ProgressFillsInProportionAndNeverDividesByZero()
    {
        Frame frame = new Frame();
        frame.Progress(0, 0, 104, 8, 1, 0);
        int outline = 2 * 104 + 2 * 6;
        Assert.AreEqual(outline, Count(frame));
        frame.Progress(0, 0, 104, 8, 25, 100);
        Assert.AreEqual(outline + 25 * 4, Count(frame));
        frame.Progress(0, 0, 104, 8, 700, 100);
        Assert.AreEqual(outline + 100 * 4, Count(frame));
        Assert.AreEqual(0, frame.Clips);
    }
}
