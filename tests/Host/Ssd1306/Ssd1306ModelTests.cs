using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.Ssd1306;

/// <summary>
/// The model of the chip against the data sheet (Solomon Systech SSD1306 rev 1.1); tables and sections are named, the
/// numbers taken from tables 10-1 and 10-2 are from memory.
/// </summary>
[TestClass]
public class Ssd1306ModelTests
{
    private static void Commands(Ssd1306Model model, params byte[] commands) => model.Write([0x00, .. commands]);

    private static void Data(Ssd1306Model model, params byte[] data) => model.Write([0x40, .. data]);

    // Upright, pump on, display on, memory dark, horizontal addressing over the whole memory.
    private static Ssd1306Model Lit()
    {
        var model = new Ssd1306Model();
        Commands(model, 0xA1, 0xC8, 0x20, 0x00, 0x21, 0, 127, 0x22, 0, 7);
        Data(model, new byte[1024]);
        Commands(model, 0x8D, 0x14, 0xAF);
        return model;
    }

    private static string LitPixels(Ssd1306Model model)
    {
        var found = new List<string>();
        for (int y = 0; y < 64; y++)
            for (int x = 0; x < 128; x++)
                if (model.Pixel(x, y)) found.Add($"{x},{y}");
        return string.Join(' ', found);
    }

    private static string OnlyComplaint(Ssd1306Model model)
    {
        Assert.AreEqual(1, model.Complaints.Count, string.Join(" | ", model.Complaints));
        return model.Complaints[0];
    }

    [TestMethod]
    public void ResetValuesAreThoseOfTable91()
    {
        Ssd1306Registers r = new Ssd1306Model().Registers;
        Assert.AreEqual(0x7F, r.Contrast);
        Assert.IsFalse(r.DisplayOn || r.Inverse || r.EntireOn || r.ChargePump || r.SegmentRemap || r.ComRemap || r.ComLeftRight);
        Assert.IsTrue(r.AlternativeComPins);
        Assert.AreEqual(Ssd1306Addressing.Page, r.Addressing);
        Assert.AreEqual((0, 127, 0, 7), (r.ColumnStart, r.ColumnEnd, r.PageStart, r.PageEnd));
        Assert.AreEqual((64, 0, 0), (r.Multiplex, r.Offset, r.StartLine));
        Assert.AreEqual((0x80, 0x22, 0x20), (r.Clock, r.Precharge, r.VcomhLevel));
    }

    [TestMethod]
    public void MemoryAfterPowerUpIsNoise()
    {
        Ssd1306Registers r = new Ssd1306Model().Registers;
        int lit = 0;
        for (int page = 0; page < 8; page++)
            for (int s = 0; s < 128; s++) lit += System.Numerics.BitOperations.PopCount(r.Memory(page, s));
        Assert.IsTrue(lit is > 3500 and < 4700, $"{lit} of 8192 bits are set");
    }

    [TestMethod]
    public void BitZeroIsTheUppermostRowOfAPage()
    {
        // Section 8.7, figure 8-14: D0 is the top row, D7 the bottom row of the page.
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 5, 5, 0x22, 2, 2);
        Data(model, 0x81);
        Assert.AreEqual("5,16 5,23", LitPixels(model));
    }

    [TestMethod]
    public void DarkUntilPumpAndDisplayAreOn()
    {
        Ssd1306Model model = Lit();
        Commands(model, 0xA5);
        Assert.IsTrue(model.Pixel(0, 0));
        Commands(model, 0x8D, 0x10);
        Assert.IsFalse(model.Pixel(0, 0), "pump off");
        Commands(model, 0x8D, 0x14, 0xAE);
        Assert.IsFalse(model.Pixel(0, 0), "display off");
    }

    [TestMethod]
    public void EntireOnIgnoresMemoryAndInverse()
    {
        Ssd1306Model model = Lit();
        Commands(model, 0xA7);
        Assert.IsTrue(model.Pixel(64, 32), "inverse shows dark as lit");
        Commands(model, 0xA5);
        Assert.IsTrue(model.Pixel(64, 32));
        Commands(model, 0xA4, 0xA6);
        Assert.IsFalse(model.Pixel(64, 32));
    }

    [TestMethod]
    public void PageModeRunsRoundOnePage()
    {
        // Section 10.1.3, figure 10-2: B2h, 03h, 10h start at page 2, column 3; after column 127 comes column 0 of the same page.
        Ssd1306Model model = Lit();
        Commands(model, 0x20, 0x02, 0xB2, 0x03, 0x10);
        Data(model, 0x01);
        Commands(model, 0x0E, 0x17);
        Data(model, 0x02, 0x02, 0x02);
        Assert.AreEqual("3,16 0,17 126,17 127,17", LitPixels(model));
        Assert.AreEqual(0, model.Complaints.Count);
    }

    [TestMethod]
    public void HorizontalModeRunsThroughTheWindow()
    {
        // Section 10.1.3, figures 10-3 and 10-5: column, then page, then back to the window's first corner.
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 2, 3, 0x22, 1, 2);
        Data(model, 0x01, 0x02, 0x04, 0x08, 0x10);
        Assert.AreEqual("3,9 2,12 2,18 3,19", LitPixels(model), "the fifth byte replaces the first");
    }

    [TestMethod]
    public void VerticalModeRunsDownTheWindow()
    {
        // Section 10.1.3, figure 10-4: page, then column.
        Ssd1306Model model = Lit();
        Commands(model, 0x20, 0x01, 0x21, 2, 3, 0x22, 1, 2);
        Data(model, 0x01, 0x02, 0x04, 0x08, 0x10);
        Assert.AreEqual("3,10 2,12 2,17 3,19", LitPixels(model));
    }

    [TestMethod]
    public void DataSheetExampleWindowHolds126ColumnsAnd6Pages()
    {
        // Section 10.1.4/5 example: column 2..125, page 1..6.
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 2, 125, 0x22, 1, 6);
        Data(model, Enumerable.Repeat((byte)0xFF, 124 * 6).ToArray());
        for (int y = 0; y < 64; y++)
            for (int x = 0; x < 128; x++)
                Assert.AreEqual(x is >= 2 and <= 125 && y is >= 8 and <= 55, model.Pixel(x, y), $"{x},{y}");
    }

    [TestMethod]
    public void SegmentRemapHoldsForLaterDataOnly()
    {
        // Section 10.1.8: data already stored has no change.
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 0, 127, 0x22, 0, 0);
        Data(model, 0x01);
        Commands(model, 0xA0);
        Assert.AreEqual("0,0", LitPixels(model));
        Commands(model, 0x21, 0, 127, 0x22, 0, 0);
        Data(model, 0x02);
        Assert.AreEqual("0,0 127,1", LitPixels(model));
    }

    [TestMethod]
    public void ComDirectionTurnsThePictureAtOnce()
    {
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 7, 7, 0x22, 0, 0);
        Data(model, 0x01);
        Commands(model, 0xC0);
        Assert.AreEqual("7,63", LitPixels(model));
    }

    [TestMethod]
    public void StartLineAndOffsetShiftAsInTable102()
    {
        // Table 10-2 (re-mapped), multiplex 64: start line 8 and offset 0 shows memory row 8 first, so row 8 moves to the top.
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 7, 7, 0x22, 1, 1);
        Data(model, 0x01);
        Assert.AreEqual("7,8", LitPixels(model));
        Commands(model, 0x48);
        Assert.AreEqual("7,0", LitPixels(model));
        Commands(model, 0x40, 0xD3, 8);
        Assert.AreEqual("7,0", LitPixels(model));
    }

    [TestMethod]
    public void MultiplexLeavesTheOtherLinesDark()
    {
        Ssd1306Model model = Lit();
        Commands(model, 0xC0, 0xA8, 47, 0xA5);
        int lit = 0;
        for (int y = 0; y < 64; y++) if (model.Pixel(0, y)) lit++;
        Assert.AreEqual(48, lit);
    }

    [TestMethod]
    public void WrongComPinsScrambleTheRows()
    {
        // Table 10-3: sequential pins on alternately wired glass.
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 7, 7, 0x22, 0, 0);
        Data(model, 0x0F);
        string right = LitPixels(model);
        Commands(model, 0xDA, 0x02);
        Assert.AreNotEqual(right, LitPixels(model));
        Commands(model, 0xDA, 0x12);
        Assert.AreEqual(right, LitPixels(model));
    }

    [TestMethod]
    public void ControlBytesSwitchWithinATransfer()
    {
        // Section 8.1.5.2, figure 8-7.
        Ssd1306Model model = Lit();
        Commands(model, 0x20, 0x02);
        model.Write([0x80, 0xB1, 0x80, 0x04, 0x80, 0x10, 0xC0, 0x01, 0x40, 0x02]);
        Assert.AreEqual("4,8 5,9", LitPixels(model));
    }

    [TestMethod]
    public void ArgumentsMayArriveInALaterTransfer()
    {
        var model = new Ssd1306Model();
        Commands(model, 0x81);
        Commands(model, 0x33);
        Assert.AreEqual(0x33, model.Contrast);
    }

    [TestMethod]
    [DataRow(new byte[] { 0x23 }, "23h: no such command")]
    [DataRow(new byte[] { 0x20, 0x03 }, "addressing mode 03h")]
    [DataRow(new byte[] { 0x20, 0x00, 0x21, 0, 128 }, "column window 0..128")]
    [DataRow(new byte[] { 0x20, 0x00, 0x21, 9, 3 }, "column window 9..3")]
    [DataRow(new byte[] { 0x20, 0x00, 0x22, 0, 8 }, "page window 0..8")]
    [DataRow(new byte[] { 0x21, 0, 127 }, "21h: works in horizontal or vertical")]
    [DataRow(new byte[] { 0x20, 0x00, 0xB0 }, "B0h: works in page")]
    [DataRow(new byte[] { 0x18 }, "beyond column 127")]
    [DataRow(new byte[] { 0xA8, 14 }, "multiplex ratio 14")]
    [DataRow(new byte[] { 0xD3, 64 }, "display offset 64")]
    [DataRow(new byte[] { 0x8D, 0x15 }, "charge pump setting 15h")]
    [DataRow(new byte[] { 0xD9, 0x20 }, "pre-charge period 20h")]
    [DataRow(new byte[] { 0xDA, 0x10 }, "COM pins configuration 10h")]
    [DataRow(new byte[] { 0xDB, 0x40 }, "level 40h")]
    [DataRow(new byte[] { 0x2F }, "before any scroll")]
    [DataRow(new byte[] { 0x26, 0, 3, 0, 1, 0, 0xFF }, "scrolled pages 3..1")]
    [DataRow(new byte[] { 0x29, 0, 0, 0, 7, 64 }, "vertical scroll of 64")]
    [DataRow(new byte[] { 0xA3, 32, 64 }, "vertical scroll area")]
    [DataRow(new byte[] { 0xC1 }, "C1h: no such command")]
    public void IllegalCommandsAreNamed(byte[] commands, string words)
    {
        var model = new Ssd1306Model();
        Commands(model, commands);
        StringAssert.Contains(OnlyComplaint(model), words);
    }

    /// <summary>What the SSD1309 takes differently (its data sheet rev 1.0, from memory).</summary>
    [TestMethod]
    [DataRow(new byte[] { 0x8D }, "no charge pump")]
    [DataRow(new byte[] { 0xDB, 0x20 }, "level 20h")]
    [DataRow(new byte[] { 0xFD, 0x13 }, "command lock 13h")]
    [DataRow(new byte[] { 0xFD, 0x16, 0xAF }, "AFh: commands are locked")]
    [DataRow(new byte[] { 0x2F }, "scrolling has other arguments")]
    [DataRow(new byte[] { 0xDC, 0x04 }, "GPIO setting 04h")]
    [DataRow(new byte[] { 0xC1 }, "C1h: no such command")]
    public void IllegalCommandsOfTheLargeDisplayAreNamed(byte[] commands, string words)
    {
        var model = new Ssd1306Model(Drivers.Ssd1306.DisplayKind.Ssd1309);
        Commands(model, commands);
        StringAssert.Contains(OnlyComplaint(model), words);
    }

    [TestMethod]
    public void TheLargeDisplayNeedsNoPumpAndUnlocks()
    {
        var model = new Ssd1306Model(Drivers.Ssd1306.DisplayKind.Ssd1309);
        Assert.AreEqual((0x70, 0x22, 0x34), (model.Registers.Clock, model.Registers.Precharge, model.Registers.VcomhLevel));
        Commands(model, 0xFD, 0x16, 0xFD, 0x12, 0xA5, 0xAF);
        Assert.IsTrue(model.Pixel(0, 0));
        Assert.IsEmpty(model.Complaints);
        model = new Ssd1306Model();
        Commands(model, 0xFD);
        StringAssert.Contains(OnlyComplaint(model), "no such command");
    }

    [TestMethod]
    public void IllegalTransfersAreNamed()
    {
        var model = new Ssd1306Model();
        model.Write([0x01, 0xAF]);
        StringAssert.Contains(OnlyComplaint(model), "low six bits");
        model = new Ssd1306Model();
        model.Write([0x80]);
        StringAssert.Contains(OnlyComplaint(model), "end of a transfer");
        model = new Ssd1306Model();
        model.Write([0x80, 0x81, 0x40, 0x00]);
        StringAssert.Contains(OnlyComplaint(model), "still waits");
    }

    [TestMethod]
    public void ScrollIsDecodedAndGuardsTheMemory()
    {
        var model = new Ssd1306Model();
        Commands(model, 0x29, 0, 0, 7, 7, 1, 0x2F);
        Assert.IsTrue(model.Registers.Scrolling);
        CollectionAssert.AreEqual(new byte[] { 0x29, 0, 0, 7, 7, 1 }, model.Registers.ScrollSetup);
        Data(model, 0x55);
        StringAssert.Contains(OnlyComplaint(model), "while a scroll runs");
        Commands(model, 0x2E);
        Assert.IsFalse(model.Registers.Scrolling);
    }

    [TestMethod]
    public void StatusTellsWhetherTheDisplayIsOff()
    {
        // Table 9-2: D6 = 1 display off, 0 display on.
        var model = new Ssd1306Model();
        byte[] status = new byte[1];
        Assert.IsTrue(model.Read(status));
        Assert.AreEqual(0x40, status[0]);
        Commands(model, 0xAF);
        model.Read(status);
        Assert.AreEqual(0x00, status[0]);
    }

    [TestMethod]
    public void PictureIsAPngOfTheRightSize()
    {
        Ssd1306Model model = Lit();
        Commands(model, 0x21, 0, 0, 0x22, 0, 0, 0x81, 0xFF);
        Data(model, 0x01);
        using var image = SkiaSharp.SKBitmap.Decode(DisplayPicture.Png(model, 6, Glow.Amber));
        Assert.AreEqual((132 * 6, 68 * 6), (image.Width, image.Height));
        SkiaSharp.SKColor lit = image.GetPixel(14, 14), dark = image.GetPixel(20, 14);
        Assert.IsTrue(lit.Red > 240 && dark.Red < 40, $"lit {lit}, dark {dark}");
    }
}
