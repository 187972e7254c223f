using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Cli;
using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.Tests.Host.Sky;

/// <summary>The page about the dawns says what the command wrote into the tables beside it, and the command writes such tables.</summary>
[TestClass]
public class DawnPageTests
{
    private static readonly string Page = File.ReadAllText(Repository.At("firmware/VirtualBoard/Study/dawns.md")).ReplaceLineEndings("\n");

    public TestContext TestContext { get; set; } = null!;

    internal static Dictionary<string, string>[] Rows(string file)
    {
        string[][] lines = [.. File.ReadAllLines(file).Select(l => l.Split(','))];
        return [.. lines.Skip(1).Select(l => lines[0].Zip(l).ToDictionary(c => c.First, c => c.Second))];
    }

    internal static Dictionary<string, string> Frames(string seeds, string group, string leg = "25") =>
        Rows(Repository.At("firmware/VirtualBoard/Study/dawns.csv")).Single(r => r["seeds"] == seeds && r["group"] == group && r["leg"] == leg);

    private static string Cells(Dictionary<string, string> row, string name, params string[] columns) => string.Join(", ", columns.Select(c => row[$"{name}_{c}"]));

    private static IEnumerable<string> Said()
    {
        foreach (var (words, group) in new[] { ("all dawns", "all dawns"), ("frames that the sensor ended", "ended by the sensor"), ("of these, the sun ahead of the camera", "ended with the sun ahead"), ("of these, the sun behind it", "ended with the sun behind") })
        {
            Dictionary<string, string> row = Frames("1", group);
            yield return $"| {words} | {row["frames"]} | {string.Join(" | ", new[] { "sensor", "model", "neither" }.Select(help => Cells(row, help, "middle", "95", "right")))} |";
        }
        foreach (var (words, seeds) in new[] { ("1", "1"), ("2", "2"), ("3", "3"), ("all three", "1-3") })
        {
            yield return $"| {words} | {Frames(seeds, "ended by the sensor")["frames"]} | {string.Join(" | ", new[] { "ended by the sensor", "ended with the sun ahead", "ended with the sun behind" }.Select(g => Frames(seeds, g)["sensor_right"]))} |";
        }
        Dictionary<string, string> all = Frames("1-3", "all dawns");
        string Under(string column) => all[column].TrimStart('-');
        yield return $"from {Under("highest_missed")} degrees of sun under the horizon upward, and from {Under("highest_missed_layer")} under rain and overcast";
        yield return $"The lowest sun was {Under("lowest_ended")} degrees under it.";
        string Right(string leg) => Frames("1", "ended by the sensor", leg)["sensor_right"];
        yield return $"{Right("30")} of 100 frames are right in place of {Right("25")} (`--leg 30`); on a leg of 20 it is {Right("20")}.";
        foreach (Dictionary<string, string> row in Rows(Repository.At("firmware/VirtualBoard/Study/dawns-series.csv")))
        {
            yield return $"| {row["group"]} | {row["frames"]} | {Cells(row, "followed", "middle", "95", "right")} | {Cells(row, "one", "middle", "95", "right")} | {Cells(row, "followed_step", "middle", "95", "largest")} | {Cells(row, "scene_step", "middle", "95", "largest")} |";
        }
    }

    [TestMethod]
    public void ThePageSaysWhatTheCommandWrote()
    {
        string page = string.Join(' ', Page.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        string[] missing = [.. Said().Where(line => !page.Contains(line, StringComparison.Ordinal))];
        Assert.IsEmpty(missing, string.Join("\n", missing));
        Dictionary<string, string> high = Frames("1-3", "all dawns");
        string sensor = File.ReadAllText(Repository.At("hardware/README.md"));
        Assert.Contains($"from {high["highest_missed"].TrimStart('-')} degrees of sun under the horizon upwards, and from {high["highest_missed_layer"].TrimStart('-')} under rain and overcast", sensor);
    }

    /// <summary>The tables carry the seed and the count that the page's commands play.</summary>
    [TestMethod]
    public void TheRecordSaysHowItWasMade()
    {
        Dictionary<string, string>[] rows = Rows(Repository.At("firmware/VirtualBoard/Study/dawns.csv"));
        CollectionAssert.AreEquivalent(new[] { "1 200 25", "2 200 25", "3 200 25", "1-3 600 25", "1 200 30", "1 200 20" }, rows.Select(r => $"{r["seeds"]} {r["dawns"]} {r["leg"]}").Distinct().ToArray());
        CollectionAssert.AreEqual(new[] { "1 40 25" }, Rows(Repository.At("firmware/VirtualBoard/Study/dawns-series.csv")).Select(r => $"{r["seeds"]} {r["series"]} {r["leg"]}").Distinct().ToArray());
        foreach (string command in new[] { "sky-study --seeds 3 --record", "sky-study --series --record" }) Assert.Contains(command, Page);
    }

    /// <summary>The command writes the rows of each seed and of all, replaces those of the same seed, count and leg, and leaves the others.</summary>
    [TestMethod]
    public void TheCommandWritesSuchARecord()
    {
        string file = Path.Combine(TestContext.TestRunDirectory!, "record.csv"), series = Path.Combine(TestContext.TestRunDirectory!, "series.csv");
        string text = Run("--dawns", "2", "--seeds", "2", "--record", file);
        Assert.Contains("seed 2", text);
        string before = File.ReadAllText(file);
        Dictionary<string, string>[] rows = Rows(file);
        CollectionAssert.AreEquivalent(new[] { "1 2", "2 2", "1-2 4" }, rows.Select(r => $"{r["seeds"]} {r["dawns"]}").Distinct().ToArray());
        Assert.AreEqual("4", rows.Single(r => r["seeds"] == "1-2" && r["group"] == "all dawns")["frames"]);
        File.WriteAllText(file, before.Replace("\n1,2,25,all dawns,2,", "\n1,2,25,all dawns,99,"));
        Run("--dawns", "2", "--record", file);
        Assert.AreEqual(before, File.ReadAllText(file));
        Run("--dawns", "1", "--series", "--seed", "5", "--record", series);
        Assert.AreEqual("5 1 20 19", string.Join(' ', new[] { "seeds", "series", "frames", "steps" }.Select(c => Rows(series)[0][c])));
    }

    /// <summary>Where the sensor ended no frame the command says so in words.</summary>
    [TestMethod]
    public void WithoutAFrameThatTheSensorEndedNoFigureIsMissing()
    {
        var dark = new PlayedFrame(DawnDraw.Draw(1, 0), 0.5, 0.5, 100, -11, false);
        var text = new StringWriter();
        new DawnStudy([new PlayedDawn(dark, dark, dark)]).Write(text);
        Assert.Contains("It ended no frame.", text.ToString());
        Assert.DoesNotContain("NaN", text.ToString());
    }

    private static string Run(params string[] args)
    {
        var output = new StringWriter();
        Assert.AreEqual(0, CommandLine.Run(["sky-study", .. args], output, output), output.ToString());
        return output.ToString();
    }
}
