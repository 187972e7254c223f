using System.CommandLine;
using Intervalometer.VirtualBoard.Sky;
using Spectre.Console;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The command that plays drawn dawns and says how far the frames are from what was metered, with and without the light sensor.</summary>
public static class DawnStudyCommand
{
    private const int MostDawns = 100_000;
    private const int MostSeeds = 100;

    /// <summary>The command for the program's command line.</summary>
    public static Command Build()
    {
        var dawns = new Option<int?>("--dawns") { Description = $"How many dawns of each seed, 1 to {MostDawns}; 200 unless given." };
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
        var seeds = new Option<int>("--seeds") { Description = $"How many seeds, one after the other, 1 to {MostSeeds}: the tables are then of all their dawns.", DefaultValueFactory = _ => 1 };
        seeds.Validators.Add(result =>
        {
            if (result.GetValue(seeds) is < 1 or > MostSeeds) result.AddError($"--seeds {result.GetValue(seeds)}: give 1 to {MostSeeds}.");
        });
        var series = new Option<bool>("--series") { Description = "Play series of frames in place of single frames, 40 unless --dawns says otherwise, and compare exposures that follow the light with one exposure." };
        var record = new Option<FileInfo?>("--record") { Description = "Write the figures into this file too, in place of earlier ones of the same seed, count and leg." };
        var command = new Command("sky-study", "Play dawns under drawn skies and compare the light that the frames collect with the light that was metered.") { dawns, seed, seeds, leg, series, record };
        command.SetAction(parsed =>
        {
            TextWriter to = parsed.InvocationConfiguration.Output;
            int first = parsed.GetValue(seed), count = parsed.GetValue(dawns) ?? (parsed.GetValue(series) ? 40 : 200);
            double leans = parsed.GetValue(leg);
            string? file = parsed.GetValue(record)?.FullName;
            if (parsed.GetValue(series))
            {
                SeriesStudy played = WithProgress("Series", count, tick => SeriesStudy.Play(first, count, leans, tick));
                played.Write(to);
                if (file is not null) StudyRecord.Write(file, StudyRecord.SeriesHead, [.. StudyRecord.Rows(first, leans, played)]);
                return 0;
            }
            int[] all = [.. Enumerable.Range(first, parsed.GetValue(seeds))];
            DawnStudy[] studies = WithProgress("Dawns", count * all.Length, tick => all.Select(s => DawnStudy.Play(s, count, leans, tick)).ToArray());
            var pooled = DawnStudy.Pool(studies);
            pooled.Write(to);
            List<string> rows = [.. all.Zip(studies).SelectMany(s => StudyRecord.Rows($"{s.First}", leans, s.Second))];
            if (all.Length > 1)
            {
                to.WriteLine();
                to.WriteLine("Frames that the sensor ended, and per cent of them within 0.1 stop, seed by seed: all / sun ahead / sun behind.");
                foreach (var (s, study) in all.Zip(studies))
                {
                    to.WriteLine($"{$"seed {s}",-22}{study.Seen.Count,6}  {string.Join(" / ", study.Groups.Skip(1).Select(g => $"{DawnStudy.RightPercent([.. g.Dawns.Select(d => d.Sensor.ErrorStops)]):F0} %"))}");
                }
                rows.AddRange(StudyRecord.Rows($"{all[0]}-{all[^1]}", leans, pooled));
            }
            if (file is not null) StudyRecord.Write(file, StudyRecord.FramesHead, rows);
            return 0;
        });
        return command;
    }

    private static T WithProgress<T>(string name, int count, Func<Action, T> play)
    {
        T? played = default;
        AnsiConsole.Console.Progress().Start(progress =>
        {
            ProgressTask task = progress.AddTask(name, maxValue: count);
            played = play(() => task.Increment(1));
        });
        return played!;
    }
}
