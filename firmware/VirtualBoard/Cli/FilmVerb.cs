using System.CommandLine;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.VirtualBoard.Cli;

/// <summary>The command film: a part of a scenario as an animated picture.</summary>
internal static class FilmVerb
{
    private const double LongestSeconds = 60;

    public static Command Make(TextWriter output, TextWriter error)
    {
        var file = new Argument<string>("scenario") { Description = "Scenario file (JSON)." };
        var from = new Option<double>("--from") { Description = "First second that is shown.", Required = true };
        var until = new Option<double>("--until") { Description = $"Last second that is shown, at most {LongestSeconds} s later.", Required = true };
        var to = new Option<string>("--out") { Description = "File to write, an animated PNG.", Required = true };
        var verb = new Command("film", "Draw a part of a scenario as an animated picture: the display, the water and the shutter.") { file, from, until, to };
        verb.SetAction(parsed =>
        {
            try
            {
                SceneFile scene = SceneReader.Load(parsed.GetValue(file)!);
                double begin = parsed.GetValue(from), end = parsed.GetValue(until);
                if (!(begin >= 0 && end > begin && end <= begin + LongestSeconds && end <= scene.EndAt))
                {
                    error.WriteLine($"Give --from and --until as two times of the scenario, the earlier one first and at most {LongestSeconds} s apart; it ends at {scene.EndAt} s.");
                    return CommandLine.BadInput;
                }
                byte[] film = SceneFilm.Draw(scene, begin, end);
                WholeFile.Write(parsed.GetValue(to)!, film);
                output.WriteLine($"{parsed.GetValue(to)}: {film.Length} bytes");
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
}
