using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Plays a case on the virtual board and writes down what the stand-in board has to do and to show.</summary>
public sealed class Expectation
{
    /// <summary>After anything that happens the box gets this much real time before the clocks may jump, ms.</summary>
    public const int SettleMs = 2500;

    /// <summary>The clocks jump to this long before the next thing that happens, ms.</summary>
    public const int LeadMs = 2000;

    // A jump that saves less is not worth one, ms.
    private const int WorthMs = 1000;

    // The heap is collected so long after a picture, and so far from edges, ms.
    private const int HeapAfterMs = 120;
    private const int HeapClearMs = 500;

    private readonly BoardCase _case;
    private readonly Board _board;
    private readonly Dictionary<string, (long AtUs, Picture Picture)> _pictures = [];

    private Expectation(BoardCase @case)
    {
        _case = @case;
        _board = ScenePlayer.PowerOn(@case.Scene, options => options with { BounceUs = 0 });
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
        foreach (DisplayShot shot in _case.Scene.Pictures) _board.Time.At(Us(shot.At), () => _pictures[shot.Name] = (_board.Time.NowUs, Take(_board.Display.Model)));
        foreach (double wake in _case.WakesAt)
        {
            _board.RunUntil(Us(wake));
            _board.PowerOff();
            _board.PowerOn(woken: true);
        }
        _board.RunUntil(Us(_case.Scene.EndAt));
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
            steps.Add(new Step(Ms(change.AtUs - begin), change.On ? StepKind.Down : StepKind.Up, _board.Options.Pins.Buttons[change.Line - Line.Up]));
        }
        var shown = _pictures.Where(p => p.Value.AtUs >= begin && p.Value.AtUs < end).ToArray();
        foreach (var (name, (at, picture)) in shown) steps.Add(new Step(Ms(at - begin), StepKind.Picture, picture.Sum, name));
        AddHeap(steps, edges);
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
        return new Start { Utc = _case.Scene.Start.AddSeconds(beginSeconds), Steps = ordered, Edges = edges, Pictures = pictures, Woken = woken, Sleeps = sleeps };
    }

    // A box sleeps a while after the last press; the waiting is jumped over.
    private static int AddSleep(List<Step> steps) =>
        steps.Max(s => s.AtMs) + (int)(Drivers.Box.Box.SleepAfterUs / 1000) + SettleMs;

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
            foreach (Stay stay in _case.Stays)
            {
                int stayFrom = (int)((stay.From - beginSeconds) * 1000), stayTo = (int)((stay.To - beginSeconds) * 1000);
                if (stayFrom <= from && stayTo > from) from = stayTo;
                else if (stayFrom > from && stayFrom < to) to = stayFrom;
            }
            if (to - from >= WorthMs) steps.Add(new Step(from, StepKind.Jump, to));
        }
    }

    private int Pin(Line line) => line == Line.HalfPress ? _board.Options.Pins.HalfPress : _board.Options.Pins.Shutter;

    private static Picture Take(Ssd1306Model display)
    {
        Ssd1306Registers registers = display.Registers;
        int sum = (registers.Contrast << 2) | (registers.Inverse ? 2 : 0) | (registers.DisplayOn ? 1 : 0);
        var pages = new byte[8][];
        for (int page = 0; page < pages.Length; page++)
        {
            pages[page] = new byte[Ssd1306Model.Width];
            int pageSum = -2128831035;
            for (int x = 0; x < Ssd1306Model.Width; x++)
            {
                // The chip turns the columns round as they come in (segment re-map), so the first column is its last segment.
                pages[page][x] = registers.Memory(page, Ssd1306Model.Width - 1 - x);
                pageSum = unchecked((pageSum ^ pages[page][x]) * 16777619);
            }
            sum = unchecked(sum * 31 + pageSum);
        }
        return new Picture(sum, pages, AsciiPicture.HalfBlocks(display));
    }

    private static long Us(double seconds) => (long)Math.Round(seconds * 1e6);

    private static int Ms(long us) => (int)Math.Round(us / 1000.0);
}
