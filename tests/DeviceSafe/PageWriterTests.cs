using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A memory that does not answer for a while, or returns something else than was written.</summary>
public sealed class TroubledMemory : IPageMemory
{
    /// <summary>The memory behind it.</summary>
    public PlainMemory Sound { get; } = new PlainMemory();

    /// <summary>Times it was asked for anything.</summary>
    public int Asked { get; private set; }

    /// <summary>Pages that come back wrong from now on.</summary>
    public int Garbled { get; set; }

    /// <inheritdoc/>
    public bool ReadPage(int page, byte[] into, int offset)
    {
        Asked++;
        if (!Sound.ReadPage(page, into, offset)) return false;
        if (Garbled > 0)
        {
            Garbled--;
            into[offset + StoreMap.PageBytes - 1] ^= 1;
        }
        return true;
    }

    /// <inheritdoc/>
    public bool WritePage(int page, byte[] from, int offset)
    {
        Asked++;
        return Sound.WritePage(page, from, offset);
    }
}

/// <summary>Pages are written from the last to the first, and each is read back. A chip that does not answer or is wrong is distinguished from a slow one.</summary>
[TestClass]
public class PageWriterTests
{
    private const long Second = 1_000_000;

    private TroubledMemory _memory = new TroubledMemory();
    private PageWriter _writer = new PageWriter(new TroubledMemory());

    private void Begin(int firstPage, int pages)
    {
        _memory = new TroubledMemory();
        _writer = new PageWriter(_memory);
        for (int i = 0; i < pages * StoreMap.PageBytes; i++) _writer.Buffer[i] = (byte)(i + i / StoreMap.PageBytes);
        Assert.IsFalse(_writer.Busy);
        _writer.Begin(firstPage, pages);
        Assert.IsTrue(_writer.Busy);
    }

    private void IsState(PageWriterState state) => Assert.AreEqual((int)state, (int)_writer.State);

    private void IsWritten(int firstPage, int page)
    {
        for (int i = 0; i < StoreMap.PageBytes; i++)
        {
            int at = page * StoreMap.PageBytes + i;
            Assert.AreEqual((int)_writer.Buffer[at], (int)_memory.Sound.Cells[firstPage * StoreMap.PageBytes + at]);
        }
    }

    [TestMethod]
    public void OneTransferACallLastPageFirst()
    {
        Begin(5, 3);
        for (int page = 2; page >= 0; page--)
        {
            IsState(PageWriterState.Working);
            _writer.Step(0);
            IsWritten(5, page);
            Assert.AreEqual(3 - page, _memory.Sound.Writes);
            if (page > 0) Assert.AreEqual(0xFF, (int)_memory.Sound.Cells[(5 + page - 1) * StoreMap.PageBytes]);
            _writer.Step(0);
        }
        IsState(PageWriterState.Done);
        Assert.IsFalse(_writer.Busy);
        Assert.AreEqual(6, _memory.Asked);
        _writer.Step(Second);
        Assert.AreEqual(6, _memory.Asked);
    }

    [TestMethod]
    public void ASilenceIsOneWhenItLastsLongerThanAnyWrite()
    {
        Begin(5, 1);
        _writer.Step(0);
        _memory.Sound.Silent = true;
        _writer.Step(1_000);
        _writer.Step(1_000 + PageWriter.SilentUs);
        IsState(PageWriterState.Working);
        _writer.Step(1_001 + PageWriter.SilentUs);
        IsState(PageWriterState.Silent);
        Assert.IsTrue(_writer.Busy);

        // Asked again only now and then; what was begun before is written once more.
        long again = 1_001 + PageWriter.SilentUs + PageWriter.AgainUs;
        int asked = _memory.Asked;
        _writer.Step(again - 1);
        Assert.AreEqual(asked, _memory.Asked);
        _writer.Step(again);
        Assert.AreEqual(asked + 1, _memory.Asked);
        IsState(PageWriterState.Silent);
        _memory.Sound.Silent = false;
        _writer.Step(again + PageWriter.AgainUs - 1);
        Assert.AreEqual(asked + 1, _memory.Asked);
        _writer.Step(again + PageWriter.AgainUs);
        IsState(PageWriterState.Working);
        Assert.AreEqual(2, _memory.Sound.Writes);
        _writer.Step(again + PageWriter.AgainUs + 1);
        IsState(PageWriterState.Done);
    }

    [TestMethod]
    public void AnAnswerEndsTheWaiting()
    {
        Begin(5, 1);
        _memory.Sound.Silent = true;
        _writer.Step(0);
        _writer.Step(PageWriter.SilentUs);
        _memory.Sound.Silent = false;
        _writer.Step(PageWriter.SilentUs + 1);
        _memory.Sound.Silent = true;
        _writer.Step(PageWriter.SilentUs + 2);
        _writer.Step(2 * PageWriter.SilentUs + 2);
        IsState(PageWriterState.Working);
        // A new job begins with no waiting behind it.
        _writer.Begin(5, 1);
        _writer.Step(9 * Second);
        IsState(PageWriterState.Working);
    }

    [TestMethod]
    public void APageIsWrittenThreeTimesBeforeTheJobIsGivenUp()
    {
        Begin(5, 2);
        _memory.Garbled = 2;
        while (_writer.Busy && _memory.Sound.Writes < 4) _writer.Step(0);
        // Three times the first, and the second has its own three.
        _memory.Garbled = 2;
        while (_writer.Busy) _writer.Step(0);
        IsState(PageWriterState.Done);
        Assert.AreEqual(6, _memory.Sound.Writes);
        IsWritten(5, 0);
        IsWritten(5, 1);

        Begin(5, 2);
        _memory.Garbled = 3;
        while (_writer.Busy) _writer.Step(0);
        IsState(PageWriterState.Refused);
        Assert.AreEqual(3, _memory.Sound.Writes);
        int asked = _memory.Asked;
        _writer.Step(Second);
        Assert.AreEqual(asked, _memory.Asked);
        // The next job has its three tries again.
        _writer.Begin(5, 2);
        _memory.Garbled = 2;
        while (_writer.Busy) _writer.Step(0);
        IsState(PageWriterState.Done);
    }
}
