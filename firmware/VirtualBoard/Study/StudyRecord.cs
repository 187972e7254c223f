using System.Globalization;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The figures of a study as a table in a file: its page in words is held against that file. The seed, the count and the leg stand in each row.</summary>
public static class StudyRecord
{
    /// <summary>First line of the file about single frames.</summary>
    public const string FramesHead = "seeds,dawns,leg,group,frames,sensor_middle,sensor_95,sensor_right,model_middle,model_95,model_right,neither_middle,neither_95,neither_right,lowest_ended,highest_missed,highest_missed_layer";

    /// <summary>First line of the file about series.</summary>
    public const string SeriesHead = "seeds,series,leg,group,frames,followed_middle,followed_95,followed_right,one_middle,one_95,one_right,steps,followed_step_middle,followed_step_95,followed_step_largest,scene_step_middle,scene_step_95,scene_step_largest";

    /// <summary>The rows of a study of single frames.</summary>
    /// <param name="seeds">Its seeds, as '1' or '1-3'.</param>
    /// <param name="leg">How far the leg leaned, degrees.</param>
    /// <param name="study">The study.</param>
    public static IEnumerable<string> Rows(string seeds, double leg, DawnStudy study)
    {
        foreach (var (name, dawns) in study.Groups)
        {
            IEnumerable<string> errors = new[] { LightHelp.Sensor, LightHelp.ClearSky, LightHelp.None }.SelectMany(help => ErrorCells([.. dawns.Select(d => d.With(help).ErrorStops)]));
            yield return string.Join(',', [seeds, Text(study.Dawns.Count), Text(leg), name, Text(dawns.Count), .. errors,
                F(study.LowestSeen, 1), F(study.HighestMissed(layer: false), 1), F(study.HighestMissed(layer: true), 1)]);
        }
    }

    /// <summary>The rows of a study of series.</summary>
    /// <param name="seed">Its seed.</param>
    /// <param name="leg">How far the leg leaned, degrees.</param>
    /// <param name="study">The study.</param>
    public static IEnumerable<string> Rows(int seed, double leg, SeriesStudy study)
    {
        foreach (var (name, series) in study.Groups)
        {
            double[] followed = SeriesStudy.Errors(series, follows: true), one = SeriesStudy.Errors(series, follows: false);
            double[] steps = SeriesStudy.Steps(series, follows: true), scene = SeriesStudy.Steps(series, follows: false);
            yield return string.Join(',', [Text(seed), Text(study.Series.Count), Text(leg), name, Text(followed.Length), .. ErrorCells(followed), .. ErrorCells(one), Text(steps.Length), .. StepCells(steps), .. StepCells(scene)]);
        }
    }

    /// <summary>Writes rows into a file. Rows of the same seeds, count and leg that it holds are replaced, and all others stay.</summary>
    /// <param name="file">The file; it is made when there is none.</param>
    /// <param name="head">The first line.</param>
    /// <param name="rows">The rows.</param>
    public static void Write(string file, string head, IReadOnlyCollection<string> rows)
    {
        var keys = rows.Select(Key).ToHashSet();
        IEnumerable<string> kept = File.Exists(file) ? File.ReadAllLines(file).Skip(1).Where(l => !keys.Contains(Key(l))) : [];
        string[] all = [.. kept, .. rows];
        File.WriteAllText(file, string.Join('\n', [head, .. all.OrderBy(Key, StringComparer.Ordinal)]) + "\n");
    }

    private static string Key(string row) => string.Join(',', row.Split(',').Take(3));

    private static string[] ErrorCells(IReadOnlyCollection<double> errors) => [F(DawnStudy.Size(errors, 0.5), 2), F(DawnStudy.Size(errors, 0.95), 2), F(DawnStudy.RightPercent(errors), 0)];

    private static string[] StepCells(IReadOnlyCollection<double> steps) => [F(DawnStudy.Size(steps, 0.5), 3), F(DawnStudy.Size(steps, 0.95), 2), F(DawnStudy.Size(steps, 1), 2)];

    private static string Text(double value) => value.ToString(CultureInfo.InvariantCulture);

    private static string F(double value, int digits) => double.IsNaN(value) ? "" : value.ToString("F" + digits, CultureInfo.InvariantCulture);
}
