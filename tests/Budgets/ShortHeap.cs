using Intervalometer.Core.Exposure;
using Intervalometer.Drivers.Composition;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// A press on DEPTH and its picture make more objects than the bytes that the box keeps free for them. Here memory runs out at each of these objects in
/// turn, when everything that can be given up has been given up. The same is done with a field of PLACE that a held Select puts back, and with
/// an exposure. It runs inside <see cref="CountedBuild"/>.
/// </summary>
public static class ShortHeap
{
    private const long Ms = 1_000;
    private const long PressMs = 60;
    private const long AfterMs = 240;
    private const int MostObjects = 2_000;
    private const long HoldMs = 700;
    private const int StopEvery = 8;

    // On PLACE: how many fields the wipe of the front glass is behind the offset.
    private const int WipeField = 9;
    private const int WipeMinutes = 5;

    /// <summary>What was wrong, a line each. The last line says how many presses were tried.</summary>
    public static string Run()
    {
        var lines = new List<string>();
        using Board board = Measurements.Board();
        // The reminder to wipe the glass comes by the clock and covers a line.
        board.Box!.Shore.Settings.SprayMinutes = 0;
        board.RunUntil(20_000 * Ms);
        while (board.Box.Shore.GiveUp())
        {
        }
        for (int i = 0; i < 4; i++) Press(board, Button.Down);
        if (board.Box.Panel!.ScreenName != "DEPTH") throw new InvalidOperationException("the fifth card of the ring is " + board.Box.Panel.ScreenName);
        int tried = Try(board, "open the first field", Button.Select, Button.Back, lines);
        Press(board, Button.Select);
        tried += Try(board, "move the distance", Button.Up, Button.Down, lines);
        Press(board, Button.Select);
        tried += Try(board, "move the aperture", Button.Up, Button.Down, lines);
        lines.Add($"{tried} presses");
        return string.Join("\n", lines);
    }

    /// <summary>
    /// The offset of local time on PLACE was raised by mistake, and a held Select puts it back. Memory runs out at each object of that. The next field that is
    /// changed must move by its own step. What was wrong, a line each; the last line says how many holds were tried.
    /// </summary>
    public static string PutBack()
    {
        var lines = new List<string>();
        using Board board = Measurements.Board();
        ShoreSettings place = board.Box!.Shore.Settings;
        place.SprayMinutes = WipeMinutes;
        board.RunUntil(20_000 * Ms);
        while (board.Box.Shore.GiveUp())
        {
        }
        Press(board, Button.Back);
        Press(board, Button.Up);
        if (board.Box.Panel!.ScreenName != "PLACE") throw new InvalidOperationException("the last card of the shore is " + board.Box.Panel.ScreenName);
        int right = OffsetMinutes(board);
        int objects = 0;
        for (bool ranOut = true; ranOut && objects < MostObjects; objects++)
        {
            Press(board, Button.Select);
            Press(board, Button.Up);
            Press(board, Button.Up);
            int raised = OffsetMinutes(board);
            if (raised != right + 15)
            {
                lines.Add($"{objects} objects: Up moved the offset from {right} to {raised} min");
                break;
            }
            ranOut = HoldsSelect(board, objects);
            int after = OffsetMinutes(board);
            if (after != right && (after != raised || !ranOut)) lines.Add($"{objects} objects: the offset is {after} min");
            for (int i = 0; i < WipeField; i++) Press(board, Button.Select);
            Press(board, Button.Up);
            if (place.SprayMinutes != WipeMinutes + 1) lines.Add($"{objects} objects: Up moved the wipe from {WipeMinutes} to {place.SprayMinutes} min");
            place.SprayMinutes = WipeMinutes;
            Press(board, Button.Back);
            if (OffsetMinutes(board) == right) continue;
            // The field was left raised, so that it is changed back by hand.
            Press(board, Button.Select);
            Press(board, Button.Down);
            Press(board, Button.Down);
            Press(board, Button.Back);
            if (OffsetMinutes(board) != right) throw new InvalidOperationException($"{objects} objects: the offset is {OffsetMinutes(board)} min");
        }
        lines.Add($"{objects} holds of Select");
        return string.Join("\n", lines);
    }

    /// <summary>
    /// The panel makes objects from the press of Fire to the end of an exposure too, and memory runs out at each of them. Every exposure must be as long as
    /// planned, and in every eighth case a second press must stop it. What was wrong, a line each; the last line says how many exposures were tried.
    /// </summary>
    public static string Exposure()
    {
        var lines = new List<string>();
        using var board = new Board(new BoardOptions { Place = Measurements.LargestSite(), Camera = new CameraOptions { Dial = CameraDial.Bulb } });
        BoxSettings settings = board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.Plan.SettleUs = 500 * Ms;
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(0), 0));
        board.RunUntil(20_000 * Ms);
        while (board.Box.Shore.GiveUp())
        {
        }
        long planned = Expose(board, long.MaxValue, out _);
        int objects = 0;
        for (bool ranOut = true; ranOut && objects < MostObjects; objects++)
        {
            long exposed = Expose(board, objects, out ranOut);
            if (Math.Abs(exposed - planned) > Ms) lines.Add($"{objects} objects: exposed for {exposed} us instead of {planned}");
            if (objects % StopEvery == 0 && !Stops(board, objects)) lines.Add($"{objects} objects: the second press of Fire did not stop the exposure");
        }
        lines.Add($"{objects} exposures of {planned / Ms} ms, {board.Box.Panel!.Health.ScreenFaults} errors of the panel");
        return string.Join("\n", lines);
    }

    // How long the sensor was exposed, µs; memory for so many objects is left from the press of Fire on.
    private static long Expose(Board board, long objects, out bool ranOut)
    {
        int before = board.Camera.Frames.Count;
        Fire(board, objects);
        for (int i = 0; i < 1_000 && board.Camera.Frames.Count == before; i++) board.RunUntil(board.Time.NowUs + 10 * Ms);
        ranOut = Meter.ObjectsLeft == long.MaxValue;
        Meter.ObjectsLeft = long.MaxValue;
        board.RunUntil(board.Time.NowUs + 500 * Ms);
        Press(board, Button.Back);
        return board.Camera.Frames.Count == before + 1 ? board.Camera.Frames[^1].CloseUs - board.Camera.Frames[^1].OpenUs : 0;
    }

    private static bool Stops(Board board, long objects)
    {
        Fire(board, objects);
        for (int i = 0; i < 1_000 && board.Camera.OpenSinceUs is null; i++) board.RunUntil(board.Time.NowUs + 10 * Ms);
        bool open = board.Camera.OpenSinceUs is not null;
        board.RunUntil(board.Time.NowUs + 400 * Ms);
        open &= board.Lines[Line.Shutter];
        board.Press(Button.Fire, board.Time.NowUs + Ms, PressMs * Ms);
        board.RunUntil(board.Time.NowUs + 20 * Ms);
        bool stopped = open && !board.Lines[Line.Shutter] && !board.Lines[Line.HalfPress];
        Meter.ObjectsLeft = long.MaxValue;
        board.RunUntil(board.Time.NowUs + 1_000 * Ms);
        Press(board, Button.Back);
        return stopped;
    }

    private static void Fire(Board board, long objects)
    {
        Meter.ObjectsLeft = objects;
        board.Press(Button.Fire, board.Time.NowUs + Ms, PressMs * Ms);
    }

    // Holds Select. Just before that counts as held, memory for so many objects is left. Returns true when it ran out.
    private static bool HoldsSelect(Board board, int objects)
    {
        long at = board.Time.NowUs + Ms;
        board.Press(Button.Select, at, HoldMs * Ms);
        board.RunUntil(at + KeyTimer.HoldUs - 10 * Ms);
        Meter.ObjectsLeft = objects;
        board.RunUntil(at + KeyTimer.HoldUs + 30 * Ms);
        bool ranOut = Meter.ObjectsLeft == long.MaxValue;
        Meter.ObjectsLeft = long.MaxValue;
        board.RunUntil(at + (HoldMs + AfterMs) * Ms);
        return ranOut;
    }

    private static int OffsetMinutes(Board board) => board.Box!.Shore.Settings.Offset.At(board.Box.Shore.Now).Minutes;

    // The press that runs out of memory has changed everything or nothing, and the next presses work and show what they should.
    private static int Try(Board board, string what, Button press, Button back, List<string> lines)
    {
        string before = State(board);
        HashSet<string> picturesBefore = Pictures(board);
        Press(board, press);
        string after = State(board);
        HashSet<string> picturesAfter = Pictures(board);
        Press(board, back);
        if (before == after || State(board) != before) throw new InvalidOperationException($"{what}: {before}, then {after}, then {State(board)}");
        for (int objects = 0; objects < MostObjects; objects++)
        {
            Meter.ObjectsLeft = objects;
            Press(board, press);
            bool ranOut = Meter.ObjectsLeft == long.MaxValue;
            Meter.ObjectsLeft = long.MaxValue;
            string state = State(board);
            if (state != before && state != after) lines.Add($"{what}, {objects} objects: {state} is neither {before} nor {after}");
            if (!ranOut) return objects;
            if (state != after) Press(board, press);
            Expect(board, $"{what}, {objects} objects, again", after, picturesAfter, lines);
            Press(board, back);
            Expect(board, $"{what}, {objects} objects, back", before, picturesBefore, lines);
        }
        throw new InvalidOperationException($"{what}: more than {MostObjects} objects");
    }

    private static void Expect(Board board, string what, string state, HashSet<string> pictures, List<string> lines)
    {
        if (State(board) != state) lines.Add($"{what}: {State(board)} instead of {state}");
        else if (!Shows(board, pictures)) lines.Add($"{what}: another picture");
    }

    // The display takes one page after the other, so a look may meet the pages of two pictures. A moment later it does not.
    private static bool Shows(Board board, HashSet<string> pictures)
    {
        if (pictures.Contains(Picture(board))) return true;
        board.RunUntil(board.Time.NowUs + 100 * Ms);
        return pictures.Contains(Picture(board));
    }

    private static void Press(Board board, Button button)
    {
        long at = board.Time.NowUs + Ms;
        board.Press(button, at, PressMs * Ms);
        board.RunUntil(at + (PressMs + AfterMs) * Ms);
    }

    // Everything that a press on DEPTH can change, and what follows from it.
    private static string State(Board board)
    {
        Box box = board.Box!;
        BoxSettings settings = box.Settings;
        LensSettings lens = settings.Lens;
        return $"{box.Panel!.ScreenName} field {box.Panel.Field}, {lens.FocusCentimetres} cm, {lens.FocalMillimetres} mm, format {lens.FormatIndex}, aperture {settings.Base.Aperture.Index}, shutter {settings.Base.Shutter.Index}, answer {settings.Answer.Seconds:F4} s";
    }

    // The last line of an overview changes every few seconds, and so does the sign of trouble.
    private static HashSet<string> Pictures(Board board)
    {
        var seen = new HashSet<string>();
        for (int i = 0; i < 80; i++)
        {
            seen.Add(Picture(board));
            board.RunUntil(board.Time.NowUs + 100 * Ms);
        }
        return seen;
    }

    private static string Picture(Board board) => Convert.ToHexString(board.Display.Rows());
}
