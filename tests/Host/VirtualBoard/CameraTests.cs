using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The camera alone, worked by its two contacts. Times in milliseconds here.</summary>
[TestClass]
public class CameraTests
{
    private readonly VirtualClock _clock = new();
    private CameraModel _camera = null!;
    private LineLog _log = null!;

    private void Make(CameraOptions options)
    {
        _log = new LineLog(_clock);
        _camera = new CameraModel(_clock, _log, options);
    }

    private void Half(double ms, bool closed) => _clock.At((long)(ms * 1000), () => _camera.HalfPress(closed));

    private void Shutter(double fromMs, double toMs)
    {
        _clock.At((long)(fromMs * 1000), () => _camera.Shutter(true));
        _clock.At((long)(toMs * 1000), () => _camera.Shutter(false));
    }

    private void Run(double ms) => _clock.AdvanceTo((long)(ms * 1000));

    [TestMethod]
    public void BulbIsOpenFromCloseToOpenEachPlusLag()
    {
        Make(new CameraOptions());
        Half(0, true);
        Shutter(1000, 3000);
        Run(4000);
        Frame frame = _camera.Frames.Single();
        Assert.AreEqual(1_060_000L, frame.OpenUs);
        Assert.AreEqual(3_060_000L, frame.CloseUs);
        Assert.IsTrue(frame.Bulb);
        CollectionAssert.AreEqual(new[] { (1_060_000L, true), (3_060_000L, false) },
            _log.Changes.Where(c => c.Line == Line.SensorOpen).Select(c => (c.AtUs, c.On)).ToArray());
    }

    [TestMethod]
    public void TheDialTimesTheExposureHoweverShortThePress()
    {
        Make(new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 0.5 });
        Half(0, true);
        Shutter(1000, 1100);
        Run(4000);
        Frame frame = _camera.Frames.Single();
        Assert.AreEqual(1_060_000L, frame.OpenUs);
        Assert.AreEqual(1_560_000L, frame.CloseUs);
    }

    [TestMethod]
    public void AHeldContactRepeatsAtTheFrameRateAndWaitsForTheExposure()
    {
        Make(new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 0.1, Continuous = true, FramesPerSecond = 4 });
        Half(0, true);
        Shutter(1000, 2000);
        Run(4000);
        CollectionAssert.AreEqual(new[] { 1_060_000L, 1_310_000L, 1_560_000L, 1_810_000L }, _camera.Frames.Select(f => f.OpenUs).ToArray());
        Assert.IsTrue(_camera.Frames.Skip(1).All(f => f.HeldRepeat));
    }

    [TestMethod]
    public void ASingleDriveTakesOneFrameForAHeldContact()
    {
        Make(new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 0.1 });
        Half(0, true);
        Shutter(1000, 5000);
        Run(6000);
        Assert.AreEqual(1, _camera.Frames.Count);
    }

    [TestMethod]
    public void ASleepingCameraOpensLate()
    {
        Make(new CameraOptions { WakeMs = 200 });
        Half(1000, true);
        Shutter(1050, 3000);
        Run(4000);
        Assert.AreEqual(1_260_000L, _camera.Frames.Single().OpenUs); // awake at 1200, then the lag
    }

    [TestMethod]
    public void TheCameraFallsAsleepAgain()
    {
        Make(new CameraOptions { WakeMs = 200, SleepAfterSeconds = 10 });
        Half(0, true);
        Shutter(1000, 2000);
        Shutter(20_000, 21_000);
        Run(30_000);
        Assert.AreEqual(20_260_000L, _camera.Frames[1].OpenUs);
    }

    [TestMethod]
    public void WithoutHalfPressNothingHappens()
    {
        Make(new CameraOptions());
        Shutter(1000, 2000);
        Run(3000);
        Assert.AreEqual(0, _camera.Frames.Count);
        StringAssert.Contains(_camera.Missed.Single().Why, "half-press");
    }

    [TestMethod]
    public void TheDarkFrameTakesAsLongAgainAndIgnoresPresses()
    {
        Make(new CameraOptions { DarkFrame = true });
        Half(0, true);
        Shutter(1000, 3000);   // open 1060..3060, busy until 5060
        Shutter(4000, 4500);
        Shutter(5100, 5600);
        Run(8000);
        Assert.AreEqual(2, _camera.Frames.Count);
        MissedPress missed = _camera.Missed.Single();
        Assert.AreEqual(4_000_000L, missed.AtUs);
        StringAssert.Contains(missed.Why, "dark frame");
        Assert.AreEqual(5_160_000L, _camera.Frames[1].OpenUs);
    }

    [TestMethod]
    public void ShortExposuresTakeNoDarkFrame()
    {
        Make(new CameraOptions { DarkFrame = true });
        Half(0, true);
        Shutter(1000, 1990);
        Shutter(2200, 2500);
        Run(4000);
        Assert.AreEqual(2, _camera.Frames.Count);
    }

    [TestMethod]
    public void WithMirrorLockUpTheSecondPressExposes()
    {
        Make(new CameraOptions { MirrorLockUp = true });
        Half(0, true);
        Shutter(1000, 1100);
        Shutter(3000, 4000);
        Run(5000);
        Assert.AreEqual(1, _camera.MirrorsRaised);
        Assert.AreEqual(3_060_000L, _camera.Frames.Single().OpenUs);
    }

    [TestMethod]
    public void ARaisedMirrorDropsAfterAWhile()
    {
        Make(new CameraOptions { MirrorLockUp = true, MirrorDropsSeconds = 5 });
        Half(0, true);
        Shutter(1000, 1100);
        Shutter(7000, 8000);
        Run(9000);
        Assert.AreEqual(2, _camera.MirrorsRaised);
        Assert.AreEqual(0, _camera.Frames.Count);
    }

    [TestMethod]
    public void AFullBufferIgnoresPressesUntilAFrameIsStored()
    {
        Make(new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 0.01, BufferFrames = 2, StoreSeconds = 5 });
        Half(0, true);
        Shutter(1000, 1100);
        Shutter(1500, 1600);
        Shutter(2000, 2100); // full until the first frame is stored at 6070
        Shutter(6200, 6300);
        Run(8000);
        Assert.AreEqual(3, _camera.Frames.Count);
        StringAssert.Contains(_camera.Missed.Single().Why, "buffer");
    }

    [TestMethod]
    public void BounceShorterThanTheDebounceTimeIsNotSeen()
    {
        Make(new CameraOptions { DebounceMs = 5 });
        Half(0, true);
        Shutter(500, 502);      // too short for a press
        Shutter(1000, 1500);
        Shutter(1502, 3000);    // an opening of 2 ms goes unseen
        Run(4000);
        Frame frame = _camera.Frames.Single();
        Assert.AreEqual(3_060_000L, frame.CloseUs);
        StringAssert.Contains(_camera.Missed.Single().Why, "debounce");
    }

    [TestMethod]
    public void APressWhileTheShutterClosesIsMissed()
    {
        Make(new CameraOptions { LagMs = 200 });
        Half(0, true);
        Shutter(1000, 2000);
        Shutter(2050, 2500);    // the sensor is open until 2200
        Run(4000);
        Assert.AreEqual(1, _camera.Frames.Count);
        StringAssert.Contains(_camera.Missed.Single().Why, "closing");
    }
}
