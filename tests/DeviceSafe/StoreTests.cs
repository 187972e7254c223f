using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>What is written to the memory comes back, whole, in order, and only when it is sound.</summary>
[TestClass]
public class StoreTests
{
    private const long Second = 1_000_000;

    private static byte[] Digits()
    {
        byte[] digits = new byte[9];
        for (int i = 0; i < 9; i++) digits[i] = (byte)('1' + i);
        return digits;
    }

    /// <summary>Check values of "123456789": catalogue of parametrised CRC algorithms (G. Cook), CRC-32/ISO-HDLC and CRC-16/IBM-3740.</summary>
    [TestMethod]
    public void TheChecksMatchTheCatalogue()
    {
        long crc32 = Crc.Of32(Digits(), 0, 9);
        Assert.AreEqual(0xCBF43926L, crc32);
        Assert.AreEqual(0x29B1, Crc.Of16(Digits(), 0, 9));
        Assert.AreEqual(0xFFFF, Crc.Of16(Digits(), 0, 0));
    }

    [TestMethod]
    public void ACheckInPartsIsTheSame()
    {
        uint parts = Crc.Add32(Crc.Add32(Crc.Start32, Digits(), 0, 4), Digits(), 4, 5);
        Assert.IsTrue(Crc.Finish32(parts) == Crc.Of32(Digits(), 0, 9));
    }

    [TestMethod]
    public void NumbersComeBackAsTheyWent()
    {
        Bytes bytes = new Bytes(new byte[40], 40);
        bytes.Put(-1, 1);
        bytes.Put(-3000, 2);
        bytes.Put(65535, 2);
        bytes.Put(86_400_000_000, 5);
        bytes.Put(-86_400_000_000, 8);
        bytes.PutFlag(true);
        int written = bytes.At;
        byte[] data = new byte[40];
        bytes.Restart(data, 40);
        bytes.Put(-1, 1);
        bytes.Put(-3000, 2);
        bytes.Put(65535, 2);
        bytes.Put(86_400_000_000, 5);
        bytes.Put(-86_400_000_000, 8);
        bytes.PutFlag(true);
        bytes.Restart(data, written);
        Assert.AreEqual(-1L, bytes.Take(1, -39, 15, 0));
        Assert.AreEqual(-3000L, bytes.Take(2, -3000, 5000, 0));
        Assert.AreEqual(65535L, bytes.Take(2, 0, 65535, 0));
        Assert.AreEqual(86_400_000_000L, bytes.Take(5, 0, 86_400_000_000, 0));
        Assert.AreEqual(-86_400_000_000L, bytes.Take(8, -86_400_000_000, 0, 0));
        Assert.IsTrue(bytes.TakeFlag(false));
        Assert.IsFalse(bytes.Bad);
        Assert.AreEqual(7L, bytes.Take(2, 0, 9, 7));
        Assert.IsFalse(bytes.Bad, "a record that ends early is an older one and not a bad one");
    }

    [TestMethod]
    public void AValueOutsideItsRangeIsBad()
    {
        byte[] data = new byte[2];
        Bytes bytes = new Bytes(data, 2);
        bytes.Put(500, 2);
        bytes.Put(1, 1);
        Assert.IsTrue(bytes.Bad, "one byte too many");
        bytes.Restart(data, 2);
        Assert.AreEqual(3L, bytes.Take(2, 0, 499, 3));
        Assert.IsTrue(bytes.Bad);
    }

    private static void Change(BoxSettings settings)
    {
        settings.SetBase(new MeteredBase(new ApertureSetting(20), new IsoSetting(-3), new ShutterSetting(-7), -2));
        settings.StepFilm(3);
        settings.LimitSeconds = 7200;
        settings.Brightness = 9;
        settings.AlwaysBulb = true;
        ShotPlan plan = settings.Plan;
        plan.Shape = PlanShape.Series;
        plan.SettleUs = 4_500_000;
        plan.Frames = 9999;
        plan.GapUs = 60 * Second;
        plan.IntervalUs = 3600 * Second;
        plan.HoldUs = 700_000;
        plan.BracketThirds = 9;
        WaveOrder waves = settings.Waves;
        waves.Way = FiringWay.OnArrival;
        waves.DelayMs = 20000;
        waves.BestMoment = false;
        waves.FromTurnMs = -3000;
        waves.FramesPerWave = 9;
        waves.GapMs = 5000;
        waves.EveryWave = 4;
        waves.Waves = 99;
        waves.Minutes = 240;
        settings.Camera.HalfPressLeadMs = 5000;
        settings.Camera.ShutterLagMs = 999;
        settings.Camera.MinimumGapMs = 40;
        settings.Camera.PulseMs = 1000;
        settings.Camera.DarkFrame = true;
        settings.Camera.MirrorLockUp = true;
        settings.Camera.MirrorSettleMs = 10000;
        settings.Kit = FullKit();
        settings.Solve();
    }

    internal static FilterKit FullKit()
    {
        FilterKit kit = new FilterKit();
        for (int i = 0; i < FilterKit.Capacity; i++)
        {
            // divisor: there are kinds.
            Filter filter = new Filter("FILTER No" + (char)('A' + i), (FilterKind)(i % FilterKinds.Count));
            if (i % 3 == 0) filter.SetStrength(FilterScale.Factor, Filter.MaxFactor - i);
            else if (i % 3 == 1) filter.SetStrength(FilterScale.Density, 600 - i);
            else filter.SetStrength(FilterScale.Stops, 2000 - i);
            filter.TrimTenths = i - 6;
            filter.EffectTenths = i;
            filter.SharePercent = i % 2 == 0 ? 100 : 50;
            filter.On = i % 2 == 0;
            kit.Add(filter);
        }
        kit.Stacks.Used(3);
        kit.Stacks.Used((1 << FilterKit.Capacity) - 1);
        kit.Stacks.Rename(5, -1);
        return kit;
    }

    private static void CheckChanged(BoxSettings settings)
    {
        Assert.AreEqual(-7, settings.Base.Shutter.Index);
        Assert.AreEqual(20, settings.Base.Aperture.Index);
        Assert.AreEqual(-3, settings.Base.Iso.Index);
        Assert.AreEqual(-2, settings.Base.HandThirds);
        Assert.AreEqual(3, settings.Film.Index);
        Assert.AreEqual(7200, settings.LimitSeconds);
        Assert.AreEqual(9, settings.Brightness);
        Assert.IsTrue(settings.AlwaysBulb);
        Assert.AreEqual((int)PlanShape.Series, (int)settings.Plan.Shape);
        Assert.AreEqual(4_500_000L, settings.Plan.SettleUs);
        Assert.AreEqual(9999, settings.Plan.Frames);
        Assert.AreEqual(60 * Second, settings.Plan.GapUs);
        Assert.AreEqual(3600 * Second, settings.Plan.IntervalUs);
        Assert.AreEqual(700_000L, settings.Plan.HoldUs);
        Assert.AreEqual(9, settings.Plan.BracketThirds);
        Assert.AreEqual((int)FiringWay.OnArrival, (int)settings.Waves.Way);
        Assert.AreEqual(20000, settings.Waves.DelayMs);
        Assert.IsFalse(settings.Waves.BestMoment);
        Assert.AreEqual(-3000, settings.Waves.FromTurnMs);
        Assert.AreEqual(9, settings.Waves.FramesPerWave);
        Assert.AreEqual(5000, settings.Waves.GapMs);
        Assert.AreEqual(4, settings.Waves.EveryWave);
        Assert.AreEqual(99, settings.Waves.Waves);
        Assert.AreEqual(240, settings.Waves.Minutes);
        Assert.AreEqual(5000, settings.Camera.HalfPressLeadMs);
        Assert.AreEqual(999, settings.Camera.ShutterLagMs);
        Assert.AreEqual(40, settings.Camera.MinimumGapMs);
        Assert.AreEqual(1000, settings.Camera.PulseMs);
        Assert.IsTrue(settings.Camera.DarkFrame);
        Assert.IsTrue(settings.Camera.MirrorLockUp);
        Assert.AreEqual(10000, settings.Camera.MirrorSettleMs);
        Assert.AreEqual(FilterKit.Capacity, settings.Kit.Count);
        for (int slot = 0; slot < FilterStacks.Slots; slot++) Assert.AreEqual(FullKit().Stacks.Kept(slot), settings.Kit.Stacks.Kept(slot));
        for (int i = 0; i < FilterKit.Capacity; i++)
        {
            Filter expected = FullKit()[i];
            Filter actual = settings.Kit[i];
            Assert.AreEqual(expected.Name, actual.Name);
            Assert.AreEqual((int)expected.Kind, (int)actual.Kind);
            Assert.AreEqual((int)expected.Scale, (int)actual.Scale);
            Assert.AreEqual(expected.Figure, actual.Figure);
            Assert.AreEqual(expected.TrimTenths, actual.TrimTenths);
            Assert.AreEqual(expected.EffectTenths, actual.EffectTenths);
            Assert.AreEqual(expected.SharePercent, actual.SharePercent);
            Assert.AreEqual(expected.On, actual.On);
        }
    }

    [TestMethod]
    public void EverythingASettingCanBeComesBackAfterAReset()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench before = new StoreBench(memory);
        Change(before.Settings);
        before.Pass(10 * Second);
        Assert.IsTrue(before.Keeper.Settled);
        StoreBench after = new StoreBench(memory);
        CheckChanged(after.Settings);
        Assert.IsFalse(after.Health.Any);
        after.Pass(10 * Second);
        Assert.AreEqual(memory.Writes, before.Memory.Writes);
    }

    [TestMethod]
    public void WhatDoesNotChangeIsNotWritten()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory);
        bench.Pass(10 * Second);
        Assert.AreEqual(0, memory.Writes);
        bench.Settings.StepShutter(1);
        bench.Pass(10 * Second);
        // Header of 16 bytes and 52 of settings: three pages of one copy.
        Assert.AreEqual(3, memory.Writes);
    }

    [TestMethod]
    public void TheRingKeepsTheNewestFramesInOrder()
    {
        PlainMemory memory = new PlainMemory();
        PageWriter writer = new PageWriter(memory);
        Logbook log = new Logbook(memory, writer);
        Assert.AreEqual((int)RecordStatus.Empty, (int)log.Scan());
        LogEntry a = new LogEntry();
        LogEntry b = new LogEntry();
        int frame = 0;
        for (int page = 0; page < 3 * StoreMap.LogPages + 5; page++)
        {
            a.StartTenths = frame++;
            bool two = page % 4 != 0;
            if (two) b.StartTenths = frame++;
            Assert.IsTrue(log.TryAppend(a, two ? b : null));
            while (writer.Busy) writer.Step(0);
            log.Written();
        }
        Logbook again = new Logbook(memory, writer);
        Assert.AreEqual((int)RecordStatus.Good, (int)again.Scan());
        Assert.AreEqual(StoreMap.LogPages * 7 / 4, again.Count);
        Assert.AreEqual(log.Count, again.Count);
        for (int i = 0; i < again.Count; i++)
        {
            Assert.IsTrue(again.Read(i, a));
            Assert.AreEqual(frame - again.Count + i, a.StartTenths);
        }
        Assert.IsFalse(again.Read(again.Count, a));
    }

    [TestMethod]
    public void AFrameComesBackAsItWent()
    {
        byte[] data = new byte[13];
        Bytes bytes = new Bytes(data, 13);
        LogEntry entry = new LogEntry
        {
            Session = 1023,
            StartTenths = LogEntry.MostTenths,
            ExposureUs = 64 * Second,
            CutShort = true,
            StopsHundredths = 1997,
            LightHundredths = -412,
            WaveThousandths = 999,
        };
        entry.Put(bytes);
        bytes.Restart(data, 13);
        LogEntry back = new LogEntry();
        back.Take(bytes);
        Assert.IsFalse(back.HasUtc);
        Assert.AreEqual(1023, back.Session);
        Assert.AreEqual(LogEntry.MostTenths, back.StartTenths);
        Assert.AreEqual(64 * Second, back.ExposureUs);
        Assert.IsTrue(back.CutShort);
        Assert.AreEqual(1997, back.StopsHundredths);
        Assert.AreEqual(-412, back.LightHundredths);
        Assert.AreEqual(999, back.WaveThousandths);
        bytes.Restart(data, 13);
        new LogEntry { HasUtc = true, StartUtcSeconds = 984_549_720, ExposureUs = 7_200_000_001 }.Put(bytes);
        bytes.Restart(data, 13);
        back.Take(bytes);
        Assert.IsTrue(back.HasUtc);
        Assert.AreEqual(984_549_720L, back.StartUtcSeconds);
        Assert.IsFalse(back.CutShort);
        Assert.AreEqual(-1, back.WaveThousandths);
        Check.Near(7_200_000_001.0, back.ExposureUs, 7200.0, "to one part in a million");
    }

    [TestMethod]
    public void ALaterVersionIsReportedAndLeftAlone()
    {
        PlainMemory memory = new PlainMemory();
        PageWriter writer = new PageWriter(memory);
        RecordStore store = new RecordStore(memory, writer);
        store.Find(RecordId.Settings, 9);
        Assert.IsTrue(store.TrySave(RecordId.Settings, 9, new byte[60], 60));
        while (writer.Busy) writer.Step(0);
        StoreBench bench = new StoreBench(memory);
        Assert.AreEqual((int)MemoryTrouble.Newer, (int)bench.Health.Memory);
        Assert.AreEqual("memory of later firmware", bench.Health.Failed(0));
        int writes = memory.Writes;
        bench.Settings.StepShutter(2);
        bench.Pass(10 * Second);
        Assert.AreEqual(writes, memory.Writes);
        bench.Health.StartAfresh = true;
        bench.Pass(10 * Second);
        Assert.IsTrue(memory.Writes > writes);
        Assert.AreEqual((int)MemoryTrouble.None, (int)bench.Health.Memory);
        Assert.AreEqual(-16, new StoreBench(memory).Settings.Base.Shutter.Index);
    }

    [TestMethod]
    public void OneDamagedCopyLeavesTheOther()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory);
        bench.Settings.StepShutter(1);
        bench.Pass(10 * Second);
        bench.Settings.StepShutter(1);
        bench.Pass(10 * Second);
        memory.Cells[StoreMap.FirstPage(RecordId.Settings, 1) * StoreMap.PageBytes + 20] ^= 4;
        StoreBench after = new StoreBench(memory);
        Assert.AreEqual(-17, after.Settings.Base.Shutter.Index);
        Assert.AreEqual((int)MemoryTrouble.CutOff, (int)after.Health.Memory);
        memory.Cells[StoreMap.FirstPage(RecordId.Settings, 0) * StoreMap.PageBytes + 20] ^= 4;
        StoreBench worse = new StoreBench(memory);
        Assert.AreEqual(-18, worse.Settings.Base.Shutter.Index);
        Assert.AreEqual((int)MemoryTrouble.Damaged, (int)worse.Health.Memory);
        int writes = memory.Writes;
        worse.Settings.StepShutter(3);
        worse.Pass(10 * Second);
        Assert.AreEqual(writes, memory.Writes);
    }

    [TestMethod]
    public void ARunThatStartsDuringASaveLosesNothing()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory);
        Change(bench.Settings);
        while (memory.Writes < 2) bench.Pass(Bench.TickUs);
        ShotPlan plan = new ShotPlan { BoxTimed = true, ExposureUs = Second, Shape = PlanShape.Series, Frames = 30, IntervalUs = 2 * Second, SettleUs = Second };
        Assert.IsTrue(bench.Bench.Desk.StartPlan(plan, bench.Settings.Camera, bench.Bench.NowUs));
        bench.Pass(600 * Second);
        Assert.IsTrue(bench.Keeper.Settled);
        Assert.AreEqual(0, bench.Keeper.FramesLost);
        StoreBench after = new StoreBench(memory);
        CheckChanged(after.Settings);
        Assert.AreEqual(30, after.Keeper.Logbook.Count);
        LogEntry entry = new LogEntry();
        Assert.IsTrue(after.Keeper.Logbook.Read(29, entry));
        Assert.AreEqual(Second, entry.ExposureUs);
    }

    [TestMethod]
    public void AStoppedFrameIsNotedWithItsRealLength()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory);
        ShotPlan plan = new ShotPlan { BoxTimed = true, ExposureUs = 600 * Second, SettleUs = 6 * Second };
        Assert.IsTrue(bench.Bench.Desk.StartPlan(plan, bench.Settings.Camera, 0));
        bench.Pass(30 * Second);
        bench.Bench.Desk.StopNow(bench.Bench.NowUs);
        bench.Pass(5 * Second);
        LogEntry entry = new LogEntry();
        Assert.IsTrue(bench.Keeper.Logbook.Read(0, entry));
        Assert.IsTrue(entry.CutShort);
        Check.Near(24 * Second, entry.ExposureUs, 100_000, "stopped");
        // 6 s of settling and 60 ms of lag, rounded to tenths.
        Assert.AreEqual(61L, entry.StartTenths);
    }

    [TestMethod]
    public void ASilentMemoryIsReportedAndItsLateAnswerTaken()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory);
        bench.Settings.StepShutter(4);
        bench.Pass(10 * Second);
        memory.Silent = true;
        StoreBench after = new StoreBench(memory);
        Assert.AreEqual("memory does not answer", after.Health.Failed(0));
        Assert.AreEqual("box works, nothing is kept", after.Health.Works(0));
        after.Pass(10 * Second);
        memory.Silent = false;
        after.Pass(10 * Second);
        Assert.AreEqual(-14, after.Settings.Base.Shutter.Index);
        Assert.IsFalse(after.Health.Any);
    }
}
