using System.CommandLine;
using Intervalometer.VirtualBoard.Scenario;
using Spectre.Console;

namespace Intervalometer.VirtualBoard.Cli;

/// <summary>The command play: it reads a scenario file and writes a folder of results.</summary>
internal static class PlayVerb
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    public static Command Make(TextWriter output, TextWriter error)
    {
        var file = new Argument<string>("scenario") { Description = "Scenario file (JSON)." };
        var folder = new Option<string>("--out") { Description = "Folder for report.json, frames.csv, lines.vcd, memory.bin and the pictures; it must be new or empty.", Required = true };
        var verb = new Command("play", "Play a scenario as fast as the PC can and write what happened.") { file, folder };
        verb.SetAction(parsed =>
        {
            try
            {
                SceneFile scene = SceneReader.Load(parsed.GetValue(file)!);
                ScenePlayed played = WithProgress(scene);
                played.WriteTo(parsed.GetValue(folder)!);
                output.WriteLine($"{scene.Name}: {Count(played.Report.Frames.Count, "frame")}, {Count(played.Report.MissedPresses.Count, "missed press", "missed presses")} in {scene.EndAt} s; see {parsed.GetValue(folder)}");
                return 0;
            }
            catch (Exception e) when (e is SceneFileException or IOException or UnauthorizedAccessException)
            {
                error.WriteLine(e.Message);
                return CommandLine.BadInput;
            }
        });
        return verb;
    }

    private static string Count(int n, string one, string? many = null) => $"{n} {(n == 1 ? one : many ?? one + "s")}";

    /// <summary>Shows a progress bar when the wait is long enough, and only on a terminal.</summary>
    private static ScenePlayed WithProgress(SceneFile scene)
    {
        Task<ScenePlayed> work;
        double done = 0;
        work = Task.Run(() => ScenePlayer.Play(scene, share => Volatile.Write(ref done, share)));
        bool interactive = AnsiConsole.Profile.Capabilities.Interactive && !Console.IsOutputRedirected;
        if (interactive && !((IAsyncResult)work).AsyncWaitHandle.WaitOne(Patience))
        {
            AnsiConsole.Progress().Start(bar =>
            {
                ProgressTask task = bar.AddTask("playing", maxValue: 1);
                while (!((IAsyncResult)work).AsyncWaitHandle.WaitOne(100)) task.Value = Volatile.Read(ref done);
                task.Value = 1;
            });
        }
        return work.GetAwaiter().GetResult();
    }
}
