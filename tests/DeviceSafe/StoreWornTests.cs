using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A page that does not accept writes is set aside and remembered. A new start of the logbook wipes the pages that it takes over.</summary>
[TestClass]
public class StoreWornTests
{
    private const long Second = 1_000_000;

    private static void Take(StoreBench bench, int frames)
    {
        ShotPlan plan = new ShotPlan { BoxTimed = true, Shape = PlanShape.Series, ExposureUs = Second / 2, Frames = frames, IntervalUs = 3 * Second, SettleUs = Second };
        Assert.IsTrue(bench.Bench.Desk.StartPlan(plan, bench.Settings.Camera, bench.Bench.NowUs));
        bench.Pass((3 * frames + 25) * Second);
        bench.Bench.Desk.Acknowledge();
        bench.Pass(Second);
    }

    [TestMethod]
    public void AWornPageOfTheLogbookIsLeftOut()
    {
        PlainMemory memory = new PlainMemory();
        memory.Worn[StoreMap.LogFirstPage + 1] = true;
        StoreBench bench = new StoreBench(memory);
        Take(bench, 8);
        bench.Settings.StepShutter(1);
        bench.Pass(10 * Second);
        Assert.IsTrue(bench.Keeper.Settled);
        Assert.IsFalse(bench.Health.Any);
        Assert.AreEqual(8, bench.Keeper.Logbook.Count);
        // Three times, and once more after a while; then never again.
        Assert.AreEqual(6, memory.Wear[StoreMap.LogFirstPage + 1]);
        StoreBench after = new StoreBench(memory);
        Assert.AreEqual(8, after.Keeper.Logbook.Count);
        Assert.AreEqual(0, after.Keeper.Logbook.BadPages);
        Assert.AreEqual(bench.Settings.Base.Shutter.Index, after.Settings.Base.Shutter.Index);
        Assert.IsFalse(after.Health.Any);
        LogEntry entry = new LogEntry();
        for (int i = 0; i < 8; i++)
        {
            Assert.IsTrue(after.Keeper.Logbook.Read(i, entry));
            Check.Near(1.1 + 3 * i, entry.StartTenths / 10.0, 0.1, "the entries stand in their order");
        }
    }

    [TestMethod]
    public void AWornPageOfARecordMovesAndSoDoesItsStandIn()
    {
        PlainMemory memory = new PlainMemory();
        for (int copy = 0; copy < StoreMap.Copies; copy++) memory.Worn[StoreMap.FirstPage(RecordId.Settings, copy)] = true;
        // The first stand-in, and the first page of the table.
        memory.Worn[StoreMap.LogFirstPage] = true;
        memory.Worn[StoreMap.LogFirstPage + 1] = true;
        StoreBench bench = new StoreBench(memory);
        for (int i = 1; i <= 3; i++)
        {
            bench.Settings.StepShutter(1);
            bench.Pass(60 * Second);
            Assert.IsTrue(bench.Keeper.Settled);
            StoreBench after = new StoreBench(memory);
            Assert.AreEqual(bench.Settings.Base.Shutter.Index, after.Settings.Base.Shutter.Index);
            Assert.IsFalse(after.Health.Any);
        }
        Assert.AreEqual(6, memory.Wear[StoreMap.FirstPage(RecordId.Settings, 0)]);
        Assert.AreEqual(6, memory.Wear[StoreMap.LogFirstPage]);
    }

    [TestMethod]
    public void FramesThatAreNotKeptAreReported()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory);
        Take(bench, 2);
        memory.Silent = true;
        Take(bench, 3);
        Assert.AreEqual(3, bench.Health.FramesNotKept);
        Assert.AreEqual("memory does not answer", bench.Health.Failed(0));
        Assert.AreEqual("3 frames not in logbook", bench.Health.Failed(4 * Second));
        Assert.AreEqual("the camera took them", bench.Health.Works(4 * Second));
        memory.Silent = false;
        bench.Pass(20 * Second);
        Assert.AreEqual(0, bench.Health.FramesNotKept);
        Assert.AreEqual(5, bench.Keeper.Logbook.Count);
        Assert.IsFalse(bench.Health.Any);
    }

    [TestMethod]
    public void StartingAfreshWipesTheLogbook()
    {
        PlainMemory memory = new PlainMemory();
        for (int i = 0; i < memory.Cells.Length; i++) memory.Cells[i] = (byte)(i * 7 + i / 32);
        StoreBench bench = new StoreBench(memory);
        Assert.AreEqual((int)MemoryTrouble.Damaged, (int)bench.Health.Memory);
        Take(bench, 2);
        Assert.AreEqual(2, bench.Health.FramesNotKept);
        Assert.AreEqual(0, memory.Writes);
        bench.Health.StartAfresh = true;
        bench.Pass(30 * Second);
        Assert.IsTrue(bench.Keeper.Settled);
        StoreBench after = new StoreBench(memory);
        Assert.IsFalse(after.Health.Any);
        Assert.AreEqual((int)RecordStatus.Good, (int)after.Keeper.Logbook.Status);
        Assert.AreEqual(0, after.Keeper.Logbook.BadPages);
        Assert.AreEqual(2, after.Keeper.Logbook.Count);
    }

    /// <summary>A page of later firmware is wiped as well. What stands in for a worn page of a record is none of the logbook's, and stays.</summary>
    [TestMethod]
    public void AFreshStartWipesLaterPagesAndNoStandIn()
    {
        PlainMemory memory = new PlainMemory();
        memory.Worn[StoreMap.FirstPage(RecordId.Settings, 0)] = true;
        memory.Worn[StoreMap.FirstPage(RecordId.Settings, 1)] = true;
        StoreBench bench = new StoreBench(memory);
        for (int i = 0; i < 2; i++)
        {
            bench.Settings.StepShutter(1);
            bench.Pass(60 * Second);
        }
        Assert.IsTrue(bench.Keeper.Settled);
        int later = (StoreMap.LogFirstPage + 30) * StoreMap.PageBytes;
        for (int i = 0; i < StoreMap.PageBytes; i++) memory.Cells[later + i] = 0;
        memory.Cells[later] = 30;
        memory.Cells[later + 3] = 0x31;
        int crc = Crc.Of16(memory.Cells, later, StoreMap.PageBytes - 2);
        memory.Cells[later + StoreMap.PageBytes - 2] = (byte)crc;
        memory.Cells[later + StoreMap.PageBytes - 1] = (byte)(crc >> 8);
        StoreBench after = new StoreBench(memory);
        Assert.AreEqual((int)MemoryTrouble.Newer, (int)after.Health.Memory);
        after.Health.StartAfresh = true;
        after.Pass(30 * Second);
        Assert.IsTrue(after.Keeper.Settled);
        after = new StoreBench(memory);
        Assert.IsFalse(after.Health.Any);
        Assert.AreEqual(bench.Settings.Base.Shutter.Index, after.Settings.Base.Shutter.Index);
        Assert.AreEqual((int)RecordStatus.Good, (int)after.Keeper.Records.Status(RecordId.Settings));
    }

    /// <summary>A page that is not taken may have been the bus: it is tried again 5 s later, and only then set aside.</summary>
    [TestMethod]
    public void APageIsTriedAgainLaterBeforeItIsSetAside()
    {
        PlainMemory memory = new PlainMemory();
        memory.Worn[StoreMap.LogFirstPage] = true;
        StoreBench bench = new StoreBench(memory);
        bench.Bench.Link.Frames.Add(0, 1000, 0, 0, false, false);
        bench.Pass(4 * Second);
        Assert.AreEqual(3, memory.Wear[StoreMap.LogFirstPage]);
        Assert.AreEqual(3, memory.Writes);
        memory.Worn[StoreMap.LogFirstPage] = false;
        bench.Pass(4 * Second);
        Assert.AreEqual(4, memory.Writes);
        Assert.AreEqual(1, bench.Keeper.Logbook.Count);
        Assert.IsFalse(bench.Health.Any);
    }

    [TestMethod]
    public void TheNumbersOfThePagesComeRound()
    {
        PlainMemory memory = new PlainMemory();
        PageWriter writer = new PageWriter(memory);
        Logbook log = Near(memory, writer, 20);
        LogEntry entry = new LogEntry();
        for (int i = 1; i < 90; i++)
        {
            // Switched off and on at every page of the round.
            log = new Logbook(memory, writer);
            Assert.AreEqual((int)RecordStatus.Good, (int)log.Scan());
            Assert.AreEqual(i < StoreMap.LogPages ? i : StoreMap.LogPages, log.Count);
            Assert.IsTrue(log.Read(log.Count - 1, entry));
            Assert.AreEqual(i - 1, (int)entry.StartTenths);
            Assert.IsTrue(log.Read(0, entry));
            Assert.AreEqual(i - log.Count, (int)entry.StartTenths);
            entry.StartTenths = i;
            Append(log, writer, entry);
        }
        // The page with the last number of all is unreadable, and those before it still stand.
        log.LeaveOut();
        Assert.AreEqual(StoreMap.LogPages - 1, log.Count);
        Assert.IsTrue(log.Read(0, entry));
        Assert.AreEqual(90 - log.Count, (int)entry.StartTenths);
    }

    [TestMethod]
    public void TheNumbersComeRoundWithoutTheLastOne()
    {
        PlainMemory memory = new PlainMemory();
        PageWriter writer = new PageWriter(memory);
        Logbook log = Near(memory, writer, 3);
        LogEntry entry = new LogEntry();
        for (int i = 1; i < 8; i++)
        {
            entry.StartTenths = i;
            Append(log, writer, entry);
        }
        // Of the numbers short of the last by 3, 2 and 1, the nearest one's page is blank.
        int page = StoreMap.LogPages - 1;
        for (int i = 0; i < StoreMap.PageBytes; i++) memory.Cells[(StoreMap.LogFirstPage + page) * StoreMap.PageBytes + i] = 0xFF;
        log = new Logbook(memory, writer);
        Assert.AreEqual((int)RecordStatus.Good, (int)log.Scan());
        Assert.AreEqual(7, log.Count);
        for (int i = 0; i < 7; i++)
        {
            Assert.IsTrue(log.Read(i, entry));
            Assert.AreEqual(i < 2 ? i : i + 1, (int)entry.StartTenths);
        }
    }

    // A logbook with one page, whose number is so far short of coming round.
    private static Logbook Near(PlainMemory memory, PageWriter writer, int shortBy)
    {
        Logbook log = new Logbook(memory, writer);
        log.Scan();
        Append(log, writer, new LogEntry());
        int number = Logbook.Numbers - shortBy;
        int at = StoreMap.LogFirstPage * StoreMap.PageBytes;
        // divisor: the logbook has pages
        int to = at + number % StoreMap.LogPages * StoreMap.PageBytes;
        for (int i = 0; i < StoreMap.PageBytes; i++)
        {
            memory.Cells[to + i] = memory.Cells[at + i];
            memory.Cells[at + i] = 0xFF;
        }
        for (int i = 0; i < 3; i++) memory.Cells[to + i] = (byte)(number >> (8 * i));
        int crc = Crc.Of16(memory.Cells, to, StoreMap.PageBytes - 2);
        memory.Cells[to + StoreMap.PageBytes - 2] = (byte)crc;
        memory.Cells[to + StoreMap.PageBytes - 1] = (byte)(crc >> 8);
        log.Scan();
        return log;
    }

    private static void Append(Logbook log, PageWriter writer, LogEntry entry)
    {
        Assert.IsTrue(log.TryAppend(entry, null));
        while (writer.Busy) writer.Step(0);
        log.Written();
    }

    /// <summary>A copy whose payload is whole and whose header is not: version, length and sequence are under the check as well.</summary>
    [TestMethod]
    public void ARecordsHeaderIsUnderItsCheck()
    {
        PlainMemory memory = new PlainMemory();
        PageWriter writer = new PageWriter(memory);
        RecordStore store = new RecordStore(memory, writer);
        store.Find(RecordId.Kit, 1);
        byte[] payload = new byte[60];
        Assert.IsTrue(store.TrySave(RecordId.Kit, 1, payload, payload.Length));
        while (writer.Busy) writer.Step(0);
        int at = StoreMap.FirstPage(RecordId.Kit, 0) * StoreMap.PageBytes;
        for (int i = 0; i < RecordStore.HeaderBytes; i++)
        {
            memory.Cells[at + i] ^= 2;
            Assert.AreEqual((int)RecordStatus.Unfinished, (int)store.Find(RecordId.Kit, 1));
            memory.Cells[at + i] ^= 2;
        }
        Assert.AreEqual((int)RecordStatus.Good, (int)store.Find(RecordId.Kit, 1));
    }
}
