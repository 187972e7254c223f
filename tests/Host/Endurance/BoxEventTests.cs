using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>The same random presses on the whole box: bouncing buttons, display, memory, clock chip, limiter and camera.</summary>
[TestClass]
public class BoxEventTests
{
    private static readonly string[] Wanted =
    [
        "LIGHT", "GLASS", "FRAMES", "WAVES", "CAMERA", "YOUR HAND", "BOX", "BENCH", "RUN", "NOTICE", "TIDE", "PATH, alarm off", "PATH, alarm on", "SUN", "MORNINGS", "PLACE", "PLACE NAME",
    ];

    private const long Events = 200_000;
    private const int Chunk = 5_000;
    private const long HeapSlack = 64_000;

    // A pin write is late by its jitter, and the release loop by one spin; a stop is up to two ticks after its press.
    private const long LateUs = 1_000;

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TwoHundredThousandEventsOnTheWholeBox()
    {
        long events = EnduranceScale.Of(Events);
        using var board = new Board(new BoardOptions { Seed = 11 });
        var dice = new Dice(41);
        var screens = new HashSet<string>();
        var states = new long[9];
        var heap = new List<long>();
        long done = 0, closures = 0, longest = 0, frames = 0;
        Mood mood = Mood.Any(dice);
        int moodLeft = 0;
        RunState was = RunState.Ready;
        while (done < events)
        {
            if (--moodLeft < 0)
            {
                mood = Mood.Any(dice);
                moodLeft = (int)dice.Whole(5, 80);
            }
            Button button = mood.Pick(dice);
            board.Down(button);
            board.RunUntil(board.Time.NowUs + (dice.Whole(0, 99) < mood.HeldPercent ? dice.Whole(300_000, 1_500_000) : dice.Whole(20_000, 120_000)));
            board.Up(button);
            done += 2;
            long kind = dice.Whole(0, 9999);
            long wait = kind < 1 ? dice.Whole(60_000_000, 600_000_000) : kind < mood.PatientPercent * 70 ? dice.Whole(300_000, 4_000_000) : dice.Whole(20_000, 150_000);
            board.RunUntil(board.Time.NowUs + wait);

            string screen = board.Box!.Panel!.ScreenName;
            // The search shows its progress beside its name.
            if (screen.StartsWith("MORNINGS", StringComparison.Ordinal)) screen = "MORNINGS";
            // Random presses give a filter any name, so only some of these names are looked for.
            if (screens.Count < 40 || Wanted.Contains(screen)) screens.Add(screen);
            RunState state = board.Box.Desk!.State;
            if (state != was) states[(int)state]++;
            was = state;
            Assert.AreEqual(RunState.Failed == state, board.Box.Desk.Player.State == PlayerState.Failed);
            if (!board.Box.Desk.Running) Assert.IsFalse(board.Lines[Line.HalfPress] || board.Lines[Line.Shutter], $"a line is on and no run is, after {done} events");
            if (done % Chunk != 0) continue;
            (long count, long most) = Closures(board);
            closures += count;
            longest = Math.Max(longest, most);
            frames += board.Camera.Frames.Count;
            Assert.AreEqual(0, board.Bus.Violations.Count, $"after {done} events");
            BoardRecords.Forget(board);
            if (done >= events / 2) heap.Add(GC.GetTotalMemory(true));
        }
        TestContext.WriteLine($"{done} events in {board.Time.NowUs / 3.6e9:F1} h, {board.Passes} passes, {closures} closures, the longest {longest / 1e6:F1} s, {frames} frames; states {string.Join(' ', states)}; {screens.Count} screens: {string.Join(", ", screens.Order())}; heap {heap[0]} bytes after half, {heap[^1]} at the end; {EnduranceScale.Hint}");
        Assert.AreEqual(0, board.PinFaults.Count, string.Join("; ", board.PinFaults));
        Assert.AreEqual(0, board.LimiterTrips);
        Assert.AreEqual(0, states[(int)RunState.Failed]);
        Assert.IsTrue(heap[^1] - heap[0] < HeapSlack, $"the heap grew from {heap[0]} to {heap[^1]} bytes in {events / 2} events");
        foreach (string name in Wanted)
            Assert.IsTrue(screens.Contains(name), $"{name} was never shown; shown were {string.Join(", ", screens)}");
        for (int i = 0; i <= (int)RunState.Stopped; i++) Assert.IsTrue(states[i] > 0, $"{(RunState)i} was never come to");
        Assert.IsTrue(frames > 60, $"{frames} frames");
    }

    // Every closing of the shutter line must be opened again where its plan says, or earlier by a stop.
    private static (long Count, long LongestUs) Closures(Board board)
    {
        long count = 0, longest = 0;
        LineEdge? closed = null;
        foreach (LineEdge edge in board.Edges.Where(e => e.Line == Line.Shutter))
        {
            if (edge.Closed)
            {
                closed = edge;
                continue;
            }
            if (edge.PlannedUs is long planned) Assert.IsTrue(edge.AtUs - planned <= LateUs, $"the shutter line opened {edge.AtUs - planned} µs after its plan");
            if (closed is LineEdge from) longest = Math.Max(longest, edge.AtUs - from.AtUs);
            closed = null;
            count++;
        }
        return (count, longest);
    }
}
