using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The board with a small firmware that plays one plan through the real release player.</summary>
[TestClass]
public class BoardTests
{
    private static readonly ShotPlan OneSecond = new() { Shape = PlanShape.Burst, Frames = 5, ExposureUs = 1_000_000, BoxTimed = true, GapUs = 703_700 };

    private static Board Make(Func<BoardParts, PlanFirmware> firmware, BoardOptions? options = null) =>
        new((options ?? new BoardOptions()) with { Firmware = firmware });

    [TestMethod]
    public void APlanIsExposedAsPlanned()
    {
        using Board board = Make(parts => new PlanFirmware(parts, OneSecond, new CameraProfile()));
        board.RunUntil(20_000_000);
        SessionReport report = ReportBuilder.Of(board, "plan");
        Assert.AreEqual(5, report.Frames.Count);
        Assert.AreEqual(0, report.MissedPresses.Count);
        foreach (FrameReport frame in report.Frames)
        {
            Assert.AreEqual(1.0, frame.CommandedExposure!.Value, 1e-9);
            Assert.IsTrue(Math.Abs(frame.PressErrorMs!.Value) < 0.2, $"press {frame.PressErrorMs} ms off its plan");
            Assert.IsTrue(Math.Abs(frame.ExposureErrorMs!.Value) < 0.5, $"exposure {frame.ExposureErrorMs} ms off");
            Assert.IsFalse(frame.CutShort);
        }
    }

    [TestMethod]
    public void TheSpinningLoopIsRunOnlyWhereItMatters()
    {
        PlanFirmware? firmware = null;
        using Board board = Make(parts => firmware = new PlanFirmware(parts, OneSecond, new CameraProfile()));
        board.RunUntil(20_000_000);
        int ticks = 20_000_000 / board.Options.TickUs;
        Assert.IsTrue(firmware!.ReleasePasses > ticks * 0.9, $"{firmware.ReleasePasses} passes");
        Assert.IsTrue(firmware.ReleasePasses < ticks * 2, $"{firmware.ReleasePasses} passes");
    }

    [TestMethod]
    public void APoliteDisplayNeverTouchesAnEdge()
    {
        using Board board = Make(parts => new PlanFirmware(parts, OneSecond, new CameraProfile(), displayBytes: 129));
        board.RunUntil(20_000_000);
        Assert.AreEqual(0, board.Bus.Violations.Count);
        Assert.IsTrue(board.Bus.Bytes > 100_000);
        Assert.IsTrue(ReportBuilder.Frames(board).All(f => Math.Abs(f.PressErrorMs!.Value) < 0.2));
    }

    [TestMethod]
    public void ARudeDisplayIsCaughtAndDelaysEdges()
    {
        using Board board = Make(parts => new PlanFirmware(parts, OneSecond, new CameraProfile(), displayBytes: 400, rude: true));
        board.RunUntil(20_000_000);
        Assert.IsTrue(board.Bus.Violations.Count > 0);
        Assert.IsTrue(board.Edges.Max(e => e.AtUs - e.PlannedUs) > 1_000, "400 bytes take 9 ms on the wire and should have delayed an edge");
    }

    [TestMethod]
    public void AMissingDisplayIsNotAcknowledged()
    {
        PlanFirmware? firmware = null;
        using Board board = Make(parts => firmware = new PlanFirmware(parts, OneSecond, new CameraProfile(), displayBytes: 2), new BoardOptions { DisplayFitted = false });
        board.RunUntil(50_000);
        Assert.AreEqual(false, firmware!.Acknowledged);
    }

    /// <summary>9 clocks a byte at 400 kHz, address byte included (UM10204).</summary>
    [TestMethod]
    public void BusTimeIsNineClocksAByte()
    {
        using Board board = Make(parts => new PlanFirmware(parts, OneSecond, new CameraProfile(), displayBytes: 1024), new BoardOptions { PanelPassUs = 0 });
        board.RunUntil(10_000);
        Assert.AreEqual(10_000 + 1025 * 9 * 10 / 4 + 1, board.Time.NowUs, 1.0);
    }

    [TestMethod]
    public void TheSameOptionsGiveTheSameBytes()
    {
        static (string, string) Play(ulong seed)
        {
            var options = new BoardOptions { Seed = seed, Sea = new SimpleSea(seed), Camera = new CameraOptions { DarkFrame = true } };
            using Board board = Make(parts => new PlanFirmware(parts, OneSecond, new CameraProfile { DarkFrame = true }, displayBytes: 200), options);
            board.Press(Button.Fire, 3_000_000, 100_000);
            board.RunUntil(30_000_000);
            return (ReportBuilder.Of(board, "same").ToJson(), Vcd.Text(board.Lines.Changes, board.Sea, 30_000_000));
        }
        Assert.AreEqual(Play(7), Play(7));
        Assert.AreNotEqual(Play(7).Item2, Play(8).Item2);
    }

    [TestMethod]
    public void RunningInSmallStepsIsTheSameAsInOne()
    {
        static string Play(long step)
        {
            using Board board = Make(parts => new PlanFirmware(parts, OneSecond, new CameraProfile(), displayBytes: 200));
            board.Press(Button.Mark, 2_345_678, 50_000);
            for (long at = step; at < 20_000_000; at += step) board.RunUntil(at);
            board.RunUntil(20_000_000);
            return Vcd.Text(board.Lines.Changes, board.Sea, 20_000_000);
        }
        Assert.AreEqual(Play(20_000_000), Play(33_333));
    }

    [TestMethod]
    public void AStopIsNotMistakenForThePlan()
    {
        PlanFirmware? firmware = null;
        var plan = new ShotPlan { Shape = PlanShape.Single, ExposureUs = 10_000_000, BoxTimed = true };
        using Board board = Make(parts => firmware = new PlanFirmware(parts, plan, new CameraProfile()));
        board.RunUntil(5_000_000);
        board.OpenLines();
        board.RunUntil(6_000_000);
        FrameReport frame = ReportBuilder.Frames(board).Single();
        Assert.IsTrue(frame.CutShort);
        Assert.IsNull(frame.CommandedExposure);
        Assert.IsFalse(board.Lines[Line.Shutter]);
    }

    [TestMethod]
    public void AHungFirmwareLosesItsContacts()
    {
        PlanFirmware? firmware = null;
        var plan = new ShotPlan { Shape = PlanShape.Single, ExposureUs = 60_000_000, BoxTimed = true };
        using Board board = Make(parts => firmware = new PlanFirmware(parts, plan, new CameraProfile()));
        board.RunUntil(5_000_000);
        firmware!.Hung = true;
        board.RunUntil(30_000_000);
        Frame frame = board.Camera.Frames.Single();
        Assert.IsTrue(frame.CloseUs < 5_000_000 + board.Options.LimiterHoldUs + 200_000, $"{frame.CloseUs}");
        Assert.AreEqual(1, board.LimiterTrips);
    }

    /// <summary>The box wants 2^4 s, which the dial prints as 15, and the dial was left at 1/60, which is 2^-6 s.</summary>
    [TestMethod]
    public void AFrameAtAWrongDialIsReportedAgainstWhatWasWanted()
    {
        SceneFile scene = SceneReader.Parse("dial.json", """
            { "metered": { "shutter": "15", "aperture": "f/8" }, "camera": { "dial": "timed", "dialSeconds": 0.015625 }, "endAt": 40, "presses": [ { "at": 3, "button": "fire" } ] }
            """u8.ToArray());
        FrameReport frame = ScenePlayer.Play(scene).Report.Frames.Single();
        Assert.AreEqual(16.0, frame.CommandedExposure!.Value, 1e-6);
        Assert.AreEqual(-10.0, frame.ExposureErrorStops!.Value, 1e-3);
        Assert.AreEqual(1.0 / 64, frame.Dial!.Value, 1e-9);
    }
}
