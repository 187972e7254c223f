using System.Device.Gpio;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.VirtualBoard;

[TestClass]
public class PinTests
{
    private readonly VirtualClock _clock = new();

    /// <summary>The library's controller swallows a write to an input; this goes past it.</summary>
    private sealed class BareDriver(VirtualClock clock) : VirtualGpioDriver(clock, new Dice(1))
    {
        public void WritePin(int pin, PinValue value) => Write(pin, value);
    }

    private VirtualGpioDriver Driver(int jitter = 0) => new(_clock, new Dice(1)) { WriteLatencyUs = 300, WriteJitterUs = jitter };

    [TestMethod]
    public void AWriteTakesItsTimeAndThenThePinChanges()
    {
        VirtualGpioDriver driver = Driver();
        using var gpio = new GpioController(driver);
        long changedAt = -1;
        driver.OutputChanged += (_, _) => changedAt = _clock.NowUs;
        GpioPin pin = gpio.OpenPin(18, PinMode.Output);
        pin.Write(PinValue.High);
        Assert.AreEqual(300L, changedAt);
        Assert.AreEqual(300L, _clock.NowUs);
        Assert.IsTrue(driver.IsHigh(18));
    }

    [TestMethod]
    public void JitterStaysInsideItsBand()
    {
        VirtualGpioDriver driver = Driver(jitter: 20);
        using var gpio = new GpioController(driver);
        GpioPin pin = gpio.OpenPin(18, PinMode.Output);
        var seen = new HashSet<long>();
        for (int i = 0; i < 200; i++)
        {
            long before = _clock.NowUs;
            pin.Write(i % 2 == 0 ? PinValue.High : PinValue.Low);
            seen.Add(_clock.NowUs - before);
        }
        Assert.IsTrue(seen.Min() >= 280 && seen.Max() <= 320, $"{seen.Min()}..{seen.Max()}");
        Assert.IsTrue(seen.Count > 20);
    }

    [TestMethod]
    public void AClosedOutputFallsBackToItsPullDown()
    {
        VirtualGpioDriver driver = Driver();
        using var gpio = new GpioController(driver);
        var changes = new List<bool>();
        driver.OutputChanged += (_, high) => changes.Add(high);
        GpioPin pin = gpio.OpenPin(18, PinMode.Output);
        pin.Write(PinValue.High);
        gpio.ClosePin(18);
        CollectionAssert.AreEqual(new[] { true, false }, changes);
    }

    [TestMethod]
    [DataRow(34)]
    [DataRow(35)]
    [DataRow(39)]
    public void InputOnlyPinsRefuseOutputAndPullUps(int number)
    {
        using var gpio = new GpioController(Driver());
        Assert.ThrowsExactly<InvalidOperationException>(() => gpio.OpenPin(number, PinMode.Output));
        using var other = new GpioController(Driver());
        Assert.ThrowsExactly<InvalidOperationException>(() => other.OpenPin(number, PinMode.InputPullUp));
    }

    [TestMethod]
    public void WritingAnInputThrowsAndIsKept()
    {
        var driver = new BareDriver(_clock);
        using var gpio = new GpioController(driver);
        gpio.OpenPin(25, PinMode.Input);
        Assert.ThrowsExactly<InvalidOperationException>(() => driver.WritePin(25, PinValue.High));
        Assert.AreEqual(1, driver.Faults.Count);
    }

    [TestMethod]
    public void FlashPinsCannotBeOpened()
    {
        using var gpio = new GpioController(Driver());
        Assert.ThrowsExactly<InvalidOperationException>(() => gpio.OpenPin(6));
    }

    [TestMethod]
    public void PullsAndContactsDecideAnInput()
    {
        VirtualGpioDriver driver = Driver();
        using var gpio = new GpioController(driver);
        GpioPin inner = gpio.OpenPin(25, PinMode.InputPullUp);
        Assert.AreEqual(PinValue.High, inner.Read());
        GpioPin bare = gpio.OpenPin(35, PinMode.Input);
        bare.Read();
        StringAssert.Contains(driver.Faults.Single(), "pin 35");
        driver.FitResistor(35, up: true);
        Assert.AreEqual(PinValue.High, bare.Read());
        driver.Ground(35, closed: true);
        Assert.AreEqual(PinValue.Low, bare.Read());
        driver.Ground(35, closed: false);
        Assert.AreEqual(PinValue.High, bare.Read());
    }

    [TestMethod]
    public void ChangeEventsWaitForTheEventPump()
    {
        VirtualGpioDriver driver = Driver();
        using var gpio = new GpioController(driver);
        GpioPin pin = gpio.OpenPin(25, PinMode.InputPullUp);
        var seen = new List<PinEventTypes>();
        pin.ValueChanged += (_, e) => seen.Add(e.ChangeType);
        driver.Ground(25, closed: true);
        driver.Ground(25, closed: false);
        Assert.AreEqual(0, seen.Count);
        driver.DeliverEvents(gpio);
        CollectionAssert.AreEqual(new[] { PinEventTypes.Falling, PinEventTypes.Rising }, seen);
    }

    [TestMethod]
    public void ButtonsBounceThenSettleWithinTheirTime()
    {
        VirtualGpioDriver driver = Driver();
        driver.FitResistor(25, up: true);
        var log = new LineLog(_clock);
        var buttons = new ButtonContacts(_clock, driver, log, [25, 26, 27, 33, 32, 35], 3000, new Dice(5));
        _clock.At(10_000, () => buttons.Down(Button.Up));
        _clock.At(90_000, () => buttons.Up(Button.Up));
        _clock.AdvanceTo(200_000);
        LineChange[] down = [.. log.Changes.Where(c => c.AtUs < 50_000)];
        LineChange[] up = [.. log.Changes.Where(c => c.AtUs >= 50_000)];
        foreach (var (changes, start, last) in new[] { (down, 10_000L, true), (up, 90_000L, false) })
        {
            Assert.AreEqual(start, changes[0].AtUs);
            Assert.AreEqual(last, changes[0].On);
            Assert.IsTrue(changes.Length is 3 or 5 or 7, $"{changes.Length} changes");
            Assert.AreEqual(last, changes[^1].On);
            Assert.IsTrue(changes[^1].AtUs < start + 3000);
        }
    }
}
