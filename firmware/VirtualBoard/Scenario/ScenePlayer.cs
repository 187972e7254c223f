using Intervalometer.Core.Exposure;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Report;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>The results of a scenario that was played.</summary>
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

/// <summary>Plays a scenario on a new board.</summary>
public static class ScenePlayer
{
    private const double StepSeconds = 1;

    /// <summary>Plays it to its end.</summary>
    /// <param name="scene">The scenario.</param>
    /// <param name="progress">Told the share that is done, 0 to 1; may be null.</param>
    public static ScenePlayed Play(SceneFile scene, Action<double>? progress = null)
    {
        using Board board = SceneStart.PowerOn(scene);
        var pictures = new List<(string, byte[])>();
        foreach (DisplayShot shot in scene.Pictures)
        {
            board.Time.At(Math.Max(SceneStart.Us(shot.At), board.Time.NowUs), () => pictures.Add((shot.Name + ".png", board.Display.Png())));
        }
        for (double at = StepSeconds; at < scene.EndAt; at += StepSeconds)
        {
            board.RunUntil(SceneStart.Us(at));
            progress?.Invoke(at / scene.EndAt);
        }
        board.RunUntil(SceneStart.Us(scene.EndAt));
        progress?.Invoke(1);
        string? start = scene.StartUtc?.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'");
        SessionReport report = ReportBuilder.Of(board, scene.Name, start, scene.Site) with { Exposure = board.Box is null ? null : ExposureText.Line(board.Box.Settings.Answer) };
        byte[] memory = board.Memory.Snapshot();
        return new ScenePlayed(report, Vcd.Text(board.Lines.Changes, board.Sea, SceneStart.Us(scene.EndAt)), LogbookCsv.Text(memory), memory, pictures, scene.Steps.Count > 0 ? StepText.Markdown(scene) : null);
    }
}
