using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Release;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>An alarm that was on is on after a restart, and quiet only when the clock is the one that was accepted.</summary>
[TestClass]
public class StoreAlarmTests
{
    private const long Second = 1_000_000;

    // Mean level 3 m and 1.7 m of M2 against a limit of 9 m: never cut, so that a known clock is quiet.
    private static PlainMemory Memory()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("A", 3), 100));
        bench.Shore.Settings.SetPoint(0, 900, 12, 0);
        bench.Pass(10 * Second);
        bench.Shore.SetAlarm(true);
        bench.Pass(10 * Second);
        return memory;
    }

    private static void Pass(StoreBench bench, int seconds)
    {
        for (int i = 0; i < seconds * 10; i++)
        {
            bench.Pass(Second / 10);
            bench.Shore.Pass(bench.Bench.NowUs, long.MaxValue, false, false);
        }
    }

    private static UtcInstant Noon(int seconds) => new UtcInstant(StorePlaces.Noon + seconds);

    [TestMethod]
    public void AChipThatRanIsAccepted()
    {
        StoreBench bench = new StoreBench(Memory());
        Assert.IsTrue(bench.Shore.AlarmOn);
        bench.Shore.Clock.Read(Noon(0), 0);
        Pass(bench, 60);
        Assert.IsTrue(bench.Shore.AlarmOn);
        Assert.AreEqual((int)WayBackLevel.Quiet, (int)bench.Shore.Level);
        // From here on it is watched as ever.
        bench.Shore.Clock.Read(Noon(400), bench.Bench.NowUs);
        Pass(bench, 5);
        Assert.IsTrue(bench.Shore.AlarmUp);
    }

    [TestMethod]
    public void AChipThatAnswersLateIsAcceptedThen()
    {
        StoreBench bench = new StoreBench(Memory());
        bench.Shore.Clock.Fail(ClockTrust.NoAnswer);
        Pass(bench, 60);
        Assert.IsTrue(bench.Shore.AlarmUp, "the alarm is up when the clock does not answer");
        bench.Shore.Clock.Read(Noon(0), bench.Bench.NowUs);
        Pass(bench, 60);
        Assert.AreEqual((int)WayBackLevel.Quiet, (int)bench.Shore.Level);
    }

    [TestMethod]
    public void AStoppedClockIsAnAlarmUntilAPersonAcceptsIt()
    {
        StoreBench bench = new StoreBench(Memory());
        bench.Shore.Clock.Fail(ClockTrust.Stopped);
        Pass(bench, 60);
        Assert.AreEqual((int)WayBackLevel.Uncertain, (int)bench.Shore.Level);
        Assert.IsTrue(bench.Shore.AlarmUp);
        bench.Shore.Clock.SetByHand(Noon(0), bench.Bench.NowUs);
        Pass(bench, 5);
        bench.Shore.Clock.Read(Noon(5), bench.Bench.NowUs);
        Pass(bench, 60);
        Assert.AreEqual((int)WayBackLevel.Uncertain, (int)bench.Shore.Level);
        Assert.IsTrue(bench.Shore.ClockMoved);
        bench.Shore.SetAlarm(false);
        bench.Shore.SetAlarm(true);
        Pass(bench, 60);
        Assert.AreEqual((int)WayBackLevel.Quiet, (int)bench.Shore.Level);
    }

    /// <summary>Set by hand and read back from the chip between two looks of the alarm.</summary>
    [TestMethod]
    public void ATimeSetByHandIsNotTheAcceptedOne()
    {
        StoreBench bench = new StoreBench(Memory());
        bench.Shore.Clock.Fail(ClockTrust.NoAnswer);
        Pass(bench, 5);
        bench.Shore.Clock.SetByHand(Noon(0), bench.Bench.NowUs);
        bench.Shore.Clock.Read(Noon(0), bench.Bench.NowUs);
        Pass(bench, 60);
        Assert.IsTrue(bench.Shore.AlarmUp);
    }

    [TestMethod]
    public void AnAlarmThatWasSwitchedOffStaysOff()
    {
        PlainMemory memory = Memory();
        StoreBench bench = new StoreBench(memory);
        bench.Shore.SetAlarm(false);
        bench.Pass(10 * Second);
        Assert.IsFalse(new StoreBench(memory).Shore.AlarmOn);
    }

    /// <summary>Switched on and a run begun at once: the box may lose its power before the run is over.</summary>
    [TestMethod]
    public void AnAlarmIsKeptWhileARunIsOn()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("A", 3), 100));
        bench.Pass(10 * Second);
        bench.Shore.SetAlarm(true);
        ShotPlan plan = new ShotPlan { BoxTimed = true, ExposureUs = 60 * Second, SettleUs = 6 * Second };
        Assert.IsTrue(bench.Bench.Desk.StartPlan(plan, bench.Settings.Camera, bench.Bench.NowUs));
        bench.Pass(30 * Second);
        Assert.IsTrue(bench.Bench.Link.Busy);
        Assert.IsTrue(new StoreBench(memory).Shore.AlarmOn);
    }
}
