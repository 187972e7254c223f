using Intervalometer.Core.Exposure;
using Intervalometer.Drivers.At24c32;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.DeviceSafe;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.Tests.Host.Store;

/// <summary>Pages that no longer accept writes: each in turn, many at once, and with the power cut in between.</summary>
[TestClass]
public class WornPageTests
{
    private const int MessageBytes = 34;
    private const int Tick = 11_000;

    public TestContext TestContext { get; set; } = null!;

    /// <summary>The store as the box has it after power-on.</summary>
    private sealed class Side
    {
        private readonly HandClock _clock;

        public Side(At24c32Model chip, HandClock clock)
        {
            _clock = clock;
            Wire = new ModelWire(chip);
            Settings = new BoxSettings();
            Shore = new ShoreDesk(new ShoreSettings(), Settings);
            Keeper = new StoreKeeper(new At24c32(Wire), Settings, Shore, Bench.Link, Health);
            Keeper.Load(clock.NowUs);
        }

        public ModelWire Wire { get; }
        public BoxSettings Settings { get; }
        public ShoreDesk Shore { get; }
        public BoxHealth Health { get; } = new();
        public Bench Bench { get; } = new();
        public StoreKeeper Keeper { get; }

        public long[] Frames
        {
            get
            {
                var entry = new LogEntry();
                return [.. Enumerable.Range(0, Keeper.Logbook.Count).Select(i => Keeper.Logbook.Read(i, entry) ? entry.ExposureUs : -1)];
            }
        }

        /// <summary>A frame that lasts this long, so that it can be told from the others.</summary>
        public void Take(int exposureMs) => Bench.Link.Frames.Add(_clock.NowUs - exposureMs * 1000L, exposureMs * 1000L, 0, 0, false, false);

        public void Pass(long us)
        {
            for (long end = _clock.NowUs + us; _clock.NowUs < end; _clock.NowUs += Tick) Keeper.Step(_clock.NowUs, true, long.MaxValue);
        }

        public void Settle()
        {
            for (int i = 0; !Keeper.Settled; i++)
            {
                Assert.IsTrue(i < 20_000, "the store never comes to rest");
                Pass(Tick);
            }
        }
    }

    private static void Stick(At24c32Model chip, int page, bool whole)
    {
        if (!whole) chip.Stick(page * StoreMap.PageBytes + 2, 0x01, 0);
        else for (int i = 0; i < StoreMap.PageBytes; i++) chip.Stick(page * StoreMap.PageBytes + i, 0xFF, 0x5A);
    }

    // Every record changes; the number tells one state from another.
    private static void Change(Side side, int number)
    {
        side.Settings.Brightness = number;
        side.Settings.Camera.ShutterLagMs = 100 + number;
        var kit = new FilterKit();
        for (int i = 0; i < FilterKit.Capacity; i++)
        {
            var filter = new Filter($"FILTER {i}", FilterKind.Nd);
            filter.SetStrength(FilterScale.Stops, 100 * number + i);
            kit.Add(filter);
        }
        side.Settings.Kit = kit;
        side.Settings.Solve();
        StorePlaces.Fill(side.Shore.Settings, StorePlaces.Harmonic(number));
        side.Shore.Settings.SetName($"PLACE {number}");
        var note = new FaultNote();
        note.Restore(FaultKind.BadState, FaultPlace.Store, number);
        side.Health.Fault = note;
    }

    private static string Held(Side side) =>
        $"{side.Settings.Brightness} {side.Settings.Camera.ShutterLagMs} {(side.Settings.Kit.Count == 0 ? -1 : side.Settings.Kit[0].Figure)} {side.Shore.Settings.Name} {side.Shore.Settings.GivenTide is not null} {side.Health.Fault.Total}";

    private static string Expected(int number) => $"{number} {100 + number} {100 * number} PLACE {number} True {number}";

    private static int Take(Side side, int first, int count)
    {
        for (int i = 0; i < count; i++)
        {
            side.Take(first + i);
            side.Pass(20 * Tick);
        }
        return first + count;
    }

    /// <summary>Everything is changed twice and the ring of the logbook goes round, with one page worn out. Nothing is lost, and from then on the page is not used.</summary>
    [TestMethod]
    public void AnyPageMayWearOut()
    {
        int worst = 0;
        for (int page = 0; page < StoreMap.Pages; page++)
        {
            foreach (bool whole in new[] { true, false })
            {
                var clock = new HandClock { NowUs = 10_000_000 };
                var chip = new At24c32Model(clock);
                Stick(chip, page, whole);
                var side = new Side(chip, clock);
                int taken = 0;
                for (int number = 1; number <= 2; number++)
                {
                    Change(side, number);
                    taken = Take(side, taken, 60);
                    side.Settle();
                }
                string where = $"page {page}, {(whole ? "whole" : "one bit")}";
                Assert.IsFalse(side.Health.Any, $"{where}: {side.Health.Failed(0)}");
                int wear = chip.Wear[page];
                worst = Math.Max(worst, wear);
                if (whole) Assert.IsTrue(wear <= 6, $"{where}: written {wear} times");
                for (int start = 0; start < 2; start++)
                {
                    side = new Side(chip, clock);
                    Assert.AreEqual(Expected(2 + start), Held(side), where);
                    Assert.IsFalse(side.Health.Any, $"{where}: {side.Health.Failed(0)}");
                    long[] frames = side.Frames;
                    Assert.IsTrue(frames.Length >= 2 * (StoreMap.LogPages - 5) - 60, $"{where}: {frames.Length} frames");
                    CollectionAssert.AreEqual(Enumerable.Range(taken - frames.Length, frames.Length).Select(ms => ms * 1000L).ToArray(), frames, where);
                    Change(side, 3 + start);
                    taken = Take(side, taken, 20);
                    side.Settle();
                }
                if (whole) Assert.AreEqual(wear, chip.Wear[page], $"{where}: forgotten over a restart");
            }
        }
        TestContext.WriteLine($"{StoreMap.Pages} pages, each worn out wholly and in one bit: nothing lost; a worn page was written {worst} times at most");
    }

    /// <summary>The power is cut at every byte while pages are set aside and records move, the stand-ins and the table's own page worn out as well.</summary>
    [TestMethod]
    public void ACutWhilePagesAreSetAsideLosesNothing()
    {
        // The copies that are written next, and pages of the logbook that were not used yet.
        int[] worn = [StoreMap.FirstPage(RecordId.Settings, 1), StoreMap.FirstPage(RecordId.Camera, 1) + 1, 84, 85, 88];
        var clock = new HandClock { NowUs = 10_000_000 };
        var chip = new At24c32Model(clock);
        var trial = new At24c32Model(clock, 9);
        var first = new Side(chip, clock);
        Change(first, 1);
        int taken = Take(first, 0, 4);
        first.Settle();
        foreach (int page in worn)
        {
            Stick(chip, page, true);
            Stick(trial, page, true);
        }
        var side = new Side(chip, clock);
        int cuts = 0;
        List<string> losses = [];
        side.Wire.BeforeWrite = message =>
        {
            if (message.Length != MessageBytes) return;
            long[] kept = side.Frames;
            foreach (string cut in PowerCuts.Each(message, chip.Snapshot(), trial))
            {
                cuts++;
                var after = new Side(trial, clock);
                string held = Held(after);
                // Each record by itself is the old one or the new one.
                string[] old = Expected(1).Split(' '), renewed = Expected(2).Split(' ');
                string[] found = held.Split(' ');
                bool whole = found.Select((f, i) => f == old[i] || f == renewed[i] || i == 5).All(x => x);
                if (!whole) losses.Add($"{cut}: {held}");
                if (after.Keeper.Logbook.Held) losses.Add($"{cut}: logbook {after.Keeper.Logbook.Status}");
                long[] frames = after.Frames;
                if (frames.Length < kept.Length || frames.Length > kept.Length + 2 || frames.Where((ms, i) => ms != i * 1000L).Any()) losses.Add($"{cut}: frames {string.Join(",", frames)}");
            }
        };
        Change(side, 2);
        taken = Take(side, taken, 12);
        side.Settle();
        Assert.AreEqual("", string.Join("\n", losses.Take(10)), $"{losses.Count} losses");
        TestContext.WriteLine($"{cuts} cuts while {worn.Length} worn pages were met: nothing lost");
        Assert.IsTrue(cuts > 5000, $"{cuts}");
        side = new Side(chip, clock);
        Assert.AreEqual(Expected(2), Held(side));
        Assert.IsFalse(side.Health.Any, side.Health.Failed(0));
    }

    /// <summary>More pages are worn than can be set aside. The box says so, keeps what it can, and does not write the same again and again.</summary>
    [TestMethod]
    public void AChipThatIsWornOutIsReportedAndKeepsWhatItCan()
    {
        var clock = new HandClock { NowUs = 10_000_000 };
        var chip = new At24c32Model(clock);
        // Every other page of the logbook, and a page of each copy of the camera.
        for (int page = StoreMap.LogFirstPage; page < StoreMap.Pages; page += 2) Stick(chip, page, true);
        Stick(chip, 24, true);
        Stick(chip, 26, true);
        var side = new Side(chip, clock);
        side.Health.StartAfresh = true;
        side.Pass(600_000_000);
        bool told = false;
        int taken = 0;
        for (int i = 0; i < 20; i++)
        {
            taken = Take(side, taken, 4);
            side.Pass(60_000_000);
            told |= side.Health.Memory is MemoryTrouble.Refuses or MemoryTrouble.Worn;
        }
        Assert.IsTrue(told);
        Change(side, 3);
        side.Pass(1_200_000_000);
        long written = chip.Wear.Sum();
        side.Pass(600_000_000);
        Assert.IsTrue(chip.Wear.Sum() - written <= 24, $"{chip.Wear.Sum() - written} writes in ten minutes");
        side = new Side(chip, clock);
        Assert.AreEqual(3, side.Settings.Brightness);
        Assert.AreEqual("PLACE 3", side.Shore.Settings.Name);
        Assert.IsTrue(side.Health.Any);
        long[] frames = side.Frames;
        TestContext.WriteLine($"{frames.Length} frames of {taken} kept; {side.Health.Failed(0)}");
        Assert.IsTrue(frames.Length > 20 && frames[^1] == (taken - 1) * 1000L);
    }

    /// <summary>The chip accepts nothing, for example because its write protect pin is high. The box tries it now and then, and uses it at once when it accepts writes again.</summary>
    [TestMethod]
    public void AChipThatTakesNothingIsTriedNowAndThenAndForgetsNoPage()
    {
        var clock = new HandClock { NowUs = 10_000_000 };
        var chip = new At24c32Model(clock);
        var side = new Side(chip, clock);
        Change(side, 1);
        side.Settle();
        chip.WriteProtected = true;
        Change(side, 2);
        int taken = Take(side, 0, 10);
        side.Pass(120_000_000);
        Assert.AreEqual(MemoryTrouble.Refuses, side.Health.Memory);
        Assert.AreEqual(10, side.Health.FramesNotKept);
        long written = chip.Wear.Sum();
        side.Pass(600_000_000);
        Assert.IsTrue(chip.Wear.Sum() - written <= 24, $"{chip.Wear.Sum() - written} writes in ten minutes");
        chip.WriteProtected = false;
        side.Pass(1_300_000_000);
        Assert.IsTrue(side.Keeper.Settled);
        Assert.IsFalse(side.Health.Any, side.Health.Failed(0));
        side = new Side(chip, clock);
        Assert.AreEqual(Expected(2), Held(side));
        Assert.AreEqual(taken, side.Frames.Length);
        Assert.IsFalse(side.Health.Any, side.Health.Failed(0));
        TestContext.WriteLine($"{chip.Wear.Sum()} writes");
    }

    /// <summary>Firmware that does not know the table must take it for a logbook of later firmware and leave it alone. So the table has version 2 and a number that fits its page.</summary>
    [TestMethod]
    public void OlderFirmwareTakesTheTableForALaterLogbook()
    {
        var clock = new HandClock { NowUs = 10_000_000 };
        var chip = new At24c32Model(clock);
        Stick(chip, StoreMap.LogFirstPage, true);
        var side = new Side(chip, clock);
        Take(side, 0, 4);
        side.Settle();
        byte[] cells = chip.Snapshot();
        int[] tables = [.. Enumerable.Range(StoreMap.LogFirstPage, StoreMap.LogPages).Where(p => cells[p * StoreMap.PageBytes + 3] >> 4 == 2)];
        Assert.AreEqual(1, tables.Length);
        Span<byte> table = cells.AsSpan(tables[0] * StoreMap.PageBytes, StoreMap.PageBytes);
        Assert.IsTrue(table[3] >> 4 > Logbook.Version);
        Assert.AreEqual(tables[0] - StoreMap.LogFirstPage, (table[0] | (table[1] << 8) | (table[2] << 16)) % StoreMap.LogPages);
        Assert.AreEqual(Crc.Of16(table.ToArray(), 0, 30), table[30] | (table[31] << 8));
        CollectionAssert.AreEqual(new byte[] { 1, StoreMap.LogFirstPage, 0xFF, 0xFF }, table.Slice(4, 4).ToArray());
    }
}
