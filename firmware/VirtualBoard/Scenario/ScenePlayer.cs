using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>What a played scenario leaves behind.</summary>
/// <param name="Report">The report.</param>
/// <param name="Vcd">Every line as a value change dump.</param>
/// <param name="Logbook">The box's logbook as CSV.</param>
/// <param name="Memory">What the memory holds at the end, 4096 bytes.</param>
/// <param name="Pictures">File name and PNG of each picture.</param>
/// <param name="Steps">The steps with their pictures, as Markdown; null for a scenario without steps.</param>
public sealed record ScenePlayed(SessionReport Report, string Vcd, string Logbook, byte[] Memory, IReadOnlyList<(string Name, byte[] Png)> Pictures, string? Steps)
{
    /// <summary>Writes everything into a folder that appears whole or not at all.</summary>
    public void WriteTo(string folder)
    {
        using var output = new OutputFolder(folder);
        output.Text("report.json", Report.ToJson());
        output.Text("lines.vcd", Vcd);
        output.Text("frames.csv", Logbook);
        output.Bytes("memory.bin", Memory);
        if (Steps is not null) output.Text("steps.md", Steps);
        foreach (var (name, png) in Pictures) output.Bytes(name, png);
        output.Finish();
    }
}

/// <summary>Plays a scenario on a fresh board.</summary>
public static class ScenePlayer
{
    private const double StepSeconds = 1;

    /// <summary>Plays it to its end.</summary>
    /// <param name="scene">The scenario.</param>
    /// <param name="progress">Told the share that is done, 0 to 1; may be null.</param>
    public static ScenePlayed Play(SceneFile scene, Action<double>? progress = null)
    {
        using Board board = PowerOn(scene);
        var pictures = new List<(string, byte[])>();
        foreach (DisplayShot shot in scene.Pictures)
        {
            board.Time.At(Math.Max(Us(shot.At), board.Time.NowUs), () => pictures.Add((shot.Name + ".png", board.Display.Png())));
        }
        for (double at = StepSeconds; at < scene.EndAt; at += StepSeconds)
        {
            board.RunUntil(Us(at));
            progress?.Invoke(at / scene.EndAt);
        }
        board.RunUntil(Us(scene.EndAt));
        progress?.Invoke(1);
        string? start = scene.StartUtc?.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'");
        SessionReport report = ReportBuilder.Of(board, scene.Name, start, scene.Site) with { Exposure = board.Box is null ? null : ExposureText.Line(board.Box.Settings.Answer) };
        byte[] memory = board.Memory.Snapshot();
        return new ScenePlayed(report, Vcd.Text(board.Lines.Changes, board.Sea, Us(scene.EndAt)), LogbookCsv.Text(memory), memory, pictures, scene.Steps.Count > 0 ? StepText.Markdown(scene) : null);
    }

    /// <summary>A fresh board with everything that the scenario will do to it waiting on its clock.</summary>
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
    internal static long Us(double seconds) => (long)Math.Round(seconds * 1e6);
}
