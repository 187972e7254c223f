using Intervalometer.Core.Exposure;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>What the logbook records of a frame and of a stopped one, and which pages it accepts.</summary>
[TestClass]
public class LogbookTests
{
    private const long Second = 1_000_000;

    private static LogEntry Entry(StoreBench bench, int index)
    {
        LogEntry entry = new LogEntry();
        Assert.IsTrue(bench.Keeper.Logbook.Read(index, entry));
        return entry;
    }

    private static void Take(StoreBench bench, ShotPlan plan)
    {
        Assert.IsTrue(bench.Bench.Desk.StartPlan(plan, bench.Settings.Camera, bench.Bench.NowUs));
        bench.Pass(10 * Second);
        Assert.IsTrue(bench.Keeper.Settled);
    }

    private static ShotPlan Bulb(long exposureUs) => new ShotPlan { BoxTimed = true, ExposureUs = exposureUs, SettleUs = Second };

    [TestMethod]
    public void LightStopsAndWaveAreNotedToTheNearestHundredth()
    {
        StoreBench bench = new StoreBench(new PlainMemory());
        Filter filter = new Filter("GREY", FilterKind.Nd) { On = true };
        filter.SetStrength(FilterScale.Factor, 100);
        bench.Settings.Kit = new FilterKit();
        bench.Settings.Kit.Add(filter);
        bench.Settings.Solve();
        // A factor of 100 is 6.6439 stops.
        for (int i = 0; i < 6; i++)
        {
            // Thirds of a stop of light above and below zero.
            bench.Settings.SetBase(new MeteredBase(new ApertureSetting(i < 3 ? 18 : 0), new IsoSetting(i < 3 ? 0 : 6), new ShutterSetting(-i % 3), 0));
            double light = bench.Settings.Base.Ev100;
            Assert.IsTrue(i < 3 ? light > 0 : light < 0);
            Take(bench, Bulb(Second));
            LogEntry entry = Entry(bench, i);
            Check.Near(100 * light, entry.LightHundredths, 0.5, "light");
            Assert.AreEqual(664, entry.StopsHundredths);
            Assert.AreEqual(-1, entry.WaveThousandths);
        }
    }

    [TestMethod]
    public void WhereInTheWaveAFrameBeganIsNoted()
    {
        StoreBench bench = new StoreBench(new PlainMemory());
        bench.Bench.MarkSteadily(Second, 10 * Second, 4);
        double period = bench.Bench.Desk.Waves.Rhythm.PeriodSeconds;
        Check.Near(10, period, 0.05, "period");
        // The last turn was at 31 s. Pressed at 35 s, a second to settle and 60 ms of lag.
        bench.Bench.RunTo(35 * Second);
        Take(bench, Bulb(Second));
        // divisor: just seen to be about 10
        Check.Near(5.06 / period * 1000, Entry(bench, 0).WaveThousandths, 1.5, "a half");
        // Pressed at 45 s: one whole period more.
        Take(bench, Bulb(Second));
        // divisor: as above
        Check.Near((15.06 / period - 1) * 1000, Entry(bench, 1).WaveThousandths, 1.5, "the wave after");
    }

    [TestMethod]
    public void FramesThatCameTooFastAreCounted()
    {
        StoreBench bench = new StoreBench(new PlainMemory());
        ShotPlan series = new ShotPlan { Shape = PlanShape.Series, Frames = FrameRing.Capacity + 6, ExposureUs = Second / 4, IntervalUs = Second, SettleUs = Second };
        Assert.IsTrue(bench.Bench.Desk.StartPlan(series, bench.Settings.Camera, 0));
        bench.Bench.RunTo(200 * Second);
        bench.Pass(10 * Second);
        Assert.AreEqual(6, bench.Keeper.FramesLost);
        Assert.AreEqual(FrameRing.Capacity, bench.Keeper.Logbook.Count);
        Assert.IsTrue(bench.Keeper.Settled);
        // The seventh frame is the oldest kept.
        Assert.AreEqual(71L, Entry(bench, 0).StartTenths);
    }

    // A plan of 600 s, stopped this long after its contact closed at 6 s.
    private static StoreBench StoppedAfter(long us, bool boxTimed)
    {
        StoreBench bench = new StoreBench(new PlainMemory());
        ShotPlan plan = new ShotPlan { BoxTimed = boxTimed, ExposureUs = 600 * Second, SettleUs = 6 * Second };
        Assert.IsTrue(bench.Bench.Desk.StartPlan(plan, bench.Settings.Camera, 0));
        bench.Pass(6 * Second + us);
        bench.Bench.Desk.StopNow(bench.Bench.NowUs);
        bench.Pass(5 * Second);
        return bench;
    }

    [TestMethod]
    public void AFrameStoppedWithinTheCamerasLagLastsAsLongAsItsContactWasClosed()
    {
        StoreBench bench = StoppedAfter(30_000, true);
        Assert.AreEqual(1, bench.Keeper.Logbook.Count);
        Assert.IsTrue(Entry(bench, 0).CutShort);
        Assert.AreEqual(30_000L, Entry(bench, 0).ExposureUs);
        Assert.IsTrue(bench.Keeper.Settled);
    }

    [TestMethod]
    public void AStopBeforeTheFrameNotesNothingAndLeavesTheFrameBeforeAsItWas()
    {
        StoreBench bench = StoppedAfter(-1 * Second, true);
        Assert.AreEqual(0, bench.Keeper.Logbook.Count);
        bench.Bench.Desk.Acknowledge();
        bench.Pass(Second);

        // A frame on the camera's own dial goes on whatever the contact does, even over the stop of the next plan.
        bench = StoppedAfter(20 * Second, false);
        Assert.AreEqual(0, bench.Keeper.Logbook.Count);
        bench.Bench.Desk.Acknowledge();
        bench.Pass(Second);
        Assert.IsTrue(bench.Bench.Desk.StartPlan(Bulb(8 * Second), bench.Settings.Camera, bench.Bench.NowUs));
        bench.Pass(Second);
        bench.Bench.Desk.StopNow(bench.Bench.NowUs);
        bench.Pass(5 * Second);
        Assert.AreEqual(0, bench.Keeper.Logbook.Count);
        bench.Pass(600 * Second);
        Assert.AreEqual(1, bench.Keeper.Logbook.Count);
        Assert.IsFalse(Entry(bench, 0).CutShort);
        Check.Near(600, Entry(bench, 0).ExposureUs / 1e6, 0.001, "planned");
    }

    [TestMethod]
    public void EachStopCutsItsOwnFrame()
    {
        StoreBench bench = new StoreBench(new PlainMemory());
        for (int i = 1; i <= 2; i++)
        {
            Assert.IsTrue(bench.Bench.Desk.StartPlan(Bulb(600 * Second), bench.Settings.Camera, bench.Bench.NowUs));
            bench.Pass((2 + i) * Second);
            bench.Bench.Desk.StopNow(bench.Bench.NowUs);
            bench.Pass(20 * Second);
            bench.Bench.Desk.Acknowledge();
            bench.Pass(Second);
            Assert.AreEqual(i, bench.Keeper.Logbook.Count);
            Assert.IsTrue(Entry(bench, i - 1).CutShort);
            Check.Near(1 + i, Entry(bench, i - 1).ExposureUs / 1e6, 0.1, "stopped");
        }
        Take(bench, Bulb(Second));
        Assert.IsFalse(Entry(bench, 2).CutShort);
    }

    // A memory whose logbook holds this many pages of two frames each.
    private static PlainMemory Written(int pages, bool withUtc)
    {
        PlainMemory memory = new PlainMemory();
        PageWriter writer = new PageWriter(memory);
        Logbook log = new Logbook(memory, writer);
        log.Scan();
        for (int i = 0; i < pages; i++)
        {
            LogEntry entry = new LogEntry { Session = 7, HasUtc = withUtc, StartUtcSeconds = 5, StartTenths = i };
            Assert.IsTrue(log.TryAppend(entry, entry));
            while (writer.Busy) writer.Step(0);
            log.Written();
        }
        return memory;
    }

    private static int At(int page) => (StoreMap.LogFirstPage + page) * StoreMap.PageBytes;

    // Sets the byte that holds version and frames, and makes the page's check fit again.
    private static void SetVersionAndFrames(PlainMemory memory, int page, int value)
    {
        memory.Cells[At(page) + 3] = (byte)value;
        int crc = Crc.Of16(memory.Cells, At(page), StoreMap.PageBytes - 2);
        memory.Cells[At(page) + StoreMap.PageBytes - 2] = (byte)crc;
        memory.Cells[At(page) + StoreMap.PageBytes - 1] = (byte)(crc >> 8);
    }

    private static Logbook Scanned(PlainMemory memory, RecordStatus status, int frames, int bad)
    {
        Logbook log = new Logbook(memory, new PageWriter(memory));
        Assert.AreEqual((int)status, (int)log.Scan());
        Assert.AreEqual((int)status, (int)log.Status);
        Assert.AreEqual(frames, log.Count);
        Assert.AreEqual(bad, log.BadPages);
        return log;
    }

    [TestMethod]
    public void AFewUnreadablePagesAreTakenForPowerCutsAndManyForADamagedMemory()
    {
        PlainMemory memory = Written(10, false);
        Assert.IsFalse(Scanned(memory, RecordStatus.Good, 20, 0).Held);
        for (int page = 0; page < 4; page++) memory.Cells[At(page) + 9] ^= 1;
        Assert.IsFalse(Scanned(memory, RecordStatus.OneCopy, 12, 4).Held);
        memory.Cells[At(4) + 9] ^= 1;
        Logbook log = Scanned(memory, RecordStatus.Damaged, 10, 5);
        Assert.IsTrue(log.Held);
        Assert.IsFalse(log.TryAppend(new LogEntry(), null));
        log.Release();
        Assert.IsFalse(log.Held);
        Assert.AreEqual((int)RecordStatus.OneCopy, (int)log.Status);
        Assert.IsTrue(log.TryAppend(new LogEntry(), null));
        // One job at a time.
        Assert.IsFalse(log.TryAppend(new LogEntry(), null));
    }

    [TestMethod]
    public void APageInAnotherPlaceOrWithAnImpossibleCountIsNotBelieved()
    {
        PlainMemory memory = Written(3, false);
        for (int i = 0; i < StoreMap.PageBytes; i++) memory.Cells[At(20) + i] = memory.Cells[At(1) + i];
        Scanned(memory, RecordStatus.OneCopy, 6, 1);
        SetVersionAndFrames(memory, 1, (Logbook.Version << 4) | 0);
        SetVersionAndFrames(memory, 2, (Logbook.Version << 4) | 3);
        Scanned(memory, RecordStatus.OneCopy, 2, 3);
        SetVersionAndFrames(memory, 1, (Logbook.Version << 4) | 1);
        SetVersionAndFrames(memory, 2, (Logbook.Version << 4) | 2);
        Scanned(memory, RecordStatus.OneCopy, 5, 1);
    }

    [TestMethod]
    public void APageOfALaterFirmwareHoldsTheWholeLogbook()
    {
        PlainMemory memory = Written(3, false);
        SetVersionAndFrames(memory, 1, ((Logbook.Version + 1) << 4) | 2);
        Logbook log = Scanned(memory, RecordStatus.Newer, 4, 0);
        Assert.IsTrue(log.Held);
        Assert.IsFalse(log.TryAppend(new LogEntry(), null));
        log.Release();
        Assert.IsTrue(log.TryAppend(new LogEntry(), null));
    }

    [TestMethod]
    public void TheSessionOfTheLastFrameIsKnownWithoutAClock()
    {
        Assert.AreEqual(-1, Scanned(new PlainMemory(), RecordStatus.Empty, 0, 0).LastSession);
        Assert.AreEqual(7, Scanned(Written(2, false), RecordStatus.Good, 4, 0).LastSession);
        Assert.AreEqual(-1, Scanned(Written(2, true), RecordStatus.Good, 4, 0).LastSession);
        LogEntry entry = new LogEntry();
        Logbook log = Scanned(Written(2, false), RecordStatus.Good, 4, 0);
        Assert.IsFalse(log.Read(-1, entry));
        Assert.IsTrue(log.Read(3, entry));
        Assert.AreEqual(1L, entry.StartTenths);
        Assert.IsFalse(log.Read(4, entry));
    }

    [TestMethod]
    public void EachPowerOnIsASessionOfItsOwn()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench first = new StoreBench(memory);
        Take(first, Bulb(Second));
        Assert.AreEqual(0, Entry(first, 0).Session);
        StoreBench second = new StoreBench(memory);
        Take(second, Bulb(Second));
        Take(second, Bulb(Second));
        Assert.AreEqual(1, Entry(second, 1).Session);
        Assert.AreEqual(1, Entry(second, 2).Session);
    }

    [TestMethod]
    public void ALogbookThatDidNotAnswerIsNotWritten()
    {
        PlainMemory memory = new PlainMemory { Silent = true };
        Logbook log = new Logbook(memory, new PageWriter(memory));
        Assert.AreEqual((int)RecordStatus.NoAnswer, (int)log.Scan());
        Assert.IsFalse(log.TryAppend(new LogEntry(), null));
        Assert.IsFalse(log.Read(0, new LogEntry()));
    }
}
