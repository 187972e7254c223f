using Intervalometer.Core.Exposure;
using Intervalometer.Core.Light;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Sky;
using static Intervalometer.Tests.Host.Light.MeteredRig;

namespace Intervalometer.Tests.Host.Light;

/// <summary>
/// Series whose exposures follow the light, on the whole board: metered and fired by the buttons, read through the bus, timed by the contact. The
/// exposures are those of the camera model.
/// </summary>
[TestClass]
public class SeriesLightTests
{
    private const long PressUs = 12 * Second;
    private const long IntervalUs = 10 * Second;

    // The metered time without glass, 4 s, is the answer.
    private const double Answer = 4;

    private static Board Metered(BoardOptions options, Action<Board>? set = null)
    {
        Board board = MeteredRig.Metered(options, PlanShape.Series, new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(6), 0), b =>
        {
            b.Box!.Settings.Plan.IntervalUs = IntervalUs;
            b.Box.Settings.Plan.Frames = 20;
            set?.Invoke(b);
        });
        board.RunUntil(11 * Second);
        return board;
    }

    private static Board Metered(Func<long, double> lux, Action<Board>? set = null) => Metered(new BoardOptions { LightAt = lux }, set);

    // Fires the series and plays it to its end.
    private static double[] Fire(Board board)
    {
        ShotPlan plan = board.Box!.Settings.Plan;
        Tap(board, Button.Fire, PressUs);
        board.RunUntil(PressUs + plan.Frames * (plan.Shape == PlanShape.Series ? plan.IntervalUs : IntervalUs) + 20 * Second);
        Assert.HasCount(0, board.Bus.Violations);
        Assert.HasCount(0, board.PinFaults);
        Assert.AreEqual("", string.Join("\n", board.LightSensor.Complaints));
        Assert.IsFalse(board.Lines[Line.Shutter] || board.Lines[Line.HalfPress]);
        Assert.AreEqual(0, board.Box.Link!.Frames.Off);
        Assert.HasCount(plan.Frames, board.Camera.Frames);
        return [.. board.Camera.Frames.Select(f => (f.CloseUs - f.OpenUs) / 1e6)];
    }

    private static double[] Steps(double[] exposures) => [.. exposures.Skip(1).Zip(exposures, (next, before) => Math.Log2(next / before))];

    // The frames open at the interval, to the thousandth of a second.
    private static void KeepsTheInterval(Board board)
    {
        long[] opened = [.. board.Camera.Frames.Select(f => f.OpenUs)];
        for (int i = 1; i < opened.Length; i++) Assert.AreEqual(board.Box!.Settings.Plan.IntervalUs, opened[i] - opened[i - 1], 1000, $"frame {i + 1}");
    }

    private static SeriesLight From(Board board, int frame) => board.Box!.Shore.Dawn.Sensor.Series.Notes.From(frame);

    /// <summary>A gull takes two stops for a second, and later one stop for two seconds: no frame differs by more than 0.05 stop, which nobody sees.</summary>
    [TestMethod]
    public void AGullMakesNoFlicker()
    {
        double Lux(long at) => at is > 58 * Second and < 59 * Second ? 5 : at is > 95 * Second and < 97 * Second ? 10 : 20;
        using Board board = Metered(Lux);
        foreach (double seconds in Fire(board)) Assert.AreEqual(0, Math.Log2(seconds / Answer), 0.05);
        KeepsTheInterval(board);
        Assert.AreEqual(SeriesLight.Sensor, From(board, 19));
    }

    /// <summary>The edge of a cloud takes 1.2 stops within four seconds: the frames grow one after the other, by no more than the largest change, and never go back.</summary>
    [TestMethod]
    public void ACloudsEdgeBecomesARamp()
    {
        using Board board = Metered(at => 20 * Math.Pow(2, -1.2 * Math.Clamp((at - 60 * Second) / 4e6, 0, 1)));
        double[] exposures = Fire(board);
        KeepsTheInterval(board);
        foreach (double step in Steps(exposures)) Assert.IsTrue(step is > -0.03 and <= 0.301, string.Join(" ", exposures));
        Assert.AreEqual(1.2, Math.Log2(exposures[^1] / Answer), 0.03);
        Assert.AreEqual(0, Math.Log2(exposures[3] / Answer), 0.02);
    }

    /// <summary>The largest change is set with the buttons on FRAMES, and holds; 'no' keeps one exposure.</summary>
    [TestMethod]
    [DataRow(2)]
    [DataRow(3)]
    public void TheLargestChangeIsSetOnFrames(int presses)
    {
        using Board board = Metered(at => at < 30 * Second ? 20 : 40, b => b.Box!.Settings.Plan.Frames = 12);
        // FRAMES is two cards below LIGHT; its fifth field is the change.
        Button[] way = [Button.Down, Button.Down, .. Enumerable.Repeat(Button.Select, 5), .. Enumerable.Repeat(Button.Down, presses), Button.Back];
        for (int i = 0; i < way.Length; i++) Tap(board, way[i], 12 * Second + i * 400_000);
        board.RunUntil(19 * Second);
        Assert.AreEqual(3 - presses, board.Box!.Settings.SeriesTenths);
        Tap(board, Button.Fire, 20 * Second);
        board.RunUntil(160 * Second);
        double[] exposures = [.. board.Camera.Frames.Select(f => (f.CloseUs - f.OpenUs) / 1e6)];
        Assert.HasCount(12, exposures);
        double most = (3 - presses) / 10.0;
        foreach (double step in Steps(exposures)) Assert.AreEqual(-most / 2, step, most / 2 + 0.002);
        Assert.AreEqual(-Math.Min(1, 10 * most), Math.Log2(exposures[^1] / Answer), 0.11);
    }

    /// <summary>A clear dawn of 40 minutes on the virtual sky, from near the darkest that the chip can see: each frame collects what was metered within 0.1 stop. The manual of the cards says so.</summary>
    [TestMethod]
    public void AClearDawnIsFollowed()
    {
        Site site = DemoSite.Load();
        var options = new BoardOptions { Sky = new SkyChoice("clear", 5, 90), SensorFitted = true, Place = site, StartUtc = new DateTime(2031, 3, 14, 6, 7, 0, DateTimeKind.Utc) };
        using Board board = Metered(options, b =>
        {
            b.Box!.Settings.Plan.IntervalUs = 60 * Second;
            b.Box.Settings.Plan.Frames = 40;
            b.Box.Settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(15), 2));
        });
        double[] exposures = Fire(board);
        KeepsTheInterval(board);
        ISky sky = board.Sky!;
        double reference = sky.Lux(MeteredUs) * Math.Pow(2, 17 / 3.0);
        double worst = 0;
        for (int i = 0; i < exposures.Length; i++)
        {
            Frame frame = board.Camera.Frames[i];
            double sum = 0;
            for (int n = 0; n < 100; n++) sum += sky.Lux(frame.OpenUs + (long)((n + 0.5) / 100 * (frame.CloseUs - frame.OpenUs))) * exposures[i] / 100;
            Assert.AreEqual(0, Math.Log2(sum / reference), 0.1, $"frame {i + 1} of {exposures[i]:F2} s");
            Assert.AreEqual(SeriesLight.Sensor, From(board, i));
            worst = Math.Max(worst, Math.Abs(Math.Log2(sum / reference)));
        }
        Assert.AreEqual(-5.8, ((DrawnSky)sky).SunAltitude(PressUs), 0.1);
        Console.WriteLine($"sun from {((DrawnSky)sky).SunAltitude(PressUs):F1} to {((DrawnSky)sky).SunAltitude(board.Time.NowUs):F1} degrees, {exposures[0]:F2} to {exposures[^1]:F2} s, at worst {worst:F3} stop off");
        Assert.IsTrue(Math.Log2(exposures[0] / exposures[^1]) > 5, "the light grew by more than five stops");
    }

    /// <summary>In the middle of the series the sensor cannot be trusted: the exposure of the frame before is kept, and noted.</summary>
    [TestMethod]
    [DataRow("silent", "SENSOR OUT: ABOUT")]
    [DataRow("covered", "COVERED: ABOUT")]
    [DataRow("lamp", "A LAMP? ABOUT")]
    [DataRow("glare", "TOO BRIGHT: ABOUT")]
    public void WithoutATrustedSensorTheTimeIsKept(string kind, string words)
    {
        const long FromUs = 100 * Second;
        double Scene(long at) => 20 * Math.Pow(2, (at - 5 * Second) / 200e6);
        using Board board = Metered(at => at < FromUs || kind == "silent" ? Scene(at) : kind == "covered" ? 0.6 : kind == "lamp" ? 900 : 1e9);
        if (kind == "silent") board.Time.At(FromUs, () => board.Bus.Trouble.Deaf.Add(SensorAddress));
        double[] exposures = Fire(board);
        KeepsTheInterval(board);
        Assert.AreEqual(words, board.Box!.Shore.Dawn.Sensor.SeriesWords);
        double before = Math.Log2(exposures[8] / Answer), last = Math.Log2(exposures[^1] / Answer);
        Assert.AreEqual(-0.45, before, 0.06, "it followed until then");
        Assert.AreEqual(before, last, 0.06, "and has kept its time since");
        Assert.AreEqual(SeriesLight.Sensor, From(board, 8));
        Assert.AreEqual(SeriesLight.Kept, From(board, 12));
    }

    /// <summary>With the correction for the dawn switched on, the clear sky goes on where the sensor has fallen silent; and the sensor takes over again.</summary>
    [TestMethod]
    public void TheClearSkyGoesOnAndTheSensorComesBack()
    {
        using Board board = Metered(_ => 20, b =>
        {
            b.Box!.Shore.Settings.DawnOn = true;
            b.Box.Settings.Plan.Frames = 25;
        });
        board.Time.At(40 * Second, () => board.Bus.Trouble.Deaf.Add(SensorAddress));
        board.Time.At(160 * Second, () => board.Bus.Trouble.Deaf.Remove(SensorAddress));
        double[] exposures = Fire(board);
        KeepsTheInterval(board);
        double perFrame = board.Box!.Shore.Dawn.Sensor.Drift * IntervalUs / 1e6;
        Assert.IsTrue(perFrame > 0.01, $"{perFrame} stops");
        Assert.AreEqual(SeriesLight.ClearSky, From(board, 10));
        Assert.AreEqual(-8 * perFrame, Math.Log2(exposures[13] / exposures[5]), 0.02, "as under a clear sky");
        Assert.AreEqual(SeriesLight.Sensor, From(board, 24));
        Assert.AreEqual(0, Math.Log2(exposures[^1] / Answer), 0.03, "as the sensor says again");
    }

    /// <summary>Before Fire FRAMES says what sets the time. Without a reading at metering a series is timed by its plan, as without a sensor.</summary>
    [TestMethod]
    public void TooDarkAtMeteringItIsTimedByItsPlan()
    {
        using Board board = Metered(at => at < 10.5 * Second ? 0.05 : 20, b => b.Box!.Settings.Plan.Frames = 3);
        foreach (double seconds in Fire(board)) Assert.AreEqual(Answer, seconds, 0.005);
        Assert.AreEqual(SeriesLight.None, From(board, 1));
    }

    /// <summary>The light fades by four stops: no frame becomes so long that the interval breaks, with the dark frame of the camera as well.</summary>
    [TestMethod]
    [DataRow(false)]
    [DataRow(true)]
    public void TheIntervalIsKeptHoweverDarkItGets(bool dark)
    {
        var options = new BoardOptions { LightAt = at => 20 * Math.Pow(2, -Math.Clamp((at - PressUs) / 30e6, 0, 4)) };
        using var board = Metered(options, b =>
        {
            b.Box!.Settings.Camera.DarkFrame = dark;
            b.Box.Settings.SeriesTenths = BoxSettings.MostSeriesTenths;
        });
        double[] exposures = Fire(board);
        KeepsTheInterval(board);
        BoxSettings settings = board.Box!.Settings;
        ShotPlan plan = new();
        plan.CopyFrom(settings.Plan);
        plan.ExposureUs = 1;
        double longest = PlanCompiler.LongestInIntervalUs(plan, settings.Camera) / 1e6;
        Assert.AreEqual(dark ? 4.87 : 9.6, longest, 0.01, "interval less lag, gap and lead");
        Assert.AreEqual(longest, exposures[^1], 0.002);
    }

    /// <summary>A burst follows as well; a bracket keeps its steps.</summary>
    [TestMethod]
    public void ABurstFollowsAndABracketDoesNot()
    {
        Func<long, double> lux = at => at < 20 * Second ? 20 : 30;
        using Board burst = Metered(lux, b => (b.Box!.Settings.Plan.Shape, b.Box.Settings.Plan.Frames) = (PlanShape.Burst, 12));
        double[] exposures = Fire(burst);
        Assert.AreEqual(-Math.Log2(1.5), Math.Log2(exposures[^1] / Answer), 0.02);
        using Board bracket = Metered(lux, b => (b.Box!.Settings.Plan.Shape, b.Box.Settings.Plan.Frames) = (PlanShape.Bracket, 3));
        exposures = Fire(bracket);
        Assert.AreEqual(Answer / 2, exposures[1], 0.005);
        Assert.AreEqual(Answer * 2, exposures[2], 0.005);
    }

    /// <summary>The logbook keeps each frame's exposure, the light that it was taken from and by what; its CSV has the steps of the ramp. The list of the frames shows it after a restart.</summary>
    [TestMethod]
    public void TheLogbookKeepsTheRamp()
    {
        using Board board = Metered(at => 20 * Math.Pow(2, Math.Clamp((at - 20 * Second) / 100e6, 0, 1)), b => b.Box!.Settings.Plan.Frames = 9);
        double[] exposures = Fire(board);
        Tap(board, Button.Back, board.Time.NowUs + Second);
        board.RunUntil(board.Time.NowUs + 20 * Second);
        board.PowerOff();
        string[][] rows = [.. LogbookCsv.Text(board.Memory.Snapshot()).Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Select(l => l.Split(','))];
        int from = Array.IndexOf(rows[0], "time_from"), step = Array.IndexOf(rows[0], "step_stops"), light = Array.IndexOf(rows[0], "light_ev100"), seconds = Array.IndexOf(rows[0], "exposure_s");
        Assert.HasCount(10, rows);
        Assert.AreEqual("", rows[1][step]);
        for (int i = 1; i <= 9; i++)
        {
            Assert.AreEqual("light", rows[i][from]);
            Assert.AreEqual(exposures[i - 1], Number(rows[i][seconds]), 0.001);
            if (i > 1) Assert.AreEqual(Math.Log2(exposures[i - 1] / exposures[i - 2]), Number(rows[i][step]), 0.002);
        }
        Assert.AreEqual(Math.Log2(exposures[0] / exposures[8]), Number(rows[9][light]) - Number(rows[1][light]), 0.05);
        board.PowerOn();
        long at = board.Time.NowUs + 4 * Second;
        board.RunUntil(at);
        Screens.AfterTheFrameTests.OpenTaken(board, at);
        Screens.GoldenPictures.Check(f => board.Box!.Panel!.Draw(f, board.Time.NowUs), "taken-earlier-series");
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
