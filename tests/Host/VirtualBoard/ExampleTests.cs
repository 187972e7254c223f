using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The example scenarios do what the README says of them.</summary>
[TestClass]
public class ExampleTests
{
    private static SceneFile Load(string name) => SceneReader.Load(Repository.At($"firmware/VirtualBoard/Examples/{name}.json"));

    private static ScenePlayed Play(string name) => ScenePlayer.Play(Load(name));

    // Fourteen hours of the board: played once for all tests that look at it.
    private static readonly Lazy<ScenePlayed> Morning = new(() => Play("morning"));

    private static SessionReport Clean(ScenePlayed played)
    {
        SessionReport report = played.Report;
        Assert.AreEqual(0, report.MissedPresses.Count, "missed presses");
        Assert.AreEqual(0, report.BusViolations.Count, "bus transfers near an edge");
        Assert.AreEqual(0, report.DisplayComplaints.Count, "display bytes that the chip would refuse");
        Assert.AreEqual(0, report.PinFaults.Count, "pin faults");
        return report;
    }

    [TestMethod]
    public void MilkyWaterIsExposedForSixtyFourSecondsWithinFiveMilliseconds()
    {
        SessionReport report = Clean(Play("milky-water"));
        Assert.AreEqual("Bulb 64.00 s", report.Exposure);
        FrameReport frame = report.Frames.Single();
        Assert.AreEqual(64.0, frame.CommandedExposure!.Value, 1e-6);
        Assert.AreEqual(64.0, frame.Exposure, 0.005);
        Assert.IsTrue(Math.Abs(frame.PressErrorMs!.Value) < 5, $"pressed {frame.PressErrorMs} ms off plan");
    }

    /// <summary>The numbers of the page on the study of the dawns, and its pictures byte for byte.</summary>
    [TestMethod]
    public void UnderMovingCloudTheSensorEndsTheFrameWhereItHasTheMeteredLight()
    {
        SceneFile scene = Load("moving-cloud");
        ScenePlayed played = ScenePlayer.Play(scene);
        FrameReport sensed = Clean(played).Frames.Single(), timed = Clean(ScenePlayer.Play(scene with { LightSensor = false })).Frames.Single();
        Assert.AreEqual(250.0, timed.Exposure, 0.05);
        Assert.AreEqual(0.41, timed.LightErrorStops!.Value, 0.005);
        Assert.AreEqual(195, sensed.Exposure, 0.5);
        Assert.AreEqual(0, sensed.LightErrorStops!.Value, 0.005);
        foreach (var (name, png) in played.Pictures)
        {
            Assert.IsTrue(File.ReadAllBytes(Repository.At($"firmware/VirtualBoard/Pictures/{name}")).AsSpan().SequenceEqual(png), $"{name} is not what play draws: copy it");
        }
    }

    [TestMethod]
    public void TheGuidedMorningGoesAsItsWordsSay()
    {
        ScenePlayed played = Morning.Value;
        SessionReport report = Clean(played);
        Assert.AreEqual(8, report.Frames.Count);
        foreach (FrameReport frame in report.Frames.Take(5))
        {
            Assert.AreEqual(1.0, frame.Exposure, 0.005);
            Assert.AreEqual(1.0, frame.BackwashShare, "the whole second on the backwash");
        }
        // The corrected frame: its product would have been 2^-2 s times 1000, less what the growing light gives; the sensor then ended it.
        double[] planned = [.. played.Logbook.Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(6).Select(row => double.Parse(row.Split(',')[11], CultureInfo.InvariantCulture))];
        Assert.AreEqual(189.3, planned[0], 0.05);
        Assert.AreEqual(0.40, Math.Log2(250.0 / planned[0]), 0.005);
        Assert.AreEqual(187, report.Frames[5].Exposure, 0.5);
        // What TIME WANTED says it misses 4:16 by: 2^-2 s times the thousandfold of a density of 3.0, against 2^8 s.
        Assert.AreEqual(-0.03, Math.Log2(0.25 * 1000 / 256), 0.005);
        // The same again, from the end of that frame.
        Assert.AreEqual(125.8, planned[1], 0.05);
        Assert.AreEqual(111, report.Frames[6].Exposure, 0.5);
        Assert.AreEqual(0, report.Frames[6].LightErrorStops!.Value, 0.1);
        Assert.AreEqual(0.21, ScenePlayer.Play(Load("morning") with { LightSensor = false }).Report.Frames[6].LightErrorStops!.Value, 0.005);
        // The alarm came while the last frame was open, and the frame went on until it had its light.
        FrameReport last = report.Frames[7];
        Assert.IsTrue(last.Opened < AlarmAt && last.Opened + last.Exposure > AlarmAt, $"opened at {last.Opened}");
        Assert.AreEqual(0, last.ExposureErrorStops!.Value, 0.001);

        Site site = DemoSite.Load();
        Morning best = Planner.Search(site, Planner.FromDateTime(new DateTime(2031, 3, 18, 20, 0, 0)), 60).Ranked[0];
        UtcInstant[] times = [best.SetOffAt, best.WorkStart, best.WorkEnd, best.LeaveBy];
        Assert.AreEqual("04:53 05:28 07:28 10:48", string.Join(' ', times.Select(t => TimeText.HourMinute(t, site.Place.Offset))));
        string words = played.Steps!;
        foreach (string said in new[] { "04:53", "2.5 to 1.6 m", "05:28 to 07:28", "11:07", "10:53", "06:28", "4:16", "0.03 stop", "190 s", "0.40 stop", "187 s and not 189", "126 s", "111 s", "0.21 stop" }) StringAssert.Contains(words, said);
        foreach (SceneStep step in GuidedMorning.Load().Steps.Where(s => s.Picture is not null))
        {
            Assert.IsTrue(played.Pictures.Any(p => p.Name == step.Picture + ".png"), step.Title);
        }
    }

    /// <summary>The readme shows the pictures that playing the morning draws, byte for byte.</summary>
    [TestMethod]
    public void TheReadmesPicturesOfTheMorningAreThoseThatItDraws()
    {
        IReadOnlyList<(string Name, byte[] Png)> drawn = Morning.Value.Pictures;
        foreach (var (name, shown) in new[]
        {
            ("mornings", "mornings"), ("path", "path"), ("metered", "morning-metered"), ("glass", "morning-glass"), ("waves-learned", "waves-learned"),
            ("on-the-wave", "morning-on-the-wave"), ("wanted", "morning-wanted"), ("dawn", "morning-dawn"), ("again", "morning-again"), ("again-exposing", "morning-cloud"), ("taken", "morning-taken"), ("alarm", "morning-alarm"), ("tide", "tide"), ("sun", "sun"),
        })
        {
            byte[] file = File.ReadAllBytes(Repository.At($"firmware/VirtualBoard/Pictures/{shown}.png"));
            Assert.IsTrue(file.AsSpan().SequenceEqual(drawn.Single(d => d.Name == name + ".png").Png), $"{shown}.png is not what play draws as {name}.png: copy it");
        }
    }

    [TestMethod]
    public void TheAlarmIsUpInItsPictureAndQuietInTheNext()
    {
        SceneFile scene = GuidedMorning.Load();
        using Board board = SceneStart.PowerOn(scene);
        foreach (var (name, up) in new[] { ("four-minutes", false), ("alarm", true), ("quiet", false) })
        {
            board.RunUntil((long)(scene.Pictures.Single(p => p.Name == name).At * 1e6));
            Assert.AreEqual(up, board.Box!.Shore.AlarmUp, name);
        }
    }

    // 10:24 UTC, half an hour before the leave-by time, on a board that started at 20:00 the evening before.
    private const double AlarmAt = (14 * 60 + 24) * 60;

    [TestMethod]
    public void OneSecondOnTheBackwashIsTakenFiveTimesWithinFiveMillisecondsOfPlan()
    {
        SessionReport report = Clean(Play("backwash"));
        Assert.AreEqual(5, report.Frames.Count);
        foreach (FrameReport frame in report.Frames)
        {
            Assert.IsTrue(Math.Abs(frame.PressErrorMs!.Value) < 5, $"frame {frame.Number}: pressed {frame.PressErrorMs} ms off plan");
            Assert.AreEqual(1.0, frame.Exposure, 0.005);
            Assert.IsTrue(frame.BackwashShare > 0.99, $"frame {frame.Number}: {frame.BackwashShare:P0} on the backwash");
        }
    }
}
