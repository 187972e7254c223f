using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>The frames of one dawn, one for each help against the changing light.</summary>
/// <param name="None">Without any.</param>
/// <param name="ClearSky">With the correction for a clear sky.</param>
/// <param name="Sensor">With the light sensor.</param>
public sealed record PlayedDawn(PlayedFrame None, PlayedFrame ClearSky, PlayedFrame Sensor)
{
    /// <summary>The frame with a help.</summary>
    public PlayedFrame With(LightHelp help) => help switch
    {
        LightHelp.None => None,
        LightHelp.ClearSky => ClearSky,
        _ => Sensor,
    };
}

/// <summary>Plays drawn dawns through the box, each under the same sky with every help, and says how far the frames are from what was metered.</summary>
/// <param name="dawns">The dawns.</param>
public sealed class DawnStudy(IReadOnlyList<PlayedDawn> dawns)
{
    /// <summary>A frame as near as this to what was metered is called right, stops.</summary>
    public const double RightStops = 0.1;

    private const double BandDegrees = 2;

    /// <summary>Plays dawns.</summary>
    /// <param name="seed">The same seed gives the same dawns.</param>
    /// <param name="count">How many.</param>
    /// <param name="leg">How far the leg leans on which the box hangs, degrees.</param>
    /// <param name="done">Told after each; may be null.</param>
    public static DawnStudy Play(int seed, int count, double leg = SensorWindow.LevelLegDegrees, Action? done = null)
    {
        var played = new PlayedDawn[count];
        Parallel.For(0, count, OnePerProcessor.Options, i =>
        {
            DawnDraw draw = DawnDraw.Draw(seed, i);
            draw = draw with { Sky = draw.Sky with { LegDegrees = leg } };
            played[i] = new PlayedDawn(DawnPlay.Play(draw, LightHelp.None), DawnPlay.Play(draw, LightHelp.ClearSky), DawnPlay.Play(draw, LightHelp.Sensor));
            done?.Invoke();
        });
        return new DawnStudy(played);
    }

    /// <summary>The dawns of several studies as one.</summary>
    public static DawnStudy Pool(IEnumerable<DawnStudy> studies) => new([.. studies.SelectMany(s => s.Dawns)]);

    /// <summary>The dawns.</summary>
    public IReadOnlyList<PlayedDawn> Dawns => dawns;

    /// <summary>The dawns whose frame the sensor ended, so that it saw all along.</summary>
    public IReadOnlyList<PlayedDawn> Seen { get; } = [.. dawns.Where(d => d.Sensor.SensorEndedIt)];

    /// <summary>The groups that the table of the page shows, by name.</summary>
    public IReadOnlyList<(string Name, IReadOnlyList<PlayedDawn> Dawns)> Groups =>
    [
        ("all dawns", dawns),
        ("ended by the sensor", Seen),
        ("ended with the sun ahead", [.. Seen.Where(d => d.Sensor.Draw.Sky.AsideDegrees < 90)]),
        ("ended with the sun behind", [.. Seen.Where(d => d.Sensor.Draw.Sky.AsideDegrees >= 90)]),
    ];

    /// <summary>The lowest sun at which the sensor ended a frame, degrees.</summary>
    public double LowestSeen => Seen.Count == 0 ? double.NaN : Seen.Min(d => d.Sensor.SunDegrees);

    /// <summary>Per cent of some errors that are within <see cref="RightStops"/>.</summary>
    public static double RightPercent(IReadOnlyCollection<double> errors) =>
        errors.Count == 0 ? double.NaN : 100.0 * errors.Count(e => Math.Abs(e) <= RightStops) / errors.Count;

    /// <summary>The size of error that a share of the frames does not exceed, stops.</summary>
    public static double Size(IReadOnlyCollection<double> errors, double share) =>
        errors.Count == 0 ? double.NaN : errors.Select(Math.Abs).Order().ElementAt((int)Math.Min(errors.Count - 1, Math.Ceiling(share * errors.Count) - 1));

    /// <summary>Writes the tables as plain text.</summary>
    public void Write(TextWriter to)
    {
        to.WriteLine($"{dawns.Count} drawn dawns, one frame of 40 s to 4 min each, fired 5 s to 5 min after metering. What it collected against what was");
        to.WriteLine($"metered, stops: the middle error / 95 % of the errors are smaller / per cent of the frames within {RightStops} stop.");
        to.WriteLine();
        to.WriteLine($"{"",-22}{"frames",6}  {"sensor",-18}{"clear-sky model",-18}{"neither",-18}");
        Row(to, "all", dawns, f => f.ErrorStops);
        foreach (var kind in dawns.GroupBy(d => d.None.Draw.Sky.Kind)) Row(to, kind.Key, [.. kind], f => f.ErrorStops);
        to.WriteLine();
        to.WriteLine($"The sensor ended {Seen.Count} of the {dawns.Count} frames; in the others it was too dark, or the light was doubted, and the model stood in.");
        to.WriteLine((Seen.Count == 0 ? "It ended no frame." : $"The lowest sun under which it ended one was {LowestSeen:F1} degrees.")
            + Highest(" The highest under which it did not was {0:F1}.", HighestMissed(layer: false)) + Highest(" Under a closed layer of cloud it was {0:F1}.", HighestMissed(layer: true)));
        Row(to, "those it ended", Seen, f => f.ErrorStops);
        Row(to, "sun ahead of camera", Groups[2].Dawns, f => f.ErrorStops);
        Row(to, "sun behind camera", Groups[3].Dawns, f => f.ErrorStops);
        Row(to, "all, at the box", Seen, f => f.AtBoxStops);
        to.WriteLine();
        to.WriteLine("By the altitude of the sun as the shutter opened. 'At the box' is the light that fell on the sensor: what is missing to");
        to.WriteLine("the scene's is what a sensor on the box cannot know.");
        to.WriteLine($"{"sun, degrees",-22}{"frames",6}  {"it ended",9}  {"of these within 0.1 stop: at the box",38}  {"of the scene",14}");
        foreach (var band in dawns.GroupBy(d => Math.Floor(d.Sensor.SunDegrees / BandDegrees) * BandDegrees).OrderBy(g => g.Key))
        {
            PlayedDawn[] seen = [.. band.Where(d => d.Sensor.SensorEndedIt)];
            string atBox = Percent([.. seen.Select(d => d.Sensor.AtBoxStops)]), scene = Percent([.. seen.Select(d => d.Sensor.ErrorStops)]);
            to.WriteLine($"{$"{band.Key,3:F0} to {band.Key + BandDegrees,3:F0}",-22}{band.Count(),6}  {seen.Length,9}  {atBox,38}  {scene,14}");
        }
    }

    /// <summary>The highest sun at which the sensor did not end a frame under a drawn sky, degrees; not a number when it ended all.</summary>
    /// <param name="layer">Under a closed layer of cloud, or under the other drawn skies.</param>
    public double HighestMissed(bool layer) =>
        dawns.Where(d => !d.Sensor.SensorEndedIt && SkyChoice.Recipes.Any(r => r.Name == d.None.Draw.Sky.Kind && r.LayerStops > 0 == layer))
            .Select(d => d.Sensor.SunDegrees).DefaultIfEmpty(double.NaN).Max();

    private static string Highest(string words, double degrees) => double.IsNaN(degrees) ? "" : string.Format(System.Globalization.CultureInfo.InvariantCulture, words, degrees);

    private static void Row(TextWriter to, string name, IReadOnlyList<PlayedDawn> dawns, Func<PlayedFrame, double> error)
    {
        string Cell(LightHelp help)
        {
            double[] errors = [.. dawns.Select(d => error(d.With(help)))];
            return errors.Length == 0 ? "-" : $"{Size(errors, 0.5):F2} {Size(errors, 0.95),5:F2} {RightPercent(errors),4:F0} %";
        }
        to.WriteLine($"{name,-22}{dawns.Count,6}  {Cell(LightHelp.Sensor),-18}{Cell(LightHelp.ClearSky),-18}{Cell(LightHelp.None),-18}");
    }

    private static string Percent(IReadOnlyCollection<double> errors) => errors.Count == 0 ? "-" : $"{RightPercent(errors):F0} %";
}
