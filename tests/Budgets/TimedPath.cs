using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Drivers.Composition;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Budgets;

/// <summary>The release thread: idle, spinning before an edge, and at the edge; and the panel thread when nothing happens.</summary>
internal static class TimedPath
{
    private const long Second = 1_000_000;

    // GpioPin.Write on an ESP32, in instructions at 2 µs; no limit, because it is the same each time and comes off in the calibration: a loop of Write(1), Write(0) put out 1.7 kHz (nanoframework/Home issue 1013, 2022).
    private const long PinWrite = 145;

    public static void Measure(Sheet sheet)
    {
        using (Board idle = Measurements.Board())
        {
            idle.RunUntil(60 * Second);
            Meter.Calls.Clear();
            idle.RunUntil(75 * Second);
            sheet.Add("idle: release pass", Sheet.Worst(Of("Box.ReleasePass").Select(c => c.Cost)));
            Cost[] panel = [.. Of("Box.PanelPass").Select(c => c.Cost).OrderBy(c => c.Weighted)];
            sheet.Add("idle: usual panel pass", panel[panel.Length / 2]);
            sheet.Add("idle: most costly panel pass", Sheet.Worst(panel));
        }

        var passes = new List<Watched>();
        var marks = new List<Watched>();
        var panels = new List<Watched>();
        var starts = new List<Watched>();
        var stops = new List<Watched>();
        long frames = 0;
        Cost ask = default;
        foreach (Action<Board> run in new Action<Board>[] { Bulb, Burst, MirrorAndDark, OnMarks, OnRhythm })
        {
            using Board board = Measurements.Board();
            Meter.RoomUs = () => board.Box!.NextEdgeUs - board.Time.NowUs;
            board.RunUntil(20 * Second);
            Meter.Calls.Clear();
            run(board);
            passes.AddRange(Passes(starts, stops));
            marks.AddRange(Of("RunDesk.Mark"));
            panels.AddRange(Of("Box.PanelPass"));
            frames += board.Camera.Frames.Count;
            Meter.RoomUs = null;
            ask = Meter.Of(() => _ = board.Box!.EdgeNear);
        }
        if (frames < 8) throw new InvalidOperationException($"only {frames} frames were taken");

        Cost full = ask + Sheet.Worst(passes.Where(t => t.RoomUs is >= Box.LastMomentUs and < Box.SpinUs && t.Edges == 0).Select(t => t.Cost));
        Cost last = ask + Sheet.Worst(passes.Where(t => t.RoomUs < Box.LastMomentUs && t.Edges == 0).Select(t => t.Cost));
        Watched[] planned = [.. passes.Where(t => t.RoomUs < Box.LastMomentUs && t.Edges > 0)];
        sheet.Add("release: full pass while an edge is near", full, Box.LastMomentUs / 2);
        sheet.Add("release: spinning pass in the last moment", last);
        sheet.Add("release: from the pass's start to the write of an edge", Sheet.Worst(planned.Select(t => t.ToEdge)));
        sheet.Add("release: latest that a planned edge can be", last + Sheet.Worst(planned.Select(t => t.ToEdge)), Measurements.EdgeLimit);
        sheet.Add("release: the same and GpioPin.Write; it takes a lock (0.29 ms measured by others)", "weighted IL", (last + Sheet.Worst(planned.Select(t => t.ToEdge))).Weighted + PinWrite);
        sheet.Add("release: whole pass that writes planned edges", Sheet.Worst(planned.Select(t => t.Cost)));
        sheet.Add("release: pass that plans and writes at once", Sheet.Worst(passes.Where(t => t.RoomUs >= Box.LastMomentUs && t.Edges > 0).Select(t => t.Cost)));
        sheet.Add("release: most costly pass of a run away from an edge", Sheet.Worst(passes.Where(t => t.RoomUs >= Box.SpinUs && t.Edges == 0).Select(t => t.Cost)));
        sheet.Add("release: objects made by a spinning pass", "allocations", full.Allocations);
        sheet.Add("release: heap used by a spinning pass", "bytes", full.Bytes);
        sheet.Add("fire: from the press to a run that is planned", Sheet.Worst(starts.Select(t => t.Cost)), Measurements.StartLimit);
        sheet.Add("fire: from the press to both lines opening", Sheet.Worst(stops.Select(t => t.ToEdge)), Measurements.StopLimit);
        sheet.Add("run: a mark", Sheet.Worst(marks.Select(m => m.Cost)));
        sheet.Add("run: most costly panel pass", Sheet.Worst(panels.Select(p => p.Cost)));
    }

    // The passes of the release thread; those in which Fire was pressed start a run or open the lines, and are put aside.
    private static List<Watched> Passes(List<Watched> starts, List<Watched> stops)
    {
        var passes = new List<Watched>();
        bool fired = false;
        foreach (Watched call in Meter.Calls)
        {
            if (call.Method == "RunLink.Fire") fired = true;
            if (call.Method != "Box.ReleasePass") continue;
            (!fired ? passes : call.Edges > 0 ? stops : starts).Add(call);
            fired = false;
        }
        return passes;
    }

    private static IEnumerable<Watched> Of(string method) => Meter.Calls.Where(c => c.Method == method);

    private static void Fire(Board board, long forSeconds)
    {
        board.Press(Button.Fire, board.Time.NowUs + Second / 10, Second / 10);
        board.RunUntil(board.Time.NowUs + forSeconds * Second);
        if (board.Box!.Desk!.Player.FramesStarted == 0) throw new InvalidOperationException("no frame was started");
    }

    private static void LongExposure(Board board)
    {
        board.Box!.Settings.AlwaysBulb = true;
        board.Box.Settings.StepShutter(21);
    }

    // Stopped by a second press while the shutter is open.
    private static void Bulb(Board board)
    {
        LongExposure(board);
        Fire(board, 4);
        board.Press(Button.Fire, board.Time.NowUs + Second / 10, Second / 10);
        board.RunUntil(board.Time.NowUs + Second);
        if (board.Box!.Desk!.Running) throw new InvalidOperationException("the run was not stopped");
    }

    private static void Burst(Board board)
    {
        LongExposure(board);
        board.Box!.Settings.Plan.Shape = PlanShape.Burst;
        board.Box.Settings.Plan.Frames = 3;
        Fire(board, 15);
    }

    private static void MirrorAndDark(Board board)
    {
        LongExposure(board);
        board.Box!.Settings.Camera.MirrorLockUp = true;
        Fire(board, 15);
    }

    private static void Marks(Board board, int marks)
    {
        for (int i = 0; i < marks; i++)
        {
            board.Press(Button.Mark, board.Time.NowUs + Second / 10, Second / 10);
            board.RunUntil(board.Time.NowUs + 9 * Second);
        }
    }

    private static void Waves(Board board, FiringWay way)
    {
        board.Box!.Settings.Waves.Way = way;
        LongExposure(board);
        Marks(board, 10);
        for (int i = 0; i < 3; i++)
        {
            board.Press(Button.Down, board.Time.NowUs + Second / 10, Second / 10);
            board.RunUntil(board.Time.NowUs + Second / 2);
        }
        board.Press(Button.Fire, board.Time.NowUs + Second / 10, Second / 10);
        board.RunUntil(board.Time.NowUs + Second / 2);
        if (board.Box.Desk!.State < RunState.Plan || !board.Box.Desk.LastRunOnWaves) throw new InvalidOperationException($"no run on the waves: {board.Box.Panel!.ScreenName}");
        Marks(board, 5);
    }

    private static void OnMarks(Board board) => Waves(board, FiringWay.AfterMark);

    private static void OnRhythm(Board board) => Waves(board, FiringWay.OnRhythm);
}
