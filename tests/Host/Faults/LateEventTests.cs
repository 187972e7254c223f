using System.Device.Gpio;
using Intervalometer.Drivers.Buttons;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>
/// Pin events come late when the runtime is busy, and carry no time. Three guards keep a late event from looking like a second press,
/// which would stop the run that the first press started. The first knows that the sampling has seen the press before its event came, the second that the button has
/// only just been released, and the third that the edge came shortly after another one.
/// </summary>
[TestClass]
public class LateEventTests
{
    private static readonly int[] Pins = [25, 26, 27, 33, 32, 35];
    private static readonly int Fire = Pins[(int)Button.Fire];

    private sealed class Bank
    {
        private readonly VirtualClock _clock = new();
        private readonly VirtualGpioDriver _gpio;
        private readonly GpioController _controller;
        private readonly ButtonBank _buttons;

        public Bank()
        {
            _gpio = new VirtualGpioDriver(_clock, new Dice(1));
            foreach (int pin in Pins) _gpio.FitResistor(pin, up: true);
            _controller = new GpioController(_gpio);
            _buttons = new ButtonBank(_controller, Pins, _clock);
        }

        public void At(long ms) => _clock.AdvanceTo(ms * 1000);

        public void Contact(bool closed) => _gpio.Ground(Fire, closed);

        public void Deliver() => _gpio.DeliverEvents(_controller);

        public bool Sample() => _buttons.Sample(Button.Fire, _clock.NowUs, out _);

        /// <summary>Samples every 10 ms up to a time; how many presses were seen.</summary>
        public int PressesUntil(long ms)
        {
            int presses = 0;
            for (long at = _clock.NowUs / 1000 + 10; at <= ms; at += 10)
            {
                At(at);
                if (Sample()) presses++;
            }
            return presses;
        }
    }

    /// <summary>The first two guards both notice this event, so the test fails only without both.</summary>
    [TestMethod]
    public void APressThatWasSampledIsNotCountedAgainWhenItsEventComesAfterIt()
    {
        Bank bank = PressSampledAndLetGo();
        bank.At(500);
        bank.Deliver();
        Assert.AreEqual(0, bank.PressesUntil(3000), "the event of the first press came");
        APressStillCounts(bank);
    }

    /// <summary>Long after the release of the button only the first guard can notice the event.</summary>
    [TestMethod]
    public void AVeryLateEventOfASampledPressIsNotASecondOne()
    {
        Bank bank = PressSampledAndLetGo();
        bank.At(1200);
        bank.Deliver();
        Assert.AreEqual(0, bank.PressesUntil(3000), "the event of the first press came");
        APressStillCounts(bank);
    }

    /// <summary>The event of the press came in time, so only the guard that knows of the release can ignore the bounce of that release.</summary>
    [TestMethod]
    public void ALateEventOfABouncingReleaseIsNotAPress() => ABouncingReleaseIsNotAPress(400, 600);

    /// <summary>However late the events come, the bounce of a release comes shortly after the release.</summary>
    [TestMethod]
    public void AVeryLateEventOfABouncingReleaseIsNotAPress() => ABouncingReleaseIsNotAPress(220, 1200);

    /// <summary>A tap between two samples counts, also soon after the release before it.</summary>
    [TestMethod]
    public void ATapShorterThanASampleCounts()
    {
        Bank bank = PressHeardInTime();
        bank.At(200);
        bank.Contact(false);
        bank.Deliver();
        Assert.AreEqual(0, bank.PressesUntil(650));
        bank.At(701);
        bank.Contact(true);
        bank.Deliver();
        bank.At(705);
        bank.Contact(false);
        bank.Deliver();
        Assert.AreEqual(1, bank.PressesUntil(900));
    }

    private static void ABouncingReleaseIsNotAPress(long releasedMs, long deliveredMs)
    {
        Bank bank = PressHeardInTime();
        bank.At(releasedMs);
        bank.Contact(false);
        bank.Contact(true);
        bank.Contact(false);
        Assert.AreEqual(0, bank.PressesUntil(releasedMs + 60));
        bank.At(deliveredMs);
        bank.Deliver();
        Assert.AreEqual(0, bank.PressesUntil(3000), "the bounce of the release");
        APressStillCounts(bank);
    }

    private static Bank PressHeardInTime()
    {
        var bank = new Bank();
        bank.At(100);
        bank.Contact(true);
        bank.Deliver();
        bank.At(110);
        Assert.IsTrue(bank.Sample());
        return bank;
    }

    private static Bank PressSampledAndLetGo()
    {
        var bank = new Bank();
        bank.At(100);
        bank.Contact(true);
        bank.At(150);
        Assert.IsTrue(bank.Sample());
        bank.At(220);
        bank.Contact(false);
        Assert.AreEqual(0, bank.PressesUntil(250));
        return bank;
    }

    private static void APressStillCounts(Bank bank)
    {
        bank.At(4000);
        bank.Contact(true);
        bank.Deliver();
        Assert.AreEqual(1, bank.PressesUntil(4100));
    }
}
