using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Faults;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>
/// Every transfer and every write of a pin that a short run makes goes wrong in turn, in every way it can. Judged by the camera model:
/// what was told is what was taken, and at the end the contacts are open.
/// </summary>
[TestClass]
public class EveryCallTests
{
    private const long Ms = 1_000;
    private const long Second = 1_000_000;
    private const long PressUs = 3 * Second;
    private const long EndUs = PressUs + 12 * Second;

    private static readonly string[] Shapes = ["burst bulb", "burst dial", "mirror bulb", "dark bulb"];

    public TestContext TestContext { get; set; } = null!;

    private static Board Ready(string shape)
    {
        bool bulb = shape != "burst dial", mirror = shape == "mirror bulb";
        double seconds = shape == "dark bulb" ? 1 : 0.5;
        var board = new Board(new BoardOptions
        {
            RestartsOnFault = true,
            Camera = new CameraOptions { Dial = bulb ? CameraDial.Bulb : CameraDial.Timed, DialSeconds = seconds, MirrorLockUp = mirror, DarkFrame = shape == "dark bulb", BufferFrames = 99 },
        });
        HungRunTests.Set(board.Box!.Settings, shape, bulb, mirror, seconds);
        board.Box.Settings.Plan.Frames = 2;
        board.Box.Settings.Plan.SettleUs = 0;
        board.Press(Button.Fire, PressUs, 80 * Ms);
        board.RunUntil(PressUs - 1);
        return board;
    }

    private static string? Judge(Board board, string shape)
    {
        if (board.Lines[Line.Shutter] || board.Lines[Line.HalfPress] || board.Camera.OpenSinceUs is not null) return "a contact is closed at the end";
        // A restart tells of itself and not of frames.
        if (board.Restarts > 0 || board.IsDown) return null;
        return board.Box!.Desk!.State == RunState.Ready ? "no run" : HungRunTests.Differs(board, board.Box.Link!.Report, shape, shape == "dark bulb" ? 1 : 0.5);
    }

    [TestMethod]
    public void EveryTransferFailsHangsOrCrawls()
    {
        int runs = 0;
        List<string> wrong = [];
        foreach (string shape in Shapes)
        {
            long transfers;
            using (Board board = Ready(shape))
            {
                long before = board.Bus.Transfers;
                board.RunUntil(EndUs);
                transfers = board.Bus.Transfers - before;
                Assert.IsNull(Judge(board, shape), shape);
            }
            for (int kind = 0; kind < 5; kind++)
            {
                for (long n = 1; n <= transfers; n++)
                {
                    using Board board = Ready(shape);
                    SpoilTransfer(board, n, kind);
                    board.RunUntil(EndUs);
                    runs++;
                    if (Judge(board, shape) is string why) wrong.Add($"{shape}, transfer {n} of {transfers}, {Kind(kind)}: {why}");
                }
            }
        }
        TestContext.WriteLine($"{runs} runs, each with one transfer spoilt; told and taken differ in {wrong.Count}");
        Assert.AreEqual("", string.Join("\n", wrong.Take(20)));
        Assert.IsTrue(runs > 500, $"{runs} runs");
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
        if (on && kind == 0) foreach (int address in new[] { Board.DisplayAddress, Board.ClockAddress, 0x57 }) trouble.Deaf.Add(address);
    }

    private static string Kind(int kind) => kind switch { 0 => "unanswered", 1 => "hangs 0.2 s", 2 => "hangs 0.6 s", 3 => "hangs 1 s", _ => "60 times slower" };

    [TestMethod]
    public void EveryPinWriteThrowsOrHangs()
    {
        int runs = 0, restarts = 0;
        List<string> wrong = [];
        foreach (string shape in Shapes)
        {
            for (int kind = 0; kind < 4; kind++)
            {
                bool more = true;
                // Most writes are the heartbeat's: each seventh write is spoilt, so that every pin has its turn.
                for (int n = 1 + kind; more; n += 7)
                {
                    using Board board = Ready(shape);
                    var gpio = (VirtualGpioDriver)FaultRig.Field(board, "_gpio").GetValue(board)!;
                    int count = 0;
                    gpio.OutputChanged += (_, _) =>
                    {
                        if (++count != n) return;
                        if (kind == 0) throw new InvalidOperationException("a test: the pin");
                        board.Time.AdvanceTo(board.Time.NowUs + (kind switch { 1 => 200 * Ms, 2 => 600 * Ms, _ => Second }));
                    };
                    // An error of the lamp's pin ends the panel's turn alone, as the board's panel loop sees to it; here it ends that loop.
                    try { board.RunUntil(EndUs); }
                    catch (InvalidOperationException) when (kind == 0) { board.RunUntil(EndUs); }
                    more = count >= n;
                    if (!more) break;
                    runs++;
                    restarts += board.Restarts > 0 ? 1 : 0;
                    if (Judge(board, shape) is string why) wrong.Add($"{shape}, write {n}, {(kind == 0 ? "throws" : "hangs")} {kind}: {why}");
                }
            }
        }
        TestContext.WriteLine($"{runs} runs, each with one write of a pin spoilt, {restarts} restarts; told and taken differ in {wrong.Count}");
        Assert.AreEqual("", string.Join("\n", wrong.Take(20)));
        Assert.IsTrue(runs > 300 && restarts > 50, $"{runs} runs");
    }
}
