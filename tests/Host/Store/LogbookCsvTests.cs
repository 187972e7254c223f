using System.Text;
using Intervalometer.Coast.Time;
using Intervalometer.Drivers.At24c32;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.Store;

/// <summary>The logbook as it leaves the box.</summary>
[TestClass]
public class LogbookCsvTests
{
    private static string[][] Rows(string csv)
    {
        StringAssert.EndsWith(csv, "\r\n");
        return [.. csv.TrimEnd().Split("\r\n").Select(line => line.Split(','))];
    }

    [TestMethod]
    public void ABlankMemoryGivesTheHeadingAlone()
    {
        string[][] rows = Rows(LogbookCsv.Text(Enumerable.Repeat((byte)0xFF, 4096).ToArray()));
        Assert.AreEqual(1, rows.Length);
        CollectionAssert.AreEqual(new[] { "frame", "session", "start_s", "start_utc", "exposure_s", "stopped_early", "filters_stops", "light_ev100", "wave_phase_percent", "late_s", "length_in_doubt", "planned_s", "collected_percent", "ended_by", "time_from", "step_stops" }, rows[0]);
    }

    /// <summary>Every frame that the camera took is in the logbook, at its time, and with its light: 1/60 at f/8 and ISO 100 is 12 EV by APEX (ISO 2720).</summary>
    [TestMethod]
    public void ARunOnTheWavesIsInTheLogbook()
    {
        string scene = """
            {
              "startUtc": "2031-03-14T06:02:00Z",
              "filters": ["ND 1.8"],
              "metered": { "shutter": "1/60", "aperture": "f/8" },
              "camera": { "dial": "timed", "dialSeconds": 1 },
              "sea": { "kind": "steady", "seed": 11, "periodSeconds": 9, "spread": 0.03 },
              "presses": [
                { "at": 1, "button": "down" }, { "at": 1.5, "button": "down" }, { "at": 2, "button": "down" },
                { "everyTurn": true, "button": "mark", "from": 3, "count": 40, "reactionMs": 220 },
                { "at": 60, "button": "fire" }
              ],
              "endAt": 130
            }
            """;
        ScenePlayed played = ScenePlayer.Play(SceneReader.Parse("scene.json", Encoding.UTF8.GetBytes(scene)));
        string[][] rows = Rows(played.Logbook);
        Assert.AreEqual(played.Report.Frames.Count + 1, rows.Length);
        Assert.AreEqual(5, played.Report.Frames.Count);
        for (int i = 0; i < played.Report.Frames.Count; i++)
        {
            FrameReport frame = played.Report.Frames[i];
            string[] row = rows[i + 1];
            Assert.AreEqual($"{i + 1}", row[0]);
            Assert.AreEqual("", row[1] + row[2], "the clock ran: no need to count from power-on");
            Assert.AreEqual(frame.Opened, (DateTimeOffset.Parse(row[3]) - DateTimeOffset.Parse("2031-03-14T06:02:00Z")).TotalSeconds, 1.5);
            Assert.AreEqual("1", row[4]);
            Assert.AreEqual("no", row[5]);
            Assert.AreEqual(1.8 / 0.30103, double.Parse(row[6]), 0.005);
            Assert.AreEqual(12, double.Parse(row[7]), 0.005);
            Assert.IsTrue(double.Parse(row[8]) is >= 0 and < 100);
            Assert.AreEqual("", row[9]);
            Assert.AreEqual("no", row[10]);
        }
        Assert.AreEqual(0, played.Report.BusViolations.Count);
    }

    /// <summary>A clock that had stopped gives no time of day: the frames count from power-on, until the time is set by hand.</summary>
    [TestMethod]
    public void AStoppedClockGivesNoTimeOfDay()
    {
        using var board = new Board(new BoardOptions { StartUtc = null });
        board.Press(Button.Fire, 2_000_000, 100_000);
        board.Time.At(30_000_000, () => board.Box!.Shore.Clock.SetByHand(new CivilTime(2031, 3, 14, 6, 0, 0).AsUtc(), board.Time.NowUs));
        board.Press(Button.Back, 35_000_000, 100_000);
        board.Press(Button.Fire, 40_000_000, 100_000);
        board.RunUntil(60_000_000);
        string[][] rows = Rows(LogbookCsv.Text(board.Memory.Snapshot()));
        Assert.AreEqual(3, rows.Length);
        Assert.AreEqual("0", rows[1][1]);
        Assert.AreEqual(board.Camera.Frames[0].OpenUs / 1e6, double.Parse(rows[1][2]), 0.06);
        Assert.AreEqual("", rows[1][3]);
        Assert.AreEqual("", rows[2][1] + rows[2][2]);
        Assert.AreEqual(board.Camera.Frames[1].OpenUs / 1e6 - 30, (DateTimeOffset.Parse(rows[2][3]) - DateTimeOffset.Parse("2031-03-14T06:00:00Z")).TotalSeconds, 1.5);
    }

    [TestMethod]
    public void TheTimeOfDayIsKeptWhenTheBoxKnowsIt()
    {
        var clock = new HandClock();
        var chip = new At24c32Model(clock);
        var memory = new At24c32(new ModelWire(chip));
        var writer = new PageWriter(memory);
        var log = new Logbook(memory, writer);
        log.Scan();
        // 2026-11-25T06:30:00Z counted from 2000-01-01 by .NET.
        long seconds = (long)(DateTimeOffset.Parse("2026-11-25T06:30:00Z") - DateTimeOffset.Parse("2000-01-01T00:00:00Z")).TotalSeconds;
        Assert.IsTrue(log.TryAppend(new LogEntry { HasUtc = true, StartUtcSeconds = seconds, ExposureUs = 64_000_000, CutShort = true, LightHundredths = -150 }, null));
        while (writer.Busy)
        {
            writer.Step(clock.NowUs);
            clock.NowUs += 11_000;
        }
        Assert.AreEqual("1,,,2026-11-25T06:30:00Z,64,yes,0.00,-1.50,,,no,,,,,", LogbookCsv.Text(chip.Snapshot()).Split("\r\n")[1]);
    }
}
