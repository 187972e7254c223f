using Intervalometer.Core.Light;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>One frame of a series of the study.</summary>
/// <param name="ErrorStops">What it collected against what was metered, stops.</param>
/// <param name="ExposureSeconds">How long the camera's sensor was open, seconds.</param>
/// <param name="FromSensor">True when its exposure was taken from the light sensor.</param>
public sealed record SeriesFrame(double ErrorStops, double ExposureSeconds, bool FromSensor);

/// <summary>A series under a drawn sky: where, when, how long its frames are and how often they are taken. The same number and seed give the same series.</summary>
/// <param name="Dawn">The dawn.</param>
/// <param name="MeteredThirds">The metered time without glass, thirds of a stop from 1 s.</param>
/// <param name="IntervalSeconds">From the start of one frame to the start of the next, seconds.</param>
public sealed record SeriesDraw(DawnDraw Dawn, int MeteredThirds, int IntervalSeconds)
{
    private const double LowestSun = -5, HighestSun = 5;
    // 1 s to 6.3 s: the shortest interval leaves room for a frame that grows by a stop of light lost.
    private const int LongestThirds = 8, ShortestInterval = 12, LongestInterval = 30;

    /// <summary>Draws a series.</summary>
    /// <param name="seed">Seed of the study.</param>
    /// <param name="number">Number of the series; the kinds of sky take turns.</param>
    public static SeriesDraw Draw(int seed, int number)
    {
        var dice = new Dice((ulong)seed << 32 | 0x8000_0000u | (uint)number);
        return new SeriesDraw(DawnDraw.Draw(seed, number, LowestSun, HighestSun), (int)dice.Whole(0, LongestThirds), (int)dice.Whole(ShortestInterval, LongestInterval));
    }
}

/// <summary>Plays a series through the whole box: the metered time is set and the series is fired by its buttons, the camera hangs on its contacts.</summary>
public static class SeriesPlay
{
    /// <summary>Frames of each series.</summary>
    public const int Frames = 20;

    private const double FromMeteringToFire = 5, EndSeconds = 40;

    /// <summary>Plays a series.</summary>
    /// <param name="draw">The series.</param>
    /// <param name="follows">True when its exposures follow the light, by the largest change of a new box; false keeps one exposure.</param>
    public static IReadOnlyList<SeriesFrame> Play(SeriesDraw draw, bool follows)
    {
        DawnDraw dawn = draw.Dawn;
        using var board = new Board(new BoardOptions { Sky = dawn.Sky, SensorFitted = true, StartUtc = dawn.Start, Place = dawn.Place(), Camera = new CameraOptions { Dial = CameraDial.Bulb } });
        BoxSettings settings = board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.Plan.Shape = PlanShape.Series;
        settings.Plan.SettleUs = 0;
        settings.Plan.IntervalUs = draw.IntervalSeconds * 1_000_000L;
        settings.Plan.Frames = Frames;
        if (!follows) settings.SeriesTenths = 0;
        DawnPlay.Meter(board, draw.MeteredThirds);
        double fire = DawnDraw.MeteringAt + FromMeteringToFire;
        board.Press(Button.Fire, DawnPlay.Us(fire), DawnPlay.Us(DawnPlay.Tap));
        board.RunUntil(DawnPlay.Us(fire + Frames * draw.IntervalSeconds + EndSeconds));
        if (board.Camera.Frames.Count != Frames) throw new InvalidOperationException($"{board.Camera.Frames.Count} frames were taken: {draw}.");
        LineEdge[] closings = [.. board.Edges.Where(e => e.Line == Line.Shutter && e.Closed)];
        return [.. board.Camera.Frames.Select((frame, i) => new SeriesFrame(
            FrameLight.Stops(board.Sky!, frame, board.AimOf(closings[i].AtUs)!)!.Value, (frame.CloseUs - frame.OpenUs) / 1e6, board.Box.Shore.Dawn.Sensor.Series.Notes.From(i) == SeriesLight.Sensor))];
    }
}
