using Intervalometer.Screens;
using Intervalometer.VirtualBoard;
using Intervalometer.Screens.Nav;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Plays a case on the virtual board and records what the stand-in board must do and show.</summary>
public sealed class Expectation
{
    /// <summary>After anything that happens the box gets this much real time before the clocks may jump, ms.</summary>
    public const int SettleMs = 2500;

    /// <summary>The clocks jump to this long before the next thing that happens, ms.</summary>
    public const int LeadMs = 2000;

    // A button that is held repeats at passes of the box; the clock runs so many times slower meanwhile.
    private const int SlowWhileRepeating = 5;

    private const int TickUs = 10_000;

    // A jump must save at least this much, ms.
    private const int WorthMs = 1000;

    // The heap is collected so long after a picture, and so far from edges, ms.
    private const int HeapAfterMs = 120;
    private const int HeapClearMs = 500;

    private readonly BoardCase _case;
    private readonly Board _board;
    private readonly Dictionary<string, (long AtUs, Picture Picture)> _pictures = [];
    private readonly IReadOnlyDictionary<string, HashSet<int>> _moments;

    private Expectation(BoardCase @case)
    {
        _case = @case;
        _moments = Moments.Of(@case);
        _board = @case.PowerOn();
    }

    /// <summary>The starts of a case, with what the virtual board did.</summary>
    public static IReadOnlyList<Start> Of(BoardCase @case)
    {
        var player = new Expectation(@case);
        using (player._board) return player.Play();
    }

    /// <summary>What the battery's converter counts on the virtual board.</summary>
    public static int BatteryCount(SceneFile scene)
    {
        var scale = new Drivers.Battery.GaugeScale(Drivers.Battery.GaugeScale.DesignReferenceMillivolts);
        return scale.Count((int)Math.Round(scene.Battery.Millivolts));
    }

    /// <summary>Pins whose changes count.</summary>
    public static int[] Watched { get; } = [new BoardOptions().Pins.HalfPress, new BoardOptions().Pins.Shutter];

    private List<Start> Play()
    {
        foreach (DisplayShot shot in _case.Scene.Pictures) _board.Time.At(Us(shot.At), () => _pictures[shot.Name] = (_board.Time.NowUs, Take(_board.Display.Model, _moments[shot.Name])));
        _case.RunToTheEnd(_board);
        double[] begins = [0, .. _case.WakesAt], ends = [.. _case.WakesAt, _case.Scene.EndAt];
        return [.. begins.Select((begin, i) => One(begin, ends[i], i > 0, i + 1 < begins.Length))];
    }

    private Start One(double beginSeconds, double endSeconds, bool woken, bool sleeps)
    {
        long begin = Us(beginSeconds), end = Us(endSeconds);
        Edge[] edges = [.. _board.Edges.Where(e => e.AtUs >= begin && e.AtUs < end).Select(e => new Edge(e.AtUs - begin, Pin(e.Line), e.Closed, e.PlannedUs is not null))];
        var steps = new List<Step>();
        foreach (LineChange change in _board.Lines.Changes)
        {
            if (change.Line is < Line.Up or > Line.Fire || change.AtUs < begin || change.AtUs >= end) continue;
            steps.Add(new Step(Tick(change.AtUs - begin), change.On ? StepKind.Down : StepKind.Up, _board.Options.Pins.Buttons[change.Line - Line.Up]));
        }
        AddSlow(steps, begin, end);
        var shown = _pictures.Where(p => p.Value.AtUs >= begin && p.Value.AtUs < end).ToArray();
        foreach (var (name, (at, picture)) in shown) steps.Add(new Step(Ms(at - begin), StepKind.Picture, picture.Sum, name));
        AddHeap(steps, edges);
        foreach (LightStep light in _case.Light?.Steps ?? [])
        {
            if (light.AtMs > Ms(begin) && light.AtMs < Ms(end)) steps.Add(new Step(light.AtMs - Ms(begin), StepKind.Light, light.Milli));
        }
        int last = sleeps ? AddSleep(steps) : Ms(end - begin);
        steps.Add(new Step(last, sleeps ? StepKind.Asleep : StepKind.End, 0));
        if (sleeps) steps.Add(new Step(last, StepKind.End, 0));
        AddJumps(steps, edges, beginSeconds);
        Step[] ordered = [.. steps.OrderBy(s => s.AtMs)];
        var pictures = new Dictionary<int, Picture>();
        for (int i = 0; i < ordered.Length; i++)
        {
            if (ordered[i].Kind == StepKind.Picture) pictures[i] = _pictures[ordered[i].Name].Picture;
        }
        return new Start { Utc = _case.Scene.Start.AddSeconds(beginSeconds), Steps = ordered, Edges = edges, Pictures = pictures, Woken = woken, Sleeps = sleeps, ClosingPart = _case.ClosingPart, Light = _case.Light?.MilliAt(Ms(begin)) ?? 0 };
    }

    // A box sleeps a while after the last press; the waiting is jumped over.
    private static int AddSleep(List<Step> steps) =>
        steps.Max(s => s.AtMs) + (int)(Drivers.Composition.Box.SleepAfterUs / 1000) + SettleMs;

    private void AddSlow(List<Step> steps, long begin, long end)
    {
        foreach (TimedPress press in _case.Scene.Presses)
        {
            long down = Us(press.At) - begin, up = down + Us(press.ForSeconds);
            if (press.Button is not (Settings.Button.Up or Settings.Button.Down) || Us(press.ForSeconds) < KeyTimer.FirstRepeatUs || down < 0 || down >= end - begin) continue;
            steps.Add(new Step(Tick(down), StepKind.Slow, SlowWhileRepeating));
            steps.Add(new Step(Tick(up), StepKind.Slow, 1));
        }
    }

    private static void AddHeap(List<Step> steps, Edge[] edges)
    {
        foreach (Step picture in steps.Where(s => s.Kind == StepKind.Picture).ToArray())
        {
            int at = picture.AtMs + HeapAfterMs;
            bool clear = edges.All(e => Math.Abs(e.AtUs / 1000 - at) > HeapClearMs);
            if (clear) steps.Add(new Step(at, StepKind.Heap, 0, picture.Name));
        }
    }

    private void AddJumps(List<Step> steps, Edge[] edges, double beginSeconds)
    {
        int[] busy = [0, .. steps.Select(s => s.AtMs).Concat(edges.Select(e => (int)(e.AtUs / 1000))).Order()];
        for (int i = 1; i < busy.Length; i++)
        {
            int from = busy[i - 1] + SettleMs, to = busy[i] - LeadMs;
            if (ShutterClosedAt(edges, from)) continue;
            foreach (Stay stay in _case.Stays)
            {
                int stayFrom = (int)((stay.From - beginSeconds) * 1000), stayTo = (int)((stay.To - beginSeconds) * 1000);
                if (stayFrom <= from && stayTo > from) from = stayTo;
                else if (stayFrom > from && stayFrom < to) to = stayFrom;
            }
            // The jump ends at a whole second, because the clock chip tells whole seconds. The box reads it every ten minutes, which is usually after a jump.
            to = to / 1000 * 1000;
            if (to - from >= WorthMs) steps.Add(new Step(from, StepKind.Jump, to));
        }
    }

    // To the firmware a jump looks like a board that stood still. In the middle of a frame it would report, rightly, that the length of the frame is in doubt.
    private bool ShutterClosedAt(Edge[] edges, int atMs) => edges.LastOrDefault(e => e.Pin == Pin(Line.Shutter) && e.AtUs / 1000 <= atMs) is { High: true };

    private int Pin(Line line) => line == Line.HalfPress ? _board.Options.Pins.HalfPress : _board.Options.Pins.Shutter;

    private static Picture Take(Ssd1306Model display, HashSet<int> around)
    {
        var pages = new byte[Frame.Pages][];
        // The chip turns the columns round as they come in (segment re-map), so the first column is its last segment.
        for (int page = 0; page < pages.Length; page++)
        {
            pages[page] = new byte[Frame.Width];
            for (int x = 0; x < Frame.Width; x++) pages[page][x] = display.Registers.Memory(page, Frame.Width - 1 - x);
        }
        return new Picture(PictureSum.Of(display.Registers, pages), pages, AsciiPicture.HalfBlocks(display), around);
    }

    private static long Us(double seconds) => (long)Math.Round(seconds * 1e6);

    // The virtual board looks at its buttons at every tick of the scheduler, and sees a press at the first one after it.
    private static int Tick(long us) => (int)((us + TickUs - 1) / TickUs * (TickUs / 1000));

    private static int Ms(long us) => (int)Math.Round(us / 1000.0);
}
