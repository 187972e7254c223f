using System.Device.Gpio;
using Intervalometer.Core.Run;
using Intervalometer.Drivers.Battery;
using Intervalometer.Drivers.Composition;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>The whole box, drivers and drawing included, on pins and a bus that allocate nothing themselves.</summary>
[TestClass]
public class BoxAllocationTests
{
    private const int HalfPress = 18, Shutter = 19, Led = 23, Heartbeat = 4, FirePin = 35;

    private sealed class PlainGauge : IBatteryGauge
    {
        public int Reads { get; private set; }

        public int ReadMillivolts()
        {
            Reads++;
            return 3580 - Reads * 20;
        }
    }

    [TestMethod]
    public void ABulbExposureAllocatesNothingFromArmToEnd()
    {
        var pins = new PlainPins();
        using var gpio = new GpioController(pins);
        var clock = new HandClock();
        var bus = new PlainBus();
        var box = new Box(gpio, new BoxPins(HalfPress, Shutter, [25, 26, 27, 33, 32, FirePin], Led, Heartbeat, -1), bus, clock);
        var gauge = new PlainGauge();
        box.BatteryGauge = gauge;
        box.Start();
        box.Settings.AlwaysBulb = true;
        box.Settings.StepShutter(33);
        Run(box, clock, 1_000_000);
        pins[FirePin] = PinValue.Low;
        Run(box, clock, 1_060_000);
        pins[FirePin] = PinValue.High;
        Run(box, clock, 1_500_000);
        Assert.AreEqual(RunState.Plan, box.Desk!.State);

        // The PC's GPIO library allocates for every pin write; the device's does not. What it takes is measured and taken off.
        GpioPin spare = gpio.OpenPin(5, PinMode.Output);
        spare.Write(PinValue.High);
        long start = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100; i++) spare.Write(PinValue.Low);
        long perWrite = (GC.GetAllocatedBytesForCurrentThread() - start) / 100;

        long sent = bus.Bytes;
        int writes = pins.Writes;
        int toggles = pins.Toggles;
        int reads = gauge.Reads;
        long before = GC.GetAllocatedBytesForCurrentThread();
        Run(box, clock, 45_000_000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.AreEqual(RunState.Done, box.Desk.State);
        Assert.AreEqual(1, box.Desk.Player.FramesStarted);
        Assert.AreEqual(PinValue.Low, pins[Shutter]);
        Assert.IsTrue(gauge.Reads - reads >= 3, "the battery was read");
        Assert.IsTrue(box.Panel!.Health.Battery.Refuses, "the cell ran empty during the exposure");
        Assert.IsTrue(bus.Bytes - sent > 5_000, $"the countdown was drawn and sent: {bus.Bytes - sent} bytes");
        Assert.IsGreaterThan(3_000, pins.Toggles - toggles, "the heartbeat went on");
        Assert.AreEqual(PinValue.Low, pins[Heartbeat], "the heartbeat ended low");
        Assert.AreEqual(0L, allocated - perWrite * (pins.Writes - writes), $"bytes allocated from arm to end, besides {perWrite} for each of {pins.Writes - writes} pin writes in the PC's library");
    }

    private static void Run(Box box, HandClock clock, long untilUs)
    {
        while (clock.NowUs < untilUs)
        {
            box.ReleasePass();
            box.PanelPass();
            clock.NowUs += box.EdgeNear ? 100 : 10_000;
        }
    }
}
