using System.CommandLine;
using Intervalometer.VirtualBoard.Cli;
using Intervalometer.VirtualBoard.Sea;
using Spectre.Console;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The command that plays thousands of waves and says how well each way of firing does.</summary>
public static class StudyCommand
{
    /// <summary>The command for the program's command line.</summary>
    public static Command Build()
    {
        var folder = new Option<DirectoryInfo?>("--out") { Description = "Folder for the tables (sea-study.txt, .md, .csv) and plots (PNG, SVG)." };
        var quick = new Option<bool>("--quick") { Description = "Play one eighth of the waves, which takes half a minute instead of some four." };
        var tuning = new Option<bool>("--tuning-seeds") { Description = "Play the seeds on which the constants were chosen, and not the held-out ones. Use this while you change the firmware." };
        var exposure = new Option<double>("--exposure") { Description = "Exposure in seconds, 0.01 to 10.", DefaultValueFactory = _ => 1.0 };
        var choose = new Option<bool>("--choose") { Description = "Weigh the constants of the chance on the tuning seeds, and judge them on the others and on the traced beach." };
        exposure.Validators.Add(result =>
        {
            double seconds = result.GetValue(exposure);
            if (seconds is not (>= 0.01 and <= 10)) result.AddError($"--exposure {seconds}: give 0.01 to 10 seconds.");
        });
        var command = new Command("sea-study", "Play thousands of waves and compare the ways of firing.") { folder, quick, tuning, exposure, choose };
        command.SetAction(parsed =>
        {
            var options = new StudyOptions
            {
                HeldOutSeeds = parsed.GetValue(tuning) ? new StudyOptions().TrainingSeeds : new StudyOptions().HeldOutSeeds,
                Folder = parsed.GetValue(folder)?.FullName,
                ExposureSeconds = parsed.GetValue(exposure),
                SecondsPerSeed = parsed.GetValue(quick) ? 4_096 : 32_768,
                ShallowSecondsPerSeed = parsed.GetValue(quick) ? 1_024 : 8_192,
            };
            if (!parsed.GetValue(choose)) return Run(options, AnsiConsole.Console, parsed.InvocationConfiguration.Error);
            ConstantChoice.Write(options, parsed.InvocationConfiguration.Output);
            return 0;
        });
        return command;
    }

    /// <summary>Plays the study and reports on a console.</summary>
    /// <param name="options">What to play, and the folder to write to.</param>
    /// <param name="console">Where the tables go.</param>
    /// <param name="error">Where to report, before anything is played, that no file can be written to the folder.</param>
    /// <returns>0, or 2 when nothing can be written to the folder.</returns>
    public static int Run(StudyOptions options, IAnsiConsole console, TextWriter error)
    {
        if (options.Folder is not null && Unwritable(options.Folder) is string reason)
        {
            error.WriteLine($"--out {options.Folder}: {reason} Choose a folder that can be written.");
            return CommandLine.BadInput;
        }
        StudiedSea.Maker[] makers = [.. StudiedSea.Makers(options)];
        var results = new SeaResult[makers.Length];
        console.Progress().Start(progress =>
        {
            ProgressTask task = progress.AddTask("Seas", maxValue: makers.Length);
            Parallel.For(0, makers.Length, OnePerProcessor.Options, i =>
            {
                results[i] = new SeaStudy(options).Play(makers[i]());
                task.Increment(1);
            });
        });
        var report = new StudyReport(results);
        var text = new StringWriter();
        report.WriteTables(text);
        console.Profile.Out.Writer.Write(text.ToString());
        if (options.Folder is null) return 0;
        File.WriteAllText(Path.Combine(options.Folder, "sea-study.txt"), text.ToString());
        report.WriteCsv(Path.Combine(options.Folder, "sea-study.csv"));
        report.WriteMarkdown(Path.Combine(options.Folder, "sea-study.md"));
        report.WritePlots(options.Folder);
        console.MarkupLineInterpolated($"Tables and plots are in {options.Folder}.");
        return 0;
    }

    // Tries to write a file, because the access rights of a folder do not tell everything.
    private static string? Unwritable(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            File.Create(Path.Combine(folder, Path.GetRandomFileName()), 1, FileOptions.DeleteOnClose).Dispose();
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return e.Message;
        }
    }
}
