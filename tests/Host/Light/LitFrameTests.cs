using Intervalometer.Core.Exposure;
using Intervalometer.Core.Light;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;
using static Intervalometer.Tests.Host.Light.MeteredRig;

namespace Intervalometer.Tests.Host.Light;

/// <summary>
/// Frames that the light ends, on the whole board: metered and fired by the buttons, read through the bus, ended by the contact. The light
/// that the camera's frame has collected is summed from its own opening and closing.
/// </summary>
[TestClass]
public class LitFrameTests
{
    private const long PressUs = 10 * Second;

    // The metered time of 25 s (2^(14/3)) and two thirds of a stop more.
    private const double Answer = 40.3175;

    private static Board Metered(Func<long, double> lux, Action<Board>? set = null) => Metered(new BoardOptions { LightAt = lux }, set);

    private static Board Metered(BoardOptions options, Action<Board>? set) =>
        MeteredRig.Metered(options, PlanShape.Single, new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(14), 2), set);

    private static void Fire(Board board, double untilSeconds)
    {
        Tap(board, Button.Fire, PressUs);
        board.RunUntil((long)(untilSeconds * 1e6));
    }

    // What the one frame has collected over what was metered, in stops.
    private static double Error(Board board, Func<long, double> lux, double metered = Answer)
    {
        Frame frame = board.Camera.Frames.Single();
        double sum = 0;
        const long StepUs = 10_000;
        for (long at = frame.OpenUs; at < frame.CloseUs; at += StepUs) sum += lux(at + StepUs / 2) * Math.Min(StepUs, frame.CloseUs - at) / 1e6;
        return Math.Log2(sum / (metered * lux(MeteredUs)));
    }

    private static double Length(Board board) => (board.Camera.Frames.Single().CloseUs - board.Camera.Frames.Single().OpenUs) / 1e6;

    // The contact opened by its plan, no transfer came near an edge, the chip had nothing to complain of, and what was told is what was taken.
    private static void Sound(Board board)
    {
        Assert.HasCount(0, board.Bus.Violations);
        Assert.AreEqual("", string.Join("\n", board.LightSensor.Complaints));
        Assert.HasCount(0, board.PinFaults);
        Assert.IsFalse(board.Lines[Line.Shutter] || board.Lines[Line.HalfPress]);
        Assert.AreEqual(1, board.Box!.Link!.Frames.Total);
        Assert.AreEqual(Length(board), board.Box.Link.Frames.ExposureUs(0) / 1e6, 0.001);
        Assert.AreEqual(0, board.Box.Link.Frames.Off);
    }

    private static LightNotes Notes(Board board) => board.Box!.Shore.Dawn.Sensor.Series.Notes;

    private static (LightEnd End, double Share) Told(Board board) =>
        (Notes(board).End(0), Notes(board).Thousandths(0) / 1000.0);

    [TestMethod]
    public void ASteadyLightTakesTheAnswer()
    {
        using Board board = Metered(_ => 30);
        Fire(board, 70);
        Sound(board);
        Assert.AreEqual(Answer, Length(board), 0.02);
        Assert.AreEqual(LightEnd.Enough, Told(board).End);
        Assert.AreEqual(1, Told(board).Share, 0.002);
    }

    /// <summary>Light that grows, fades and goes up and down as clouds pass: a twentieth of a stop off at most.</summary>
    [TestMethod]
    [DataRow("grows")]
    [DataRow("fades")]
    [DataRow("clouds")]
    [DataRow("step")]
    public void AChangingLightEndsTheFrameWhenItIsEnough(string kind)
    {
        Func<long, double> lux = kind switch
        {
            "grows" => at => 20 * Math.Pow(2, Math.Max(0, at - PressUs) / 30e6),
            "fades" => at => 20 * Math.Pow(2, -Math.Max(0, at - PressUs) / 60e6),
            "clouds" => at => 20 * (at < PressUs ? 1 : 1.2 + 0.7 * Math.Sin((at - PressUs) / 5e6)),
            _ => at => at < PressUs + 12 * Second ? 20 : 45,
        };
        using Board board = Metered(lux);
        Fire(board, 110);
        Sound(board);
        Assert.AreEqual(0, Error(board, lux), 0.05);
        Assert.AreEqual(LightEnd.Enough, Told(board).End);
        Assert.AreEqual(1, Told(board).Share, 0.03);
        Assert.IsTrue(Math.Abs(Length(board) - Answer) > 1, "the light made a difference");
    }

    /// <summary>A sky that closes: the contact opens at the longest time allowed, a stop over the answer, and that is told.</summary>
    [TestMethod]
    public void TheFrameIsNeverLongerThanAllowed()
    {
        using Board board = Metered(at => at < PressUs + 5 * Second ? 20 : 10.0 / Math.Min(5, 1 + (at - PressUs - 5 * Second) / 4e6));
        Fire(board, 100);
        Sound(board);
        Assert.AreEqual(2 * Answer, Length(board), 0.02);
        Assert.AreEqual(LightEnd.Longest, Told(board).End);
        Assert.IsTrue(Told(board).Share < 0.7);
    }

    /// <summary>The longest exposure allowed in BOX holds for such a frame as well.</summary>
    [TestMethod]
    public void TheLimitOfTheBoxHolds()
    {
        using Board board = Metered(at => at < PressUs ? 20 : 12, b => b.Box!.Settings.LimitSeconds = 50);
        Fire(board, 80);
        Sound(board);
        Assert.AreEqual(50, Length(board), 0.02);
    }

    /// <summary>A light that grows by half a stop a second ends no frame before a quarter of its answer.</summary>
    [TestMethod]
    public void TheFrameIsNeverShorterThanAQuarter()
    {
        using Board board = Metered(at => 2 * Math.Pow(2, Math.Clamp((at - PressUs) / 2e6, 0, 5)));
        Fire(board, 40);
        Sound(board);
        Assert.AreEqual(Answer / 4, Length(board), 0.6);
        Assert.AreEqual(LightEnd.Shortest, Told(board).End);
    }

    /// <summary>The sensor falls silent, is covered, or is lit by a lamp in the middle of the frame: the frame ends by what is estimated from its last good reading.</summary>
    [TestMethod]
    [DataRow("silent", LightState.Silent)]
    [DataRow("covered", LightState.Covered)]
    [DataRow("lamp", LightState.Jumped)]
    [DataRow("glare", LightState.Saturated)]
    public void WithoutATrustedSensorTheRestIsEstimated(string kind, LightState state)
    {
        long fromUs = PressUs + 15 * Second;
        double Scene(long at) => at < PressUs ? 20 : 28;
        double Seen(long at) => at < fromUs || kind == "silent" ? Scene(at) : kind == "covered" ? 0.5 : kind == "lamp" ? 400 : 1e9;
        using Board board = Metered(Seen);
        if (kind == "silent") board.Time.At(fromUs, () => board.Bus.Trouble.Deaf.Add(SensorAddress));
        Fire(board, 30);
        Assert.AreEqual(state, board.Box!.Shore.Dawn.Sensor.Watch.State);
        Assert.IsFalse(board.Box.Shore.Dawn.Sensor.Trusted);
        board.RunUntil(80 * Second);
        Sound(board);
        Assert.AreEqual(LightEnd.Estimated, Told(board).End);
        Assert.AreEqual(0, Error(board, Scene), 0.05);
    }

    /// <summary>The dawn goes on where the sensor has fallen silent, when its correction is switched on.</summary>
    [TestMethod]
    public void TheClearSkyTakesOver()
    {
        using Board board = Metered(_ => 20, b => b.Box!.Shore.Settings.DawnOn = true);
        board.Time.At(PressUs + 2 * Second, () => board.Bus.Trouble.Deaf.Add(SensorAddress));
        Fire(board, 80);
        Sound(board);
        double drift = board.Box!.Shore.Dawn.Sensor.Drift;
        Assert.IsTrue(drift > 0.001, $"three quarters of an hour before sunrise the light grows: {drift} stops a second");
        Assert.AreEqual(LightEnd.Estimated, Told(board).End);
        Assert.IsTrue(Length(board) < Answer - 0.5, $"{Length(board)} s");
    }

    /// <summary>A hand before the sensor for a few seconds changes nothing.</summary>
    [TestMethod]
    public void AShortCoverIsBridged()
    {
        double Scene(long at) => 20;
        using Board board = Metered(at => at > PressUs + 10 * Second && at < PressUs + 14 * Second ? 0.3 : Scene(at));
        Fire(board, 80);
        Sound(board);
        Assert.AreEqual(0, Error(board, Scene), 0.05);
        Assert.AreEqual(LightEnd.Enough, Told(board).End);
    }

    /// <summary>Too dark, covered and silent before Fire: the frame is timed as without a sensor, and LIGHT says why.</summary>
    [TestMethod]
    [DataRow("dark", "too dark for the sensor")]
    [DataRow("covered", "sensor covered, or turned")]
    [DataRow("lamp", "a lamp? Turned? Meter again")]
    [DataRow("silent", "sensor silent: not used")]
    public void BeforeFireItIsToldThatTheSensorIsNotUsed(string kind, string words)
    {
        long fromUs = 7 * Second + 800_000;
        using Board board = Metered(at => kind == "dark" ? 0.05 : at < fromUs || kind == "silent" ? 20 : kind == "covered" ? 0.4 : 300);
        if (kind == "silent") board.Bus.Trouble.Deaf.Add(SensorAddress);
        board.RunUntil(16 * Second);
        Assert.AreEqual(words, board.Box!.Shore.Dawn.Sensor.Words);
        Tap(board, Button.Fire, 17 * Second);
        board.RunUntil(70 * Second);
        Sound(board);
        Assert.AreEqual(Answer, Length(board), 0.01);
        Assert.AreEqual(LightEnd.None, Told(board).End);
    }

    /// <summary>Fire stops it at once, and it is told as stopped.</summary>
    [TestMethod]
    public void AStopWins()
    {
        using Board board = Metered(_ => 20);
        Tap(board, Button.Fire, PressUs);
        Tap(board, Button.Fire, PressUs + 20 * Second);
        board.RunUntil(40 * Second);
        Sound(board);
        Assert.AreEqual(RunState.Stopped, board.Box!.Desk!.State);
        Assert.AreEqual(LightEnd.Stopped, Told(board).End);
        Assert.AreEqual(0.49, Told(board).Share, 0.03);
    }

    /// <summary>Switched off, nothing is left to the light: neither a frame by itself nor the frames of a burst.</summary>
    [TestMethod]
    [DataRow(PlanShape.Single)]
    [DataRow(PlanShape.Burst)]
    public void SwitchedOffTheFramesAreTimedByTheirPlan(PlanShape shape)
    {
        using Board board = Metered(at => at < PressUs ? 20 : 40, b =>
        {
            b.Box!.Settings.Sensor = SensorUse.Off;
            (b.Box.Settings.Plan.Shape, b.Box.Settings.Plan.Frames) = (shape, 2);
        });
        Fire(board, 100);
        foreach (Frame frame in board.Camera.Frames) Assert.AreEqual(Answer, (frame.CloseUs - frame.OpenUs) / 1e6, 0.01);
        Assert.HasCount(shape == PlanShape.Single ? 1 : 2, board.Camera.Frames);
    }

    /// <summary>With a dark frame the camera is busy for as long as the frame was, and not as long as it might have been: the next press is taken then.</summary>
    [TestMethod]
    public void TheDarkFrameIsAsLongAsTheFrameWas()
    {
        var options = new BoardOptions { LightAt = at => at < PressUs ? 20 : 40, Camera = new CameraOptions { DarkFrame = true } };
        using Board board = Metered(options, b => b.Box!.Settings.Camera.DarkFrame = true);
        Fire(board, 40);
        Assert.AreEqual(Answer / 2, Length(board), 0.5);
        long ready = board.Box!.Desk!.Player.CameraReadyUs;
        long close = board.Camera.Frames[0].CloseUs;
        Assert.AreEqual(close + Length(board) * 1e6, ready, 1.0 * Second);
    }

    /// <summary>The answer follows the light once that is switched on: 'metered … now …', until it is metered again or the light cannot be trusted.</summary>
    [TestMethod]
    public void TheAnswerFollowsTheLight()
    {
        double lux = 20;
        using Board board = Metered(_ => lux, b => b.Box!.Settings.Sensor = SensorUse.CarriesToo);
        BoxSettings settings = board.Box!.Settings;
        Assert.AreEqual(Answer, settings.Answer.Seconds, 0.5);
        for (int i = 0; i < 20; i++)
        {
            lux *= Math.Pow(2, 0.05);
            board.RunUntil(board.Time.NowUs + Second);
        }
        board.RunUntil(board.Time.NowUs + 3 * Second);
        Assert.AreEqual(1, settings.BrighterStops, 0.05);
        Assert.AreEqual(Answer / 2, settings.Answer.Seconds, 0.6);
        // The frame collects what was metered, and its plan is the answer of now.
        long press = board.Time.NowUs + Second;
        Tap(board, Button.Fire, press);
        board.RunUntil(press + 40 * Second);
        Assert.AreEqual(Answer / 2, Length(board), 0.5);
        Assert.AreEqual(Answer / 2, Notes(board).PlannedUs(0) / 1e6, 0.6);
        // Metered again: the dial's time is the answer again.
        Tap(board, Button.Back, board.Time.NowUs + Second);
        settings.StepShutter(1);
        board.RunUntil(board.Time.NowUs + 3 * Second);
        Assert.AreEqual(0, settings.BrighterStops, 0.03);
        // In doubt for long: it follows no more.
        lux = 0.01;
        board.RunUntil(board.Time.NowUs + 20 * Second);
        Assert.AreEqual(0, settings.BrighterStops);
        Assert.IsFalse(board.Box.Shore.Dawn.Sensor.Carries);
    }

    /// <summary>The logbook keeps what was planned, what was collected and what ended the frame, and the list of the frames shows it after a restart.</summary>
    [TestMethod]
    public void TheLogbookKeepsWhatTheLightDid()
    {
        using Board board = Metered(at => at < PressUs ? 20 : 40);
        Fire(board, 60);
        Tap(board, Button.Back, 61 * Second);
        board.RunUntil(75 * Second);
        var entry = new LogEntry();
        Logbook log = board.Box!.Keeper!.Logbook;
        Assert.AreEqual(1, log.Count);
        Assert.IsTrue(log.Read(0, entry));
        Assert.AreEqual(LightEnd.Enough, entry.End);
        Assert.AreEqual(Answer, entry.PlannedUs / 1e6, 0.001);
        Assert.AreEqual(1000, entry.CollectedThousandths, 30);
        Assert.AreEqual(Length(board), entry.ExposureUs / 1e6, 0.001);
        board.PowerOff();
        board.PowerOn();
        long at = board.Time.NowUs + 4 * Second;
        board.RunUntil(at);
        Screens.AfterTheFrameTests.OpenTaken(board, at);
        Screens.GoldenPictures.Check(f => board.Box!.Panel!.Draw(f, board.Time.NowUs), "taken-earlier-by-light");
    }

    /// <summary>In a deep sleep nothing switches the supply of the chip off: it is shut down by its own bit, and measures again after the waking.</summary>
    [TestMethod]
    public void ItIsShutDownBeforeADeepSleep()
    {
        using Board board = Metered(_ => 20);
        Assert.AreEqual(0, board.LightSensor[0] & 1);
        board.Box!.Darken();
        Assert.AreEqual(1, board.LightSensor[0]);
        board.PowerOff();
        board.PowerOn(woken: true);
        board.RunUntil(board.Time.NowUs + 4 * Second);
        Assert.AreEqual(LightState.Trusted, board.Box!.Shore.Dawn.Sensor.Watch.State);
        Assert.AreEqual("", string.Join("\n", board.LightSensor.Complaints));
    }

    /// <summary>Without a sensor on the box no transfer asks for one after the start, and nothing is shown of it.</summary>
    [TestMethod]
    public void WithoutASensorNothingAsksForOne()
    {
        var options = new BoardOptions();
        using var board = new Board(options);
        board.RunUntil(20 * Second);
        Assert.IsFalse(board.Box!.Shore.Dawn.Sensor.Fitted);
        using var wired = new Board(options with { LightAt = _ => 20 });
        wired.Bus.Trouble.Deaf.Add(SensorAddress);
        wired.PowerOff();
        wired.PowerOn();
        long before = wired.Bus.Trouble.Hits;
        wired.RunUntil(20 * Second);
        Assert.AreEqual(before, wired.Bus.Trouble.Hits);
        Assert.IsFalse(wired.Box!.Shore.Dawn.Sensor.Fitted);
    }
}
