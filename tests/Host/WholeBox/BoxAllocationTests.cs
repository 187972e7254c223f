using System.Device.Gpio;
using Intervalometer.Core;
using Intervalometer.Core.Run;
using Intervalometer.Drivers;
using Intervalometer.Drivers.Battery;
using Intervalometer.Drivers.Box;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>The whole box, drivers and drawing included, on pins and a bus that allocate nothing themselves.</summary>
[TestClass]
public class BoxAllocationTests
{
    private const int HalfPress = 18, Shutter = 19, Led = 23, Heartbeat = 4, FirePin = 35;

    private sealed class HandClock : IMicrosClock
    {
        public long NowUs { get; set; }
    }

    private sealed class PlainPins : GpioDriver
    {
        private readonly PinValue[] _value = new PinValue[40];
        private readonly PinMode[] _mode = new PinMode[40];

        public PlainPins() => Array.Fill(_value, PinValue.High, 25, 15);

        public PinValue this[int pin] { get => _value[pin]; set => _value[pin] = value; }

        protected override int PinCount => 40;

        protected override void OpenPin(int pinNumber) { }

        protected override void ClosePin(int pinNumber) { }

        protected override void SetPinMode(int pinNumber, PinMode mode) => _mode[pinNumber] = mode;

        protected override PinMode GetPinMode(int pinNumber) => _mode[pinNumber];

        protected override bool IsPinModeSupported(int pinNumber, PinMode mode) => true;

        protected override PinValue Read(int pinNumber) => _value[pinNumber];

        public int Writes { get; private set; }

        protected override void Write(int pinNumber, PinValue value)
        {
            Writes++;
            _value[pinNumber] = value;
        }

        protected override WaitForEventResult WaitForEvent(int pinNumber, PinEventTypes eventTypes, CancellationToken cancellationToken) => throw new NotSupportedException();

        protected override void AddCallbackForPinValueChangedEvent(int pinNumber, PinEventTypes eventTypes, PinChangeEventHandler callback) { }

        protected override void RemoveCallbackForPinValueChangedEvent(int pinNumber, PinChangeEventHandler callback) { }
    }

    private sealed class PlainBus : ITwoWireDevice
    {
        public long Bytes { get; private set; }

        public bool Write(byte[] data)
        {
            Bytes += data.Length;
            return true;
        }

        public bool Read(byte[] data) => true;

        public bool WriteRead(byte[] output, byte[] input) => true;
    }

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
        var box = new Drivers.Box.Box(gpio, new BoxPins(HalfPress, Shutter, [25, 26, 27, 33, 32, FirePin], Led, Heartbeat, -1), bus, clock);
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
        int reads = gauge.Reads;
        long before = GC.GetAllocatedBytesForCurrentThread();
        Run(box, clock, 45_000_000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.AreEqual(RunState.Done, box.Desk.State);
        Assert.AreEqual(1, box.Desk.Player.FramesStarted);
        Assert.AreEqual(PinValue.Low, pins[Shutter]);
        Assert.IsTrue(gauge.Reads - reads >= 3, "the battery was read");
        Assert.IsTrue(box.Panel!.Health.Battery.Refuses, "and ran empty in the exposure");
        Assert.IsTrue(bus.Bytes - sent > 5_000, $"the countdown was drawn and sent: {bus.Bytes - sent} bytes");
        Assert.AreEqual(0L, allocated - perWrite * (pins.Writes - writes), $"bytes allocated from arm to end, besides {perWrite} for each of {pins.Writes - writes} pin writes in the PC's library");
    }

    private static void Run(Drivers.Box.Box box, HandClock clock, long untilUs)
    {
        while (clock.NowUs < untilUs)
        {
            box.ReleaseTurn();
            box.PanelTurn();
            clock.NowUs += box.EdgeNear ? 100 : 10_000;
        }
    }
}
