using System.Text;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Battery;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Cli;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.VirtualBoard;

[TestClass]
public class SceneTests
{
    private const string Good = """
        {
          "name": "first light",
          "startUtc": "2031-03-14T05:12:00Z",
          "site": "Invented Cove",
          "filters": ["ND 0.9"],
          "metered": { "shutter": "1/8", "aperture": "f/8", "iso": "100" },
          "camera": { "dial": "timed", "dialSeconds": 1, "lagMs": 55 },
          "sea": { "kind": "steady", "seed": 7, "periodSeconds": 9, "spread": 0.05 },
          "presses": [
            { "at": 1.5, "button": "select", "forSeconds": 0.1 },
            { "everyTurn": true, "button": "mark", "from": 5, "count": 4, "reactionMs": 220 }
          ],
          "pictures": [ { "at": 3, "name": "menu" } ],
          "endAt": 60
        }
        """;

    private static SceneFile Parse(string text) => SceneReader.Parse("run.json", Encoding.UTF8.GetBytes(text));

    [TestMethod]
    public void AGoodFileIsReadWhole()
    {
        SceneFile scene = Parse(Good);
        Assert.AreEqual("first light", scene.Name);
        Assert.AreEqual(new DateTimeOffset(2031, 3, 14, 5, 12, 0, TimeSpan.Zero), scene.StartUtc);
        Assert.AreEqual(CameraDial.Timed, scene.Camera.Dial);
        Assert.AreEqual(55.0, scene.Camera.LagMs);
        Assert.AreEqual(new TimedPress(1.5, Button.Select, 0.1), scene.Presses.Single());
        Assert.AreEqual(new TurnPress(5, 4, Button.Mark, 220, 0.12), scene.TurnPresses.Single());
        Assert.AreEqual(60.0, scene.EndAt);
    }

    [TestMethod]
    [DataRow("\"endAt\": 60", "\"endAt\": 60, \"tides\": 1", "run.json: line 14: unknown property \"tides\" in the scenario; use ")]
    [DataRow("\"lagMs\": 55", "\"lag\": 55", "run.json: line 7: unknown property \"lag\" in camera; use ")]
    [DataRow("\"at\": 1.5", "\"at\": -1.5", "run.json: line 10: \"at\" is -1.5; use 0 to 60 s")]
    [DataRow("\"at\": 1.5", "\"at\": 61", "run.json: line 10: \"at\" is 61; use 0 to 60 s")]
    [DataRow("\"at\": 1.5", "\"at\": \"1.5\"", "run.json: line 10: \"at\" is the text \"1.5\"; write a number")]
    [DataRow("\"select\"", "\"selekt\"", "run.json: line 10: unknown button \"selekt\"; use up, down, back, select, mark, fire")]
    [DataRow("\"ND 0.9\"", "\"ND 9\"", "run.json: line 5: unknown filter the text \"ND 9\"; use ND 0.9, ")]
    [DataRow("\"1/8\"", "\"1/9\"", "run.json: line 6: Shutter '1/9': not a third-stop figure")]
    [DataRow("2031-03-14T05:12:00Z", "2031-03-32T05:12:00Z", "run.json: line 3: \"startUtc\" is \"2031-03-32T05:12:00Z\"; write it like ")]
    [DataRow("\"count\": 4", "\"count\": 4.5", "run.json: line 11: \"count\" is 4.5; use a whole number")]
    [DataRow("2031-03-14T05:12:00Z", "1999-03-14T05:12:00Z", "run.json: line 3: \"startUtc\" is in 1999; the clock takes 2026 to 2099")]
    [DataRow("\"Invented Cove\"", "\"Invented Cove\", \"place\": \"no.site\"", "run.json: line 4: place: no.site: cannot be read (there is no such file)")]
    [DataRow("\"name\": \"menu\"", "\"name\": \"../menu\"", "run.json: line 13: picture name \"../menu\" cannot be a file name; ")]
    [DataRow("\"steady\"", "\"stormy\"", "run.json: line 8: unknown kind \"stormy\"; use ")]
    [DataRow("\"filters\": [", "\"filters\": ", "run.json: line 5: not JSON: ")]
    [DataRow("\"endAt\": 60", "\"name\": \"x\", \"endAt\": 60", "run.json: line 14: \"name\" is given twice; remove one")]
    [DataRow("\"endAt\": 60", "\"seed\": 1", "run.json: line 1: the scenario has no \"endAt\"; add it")]
    [DataRow("\"dialSeconds\": 1, ", "", "run.json: line 7: the camera is timed but has no \"dialSeconds\"; add it")]
    [DataRow("\"endAt\": 60", "\"endAt\": 60, \"battery\": {\"millivolts\": 9000}", "run.json: line 14: \"millivolts\" is 9000; use 0 to 5500 mV")]
    [DataRow("\"endAt\": 60", "\"endAt\": 60, \"battery\": {\"millivolts\": 3900, \"perHour\": -1e6}", "run.json: line 14: \"perHour\" is -1e6; use -10000 to 10000 mV an hour")]
    [DataRow("\"endAt\": 60", "\"endAt\": 60, \"battery\": {\"perHour\": -40}", "run.json: line 14: battery has no \"millivolts\"; add it")]
    [DataRow("\"endAt\": 60", "\"endAt\": 60, \"battery\": {\"millivolts\": 3900, \"volts\": 3}", "run.json: line 14: unknown property \"volts\" in battery; use ")]
    [DataRow("\"endAt\": 60", "\"endAt\": 60, \"battery\": 3900", "run.json: line 14: battery is ")]
    public void ABadFileIsRefusedInOneLineThatNamesThePlace(string old, string with, string expected)
    {
        Assert.IsTrue(Good.Contains(old, StringComparison.Ordinal));
        int at = Good.IndexOf(old, StringComparison.Ordinal);
        string bad = Good[..at] + with + Good[(at + old.Length)..];
        SceneFileException fault = Assert.ThrowsExactly<SceneFileException>(() => Parse(bad));
        StringAssert.StartsWith(fault.Message, expected);
        Assert.IsFalse(fault.Message.Contains('\n'), fault.Message);
    }

    [TestMethod]
    public void TheBatteryIsReadFromTheFileAndFullWithoutOne()
    {
        Assert.AreEqual(new BatteryOptions(), Parse(Good).Battery);
        SceneFile scene = Parse(Good.Replace("\"endAt\": 60", "\"battery\": { \"millivolts\": 3450, \"perHour\": -40 }, \"endAt\": 60"));
        Assert.AreEqual(new BatteryOptions { Millivolts = 3450, PerHour = -40 }, scene.Battery);
        Assert.IsFalse(Parse(Good.Replace("\"endAt\": 60", "\"battery\": { \"millivolts\": 3900, \"noGauge\": true }, \"endAt\": 60")).Battery.GaugeFitted);
        string fires = """{ "metered": { "shutter": "1/8", "aperture": "f/8" }, "presses": [ { "at": 5, "button": "fire" } ], "endAt": 20, "battery": """;
        Assert.AreEqual(0, ScenePlayer.Play(Parse(fires + """{ "millivolts": 3450 } }""")).Report.Frames.Count, "an empty battery refuses the run");
        Assert.IsTrue(ScenePlayer.Play(Parse(fires + """{ "millivolts": 3900 } }""")).Report.Frames.Count > 0);
    }

    [TestMethod]
    public void TwoPressesOfOneButtonMustNotOverlap()
    {
        string bad = Good.Replace("{ \"everyTurn\"", "{ \"at\": 1.55, \"button\": \"select\" },\n    { \"everyTurn\"");
        SceneFileException fault = Assert.ThrowsExactly<SceneFileException>(() => Parse(bad));
        StringAssert.StartsWith(fault.Message, "run.json: line 11: select is pressed again");
    }

    [TestMethod]
    [DataRow("")]
    [DataRow("  ")]
    [DataRow("{\"endAt\": 5")]
    [DataRow("{\"endAt\": 5, \"name\": \"ab")]
    [DataRow("[]")]
    [DataRow("null")]
    [DataRow("{} {}")]
    [DataRow("{\"endAt\":1e999}")]
    [DataRow("{\"endAt\":5,\"presses\":[3]}")]
    [DataRow("{\"endAt\":5,\"presses\":[{}]}")]
    [DataRow("{\"endAt\":5,\"sea\":[]}")]
    [DataRow("{\"endAt\":5,\"filters\":[null]}")]
    public void OddFilesAreRefusedToo(string text)
    {
        SceneFileException fault = Assert.ThrowsExactly<SceneFileException>(() => Parse(text));
        StringAssert.StartsWith(fault.Message, "run.json: line 1: ");
        // A word of the library that means nothing to the reader.
        Assert.IsFalse(fault.Message.Contains("isFinalBlock"), fault.Message);
    }

    [TestMethod]
    public void PlayingTwiceWritesTheSameBytes()
    {
        string folder = Directory.CreateTempSubdirectory("scene").FullName;
        try
        {
            string file = Path.Combine(folder, "run.json");
            File.WriteAllText(file, Good);
            foreach (string name in new[] { "a", "b" })
            {
                var error = new StringWriter();
                Assert.AreEqual(0, CommandLine.Run(["play", file, "--out", Path.Combine(folder, name)], new StringWriter(), error), error.ToString());
            }
            string[] names = [.. Directory.GetFiles(Path.Combine(folder, "a")).Select(f => Path.GetFileName(f)).Order()];
            CollectionAssert.AreEqual(new[] { "frames.csv", "lines.vcd", "memory.bin", "menu.png", "report.json" }, names);
            foreach (string name in names)
            {
                CollectionAssert.AreEqual(File.ReadAllBytes(Path.Combine(folder, "a", name)), File.ReadAllBytes(Path.Combine(folder, "b", name)), name);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [TestMethod]
    public void ABadScenarioEndsWithExitCodeTwoAndWritesNothing()
    {
        string folder = Directory.CreateTempSubdirectory("scene").FullName;
        try
        {
            string file = Path.Combine(folder, "run.json");
            File.WriteAllText(file, Good.Replace("\"mark\"", "\"marc\""));
            var error = new StringWriter();
            Assert.AreEqual(2, CommandLine.Run(["play", file, "--out", Path.Combine(folder, "out")], new StringWriter(), error));
            Assert.AreEqual(1, error.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries).Length, error.ToString());
            CollectionAssert.AreEqual(new[] { file }, Directory.GetFileSystemEntries(folder));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [TestMethod]
    public void AFolderThatHoldsSomethingIsLeftAlone()
    {
        string folder = Directory.CreateTempSubdirectory("scene").FullName;
        try
        {
            string file = Path.Combine(folder, "run.json");
            File.WriteAllText(file, "{\"endAt\": 0.1}");
            var error = new StringWriter();
            Assert.AreEqual(2, CommandLine.Run(["play", file, "--out", folder], new StringWriter(), error));
            StringAssert.Contains(error.ToString(), "is not empty");
            CollectionAssert.AreEqual(new[] { file }, Directory.GetFileSystemEntries(folder));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
