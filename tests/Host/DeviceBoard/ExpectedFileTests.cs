using System.Diagnostics;
using Intervalometer.Drivers.Veml7700;
using Intervalometer.Tests.DeviceBoard;
using Intervalometer.Tests.DeviceBoard.Compare;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.Tests.Host.Subset;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Light;

namespace Intervalometer.Tests.Host.DeviceBoard;

/// <summary>The part of the comparison with the platform's own runtime that runs on the PC: what it expects, and how it judges.</summary>
[TestClass]
public class ExpectedFileTests
{
    private static readonly int HalfPress = new BoardOptions().Pins.HalfPress, Shutter = new BoardOptions().Pins.Shutter;

    [TestMethod]
    public void EveryScriptComesOutAsFilesThatCompileForTheDevice()
    {
        string folder = Directory.CreateTempSubdirectory("expected").FullName;
        Assert.AreEqual(0, ExpectedFiles.Write(folder, BoardCase.Names, PlaceIn.Memory));
        string[] written = [.. Directory.GetFiles(folder).Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal)];
        string[] starts = ["frames-1", "heap-1", "light-1", "morning-1", "morning-2", "screens-1", "waves-1"];
        CollectionAssert.AreEqual(starts.SelectMany(s => new[] { s + ".cs", s + ".edges.csv", s + ".pictures.txt" }).ToArray(), written);
        foreach (string start in starts)
        {
            string source = File.ReadAllText(Path.Combine(folder, start + ".cs"));
            DeviceCompilation.RequireNoErrors(DeviceCompilation.Create(start, [DeviceCompilation.Parse(source, start)], []));
            bool sensor = start == "light-1";
            Assert.AreNotEqual(sensor, source.Contains("Light() => 0;", StringComparison.Ordinal), $"{start}: only the script of the light has a sensor on the bus");
            Assert.AreEqual(sensor, source.Contains($"kind = {StepKind.Light};", StringComparison.Ordinal), start);
        }
        Directory.Delete(folder, recursive: true);
    }

    [TestMethod]
    public void TheScreensAreFortyAndMoreAndDiffer()
    {
        Start start = Expectation.Of(BoardCase.Make("screens")).Single();
        Assert.IsGreaterThanOrEqualTo(40, start.Pictures.Values.Select(p => p.Sum).Distinct().Count());
        Assert.IsEmpty(start.Edges);
    }

    /// <summary>A place that <c>firmware/Flash --place</c> has put into the image shows the same screens as one in the memory.</summary>
    [TestMethod]
    public void APlaceInTheFirmwareShowsTheSameScreensAsOneInTheMemory()
    {
        Start memory = Expectation.Of(BoardCase.Make("screens")).Single(), firmware = Expectation.Of(BoardCase.Make("screens", PlaceIn.Firmware)).Single();
        CollectionAssert.AreEqual(memory.Pictures.Values.Select(p => p.Text).ToArray(), firmware.Pictures.Values.Select(p => p.Text).ToArray());
        Start nowhere = Expectation.Of(BoardCase.Make("screens", PlaceIn.Nowhere)).Single();
        Assert.AreNotEqual(0, memory.Pictures.Values.Zip(nowhere.Pictures.Values).Count(p => p.First.Text != p.Second.Text), "without a place the pictures differ");
    }

    [TestMethod]
    public void TheFramesAreABulbFrameABurstAndAStopInTheMiddle()
    {
        Start start = Expectation.Of(BoardCase.Make("frames")).Single();
        Edge[] shutter = [.. start.Edges.Where(e => e.Pin == Shutter)];
        double[] closed = [.. shutter.Where(e => e.High).Select(e => (shutter.First(f => !f.High && f.AtUs > e.AtUs).AtUs - e.AtUs) / 1e6)];
        // One frame of two seconds, a burst of three, and two runs that a press ends: in the second frame of a burst, and in its first.
        Assert.HasCount(7, closed);
        for (int i = 0; i < 5; i++) Assert.AreEqual(1.986, closed[i], 0.002, $"frame {i + 1}");
        Assert.IsLessThan(1.9, closed[5]);
        Assert.IsLessThan(1.9, closed[6]);
        Assert.AreEqual(2, start.Edges.Count(e => e.Pin == Shutter && !e.Planned), "the two stops were not planned");
        Assert.IsFalse(start.Edges.Last(e => e.Pin == HalfPress).High);
    }

    /// <summary>
    /// A quarter of a second through ND 1.8 is 15.77 s. In twice the light the sensor ends the frame after half of that. In 0.4 of the light the contact opens at
    /// the longest time allowed, a stop over the answer. The sensor fell silent in that frame, and neither end was a stop.
    /// </summary>
    [TestMethod]
    public void TheLightEndsOneFrameAndTheQueuedEdgeTheOther()
    {
        Start start = Expectation.Of(BoardCase.Make("light")).Single();
        Edge[] shutter = [.. start.Edges.Where(e => e.Pin == Shutter)];
        Assert.HasCount(4, shutter);
        double answer = 0.25 * Math.Pow(10, 1.8);
        Assert.AreEqual(answer / 2, (shutter[1].AtUs - shutter[0].AtUs) / 1e6, 0.05);
        Assert.AreEqual(answer * 2, (shutter[3].AtUs - shutter[2].AtUs) / 1e6, 0.05);
        Assert.IsTrue(shutter.All(e => e.Planned));
        Step silent = start.Steps.Single(s => s.Kind == StepKind.Light && s.Value == 0);
        Assert.IsTrue(silent.AtMs > shutter[2].AtUs / 1000 + 2000 && silent.AtMs < shutter[3].AtUs / 1000 - 10_000);
        Assert.AreEqual(start.Pictures.Count, start.Pictures.Values.Select(p => p.Sum).Distinct().Count(), "every picture says something else");
    }

    /// <summary>A count of the stand-in sensor is that of the virtual board's at every gain and time. One check is the resolution of the application note 84323: 2.1504 lx at gain 1/8 and 25 ms.</summary>
    [TestMethod]
    public void TheLightSensorCountsAsTheVirtualBoards()
    {
        Assert.AreEqual(1000, LightScale.Counts(2_150_400, (2 << 11) | (12 << 6)));
        foreach (int time in new[] { 12, 8, 0, 1, 2, 3 })
        {
            for (int gain = 0; gain < 4; gain++)
            {
                int word = (gain << 11) | (time << 6);
                Assert.AreEqual(Veml7700Model.IntegrationUs(word), LightScale.IntegrationMs(word) * 1000);
                foreach (int milli in new[] { 151, 1_003, 12_000, 30_000, 60_000, 1_234_567, 20_000_001 })
                {
                    double lux = Veml7700Sensor.Corrected(milli / 1000.0);
                    Assert.AreEqual(Veml7700Model.Counts(lux, word), LightScale.Counts(milli, word), $"{lux} lx, word {word:X4}");
                }
            }
        }
        Assert.AreEqual(0, LightScale.IntegrationMs(15 << 6), "the data sheet has no such time");
    }

    [TestMethod]
    public void TheWaveRunFiresFiveTimes() =>
        Assert.AreEqual(5, Expectation.Of(BoardCase.Make("waves")).Single().Edges.Count(e => e.Pin == Shutter && e.High));

    [TestMethod]
    public void TheMorningSleepsThroughTheNightAndTakesItsEightFrames()
    {
        IReadOnlyList<Start> starts = Expectation.Of(BoardCase.Make("morning"));
        Assert.HasCount(2, starts);
        Assert.IsTrue(starts[0].Sleeps && starts[1].Woken);
        Assert.AreEqual(8, starts[1].Edges.Count(e => e.Pin == Shutter && e.High));
        Assert.AreEqual(25, starts.Sum(s => s.Pictures.Count), "every picture of the guided morning");
        Assert.IsLessThan(1_080_000, starts.Sum(s => s.RealMs), "a night and a morning in eighteen minutes, three long frames in their whole length, or nobody will run it");
    }

    [TestMethod]
    public void NothingHappensWithinAJump()
    {
        foreach (Start start in BoardCase.Names.SelectMany(name => Expectation.Of(BoardCase.Make(name))))
        {
            foreach (Step jump in start.Steps.Where(s => s.Kind == StepKind.Jump))
            {
                Assert.IsFalse(start.Steps.Any(s => s.Kind != StepKind.Jump && s.AtMs > jump.AtMs - Expectation.SettleMs && s.AtMs < jump.Value + Expectation.LeadMs), $"a step in the jump at {jump.AtMs} ms");
                Assert.IsFalse(start.Edges.Any(e => e.AtUs / 1000 > jump.AtMs - Expectation.SettleMs && e.AtUs / 1000 + 1 < jump.Value + Expectation.LeadMs), $"an edge in the jump at {jump.AtMs} ms");
            }
        }
    }

    [TestMethod]
    public void WithoutARuntimeTheScriptSaysWhatItNeedsAndFails()
    {
        using Process process = Process.Start(new ProcessStartInfo("bash", [Repository.At("tests/DeviceBoard/run.sh")]) { RedirectStandardError = true })!;
        string told = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.AreEqual(2, process.ExitCode);
        StringAssert.Contains(told, "name the folder that holds the platform's converter (topes) and runtime (clr)");
    }

    [TestMethod]
    public void ARunThatDidTheSamePasses()
    {
        Judge judge = Judged(Told(Planned));
        Assert.AreEqual(0, judge.Failed);
        Assert.AreEqual(1, judge.SamePictures);
    }

    [TestMethod]
    [DataRow("picture 0 12 00000001", "picture 0 1003 00000002 00000003", "another picture")]
    [DataRow("picture 0 12 00000001", "", "no picture")]
    [DataRow("edge 2000000 19 1", "edge 2121000 19 1", "an edge too late")]
    [DataRow("edge 4000000 19 0", "edge 4016000 19 0", "a closing too long")]
    [DataRow("edge 4000000 19 0", "", "a shutter that stays closed")]
    [DataRow("edge 1700000 18 1", "edge 1700000 19 1", "another line")]
    [DataRow("ended 5000000", "restarted 5000000", "a restart")]
    [DataRow("ended 5000000", "", "a run that stopped")]
    [DataRow("ended 5000000", "ended 5000000\nfault pin 34 cannot be an output", "a fault")]
    [DataRow("ended 5000000", "ended 5000000\n    ++++ Exception System.OutOfMemoryException - CLR_E_OUT_OF_MEMORY (1) ++++", "an exception")]
    public void ARunThatDidSomethingElseFails(string line, string instead, string what)
    {
        string told = string.Join('\n', Planned).Replace(line, instead, StringComparison.Ordinal);
        Assert.IsGreaterThan(0, Judged(Told(told.Split('\n'))).Failed, what);
    }

    /// <summary>Another board draws a moving picture at other instants. The picture must still be one that the firmware draws at about that time.</summary>
    [TestMethod]
    public void AMovingPictureMayBeMetAtAnotherInstant()
    {
        string told = string.Join('\n', Planned).Replace("picture 0 12 00000001", "picture 0 1003 00000009 00000007 00000008", StringComparison.Ordinal);
        Judge judge = Judged(Told(told.Split('\n')));
        Assert.AreEqual(0, judge.Failed);
        Assert.AreEqual((0, 1), (judge.SamePictures, judge.MovingPictures));
    }

    [TestMethod]
    public void TheMovingPicturesOfAWaveRunAreManyAndTheStandingOnesOne()
    {
        Start start = Expectation.Of(BoardCase.Make("waves")).Single();
        Picture armed = start.Pictures.Single(p => start.Steps[p.Key].Name == "armed").Value;
        Picture first = start.Pictures.Single(p => start.Steps[p.Key].Name == "waves-first").Value;
        Assert.IsGreaterThan(10, armed.Around.Count);
        Assert.HasCount(1, first.Around);
        Assert.IsTrue(armed.Around.Contains(armed.Sum) && first.Around.Contains(first.Sum), "the picture itself is one of those about its moment");
    }

    [TestMethod]
    public void HowLongTheClockStoodIsRead()
    {
        Assert.AreEqual((7, 83), Told(["late 7 83"]).Late);
        Assert.IsNull(Told(Planned).Late);
    }

    private static readonly string[] Planned =
    [
        "edge 1700000 18 1", "edge 2000000 19 1", "edge 4000000 19 0", "edge 4000500 18 0", "picture 0 12 00000001", "ended 5000000", "1 passed, 0 failed",
    ];

    private static Run Told(string[] lines) => new(lines, TimedOut: false);

    private static Judge Judged(Run run)
    {
        Assert.AreEqual((18, 19), (HalfPress, Shutter));
        var start = new Start
        {
            Utc = new DateTime(2031, 3, 14, 5, 30, 0, DateTimeKind.Utc),
            Steps = [new Step(4500, StepKind.Picture, 1, "one"), new Step(5000, StepKind.End, 0)],
            Edges = [new Edge(1_700_000, HalfPress, true, true), new Edge(2_000_000, Shutter, true, true), new Edge(4_000_000, Shutter, false, true), new Edge(4_000_500, HalfPress, false, true)],
            Pictures = new Dictionary<int, Picture> { [0] = new(1, [], "", new HashSet<int> { 1, 7 }) },
        };
        var judge = new Judge(TextWriter.Null);
        judge.Compare("example", start, run);
        return judge;
    }
}
