using System.Text;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The firmware on the board, used through its buttons only.</summary>
[TestClass]
public class WholeBoxTests
{
    private const string Backwash = """
        {
          "filters": ["ND 1.8"],
          "metered": { "shutter": "1/60", "aperture": "f/8" },
          "camera": { "dial": "timed", "dialSeconds": 1 },
          "sea": { "kind": "steady", "seed": 11, "periodSeconds": 9, "spread": 0.03 },
          "presses": [
            { "at": 1, "button": "down" }, { "at": 1.5, "button": "down" }, { "at": 2, "button": "down" },
            { "everyTurn": true, "button": "mark", "from": 3, "count": 40, "reactionMs": 220 },
            { "at": 60, "button": "fire" }
          ],
          "pictures": [ { "at": 2.8, "name": "card" }, { "at": 62, "name": "run" } ],
          "endAt": 200
        }
        """;

    private static ScenePlayed Play(string scene) => ScenePlayer.Play(SceneReader.Parse("scene.json", Encoding.UTF8.GetBytes(scene)));

    [TestMethod]
    public void ARunOnTheRhythmOpensOnTheBackwash()
    {
        SessionReport report = Play(Backwash).Report;
        StringAssert.StartsWith(report.Exposure, "Dial 1 ");
        Assert.AreEqual(5, report.Frames.Count);
        Quiet(report);
        foreach (FrameReport frame in report.Frames)
        {
            Assert.AreEqual(1.0, frame.Exposure, 1e-6);
            Assert.IsTrue(frame.BackwashShare > 0.7, frame.ToString());
        }
    }

    [TestMethod]
    public void EveryPlannedEdgeIsWithinAMillisecond()
    {
        ScenePlayed played = Play("""
            {
              "presses": [ { "at": 1, "button": "down" }, { "at": 1.4, "button": "down" },
                { "at": 1.8, "button": "select" }, { "at": 2.2, "button": "up" }, { "at": 2.6, "button": "up" }, { "at": 3.0, "button": "up" },
                { "at": 3.4, "button": "back" }, { "at": 4, "button": "fire" } ],
              "camera": { "dial": "timed", "dialSeconds": 0.015625 },
              "pictures": [ { "at": 3.9, "name": "frames" } ],
              "endAt": 120
            }
            """);
        if (Environment.GetEnvironmentVariable("SCENE_OUT") is string folder) played.WriteTo(folder);
        Assert.IsTrue(played.Report.Frames.Count >= 1);
        Quiet(played.Report);
        double worst = played.Report.Frames.Max(f => Math.Abs(f.PressErrorMs!.Value));
        Console.WriteLine($"{played.Report.Frames.Count} frames, worst press {worst} ms off its plan");
        Assert.IsTrue(worst < 1, $"{worst} ms");
    }

    [TestMethod]
    public void FireDuringALongExposureOpensTheContactAtOnce()
    {
        SessionReport report = Play("""
            {
              "filters": ["ND 3.0"],
              "metered": { "shutter": "1/8", "aperture": "f/8" },
              "camera": { "dial": "bulb" },
              "presses": [ { "at": 1, "button": "fire" }, { "at": 20, "button": "fire" } ],
              "endAt": 40
            }
            """).Report;
        StringAssert.StartsWith(report.Exposure, "Bulb ");
        FrameReport frame = report.Frames.Single();
        Assert.IsTrue(frame.CutShort);
        // One release pass, two writes and the camera's lag after the finger.
        Assert.AreEqual(20.06, frame.Closed, 0.02);
        Quiet(report);
    }

    private static void Quiet(SessionReport report)
    {
        Assert.AreEqual(0, report.MissedPresses.Count, string.Join("; ", report.MissedPresses));
        Assert.AreEqual(0, report.BusViolations.Count, string.Join("; ", report.BusViolations.Take(3)));
        Assert.AreEqual(0, report.DisplayComplaints.Count, string.Join("; ", report.DisplayComplaints.Take(3)));
        Assert.AreEqual(0, report.PinFaults.Count, string.Join("; ", report.PinFaults));
        Assert.AreEqual(0, report.LimiterTrips);
    }
}
