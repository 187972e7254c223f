using System.Collections.Concurrent;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Faults;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>
/// In turn, each transfer and each pin write of a short run goes wrong, in every possible way. The camera model is the judge:
/// the box reports exactly what was taken, and at the end the contacts are open.
/// </summary>
[TestClass]
public class EveryCallTests
{
    private const long Ms = 1_000;
    private const long Second = 1_000_000;
    private const long PressUs = 3 * Second;
    private const long EndUs = PressUs + 12 * Second;

    // The answer of a frame that the light may end; it is never longer than twice that.
    private const double LitSeconds = 4;

    private static readonly string[] Shapes = ["single bulb", "burst bulb", "burst dial", "series bulb", "bracket", "on marks", "mirror bulb", "dark bulb", "by light"];

    private static readonly ParallelOptions s_twoAtOnce = new() { MaxDegreeOfParallelism = 2 };

    public TestContext TestContext { get; set; } = null!;

    private static Board Ready(string shape)
    {
        bool bulb = shape != "burst dial", mirror = shape == "mirror bulb";
        bool light = shape == "by light";
        double seconds = light ? LitSeconds : shape == "dark bulb" ? 1 : 0.5;
        var board = new Board(new BoardOptions
        {
            RestartsOnFault = true,
            LightAt = light ? _ => 50 : null,
            Camera = new CameraOptions { Dial = bulb ? CameraDial.Bulb : CameraDial.Timed, DialSeconds = seconds, MirrorLockUp = mirror, DarkFrame = shape == "dark bulb", BufferFrames = 99 },
        });
        HungRunTests.Set(board.Box!.Settings, shape, bulb, mirror, seconds);
        if (shape != "bracket") board.Box.Settings.Plan.Frames = 2;
        board.Box.Settings.Plan.SettleUs = 0;
        board.Box.Settings.Waves.Waves = 2;
        if (shape == "on marks")
        {
            for (int i = 0; i < 3; i++) board.Press(Button.Down, 200 * Ms + i * 300 * Ms, 80 * Ms);
            for (int i = 0; i < 2; i++) board.Press(Button.Mark, PressUs + 1500 * Ms + i * 3500 * Ms, 80 * Ms);
        }
        if (light)
        {
            // Metered: the light of this moment is what the frame is set against.
            board.Box.Settings.Plan.Shape = PlanShape.Single;
            board.Box.Settings.StepShutter(1);
            board.Box.Settings.StepShutter(-1);
        }
        board.Press(Button.Fire, PressUs, 80 * Ms);
        board.RunUntil(PressUs - 1);
        return board;
    }

    // Until the run has been over for two seconds: by then its frames are in the memory and the display shows its end.
    private static void RunToTheEnd(Board board)
    {
        int looksOver = 0;
        for (long at = PressUs + Second; at < EndUs && looksOver < 4; at += Second / 2)
        {
            board.RunUntil(at);
            bool over = board.IsDown || board.Box!.Desk!.State is RunState.Ready or RunState.Done or RunState.Stopped or RunState.Failed;
            looksOver = over ? looksOver + 1 : 0;
        }
    }

    private static string? Judge(Board board, string shape)
    {
        if (board.Lines[Line.Shutter] || board.Lines[Line.HalfPress] || board.Camera.OpenSinceUs is not null) return "a contact is closed at the end";
        // After a restart the box reports the restart, and no frames.
        if (board.Restarts > 0 || board.IsDown) return null;
        // A falling edge during a write may be a bounce of the release or a second press, and a stop always wins. Mark then closes that message.
        if (MayBeStopped(board)) return board.Box!.Link!.Frames.Total == board.Camera.Frames.Count ? null : "stopped, and told and taken differ";
        if (shape == "by light") return Lit(board);
        return board.Box!.Desk!.State == RunState.Ready ? "no run" : HungRunTests.Differs(board, board.Box.Link!.Report, shape, shape == "dark bulb" ? 1 : 0.5);
    }

    // Whatever became of the sensor, one frame was taken, told as it was, between a quarter of its answer and twice it.
    private static string? Lit(Board board)
    {
        FrameRing told = board.Box!.Link!.Frames;
        if (board.Camera.Frames.Count != 1 || told.Total != 1) return $"{board.Camera.Frames.Count} taken, {told.Total} told";
        long length = board.Camera.Frames[0].CloseUs - board.Camera.Frames[0].OpenUs;
        if (told.InDoubt == 0 && Math.Abs(told.ExposureUs(0) - length) > 20 * Ms) return $"told of {told.ExposureUs(0)} us, was {length}";
        if (told.Off == 0 && told.InDoubt == 0 && (length < 0.99e6 || length > 2 * LitSeconds * 1e6 + 60 * Ms)) return $"{length} us long";
        return board.LightSensor.Complaints.Count == 0 ? null : board.LightSensor.Complaints[0];
    }

    private static bool MayBeStopped(Board board) =>
        board.Restarts == 0 && !board.IsDown && (board.Box!.Desk!.State == RunState.Stopped || (board.Box.Desk.State == RunState.Ready && board.Box.Link!.Report.Run > 0));

    [TestMethod]
    public void EveryTransferFailsHangsOrCrawls()
    {
        int runs = 0, stopped = 0;
        ConcurrentBag<string> wrong = [];
        Parallel.ForEach(Shapes, s_twoAtOnce, shape =>
        {
            long transfers;
            using (Board board = Ready(shape))
            {
                long before = board.Bus.Transfers;
                RunToTheEnd(board);
                transfers = board.Bus.Transfers - before;
                Assert.IsNull(Judge(board, shape), shape);
            }
            for (int kind = 0; kind < 5; kind++)
            {
                for (long n = 1; n <= transfers; n++)
                {
                    using Board board = Ready(shape);
                    SpoilTransfer(board, n, kind);
                    RunToTheEnd(board);
                    Interlocked.Increment(ref runs);
                    if (MayBeStopped(board)) Interlocked.Increment(ref stopped);
                    if (Judge(board, shape) is string why) wrong.Add($"{shape}, transfer {n} of {transfers}, {Kind(kind)}: {why}");
                }
            }
        });
        TestContext.WriteLine($"{runs} runs, each with one transfer changed, {stopped} stopped for what may have been a second press; told and taken differ in {wrong.Count}");
        Assert.AreEqual("", string.Join("\n", wrong.Order().Take(20)));
        Assert.IsTrue(runs > 5000 && stopped * 200 < runs, $"{runs} runs, {stopped} stopped");
    }

    // Before the n-th transfer from now on the trouble begins, and after it it is over.
    private static void SpoilTransfer(Board board, long n, int kind)
    {
        Action after = board.Bus.AfterTransfer;
        long count = 0;
        Spoil(board.Bus.Trouble, kind, n == 1);
        board.Bus.AfterTransfer = () =>
        {
            count++;
            Spoil(board.Bus.Trouble, kind, count == n - 1);
            after();
        };
    }

    private static void Spoil(BusTrouble trouble, int kind, bool on)
    {
        trouble.Deaf.Clear();
        trouble.StuckData = on && kind is >= 1 and <= 3;
        trouble.HangUs = kind switch { 1 => 200 * Ms, 2 => 600 * Ms, _ => Second };
        trouble.Slower = on && kind == 4 ? 60 : 1;
        if (on && kind == 0) foreach (int address in new[] { Board.DisplayAddress, Board.ClockAddress, 0x57, 0x10 }) trouble.Deaf.Add(address);
    }

    private static string Kind(int kind) => kind switch { 0 => "unanswered", 1 => "hangs 0.2 s", 2 => "hangs 0.6 s", 3 => "hangs 1 s", _ => "60 times slower" };

    /// <summary>Every write of every pin in every run, including those of the heartbeat.</summary>
    [TestMethod]
    public void EveryPinWriteThrowsOrHangs()
    {
        int runs = 0, restarts = 0, writes = 0, stopped = 0;
        ConcurrentBag<string> wrong = [];
        Parallel.ForEach(Shapes, s_twoAtOnce, shape =>
        {
            for (int kind = 0; kind < 4; kind++)
            {
                for (int n = 1; SpoilWrite(shape, n, kind, out bool restarted, out bool stops, out string? why); n++)
                {
                    Interlocked.Increment(ref runs);
                    if (kind == 0) Interlocked.Increment(ref writes);
                    if (stops) Interlocked.Increment(ref stopped);
                    if (restarted) Interlocked.Increment(ref restarts);
                    if (why is not null) wrong.Add($"{shape}, write {n}, {(kind == 0 ? "throws" : "hangs")} {kind}: {why}");
                }
            }
        });
        TestContext.WriteLine($"{runs} runs, each with one of {writes} writes of a pin failed, {restarts} restarts, {stopped} stopped for what may have been a second press; told and taken differ in {wrong.Count}");
        Assert.AreEqual("", string.Join("\n", wrong.Order().Take(20)));
        Assert.IsTrue(runs > 5000 && restarts > 500, $"{runs} runs, {restarts} restarts");
        Assert.IsTrue(stopped * 200 < runs, $"{stopped} of {runs} stopped");
    }

    // False when the run has fewer writes.
    private static bool SpoilWrite(string shape, int n, int kind, out bool restarted, out bool stops, out string? why)
    {
        using Board board = Ready(shape);
        int count = 0;
        board.Gpio.OutputChanged += (_, _) =>
        {
            if (++count != n) return;
            if (kind == 0) throw new InvalidOperationException("a test: the pin");
            board.Time.AdvanceTo(board.Time.NowUs + (kind switch { 1 => 200 * Ms, 2 => 600 * Ms, _ => Second }));
        };
        // On the board an error of the lamp's pin ends only that pass of the panel; here it ends the panel's loop.
        try { RunToTheEnd(board); }
        catch (InvalidOperationException) when (kind == 0) { RunToTheEnd(board); }
        restarted = board.Restarts > 0;
        stops = MayBeStopped(board);
        why = Judge(board, shape);
        return count >= n;
    }
}
