using System.Device.Gpio;
using Intervalometer.Core.Run;
using Intervalometer.Drivers.Composition;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>The panel thread is blocked by a transfer, a picture or the tide. Only the release thread runs, and Fire still starts and stops.</summary>
[TestClass]
public class HeldUpPanelTests
{
    private const int HalfPress = 18, Shutter = 19, FirePin = 35, BackPin = 27;
    private const long Ms = 1_000;

    private readonly PlainPins _pins = new();
    private readonly HandClock _clock = new();
    private Box _box = null!;
    private bool _shutterWasClosed;

    // Eight seconds of bulb, without settling.
    private void Start()
    {
        _box = new Box(new GpioController(_pins), new BoxPins(HalfPress, Shutter, [25, 26, BackPin, 33, 32, FirePin], 23, 4, -1), new PlainBus(), _clock);
        _box.Start();
        _box.Settings.AlwaysBulb = true;
        _box.Settings.Plan.SettleUs = 0;
        _box.Settings.StepShutter(27);
        Pass(1_000 * Ms, true);
    }

    private void Pass(long us, bool panel)
    {
        for (long until = _clock.NowUs + us; _clock.NowUs < until; _clock.NowUs += _box.EdgeNear ? 100 : 10_000)
        {
            _box.ReleasePass();
            if (panel) _box.PanelPass();
            _shutterWasClosed |= _pins[Shutter] == PinValue.High;
        }
    }

    private void Press(int pin, bool panel)
    {
        _pins[pin] = PinValue.Low;
        Pass(100 * Ms, panel);
        _pins[pin] = PinValue.High;
    }

    [TestMethod]
    public void FireStartsInThatPass()
    {
        Start();
        _pins[FirePin] = PinValue.Low;
        _box.ReleasePass();
        Assert.AreEqual(RunState.Plan, _box.Desk!.State);
        Pass(2_000 * Ms, false);
        Assert.AreEqual(PinValue.High, _pins[Shutter], "the shutter contact closes while the panel is still held up");
        _pins[FirePin] = PinValue.High;
        Pass(8_000 * Ms, true);
        Assert.AreEqual(RunState.Done, _box.Desk.State);
        Assert.AreEqual("RUN", _box.Panel!.ScreenName, "the panel knows of it");
    }

    [TestMethod]
    [DataRow(600)]
    [DataRow(800)]
    [DataRow(1000)]
    public void ASecondPressStops(int heldUpMs)
    {
        Start();
        Press(FirePin, false);
        Pass(200 * Ms, false);
        Press(FirePin, false);
        Pass((heldUpMs - 400) * Ms, false);
        Pass(12_000 * Ms, true);
        Assert.AreEqual(RunState.Stopped, _box.Desk!.State);
        Assert.IsFalse(_shutterWasClosed, "the first edge had not come yet");
        Assert.AreEqual("RUN", _box.Panel!.ScreenName, "the words about the stop are shown");
    }

    [TestMethod]
    public void AStopOfAFrameWaitsForNothing()
    {
        foreach (int pin in new[] { FirePin, BackPin })
        {
            Start();
            Press(FirePin, true);
            Pass(3_000 * Ms, true);
            Assert.AreEqual(PinValue.High, _pins[Shutter]);
            _pins[pin] = PinValue.Low;
            _box.ReleasePass();
            if (pin == BackPin)
            {
                // Back stops when it has been held for a second; the release thread counts it, and the panel may stand.
                Assert.AreEqual(PinValue.High, _pins[Shutter]);
                Pass(1_200 * Ms, false);
            }
            Assert.AreEqual(PinValue.Low, _pins[Shutter]);
            Assert.AreEqual(PinValue.Low, _pins[HalfPress]);
            _pins[pin] = PinValue.High;
            Pass(1_000 * Ms, false);
        }
    }

    /// <summary>What Fire would start depends on the press before it. So Fire waits for the panel, and another press of Fire cancels it.</summary>
    [TestMethod]
    public void AfterAPressThatChangesTheOrderFireWaitsAndCanBeCalledOff()
    {
        Start();
        Press(25, false);
        Press(FirePin, false);
        Pass(500 * Ms, false);
        Assert.AreEqual(RunState.Ready, _box.Desk!.State);
        Pass(30 * Ms, true);
        Assert.AreEqual(RunState.Plan, _box.Desk.State);
        Pass(1_000 * Ms, true);
        Press(FirePin, true);
        Pass(1_000 * Ms, true);
        Press(FirePin, true);
        Pass(1_000 * Ms, true);
        Press(25, false);
        Press(FirePin, false);
        Pass(200 * Ms, false);
        Press(FirePin, false);
        Pass(5_000 * Ms, true);
        Assert.AreEqual(RunState.Ready, _box.Desk.State);
    }
}
