using FsCheck;
using FsCheck.Fluent;
using Intervalometer.Drivers.Ssd1306;
using Intervalometer.Screens;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.Ssd1306;

/// <summary>The driver: exact bytes by the data sheet (Solomon Systech SSD1306 rev 1.1), and the way to the glass and back.</summary>
[TestClass]
public class Ssd1306DisplayTests
{
    private const int PageBytes = 7 + 128;

    private static void SendAll(Ssd1306Display display, Frame frame)
    {
        for (int calls = 0; display.SendNextChangedPage(frame); calls++)
            Assert.IsTrue(calls < 20, "the driver never comes to rest");
    }

    private static string Picture(Frame frame) => AsciiPicture.Full(frame.Pixel, Frame.Width, Frame.Height);

    [TestMethod]
    public void InitialisationIsTheDataSheetsFlow()
    {
        var bus = new RecordingBus();
        Assert.IsTrue(new Ssd1306Display(bus, DisplayKind.Ssd1306).Initialise());
        // Application note, software initialisation flow chart: A8 3F, D3 00, 40, A1, C8, DA, 81 7F, A4, A6, D5 80, 8D 14;
        // here with display off first and on (AF) only after the memory is filled; D9 22 and DB 20 are the reset values of table 9-1.
        Assert.AreEqual("00 AE A8 3F D3 00 40 A1 C8 DA 12 20 02 2E D5 80 D9 22 DB 20 A4 81 7F A6 8D 14", bus.Last);
    }

    [TestMethod]
    public void TheLargeDisplayDiffersInItsLevelAndHasNoPump()
    {
        var bus = new RecordingBus();
        Assert.IsTrue(new Ssd1306Display(bus, DisplayKind.Ssd1309).Initialise());
        // SSD1309 data sheet rev 1.0 (from memory): DB 34 is 0.78 V_CC, the reset value; 8D is not in its command table; E3 is no operation.
        Assert.AreEqual("00 AE A8 3F D3 00 40 A1 C8 DA 12 20 02 2E D5 80 D9 22 DB 34 A4 81 7F A6 E3 E3", bus.Last);
    }

    /// <summary>What is sent to one chip is against the sheet of the other, so a wrong choice shows on the virtual board.</summary>
    [TestMethod]
    [DataRow(DisplayKind.Ssd1306, DisplayKind.Ssd1309, "no charge pump")]
    [DataRow(DisplayKind.Ssd1309, DisplayKind.Ssd1306, "V_COMH level 34h")]
    public void TheWrongChipComplains(DisplayKind sent, DisplayKind fitted, string words)
    {
        var model = new Ssd1306Model(fitted);
        SendAll(new Ssd1306Display(model, sent), new Frame());
        Assert.Contains(words, string.Join("; ", model.Complaints));
        model = new Ssd1306Model(sent);
        SendAll(new Ssd1306Display(model, sent), new Frame());
        Assert.IsEmpty(model.Complaints);
    }

    [TestMethod]
    public void PageGoesOutInOneTransfer()
    {
        var bus = new RecordingBus();
        var display = new Ssd1306Display(bus, DisplayKind.Ssd1306);
        var frame = new Frame();
        SendAll(display, frame);
        frame.SetPixel(0, 40);
        frame.SetPixel(127, 47);
        Assert.IsTrue(display.SendNextChangedPage(frame));
        // Section 8.1.5.2: control byte Co D/C# 000000; table 9-1: B5 page 5, 00 and 10 column 0.
        Assert.AreEqual("80 B5 80 00 80 10 40 01 " + string.Concat(Enumerable.Repeat("00 ", 126)) + "80", bus.Last);
    }

    [TestMethod]
    public void ContrastInversionAndSleepAreTheTablesBytes()
    {
        var bus = new RecordingBus();
        var display = new Ssd1306Display(bus, DisplayKind.Ssd1306);
        SendAll(display, new Frame());
        Assert.AreEqual("00 AF", bus.Last, "the last message of a first picture lights the display");
        Assert.IsTrue(display.SetContrast(0x20));
        Assert.AreEqual("00 81 20", bus.Last);
        Assert.IsTrue(display.Invert(true));
        Assert.AreEqual("00 A7", bus.Last);
        Assert.IsTrue(display.Invert(false));
        Assert.AreEqual("00 A6", bus.Last);
        Assert.IsTrue(display.Off());
        Assert.AreEqual("00 AE", bus.Last);
        Assert.IsTrue(display.On());
        Assert.AreEqual("00 AF", bus.Last);
    }

    [TestMethod]
    public void AnyFrameReachesTheEyeUnchanged()
    {
        var rectangles = ArbMap.Default.GeneratorFor<int>().Resize(1000).ArrayOf(40).ToArbitrary();
        Prop.ForAll(rectangles, numbers =>
        {
            DisplayKind kind = numbers.Length % 2 == 0 ? DisplayKind.Ssd1309 : DisplayKind.Ssd1306;
            var model = new Ssd1306Model(kind);
            var display = new Ssd1306Display(model, kind);
            var frame = new Frame();
            for (int round = 0; round < 3; round++)
            {
                if (round == 2) frame.Clear();
                for (int i = round; i + 4 < numbers.Length; i += 5) Draw(frame, numbers, i);
                SendAll(display, frame);
                if (AsciiPicture.Full(model) != Picture(frame)) return false;
            }
            return model.Complaints.Count == 0;
        }).QuickCheckThrowOnFailure();
    }

    private static void Draw(Frame frame, int[] n, int i)
    {
        int x = Math.Abs(n[i]) % 140 - 6, y = Math.Abs(n[i + 1]) % 76 - 6, w = Math.Abs(n[i + 2]) % 60, h = Math.Abs(n[i + 3]) % 40;
        switch (Math.Abs(n[i + 4]) % 6)
        {
            case 0: frame.FillRect(x, y, w, h); break;
            case 1: frame.ClearRect(x, y, w, h); break;
            case 2: frame.InvertRect(x, y, w, h); break;
            case 3: frame.Text(x, y, "Ag0#", Font.Medium); break;
            case 4: frame.Text(x, y & ~7, "Wave 8", Font.Small); break;
            default: frame.Rect(x, y, w, h); break;
        }
    }

    [TestMethod]
    public void OnlyChangedPagesUseTheBus()
    {
        var model = new Ssd1306Model();
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        var frame = new Frame();
        frame.Text(0, 8, "Backwash", Font.Small);
        SendAll(display, frame);
        Assert.AreEqual(8 * 128, model.DataBytesReceived, "a first picture is all eight pages");

        long before = model.BytesReceived;
        frame.Clear();
        frame.Text(0, 8, "Backwash", Font.Small);
        SendAll(display, frame);
        Assert.AreEqual(before, model.BytesReceived, "the same picture drawn again is not sent");

        frame.Text(0, 40, "12", Font.Medium);
        SendAll(display, frame);
        Assert.AreEqual(before + 2 * PageBytes, model.BytesReceived, "a text across two pages costs two pages");

        before = model.BytesReceived;
        Assert.IsFalse(display.SendNextChangedPage(frame));
        Assert.AreEqual(before, model.BytesReceived);
    }

    [TestMethod]
    public void OneCallSendsAtMostOnePage()
    {
        var model = new Ssd1306Model();
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        var frame = new Frame();
        SendAll(display, frame);
        frame.FillRect(0, 0, 128, 64);
        for (int page = 0; page < 8; page++)
        {
            long before = model.BytesReceived;
            Assert.IsTrue(display.SendNextChangedPage(frame));
            Assert.AreEqual(before + PageBytes, model.BytesReceived);
        }
        Assert.IsFalse(display.SendNextChangedPage(frame));
    }

    [TestMethod]
    public void ABusyPageDoesNotStarveTheOthers()
    {
        var model = new Ssd1306Model();
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        var frame = new Frame();
        SendAll(display, frame);
        frame.SetPixel(9, 63);
        for (int call = 0; call < 2; call++)
        {
            frame.InvertRect(0, 0, 4, 4);
            display.SendNextChangedPage(frame);
        }
        Assert.IsTrue(model.Pixel(9, 63), "page 7 waited for page 0 although it was next in turn");
    }

    [TestMethod]
    public void StaysDarkUntilTheFirstPictureIsWhole()
    {
        var model = new Ssd1306Model();
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        var frame = new Frame();
        frame.FillRect(0, 0, 128, 64);
        for (int page = 0; page < 8; page++)
        {
            Assert.IsTrue(display.SendNextChangedPage(frame));
            Assert.AreEqual(Ssd1306State.Filling, display.State);
            Assert.IsFalse(model.Pixel(5, 5), "noise in memory must not show");
        }
        Assert.IsTrue(display.SendNextChangedPage(frame));
        Assert.AreEqual(Ssd1306State.Ready, display.State);
        Assert.IsTrue(model.Pixel(5, 5));
    }

    [TestMethod]
    public void APageThatWasRefusedIsSentAgainAfterANewSetUp()
    {
        var model = new Ssd1306Model();
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        var frame = new Frame();
        SendAll(display, frame);
        display.SetContrast(9);
        display.Invert(true);
        frame.Text(3, 3, "Held?", Font.Medium);
        model.WritesToRefuse = 1;
        Assert.IsFalse(display.SendNextChangedPage(frame));
        Assert.AreEqual(Ssd1306State.NoAnswer, display.State);
        Assert.AreEqual(1, display.Failures);
        Assert.IsTrue(frame.PageChanged(0), "a page without acknowledge must not count as sent");
        model.PowerCycle();
        SendAll(display, frame);
        Assert.AreEqual(Ssd1306State.Ready, display.State);
        Assert.AreEqual(9, model.Contrast);
        Assert.AreEqual(AsciiPicture.Full((x, y) => !frame.Pixel(x, y), 128, 64), AsciiPicture.Full(model));
    }

    [TestMethod]
    public void AnUnpluggedDisplayIsNamedAndNeverThrows()
    {
        var model = new Ssd1306Model { Connected = false };
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        var frame = new Frame();
        Assert.IsFalse(display.Initialise());
        for (int i = 0; i < 5; i++) Assert.IsFalse(display.SendNextChangedPage(frame));
        Assert.AreEqual(Ssd1306State.NoAnswer, display.State);
        Assert.AreEqual(6, display.Failures);
        model.Connected = true;
        SendAll(display, frame);
        Assert.AreEqual(Ssd1306State.Ready, display.State);
    }

    [TestMethod]
    public void SleepAskedForBeforeTheFirstPictureHolds()
    {
        var model = new Ssd1306Model();
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        display.Off();
        SendAll(display, new Frame());
        Assert.IsFalse(model.Registers.DisplayOn);
        Assert.IsTrue(display.On());
        Assert.IsTrue(model.Registers.DisplayOn);
    }

    [TestMethod]
    public void AnotherFrameIsSentWhole()
    {
        var model = new Ssd1306Model();
        var display = new Ssd1306Display(model, DisplayKind.Ssd1306);
        var first = new Frame();
        var second = new Frame();
        SendAll(display, first);
        SendAll(display, second);
        first.FillRect(10, 10, 20, 20);
        SendAll(display, first);
        SendAll(display, second);
        Assert.AreEqual(Picture(second), AsciiPicture.Full(model));
    }

    [TestMethod]
    public void SendingAllocatesNothing()
    {
        var bus = new SilentBus();
        var display = new Ssd1306Display(bus, DisplayKind.Ssd1306);
        var frame = new Frame();
        SendAll(display, frame);
        long DrawnAndSent()
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            frame.Clear();
            frame.Text(0, 0, "Swell 11 s", Font.Medium);
            frame.Number(3, 19, 12345, 2, Font.Small);
            frame.Icon(100, 30, Icon.Wave);
            frame.Progress(0, 50, 128, 8, 3, 7);
            while (display.SendNextChangedPage(frame)) { }
            display.SetContrast(3);
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }
        DrawnAndSent();
        Assert.AreEqual(0, DrawnAndSent());
    }

    private sealed class SilentBus : Intervalometer.Drivers.ITwoWireDevice
    {
        public bool Write(byte[] data) => true;
        public bool Read(byte[] data) => true;
        public bool WriteRead(byte[] output, byte[] input) => true;
    }

    private sealed class RecordingBus : Intervalometer.Drivers.ITwoWireDevice
    {
        public string Last { get; private set; } = "";

        public bool Write(byte[] data)
        {
            Last = string.Join(' ', data.Select(b => b.ToString("X2")));
            return true;
        }

        public bool Read(byte[] data) => true;
        public bool WriteRead(byte[] output, byte[] input) => true;
    }
}
