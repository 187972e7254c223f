using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The note of fatal errors survives a restart and goes into the memory; parts are given up in their order.</summary>
[TestClass]
public class FaultTests
{
    private static FaultNote Happened(int times)
    {
        FaultNote note = new FaultNote();
        for (int i = 0; i < times; i++) note.Happened(FaultKind.OutOfMemory, FaultPlace.Shore);
        return note;
    }

    private static byte[] Held(FaultNote note)
    {
        byte[] bytes = new byte[FaultNote.Size];
        note.Put(bytes, 0);
        return bytes;
    }

    [TestMethod]
    public void TheNoteComesBackAsItWent()
    {
        FaultNote note = new FaultNote();
        Assert.IsTrue(note.Take(Held(Happened(2))));
        Assert.AreEqual("out of memory in shore", note.Words);
        Assert.AreEqual(2, note.InARow);
        Assert.AreEqual(2, note.Times);
        Assert.AreEqual(2, note.Uncounted);
        Assert.IsFalse(note.MustStayDown);
        note.Happened(FaultKind.Other, FaultPlace.Start);
        Assert.IsTrue(note.MustStayDown);
        note.StaysDown();
        Assert.IsFalse(note.MustStayDown, "the next power-on may try again");
        Assert.AreEqual(3, note.Times, "the note counts three restarts");
    }

    [TestMethod]
    public void AnyBitThatIsWrongIsNoNote()
    {
        for (int bit = 0; bit < FaultNote.Size * 8; bit++)
        {
            byte[] bytes = Held(Happened(1));
            bytes[bit / 8] = (byte)(bytes[bit / 8] ^ (1 << (bit % 8)));
            Assert.IsFalse(new FaultNote().Take(bytes), "bit " + bit.ToString());
        }
        Assert.IsFalse(new FaultNote().Take(new byte[FaultNote.Size]));
    }

    [TestMethod]
    public void AGoodRunIsReportedUntilTheNextStartOnly()
    {
        FaultNote note = Happened(2);
        note.RanWell();
        Assert.AreEqual(2, note.Times);
        FaultNote next = new FaultNote();
        Assert.IsTrue(next.Take(Held(note)));
        Assert.AreEqual(0, next.Times);
        Assert.AreEqual(0, next.InARow);
        note.Happened(FaultKind.Other, FaultPlace.Start);
        Assert.AreEqual(1, note.Times, "a new row");
    }

    [TestMethod]
    public void TheCountsDoNotRunOver()
    {
        FaultNote note = Happened(300);
        FaultNote next = new FaultNote();
        Assert.IsTrue(next.Take(Held(note)));
        Assert.IsTrue(next.MustStayDown);
        for (int i = 0; i < 300; i++)
        {
            next.Count();
            for (int k = 0; k < 255; k++) next.Happened(FaultKind.Other, FaultPlace.Start);
        }
        Assert.AreEqual(65535, next.Total);
    }

    /// <summary>The memory keeps the total in two copies, on pages that the settings do not use.</summary>
    [TestMethod]
    public void TheMemoryKeepsTheLastFaultAndItsCount()
    {
        PlainMemory memory = new PlainMemory();
        for (int start = 1; start <= 3; start++)
        {
            StoreBench bench = new StoreBench(memory);
            Assert.AreEqual((start - 1) * 2, bench.Health.Fault.Total);
            bench.Health.Fault.Happened(FaultKind.BadState, FaultPlace.Release);
            bench.Health.Fault.Happened(FaultKind.OutOfMemory, FaultPlace.Start);
            bench.Settings.StepShutter(1);
            Assert.IsTrue(bench.Health.Fault.Count());
            Assert.IsFalse(bench.Health.Fault.Count());
            bench.Pass(6_000_000);
            Assert.IsTrue(bench.Keeper.Settled);
        }
        StoreBench last = new StoreBench(memory);
        Assert.AreEqual(6, last.Health.Fault.Total);
        Assert.AreEqual("out of memory in start", last.Health.Fault.Words);
        Assert.AreEqual(0, last.Health.Fault.Times, "the box does not tell again what the memory already counts");
        Assert.AreEqual(-15, last.Settings.Base.Shutter.Index);
        Assert.IsTrue(last.Health.Memory == MemoryTrouble.None);
    }

    [TestMethod]
    public void NoTwoRecordsShareAPage()
    {
        bool[] taken = new bool[StoreMap.LogFirstPage];
        for (int id = 1; id <= StoreMap.Records; id++)
        {
            for (int copy = 0; copy < StoreMap.Copies; copy++)
            {
                int first = StoreMap.FirstPage((RecordId)id, copy);
                for (int page = first; page < first + StoreMap.CopyPages((RecordId)id); page++)
                {
                    Assert.IsFalse(taken[page], StoreMap.Words((RecordId)id) + " on page " + page.ToString());
                    taken[page] = true;
                }
            }
        }
    }

    [TestMethod]
    public void PartsAreGivenUpInTheirOrder()
    {
        SpareParts spare = new SpareParts();
        Assert.IsTrue(spare.HasRoom(1_000_000), "without a gauge the box cannot know better");
        Assert.AreEqual("", spare.Words);
        Assert.IsTrue(spare.GiveUpNext());
        Assert.IsFalse(spare.Has(SparePart.Mornings));
        Assert.IsTrue(spare.Has(SparePart.DayCurve));
        Assert.IsTrue(spare.GiveUpNext());
        Assert.IsFalse(spare.Has(SparePart.DayCurve));
        Assert.IsTrue(spare.Has(SparePart.FrameList));
        Assert.IsTrue(spare.GiveUpNext());
        Assert.IsFalse(spare.Has(SparePart.FrameList));
        Assert.IsTrue(spare.Has(SparePart.QuickTide));
        Assert.IsTrue(spare.GiveUpNext());
        Assert.IsFalse(spare.Has(SparePart.QuickTide));
        Assert.IsFalse(spare.GiveUpNext());
    }
}
