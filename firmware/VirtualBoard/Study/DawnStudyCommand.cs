using System.CommandLine;
using Intervalometer.VirtualBoard.Sky;
using Spectre.Console;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The command that plays drawn dawns and says how far the frames are from what was metered, with and without the light sensor.</summary>
public static class DawnStudyCommand
{
    private const int MostDawns = 100_000;

    /// <summary>The command for the program's command line.</summary>
    public static Command Build()
    {
        var dawns = new Option<int>("--dawns") { Description = $"How many dawns, 1 to {MostDawns}.", DefaultValueFactory = _ => 200 };
        dawns.Validators.Add(result =>
        {
            if (result.GetValue(dawns) is < 1 or > MostDawns) result.AddError($"--dawns {result.GetValue(dawns)}: give 1 to {MostDawns}.");
        });
        var seed = new Option<int>("--seed") { Description = "Another number draws other dawns.", DefaultValueFactory = _ => 1 };
        var leg = new Option<double>("--leg") { Description = "How far the leg leans on which the box hangs, 0 to 90 degrees; on a leg of 25 the sensor's pane is level.", DefaultValueFactory = _ => SensorWindow.LevelLegDegrees };
        leg.Validators.Add(result =>
        {
            if (result.GetValue(leg) is not (>= 0 and <= 90)) result.AddError($"--leg {result.GetValue(leg)}: give 0 to 90 degrees.");
        });
        var command = new Command("sky-study", "Play dawns under drawn skies and compare the light that the frames collect with the light that was metered.") { dawns, seed, leg };
        command.SetAction(parsed =>
        {
            DawnStudy? study = null;
            AnsiConsole.Console.Progress().Start(progress =>
            {
                ProgressTask task = progress.AddTask("Dawns", maxValue: parsed.GetValue(dawns));
                study = DawnStudy.Play(parsed.GetValue(seed), parsed.GetValue(dawns), parsed.GetValue(leg), () => task.Increment(1));
            });
            study!.Write(parsed.InvocationConfiguration.Output);
            return 0;
        });
        return command;
    }
}
