using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.Tests.Host.VirtualBoard;

[TestClass]
public class VcdTests
{
    private static readonly LineChange[] Changes =
    [
        new(300_000, Line.HalfPress, true), new(500_000, Line.Shutter, true), new(560_000, Line.SensorOpen, true),
        new(1_500_000, Line.Shutter, false), new(1_500_000, Line.HalfPress, false), new(1_560_000, Line.SensorOpen, false),
    ];

    private sealed class OneWave : ISea
    {
        private static readonly Swash Wave = new(200_000, 600_000, 1_200_000, 3);
        private static readonly Swash Never = new(long.MaxValue, long.MaxValue, long.MaxValue, 0);
        public string Description => "one wave";
        public double EdgeMetres(long nowUs) => 0;
        public Swash? LastBefore(long nowUs) => nowUs >= Wave.ArrivalUs ? Wave : null;
        public Swash NextAfter(long nowUs) => nowUs < Wave.ArrivalUs ? Wave : Never;
    }

    [TestMethod]
    public void TheDumpIsExactlyThis()
    {
        string text = Vcd.Text(Changes, new OneWave(), 2_000_000);
        string body = text[(text.IndexOf("$end\n#300000", StringComparison.Ordinal) + 5)..];
        Assert.AreEqual("#300000\n1!\n#500000\n1\"\n#560000\n1*\n#600000\n1-\n#1200000\n0-\n#1500000\n0\"\n0!\n#1560000\n0*\n#2000000\n", body);
        StringAssert.Contains(text, "$timescale 1 us $end");
        StringAssert.Contains(text, "$var wire 1 - backwash $end");
    }

    /// <summary>The way-back example: the alarm comes up in a frame and is silenced by Mark at 330 s.</summary>
    [TestMethod]
    public void TheBuzzerHasALineThatFollowsTheAlarm()
    {
        string vcd = ScenePlayer.Play(SceneReader.Load(Repository.At("firmware/VirtualBoard/Examples/way-back.json"))).Vcd;
        StringAssert.Contains(vcd, "$var wire 1 , buzzer $end");
        long at = 0, onUs = 0, sinceUs = 0, firstUs = 0, quietUs = 0;
        int sounds = 0;
        foreach (string line in vcd[vcd.IndexOf("$dumpvars", StringComparison.Ordinal)..].Split('\n'))
        {
            if (line.StartsWith('#')) at = long.Parse(line[1..]);
            if (line == "1,") (sinceUs, firstUs, sounds) = (at, firstUs == 0 ? at : firstUs, sounds + 1);
            if (line != "0," || sinceUs == 0) continue;
            onUs += at - sinceUs;
            if (at < 340_000_000) quietUs = at;
        }
        Assert.IsTrue(sounds > 10, $"{sounds} sounds");
        Assert.AreEqual(125_000, onUs / sounds, 20_000, "an eighth of a second each, about");
        Assert.IsTrue(firstUs > 100_000_000, "the lamp is not on before the alarm");
        Assert.AreEqual(330, quietUs / 1e6, 1, "silenced by Mark");
    }

    [TestMethod]
    public void TimesNeverGoBack()
    {
        long last = -1;
        foreach (string line in Vcd.Text(Changes, new SimpleSea(2, 4, 0.2), 60_000_000).Split('\n').Where(l => l.StartsWith('#')))
        {
            long at = long.Parse(line[1..]);
            Assert.IsTrue(at > last, $"{at} after {last}");
            last = at;
        }
    }

    /// <summary>Read back by sigrok-cli, an independent reader of the format: channels, and how many milliseconds each was high.</summary>
    [TestMethod]
    public void SigrokReadsTheSameLines()
    {
        Debian.Need("sigrok-cli", "sigrok-cli");
        string file = Path.Combine(Path.GetTempPath(), $"lines-{Guid.NewGuid():N}.vcd");
        try
        {
            File.WriteAllText(file, Vcd.Text(Changes, new OneWave(), 2_000_000));
            var (code, output) = Debian.Run("sigrok-cli", $"-I vcd:downsample=1000 -i {file} -O csv:header=false");
            Assert.AreEqual(0, code, output);
            string[] lines = output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
            string[] names = lines.First(l => l.Contains("half_press") || l.Contains("logic")).Split(',');
            int[][] rows = [.. lines.Where(l => l.Length > 0 && l[0] is '0' or '1').Select(l => l.Split(',').Select(int.Parse).ToArray())];
            Assert.AreEqual(13, names.Length, string.Join("|", names));
            Assert.AreEqual(1200, rows.Sum(r => r[(int)Line.HalfPress]), 2);
            Assert.AreEqual(1000, rows.Sum(r => r[(int)Line.Shutter]), 2);
            Assert.AreEqual(1000, rows.Sum(r => r[(int)Line.SensorOpen]), 2);
            Assert.AreEqual(0, rows.Sum(r => r[(int)Line.Fire]));
            Assert.AreEqual(600, rows.Sum(r => r[12]), 2);
        }
        finally
        {
            File.Delete(file);
        }
    }
}
