using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.DeviceSafe;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Store;

/// <summary>Recording frames during a run makes no garbage, because a collection could fall on an edge.</summary>
[TestClass]
public class KeeperAllocationTests
{
    [TestMethod]
    public void FramesAreNotedDuringARunWithoutAllocating()
    {
        var clock = new HandClock();
        var chip = new At24c32Model(clock);
        var bench = new Bench();
        var settings = new BoxSettings();
        Site site = DemoSite.Load();
        var shore = new ShoreDesk(new ShoreSettings(), settings);
        shore.Settings.Use(site.Place, site.Wish);
        var keeper = new StoreKeeper(new ModelMemory(chip), settings, shore, bench.Link, new BoxHealth());
        keeper.Load(0);
        var plan = new ShotPlan { Shape = PlanShape.Series, Frames = 12, BoxTimed = true, ExposureUs = 1_000_000, IntervalUs = 5_000_000, SettleUs = 1_000_000 };
        long garbage = 0;
        int notedInRun = 0;
        ShoreDesk kept;
        for (int run = 0; run < 2; run++)
        {
            Assert.IsTrue(bench.Desk.StartPlan(plan, settings.Camera, bench.NowUs));
            bench.RunTo(bench.NowUs + 10_000);
            int before = keeper.Logbook.Count;
            while (bench.Desk.Running)
            {
                bench.RunTo(bench.NowUs + 10_000);
                clock.NowUs = bench.NowUs;
                bool edgeFar = bench.Desk.NextEdgeUs - bench.NowUs > 1_200_000;
                // The alarm is switched in the middle of the run: on in the first, off in the second.
                if (bench.Link.Frames.Total == 6 + 12 * run) shore.SetAlarm(run == 0);
                long allocated = GC.GetAllocatedBytesForCurrentThread();
                keeper.Step(bench.NowUs, edgeFar, bench.NowUs);
                // The first run warms the code up.
                if (run == 1) garbage += GC.GetAllocatedBytesForCurrentThread() - allocated;
                if (run == 1 && bench.Desk.Running) notedInRun = keeper.Logbook.Count - before;
            }
            var again = new StoreKeeper(new ModelMemory(chip), new BoxSettings(), kept = new ShoreDesk(new ShoreSettings(), settings), bench.Link, new BoxHealth());
            again.Load(0);
            Assert.AreEqual(run == 0, kept.AlarmOn, "kept while the run was on");
            Assert.AreEqual(site.Place.Name, kept.Settings.Name);
            bench.Desk.Acknowledge();
            bench.RunTo(bench.NowUs + 10_000);
        }
        Assert.IsTrue(notedInRun >= 10, $"{notedInRun} frames noted while the run was on");
        Assert.AreEqual(0, garbage);
    }

    /// <summary>The chip as pages, without the arrays that the wire would need.</summary>
    private sealed class ModelMemory(At24c32Model chip) : IPageMemory
    {
        private readonly byte[] _message = new byte[2 + StoreMap.PageBytes];
        private readonly byte[] _where = new byte[2];

        public bool ReadPage(int page, byte[] into, int offset)
        {
            _where[0] = (byte)(page * StoreMap.PageBytes >> 8);
            _where[1] = (byte)(page * StoreMap.PageBytes);
            return chip.Write(_where) && chip.Read(into.AsSpan(offset, StoreMap.PageBytes));
        }

        public bool WritePage(int page, byte[] from, int offset)
        {
            _message[0] = (byte)(page * StoreMap.PageBytes >> 8);
            _message[1] = (byte)(page * StoreMap.PageBytes);
            from.AsSpan(offset, StoreMap.PageBytes).CopyTo(_message.AsSpan(2));
            return chip.Write(_message);
        }
    }
}
