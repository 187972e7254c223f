using Intervalometer.Drivers.Composition;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Budgets;

/// <summary>Every screen: what its presses and its picture cost, and what lies on the heap while it is shown.</summary>
internal static class Screens
{
    private const long Second = 1_000_000;
    private const int MostFields = 30;

    private static readonly HeapCount Count = new();

    private static long s_panelDeepest, s_releaseDeepest;

    private static readonly string[] Known = ["AGAIN", "ALARM", "BOX", "CAMERA", "DEPTH", "FILTER", "FRAMES", "GLASS", "LIGHT", "MORNINGS", "PATH", "PLACE", "RUN", "STACKS", "SUN", "TAKEN", "TIDE", "TIME", "WAVES"];

    private sealed class Seen
    {
        public List<Cost> Presses { get; } = [];

        public List<Cost> Draws { get; } = [];

        public long LiveBytes { get; set; }
    }

    public static void Measure(Sheet sheet)
    {
        var screens = new SortedDictionary<string, Seen>(StringComparer.Ordinal);
        var shore = new List<Cost>();
        foreach (Button[] ring in new Button[][] { [], [Button.Back] })
        {
            for (int card = 0; card < 9; card++)
            {
                using Board board = Measurements.Board();
                board.RunUntil(10 * Second);
                foreach (Button button in ring) Press(board, screens, button);
                for (int i = 0; i < card; i++) Press(board, screens, Button.Down);
                Visit(board, screens);
                shore.AddRange(Meter.Calls.Where(c => c.Method == "ShoreDesk.Pass").Select(c => c.Cost));
                Meter.Calls.Clear();
            }
        }
        Filter(screens);
        Stacks(screens);
        Run(screens);
        Alarm(screens);

        string[] missing = [.. Known.Except(screens.Where(s => s.Value.LiveBytes > 0).Select(s => s.Key))];
        if (missing.Length > 0) throw new InvalidOperationException($"never shown: {string.Join(", ", missing)}; seen {string.Join(", ", screens.Keys)}");

        sheet.Add("press: the most costly", Sheet.Worst(screens.Values.SelectMany(s => s.Presses)), Measurements.PressLimit);
        sheet.Add("draw: the most costly", Sheet.Worst(screens.Values.SelectMany(s => s.Draws)), Measurements.DrawLimit);
        sheet.Add("shore: most costly pass in the box", Sheet.Worst(shore), Measurements.ShoreLimit);
        foreach ((string name, Seen seen) in screens)
        {
            if (seen.Presses.Count > 0) sheet.Add("press: " + name, Sheet.Worst(seen.Presses), Measurements.PressLimit);
            if (seen.Draws.Count > 0) sheet.Add("draw: " + name, Sheet.Worst(seen.Draws), Measurements.DrawLimit);
        }
        foreach ((string name, Seen seen) in screens)
        {
            sheet.Add($"heap: {name} shown; all of it between two passes", "bytes", seen.LiveBytes);
            sheet.Add($"heap: {name}; made by a press and a picture", "bytes", Made(seen));
        }
        sheet.Add("heap: calls of a panel pass at their deepest", "bytes", s_panelDeepest);
        sheet.Add("heap: calls of a release pass at their deepest", "bytes", s_releaseDeepest);
        sheet.Add("heap: the most at once; with the deepest calls of both threads and what a press and a picture make", "bytes", screens.Values.Max(s => s.LiveBytes + Made(s)) + s_panelDeepest + s_releaseDeepest, HeapMoments.Limit);
    }

    private static long Made(Seen seen) => Sheet.Worst(seen.Draws).Bytes + (seen.Presses.Count > 0 ? Sheet.Worst(seen.Presses).Bytes : 0);

    private static void Visit(Board board, SortedDictionary<string, Seen> screens)
    {
        // Long enough for the curve, the sun and the search to be worked out.
        board.RunUntil(board.Time.NowUs + 30 * Second);
        Note(board, screens, "", default);
        Seen shown = At(screens, Name(board));
        shown.LiveBytes = Math.Max(shown.LiveBytes, Live(board));
        int field = 0;
        do
        {
            Press(board, screens, Button.Select);
            foreach (Button button in new[] { Button.Up, Button.Up, Button.Down, Button.Down }) Press(board, screens, button);
        }
        while (board.Box!.Panel!.Field >= 0 && ++field < MostFields);
        Press(board, screens, Button.Mark);
        Press(board, screens, Button.Back);
    }

    private static void Filter(SortedDictionary<string, Seen> screens)
    {
        using Board board = Measurements.Board();
        board.RunUntil(2 * Second);
        Press(board, screens, Button.Down);
        Press(board, screens, Button.Select);
        Press(board, screens, Button.Select, 700_000);
        Visit(board, screens);
        Meter.Calls.Clear();
    }

    private static void Stacks(SortedDictionary<string, Seen> screens)
    {
        using Board board = Measurements.Board();
        board.Box!.Settings.Kit.Stacks.Used((1 << board.Box.Settings.Kit.Count) - 1);
        board.RunUntil(2 * Second);
        Press(board, screens, Button.Down);
        Press(board, screens, Button.Select, 700_000);
        Press(board, screens, Button.Select, 700_000);
        foreach (Button button in new[] { Button.Up, Button.Down, Button.Back }) Press(board, screens, button);
        Note(board, screens, "", default);
        At(screens, Name(board)).LiveBytes = Live(board);
        Press(board, screens, Button.Select);
        Meter.Calls.Clear();
    }

    private static void Run(SortedDictionary<string, Seen> screens)
    {
        foreach (int down in new[] { 0, 3 })
        {
            using Board board = Measurements.Board();
            board.Box!.Settings.AlwaysBulb = true;
            board.Box.Settings.StepShutter(33);
            board.RunUntil(10 * Second);
            for (int i = 0; i < 6; i++)
            {
                Press(board, screens, Button.Mark);
                board.RunUntil(board.Time.NowUs + 9 * Second);
            }
            for (int i = 0; i < down; i++) Press(board, screens, Button.Down);
            Press(board, screens, Button.Fire);
            if (!board.Box.Desk!.Running) throw new InvalidOperationException("no run is on");
            for (int i = 0; i < 3; i++)
            {
                Press(board, screens, Button.Mark);
                board.RunUntil(board.Time.NowUs + 9 * Second);
            }
            Note(board, screens, "", default);
            At(screens, Name(board)).LiveBytes = Live(board);
            Press(board, screens, Button.Fire);
            board.RunUntil(board.Time.NowUs + Second);
            Press(board, screens, Button.Up);
            At(screens, Name(board)).LiveBytes = Live(board);
            Press(board, screens, Button.Up);
            Press(board, screens, Button.Back, 700_000);
            foreach (Button button in new[] { Button.Down, Button.Down }) Press(board, screens, button);
            Press(board, screens, Button.Select, 700_000);
            At(screens, Name(board)).LiveBytes = Live(board);
            Press(board, screens, Button.Down);
            Meter.Calls.Clear();
        }
    }

    private static void Alarm(SortedDictionary<string, Seen> screens)
    {
        for (int hour = 0; hour < 12; hour++)
        {
            using Board board = Measurements.Board(BoardOptions.DefaultStartUtc.AddHours(hour));
            board.RunUntil(10 * Second);
            board.Box!.Shore.SetAlarm(true);
            board.RunUntil(20 * Second);
            bool up = board.Box.Shore.AlarmUp;
            Note(board, screens, "", default);
            if (up)
            {
                At(screens, Name(board)).LiveBytes = Live(board);
                Press(board, screens, Button.Up);
                Meter.Calls.Clear();
                return;
            }
            Meter.Calls.Clear();
        }
        throw new InvalidOperationException("no hour of the day has an alarm");
    }

    private static void Press(Board board, SortedDictionary<string, Seen> screens, Button button, long forUs = 100_000)
    {
        Note(board, screens, "", default);
        string on = Name(board);
        int from = Meter.Calls.Count;
        board.Press(button, board.Time.NowUs + 10_000, forUs);
        board.RunUntil(board.Time.NowUs + forUs + 300_000);
        Cost press = default;
        foreach (Watched call in Meter.Calls.Skip(from).Where(c => c.Method == "FrontPanel.OnButton")) press = Sheet.Worst([press, call.Cost]);
        Note(board, screens, on, press);
    }

    // What was drawn since the last time belongs to the screen that is shown now.
    private static void Note(Board board, SortedDictionary<string, Seen> screens, string pressedOn, Cost press)
    {
        if (board.PinFaults.Count > 0) throw new InvalidOperationException(string.Join("; ", board.PinFaults));
        Watched[] draws = [.. Meter.Calls.Where(c => c.Method == "FrontPanel.Draw")];
        if (draws.Length > 0) At(screens, Name(board)).Draws.AddRange(draws.Select(d => d.Cost));
        foreach (Watched call in Meter.Calls)
        {
            if (call.Method == "Box.PanelPass") s_panelDeepest = Math.Max(s_panelDeepest, call.StackBytes);
            else if (call.Method == "Box.ReleasePass") s_releaseDeepest = Math.Max(s_releaseDeepest, call.StackBytes);
        }
        Meter.Calls.RemoveAll(c => c.Method is "FrontPanel.Draw" or "Box.ReleasePass" or "Box.PanelPass" or "FrontPanel.Tick");
        if (press.Il > 0) At(screens, pressedOn).Presses.Add(press);
    }

    // A filter's screen bears the filter's name; others add a state to theirs.
    private static string Name(Board board)
    {
        string word = board.Box!.Panel!.ScreenName.Split(',', ' ')[0];
        return Known.Contains(word) ? word : "FILTER";
    }

    private static Seen At(SortedDictionary<string, Seen> screens, string name) => screens.TryGetValue(name, out Seen? seen) ? seen : screens[name] = new Seen();

    private static long Live(Board board) => Count.Live(board);
}
