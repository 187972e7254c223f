using Intervalometer.Drivers.At24c32;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.Tests.Host.Store;

/// <summary>
/// Chip model and driver against the data sheet, with one test for each statement. Roll-over in a page, acknowledge polling and don't-care
/// address bits: Atmel AT24C1024B (5194D) and Microchip 24AA32AF (DS22184A), read; page of 32 bytes: Microchip 24LC32A
/// (DS21713M), read; 10 ms write cycle and sequential roll-over of the AT24C32 itself: from memory.
/// </summary>
[TestClass]
public class At24c32Tests
{
    private readonly HandClock _clock = new();
    private readonly At24c32Model _chip;

    public At24c32Tests() => _chip = new At24c32Model(_clock);

    private void Finish() => _clock.NowUs += 20_000;

    /// <summary>Only the lower five address bits count up: past the page's end comes its beginning.</summary>
    [TestMethod]
    public void AWriteWrapsRoundInsideItsPage()
    {
        byte[] message = [0x00, 0x3E, 1, 2, 3, 4];
        Assert.IsTrue(_chip.Write(message));
        byte[] cells = _chip.Snapshot();
        CollectionAssert.AreEqual(new byte[] { 1, 2 }, cells[0x3E..0x40]);
        CollectionAssert.AreEqual(new byte[] { 3, 4 }, cells[0x20..0x22]);
        Assert.AreEqual(0xFF, cells[0x40]);
    }

    /// <summary>A 33rd byte lands on the first.</summary>
    [TestMethod]
    public void MoreThanAPageOverwritesItself()
    {
        Assert.IsTrue(_chip.Write([0, 0, .. Enumerable.Range(0, 33).Select(i => (byte)i)]));
        Assert.AreEqual(32, _chip.Snapshot()[0]);
        Assert.AreEqual(1, _chip.Snapshot()[1]);
    }

    /// <summary>The chip does not respond until the write cycle is over; 10 ms at the most.</summary>
    [TestMethod]
    public void NothingIsAcknowledgedDuringTheWriteCycle()
    {
        var chip = new At24c32(new ModelWire(_chip));
        Assert.IsTrue(chip.Ready());
        Assert.IsTrue(chip.WritePage(3, new byte[32], 0));
        Assert.IsFalse(chip.Ready());
        Assert.IsFalse(chip.ReadPage(3, new byte[32], 0));
        _clock.NowUs += 9_900;
        Assert.IsFalse(chip.Ready());
        _clock.NowUs += 1_000;
        Assert.IsTrue(chip.Ready());
        Assert.AreEqual(3, chip.Unanswered);
    }

    /// <summary>Acknowledge polling: the address alone starts no write cycle.</summary>
    [TestMethod]
    public void PollingDoesNotWear()
    {
        var chip = new At24c32(new ModelWire(_chip));
        for (int i = 0; i < 100; i++) Assert.IsTrue(chip.Ready());
        Assert.AreEqual(0, _chip.Wear.Sum());
    }

    /// <summary>A sequential read goes on over page ends, and from the last byte to the first.</summary>
    [TestMethod]
    public void AReadRunsOnOverPagesAndRollsOver()
    {
        Assert.IsTrue(_chip.Write([0x0F, 0xFF, 77]));
        Finish();
        Assert.IsTrue(_chip.Write([0x00, 0x00, 78]));
        Finish();
        var read = new byte[3];
        Assert.IsTrue(_chip.Write([0x0F, 0xFF]));
        Assert.IsTrue(_chip.Read(read));
        CollectionAssert.AreEqual(new byte[] { 77, 78, 0xFF }, read);
    }

    /// <summary>The upper four bits of the first address byte are don't-care on 4096 bytes.</summary>
    [TestMethod]
    public void TheUpperAddressBitsDoNotCount()
    {
        Assert.IsTrue(_chip.Write([0xF0, 0x05, 9]));
        Assert.AreEqual(9, _chip.Snapshot()[5]);
    }

    [TestMethod]
    public void TheDriverReachesEveryPage()
    {
        var chip = new At24c32(new ModelWire(_chip));
        var page = new byte[40];
        for (int i = 0; i < 128; i++)
        {
            Array.Fill(page, (byte)i);
            Assert.IsTrue(chip.WritePage(i, page, 8));
            Finish();
        }
        byte[] cells = _chip.Snapshot();
        for (int i = 0; i < At24c32.SizeBytes; i++) Assert.AreEqual(i / At24c32.PageBytes, cells[i]);
        Assert.IsTrue(_chip.Wear.All(w => w == 1));
        Assert.IsTrue(chip.ReadPage(127, page, 8));
        Assert.AreEqual(127, page[8]);
    }

    [TestMethod]
    public void ACutLeavesWhatItsKindSays()
    {
        byte[] Cut(CutKind kind, int arrived)
        {
            var chip = new At24c32Model(_clock, 5);
            Assert.IsTrue(chip.Write([0, 0, .. Enumerable.Repeat((byte)0x11, 32)]));
            Finish();
            chip.CutAfter(2 + arrived, kind);
            Assert.IsFalse(chip.Write([0, 0, .. Enumerable.Repeat((byte)0x22, 32)]));
            Assert.IsFalse(chip.Write([0, 0]), "it has no power");
            chip.PowerOn();
            Assert.IsTrue(chip.Write([0, 0]));
            return chip.Snapshot()[..32];
        }
        Assert.IsTrue(Cut(CutKind.Old, 20).All(b => b == 0x11));
        Assert.AreEqual(20, Cut(CutKind.Prefix, 20).Count(b => b == 0x22));
        Assert.AreEqual(12, Cut(CutKind.Prefix, 20).Count(b => b == 0x11));
        Assert.IsTrue(Cut(CutKind.Torn, 20).Distinct().Count() > 3);
        Assert.IsTrue(Cut(CutKind.Garbage, 20).Distinct().Count() > 10);
        Assert.IsTrue(Cut(CutKind.Garbage, 0).All(b => b == 0x11), "no data had arrived: no write cycle");
    }
}
