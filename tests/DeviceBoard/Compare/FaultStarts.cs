using System.Globalization;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Forces a fault at every start and lets the board restart, as it does by itself, until it stays up or the starts run out.</summary>
public static class FaultStarts
{
    private const int ShownMs = 2500;
    private const int PressMs = 3000;
    private const int AfterMs = 4500;
    private const int StopMs = 5000;
    private const int EndMs = 5500;

    /// <summary>The kinds of fault; their place in the list is the number that the stand-in board knows.</summary>
    public static IReadOnlyList<string> Kinds { get; } = ["none", "display-throws", "memory-throws", "clock-throws", "pin-throws", "heap-full", "display-silent", "memory-silent"];

    /// <summary>
    /// Plays it. The check passes when a start keeps running and both contacts are open after a press of Fire and another that stops the run. A
    /// board that the fault has restarted must not fire at all.
    /// </summary>
    public static int Run(Workbench bench, string kind, int most, PlaceIn place)
    {
        int fault = Kinds.ToList().IndexOf(kind);
        if (fault < 0) throw new ArgumentException($"There is no fault \"{kind}\"; there are: {string.Join(", ", Kinds)}.");
        BoardCase board = BoardCase.Make("frames", place);
        int fire = new VirtualBoard.BoardOptions().Pins.Buttons[(int)Settings.Button.Fire];
        Step[] steps =
        [
            new Step(ShownMs, StepKind.Show, 0), new Step(PressMs, StepKind.Down, fire), new Step(PressMs + 120, StepKind.Up, fire),
            new Step(AfterMs, StepKind.Show, 0), new Step(StopMs, StepKind.Down, fire), new Step(StopMs + 120, StepKind.Up, fire),
            new Step(EndMs, StepKind.End, 0),
        ];
        bench.Place(board);
        byte[]? memory = board.Memory;
        byte[] clock = [];
        for (int number = 1; number <= most; number++)
        {
            var start = new Start { Utc = board.Scene.Start.AddSeconds(number), Steps = steps, Fault = fault, ClockHolds = clock };
            Run run = bench.RunStart(start, memory, Expectation.BatteryCount(board.Scene), bench.HeapBytes);
            memory = run.Memory ?? memory;
            clock = run.ClockHolds ?? clock;
            var last = run.Told("edge").GroupBy(w => w[1]).Select(pin => pin.Last()).ToArray();
            bool open = Array.TrueForAll(last, w => w[2] == "0");
            bool closed = run.Told("edge").Any(w => w[2] == "1");
            string end = run.TimedOut ? "had to be stopped" : run.Told("restarted").FirstOrDefault() is { } at ? $"restarted after {long.Parse(at[0], CultureInfo.InvariantCulture) / 1000} ms" : run.Told("ended").Any() ? "stayed up" : "stopped by itself";
            bench.Output.WriteLine($"start {number} with {kind}: {end}; contacts {(open ? "open" : "CLOSED")} at the end{(closed ? ", closed on the way" : "")}");
            foreach (string exception in run.Exceptions) bench.Output.WriteLine("  " + exception);
            foreach (string[] told in run.Told("fault")) bench.Output.WriteLine("  fault " + string.Join(' ', told));
            foreach (int step in new[] { 0, 3 }) bench.Output.Write(Judge.Shown(run, step));
            if (!open) return Result(bench, false, "a contact is closed");
            if (closed && number > 1) return Result(bench, false, "a contact was closed after a fault in the start");
            if (end == "stayed up") return Result(bench, true, $"the board stays up at start {number}");
        }
        return Result(bench, false, $"the board still restarts after {most} starts");
    }

    private static int Result(Workbench bench, bool held, string words)
    {
        bench.Output.WriteLine(words);
        bench.Output.WriteLine(held ? "1 passed, 0 failed" : "0 passed, 1 failed");
        return held ? 0 : 1;
    }
}
