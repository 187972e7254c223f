using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>Makes the board of a scenario and schedules its presses on the board's clock.</summary>
public static class SceneStart
{
    /// <summary>A new board, with everything that the scenario will do to it scheduled on its clock.</summary>
    /// <param name="scene">The scenario.</param>
    /// <param name="change">Changes the options that follow from the scenario; may be null.</param>
    public static Board PowerOn(SceneFile scene, Func<BoardOptions, BoardOptions>? change = null)
    {
        var options = new BoardOptions
        {
            Seed = scene.Seed,
            Camera = scene.Camera,
            Battery = scene.Battery,
            Sea = scene.Sea.Make(),
            Sky = scene.Sky,
            SensorFitted = scene.LightSensor,
            StartUtc = scene.Start,
            Place = scene.Place,
            MemoryHolds = scene.Memory,
        };
        var board = new Board(change is null ? options : change(options));
        if (board.Box is not null) Preset(board.Box.Settings, scene);
        foreach (TimedPress press in scene.Presses) board.Press(press.Button, Math.Max(Us(press.At), board.Time.NowUs), Us(press.ForSeconds));
        foreach (TurnPress press in scene.TurnPresses) FollowSea(board, press, Us(scene.EndAt));
        foreach (DialTurn turn in scene.Dials)
        {
            board.Time.At(Math.Max(Us(turn.At), board.Time.NowUs), () => board.Camera.Options = board.Camera.Options with { Dial = turn.Dial, DialSeconds = turn.DialSeconds });
        }
        return board;
    }

    private static void FollowSea(Board board, TurnPress press, long endUs)
    {
        int left = press.Count;
        foreach (Swash wave in Waves.Between(board.Sea, 0, endUs))
        {
            if (left == 0) return;
            if (wave.TurnUs < Us(press.From)) continue;
            long at = wave.TurnUs + (long)(press.ReactionMs * 1000);
            if (at < board.Time.NowUs || at > endUs) continue;
            board.Press(press.Button, at, Us(press.ForSeconds));
            left--;
        }
    }

    /// <summary>Sets the box as the photographer has before the scenario begins.</summary>
    private static void Preset(BoxSettings settings, SceneFile scene)
    {
        if (!scene.KitOfMemory) settings.Kit = scene.Kit();
        if (scene.Metered is MeteredBase metered) settings.SetBase(metered);
        else settings.Solve();
    }

    /// <summary>A scenario's seconds as the board's microseconds.</summary>
    public static long Us(double seconds) => (long)Math.Round(seconds * 1e6);
}
