using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>A series, played twice under the same sky.</summary>
/// <param name="Draw">The series.</param>
/// <param name="Followed">Its frames when the exposures follow the light.</param>
/// <param name="One">Its frames with one exposure.</param>
public sealed record PlayedSeries(SeriesDraw Draw, IReadOnlyList<SeriesFrame> Followed, IReadOnlyList<SeriesFrame> One)
{
    /// <summary>The frames of one of the two.</summary>
    public IReadOnlyList<SeriesFrame> With(bool follows) => follows ? Followed : One;
}

/// <summary>Plays drawn series through the box, with exposures that follow the light and with one exposure, and says how far each frame is from what was metered and how much neighbours differ.</summary>
/// <param name="series">The series.</param>
public sealed class SeriesStudy(IReadOnlyList<PlayedSeries> series)
{
    /// <summary>Plays series.</summary>
    /// <param name="seed">The same seed gives the same series.</param>
    /// <param name="count">How many.</param>
    /// <param name="leg">How far the leg leans on which the box hangs, degrees.</param>
    /// <param name="done">Told after each; may be null.</param>
    public static SeriesStudy Play(int seed, int count, double leg = SensorWindow.LevelLegDegrees, Action? done = null)
    {
        var played = new PlayedSeries[count];
        Parallel.For(0, count, OnePerProcessor.Options, i =>
        {
            SeriesDraw draw = SeriesDraw.Draw(seed, i);
            draw = draw with { Dawn = draw.Dawn with { Sky = draw.Dawn.Sky with { LegDegrees = leg } } };
            played[i] = new PlayedSeries(draw, SeriesPlay.Play(draw, follows: true), SeriesPlay.Play(draw, follows: false));
            done?.Invoke();
        });
        return new SeriesStudy(played);
    }

    /// <summary>The series.</summary>
    public IReadOnlyList<PlayedSeries> Series => series;

    /// <summary>The groups of the table, by name.</summary>
    public IReadOnlyList<(string Name, IReadOnlyList<PlayedSeries> Series)> Groups =>
    [
        ("all series", series),
        .. series.GroupBy(s => s.Draw.Dawn.Sky.Kind).Select(kind => (kind.Key, (IReadOnlyList<PlayedSeries>)[.. kind])),
        ("the sun ahead of the camera", [.. series.Where(s => s.Draw.Dawn.Sky.AsideDegrees < 90)]),
        ("the sun behind it", [.. series.Where(s => s.Draw.Dawn.Sky.AsideDegrees >= 90)]),
    ];

    /// <summary>How far each frame is from what was metered, stops.</summary>
    public static double[] Errors(IEnumerable<PlayedSeries> series, bool follows) => [.. series.SelectMany(s => s.With(follows)).Select(f => f.ErrorStops)];

    /// <summary>How much brighter each frame is than the one before it, stops. With one exposure that is what the light of the scene did, and the step that it asks for.</summary>
    public static double[] Steps(IEnumerable<PlayedSeries> series, bool follows) =>
        [.. series.Select(s => s.With(follows)).SelectMany(frames => frames.Skip(1).Zip(frames, (next, before) => next.ErrorStops - before.ErrorStops))];

    /// <summary>Writes the table as plain text.</summary>
    public void Write(TextWriter to)
    {
        to.WriteLine($"{series.Count} drawn series of {SeriesPlay.Frames} frames, 1 to 6 s long, one every 12 to 30 s. Followed: each exposure follows the light.");
        to.WriteLine("One: all have the first exposure. Errors are what a frame collected against what was metered, stops: middle / 95 % are smaller / per cent");
        to.WriteLine($"of the frames within {DawnStudy.RightStops} stop. Steps are from each frame to the next, stops: middle / 95 % are smaller / largest. With one exposure");
        to.WriteLine("the step is what the light of the scene did.");
        to.WriteLine();
        to.WriteLine($"{"",-28}{"frames",6}  {"error followed",-20}{"error with one",-20}{"step followed",-20}{"step of the scene",-20}");
        foreach (var (name, some) in Groups)
        {
            double[] errors = Errors(some, follows: true);
            to.WriteLine($"{name,-28}{errors.Length,6}  {Cell(errors),-20}{Cell(Errors(some, follows: false)),-20}{StepCell(Steps(some, follows: true)),-20}{StepCell(Steps(some, follows: false)),-20}");
        }
        int frames = Errors(series, follows: true).Length;
        to.WriteLine();
        to.WriteLine($"The sensor set {series.Sum(s => s.Followed.Count(f => f.FromSensor))} of the {frames} exposures.");
    }

    private static string Cell(double[] errors) => errors.Length == 0 ? "-" : $"{DawnStudy.Size(errors, 0.5):F2} {DawnStudy.Size(errors, 0.95),5:F2} {DawnStudy.RightPercent(errors),4:F0} %";

    private static string StepCell(double[] steps) => steps.Length == 0 ? "-" : $"{DawnStudy.Size(steps, 0.5):F3} {DawnStudy.Size(steps, 0.95),5:F2} {DawnStudy.Size(steps, 1),5:F2}";
}
