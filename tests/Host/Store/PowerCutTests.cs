using Intervalometer.Drivers.At24c32;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.Tests.Host.Store;

/// <summary>The power is cut at every byte of every page that is written while the whole memory is filled and filled again.</summary>
[TestClass]
public class PowerCutTests
{
    private const int MessageBytes = 34;
    private static readonly CutKind[] Kinds = Enum.GetValues<CutKind>();
    private static readonly RecordId[] Ids = Enum.GetValues<RecordId>();

    public TestContext TestContext { get; set; } = null!;

    /// <summary>Store and logbook as the box has after power-on.</summary>
    private sealed class Side
    {
        public Side(At24c32Model chip)
        {
            Wire = new ModelWire(chip);
            var memory = new At24c32(Wire);
            Writer = new PageWriter(memory);
            Records = new RecordStore(memory, Writer);
            Log = new Logbook(memory, Writer);
        }

        public ModelWire Wire { get; }
        public PageWriter Writer { get; }
        public RecordStore Records { get; }
        public Logbook Log { get; }

        public void Open()
        {
            foreach (RecordId id in Ids) Records.Find(id, 1);
            Log.Scan();
        }
    }

    /// <summary>What must be in the memory: the generation of each record (0 for none), and the frames of each page of the log.</summary>
    private sealed class Expected
    {
        public readonly Dictionary<RecordId, int> Generation = Ids.ToDictionary(id => id, _ => 0);
        public readonly List<long[]> Pages = [];
        public RecordId? Writing;
        public int NewGeneration;
        public long[]? NewPage;
    }

    private static byte[] Payload(RecordId id, int generation)
    {
        var dice = new Dice((ulong)((int)id * 1000 + generation));
        return [.. Enumerable.Range(0, StoreMap.Capacity(id)).Select(_ => (byte)dice.Whole(0, 255))];
    }

    private static int Found(Side side, RecordId id)
    {
        if (side.Records.Status(id) is RecordStatus.Empty or RecordStatus.Unfinished) return 0;
        var bytes = new byte[StoreMap.Capacity(id)];
        if (side.Records.Load(id, bytes) != bytes.Length) return -1;
        for (int generation = 1; generation < 9; generation++)
        {
            if (bytes.AsSpan().SequenceEqual(Payload(id, generation))) return generation;
        }
        return -1;
    }

    private static readonly Dictionary<(RecordId, int), byte[]> PayloadCache = [];

    private static bool Holds(Side side, RecordId id, int generation, byte[] scratch)
    {
        RecordStatus status = side.Records.Status(id);
        if (generation == 0) return status is RecordStatus.Empty or RecordStatus.Unfinished;
        if (status is not (RecordStatus.Good or RecordStatus.OneCopy)) return false;
        if (!PayloadCache.TryGetValue((id, generation), out byte[]? payload)) PayloadCache[(id, generation)] = payload = Payload(id, generation);
        int length = side.Records.Load(id, scratch);
        return scratch.AsSpan(0, Math.Max(0, length)).SequenceEqual(payload);
    }

    private static string? Loss(At24c32Model chip, Expected expected, byte[] scratch)
    {
        var side = new Side(chip);
        side.Open();
        foreach (RecordId id in Ids)
        {
            bool kept = Holds(side, id, expected.Generation[id], scratch);
            bool renewed = !kept && id == expected.Writing && Holds(side, id, expected.NewGeneration, scratch);
            if (!kept && !renewed) return $"{StoreMap.Words(id)}: {side.Records.Status(id)}";
        }
        if (side.Log.Held || side.Log.Status == RecordStatus.NoAnswer) return $"logbook: {side.Log.Status}";
        return LogLoss(side, expected);
    }

    // The newest pages in order; the oldest may be the one that was being overwritten.
    private static string? LogLoss(Side side, Expected expected)
    {
        var entry = new LogEntry();
        var found = new List<long>();
        for (int i = 0; i < side.Log.Count; i++)
        {
            if (!side.Log.Read(i, entry)) return $"logbook: frame {i} cannot be read";
            found.Add(entry.StartTenths);
        }
        List<long[]> kept = expected.Pages.TakeLast(StoreMap.LogPages).ToList();
        var possible = new List<IEnumerable<long>> { kept.SelectMany(p => p) };
        if (expected.NewPage is long[] page)
        {
            List<long[]> rest = kept.Count == StoreMap.LogPages ? kept.Skip(1).ToList() : kept;
            possible.Add(rest.SelectMany(p => p));
            possible.Add(rest.SelectMany(p => p).Concat(page));
        }
        return possible.Any(p => p.SequenceEqual(found)) ? null : $"logbook: {found.Count} frames, the last {found.LastOrDefault()}";
    }

    private static void Run(Side side, HandClock clock)
    {
        int steps = 0;
        while (side.Writer.Busy)
        {
            side.Writer.Step(clock.NowUs);
            clock.NowUs += 11_000;
            Assert.IsTrue(++steps < 1000, "the writer never ends");
        }
        Assert.AreEqual(PageWriterState.Done, side.Writer.State);
    }

    private static void Save(Side side, Expected expected, RecordId id, HandClock clock)
    {
        expected.Writing = id;
        expected.NewGeneration = expected.Generation[id] + 1;
        byte[] payload = Payload(id, expected.NewGeneration);
        Assert.IsTrue(side.Records.TrySave(id, 1, payload, payload.Length));
        Run(side, clock);
        side.Records.Written(id);
        expected.Generation[id]++;
        expected.Writing = null;
    }

    private static void Append(Side side, Expected expected, HandClock clock)
    {
        long next = expected.Pages.Sum(p => p.Length) % LogEntry.MostTenths;
        long[] page = expected.Pages.Count % 3 == 0 ? [next] : [next, next + 1];
        expected.NewPage = page;
        var a = new LogEntry { StartTenths = page[0] };
        Assert.IsTrue(side.Log.TryAppend(a, page.Length > 1 ? new LogEntry { StartTenths = page[1] } : null));
        Run(side, clock);
        side.Log.Written();
        expected.Pages.Add(page);
        expected.NewPage = null;
    }

    [TestMethod]
    public void ACutAtAnyByteOfAFullFillLosesNothing()
    {
        var clock = new HandClock();
        var chip = new At24c32Model(clock);
        var trial = new At24c32Model(clock, 3);
        var side = new Side(chip);
        var expected = new Expected();
        var scratch = new byte[StoreMap.MostCopyPages * StoreMap.PageBytes];
        var losses = new List<string>();
        int cuts = 0, pages = 0;
        side.Open();
        side.Wire.BeforeWrite = message =>
        {
            if (message.Length != MessageBytes) return;
            pages++;
            foreach (string cut in PowerCuts.Each(message, chip.Snapshot(), trial))
            {
                cuts++;
                if (Loss(trial, expected, scratch) is string loss) losses.Add($"page {pages}, {cut}: {loss}");
            }
        };
        for (int round = 0; round < 3; round++)
        {
            foreach (RecordId id in Ids) Save(side, expected, id, clock);
            for (int i = 0; i < (round < 2 ? StoreMap.LogPages / 2 : StoreMap.LogPages / 2 + 3); i++) Append(side, expected, clock);
        }
        Assert.IsTrue(chip.Wear.All(w => w > 0), "every page has been written");
        Assert.AreEqual(0, losses.Count, string.Join("\n", losses.Take(10)));
        TestContext.WriteLine($"{cuts} cuts in {pages} page writes, {losses.Count} losses");
        Assert.AreEqual(3 * 40 + StoreMap.LogPages * 3 / 2 + 3, pages);
        Assert.AreEqual(pages * (3 + 5 * (MessageBytes - 2)), cuts);
    }

    /// <summary>Many power cuts with writes between them. Afterwards the memory always holds a whole value, and never an older one than the last that was confirmed.</summary>
    [TestMethod]
    public void ManyCutsInARowLoseNothing()
    {
        var dice = new Dice(20);
        int cuts = 0;
        for (int story = 0; story < 150; story++)
        {
            var clock = new HandClock();
            var chip = new At24c32Model(clock, (ulong)story);
            var expected = new Expected();
            var scratch = new byte[StoreMap.MostCopyPages * StoreMap.PageBytes];
            for (int act = 0; act < 12; act++)
            {
                var side = new Side(chip);
                side.Open();
                RecordId id = Ids[(int)dice.Whole(0, Ids.Length - 1)];
                int had = expected.Generation[id];
                if (had == 8) break;
                byte[] payload = Payload(id, had + 1);
                Assert.IsTrue(side.Records.TrySave(id, 1, payload, payload.Length));
                chip.CutAfter(dice.Whole(0, StoreMap.CopyPages(id) * (MessageBytes + 4)), Kinds[(int)dice.Whole(0, Kinds.Length - 1)]);
                for (int i = 0; i < 200 && side.Writer.Busy && chip.Powered; i++)
                {
                    side.Writer.Step(clock.NowUs);
                    clock.NowUs += 11_000;
                }
                bool confirmed = side.Writer.State == PageWriterState.Done;
                cuts += chip.Powered ? 0 : 1;
                chip.PowerOn();
                var after = new Side(chip);
                after.Open();
                int found = Found(after, id);
                Assert.IsTrue(found == had + 1 || (found == had && !confirmed), $"story {story}, act {act}: {id} was {had}, is {found}, {after.Records.Status(id)}");
                expected.Generation[id] = found;
                Assert.IsNull(Loss(chip, expected, scratch));
            }
        }
        TestContext.WriteLine($"{cuts} cuts");
        Assert.IsTrue(cuts > 500, $"{cuts}");
    }

    /// <summary>A write that is disturbed on the wire is noticed when it is read back, and done again.</summary>
    [TestMethod]
    public void AGarbledPageIsWrittenAgain()
    {
        var clock = new HandClock();
        var chip = new At24c32Model(clock);
        var side = new Side(chip);
        side.Open();
        int messages = 0;
        side.Wire.BeforeWrite = message =>
        {
            if (message.Length == MessageBytes && ++messages % 2 == 1) message[9] ^= 0x40;
        };
        var expected = new Expected();
        Save(side, expected, RecordId.Kit, clock);
        Assert.AreEqual(2 * StoreMap.CopyPages(RecordId.Kit), messages);
        Assert.IsNull(Loss(chip, expected, new byte[1024]));
    }

    [TestMethod]
    public void AWornPageIsGivenUpAndTheOldValueStays()
    {
        var clock = new HandClock();
        var chip = new At24c32Model(clock);
        var side = new Side(chip);
        side.Open();
        var expected = new Expected();
        Save(side, expected, RecordId.Camera, clock);
        side.Wire.BeforeWrite = message =>
        {
            if (message.Length == MessageBytes) message[33] = 0;
        };
        Assert.IsTrue(side.Records.TrySave(RecordId.Camera, 1, Payload(RecordId.Camera, 2), StoreMap.Capacity(RecordId.Camera)));
        for (int i = 0; side.Writer.Busy; i++)
        {
            side.Writer.Step(clock.NowUs);
            clock.NowUs += 11_000;
            Assert.IsTrue(i < 100);
        }
        Assert.AreEqual(PageWriterState.Refused, side.Writer.State);
        Assert.IsNull(Loss(chip, expected, new byte[1024]));
    }

    /// <summary>The ring wears its pages evenly, and so do the two copies of a record.</summary>
    [TestMethod]
    public void WearIsSpread()
    {
        var clock = new HandClock();
        var chip = new At24c32Model(clock);
        var side = new Side(chip);
        side.Open();
        var expected = new Expected();
        for (int i = 0; i < 10 * StoreMap.LogPages; i++) Append(side, expected, clock);
        for (int i = 0; i < 20; i++)
        {
            byte[] payload = Payload(RecordId.Settings, 1);
            Assert.IsTrue(side.Records.TrySave(RecordId.Settings, 1, payload, payload.Length));
            Run(side, clock);
            side.Records.Written(RecordId.Settings);
        }
        Assert.IsTrue(chip.Wear.Skip(StoreMap.LogFirstPage).All(w => w == 10));
        for (int copy = 0; copy < StoreMap.Copies; copy++)
        {
            Assert.IsTrue(chip.Wear.Skip(StoreMap.FirstPage(RecordId.Settings, copy)).Take(StoreMap.CopyPages(RecordId.Settings)).All(w => w == 10));
        }
    }
}
