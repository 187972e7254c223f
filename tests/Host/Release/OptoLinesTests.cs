using System.Device.Gpio;
using Intervalometer.Core.Release;
using Intervalometer.Drivers.Lines;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Release;

/// <summary>How the two contacts are opened at once.</summary>
[TestClass]
public class OptoLinesTests
{
    private const int HalfPress = 18;
    private const int Shutter = 19;

    private static OptoLines Closed(VirtualGpioDriver driver)
    {
        var lines = new OptoLines(new GpioController(driver), HalfPress, Shutter);
        lines.Set(ReleaseLine.HalfPress, true);
        lines.Set(ReleaseLine.Shutter, true);
        return lines;
    }

    /// <summary>The shutter goes first, because an exposure must not run on for the length of another write.</summary>
    [TestMethod]
    public void TheShutterIsOpenedFirst()
    {
        var driver = new VirtualGpioDriver(new VirtualClock(), new Dice(1));
        OptoLines lines = Closed(driver);
        List<(int, bool)> written = [];
        driver.OutputChanged += (pin, high) => written.Add((pin, high));
        lines.OpenAll();
        CollectionAssert.AreEqual(new[] { (Shutter, false), (HalfPress, false) }, written);
    }

    /// <summary>A pin that fails does not keep the other one from being opened, whichever it is.</summary>
    [TestMethod]
    [DataRow(Shutter, HalfPress)]
    [DataRow(HalfPress, Shutter)]
    public void APinThatFailsLeavesTheOtherContactOpen(int fails, int other)
    {
        var driver = new VirtualGpioDriver(new VirtualClock(), new Dice(1));
        OptoLines lines = Closed(driver);
        driver.OutputChanged += (pin, _) =>
        {
            if (pin == fails) throw new InvalidOperationException("a test: the pin");
        };
        Assert.ThrowsExactly<InvalidOperationException>(lines.OpenAll);
        Assert.IsFalse(driver.IsHigh(other));
    }
}
