using System.Runtime.CompilerServices;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The example scenarios do what the README says of them.</summary>
[TestClass]
public class ExampleTests
{
    private static ScenePlayed Play(string name, [CallerFilePath] string here = "") =>
        ScenePlayer.Play(SceneReader.Load(Path.Combine(Path.GetDirectoryName(here)!, "../../../firmware/VirtualBoard/Examples", name + ".json")));

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
