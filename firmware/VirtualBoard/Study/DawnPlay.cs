using Intervalometer.Core.Exposure;
using Intervalometer.Core.Light;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>What the box is told to do about the changing light.</summary>
public enum LightHelp
{
    /// <summary>Nothing: the answer's time.</summary>
    None,

    /// <summary>The correction for a clear sky's dawn.</summary>
    ClearSky,

    /// <summary>The light sensor, and the correction for a clear sky where the sensor cannot say.</summary>
    Sensor,
}

/// <summary>One frame of the study.</summary>
/// <param name="Draw">The dawn.</param>
/// <param name="ErrorStops">What it collected against what was metered, stops.</param>
/// <param name="AtBoxStops">The same of the light that fell on the box, stops.</param>
/// <param name="ExposureSeconds">How long the camera's sensor was open, seconds.</param>
/// <param name="SunDegrees">Altitude of the sun as it opened, degrees.</param>
/// <param name="SensorEndedIt">True when the light sensor was believed to the end.</param>
public sealed record PlayedFrame(DawnDraw Draw, double ErrorStops, double AtBoxStops, double ExposureSeconds, double SunDegrees, bool SensorEndedIt);

/// <summary>Plays a dawn through the whole box: the metered time is set and the frame is fired by its buttons, the camera hangs on its contacts.</summary>
public static class DawnPlay
{
    private const string Glass = "ND 3.0";
    internal const double Tap = 0.12;
    private const double Next = 0.7;
    private const double StepSeconds = 5;
    // Four minutes and the longest that anything may make of them.
    private const double LongestFrame = 2000;

    /// <summary>Plays a dawn.</summary>
    /// <param name="draw">The dawn.</param>
    /// <param name="help">What the box is told to do about the light.</param>
    public static PlayedFrame Play(DawnDraw draw, LightHelp help)
    {
        using var board = new Board(new BoardOptions { Sky = draw.Sky, SensorFitted = help == LightHelp.Sensor, StartUtc = draw.Start, Place = draw.Place() });
        Prepare(board, help);
        Meter(board, draw.MeteredThirds);
        double fire = DawnDraw.MeteringAt + draw.WaitSeconds;
        board.Press(Button.Fire, Us(fire), Us(Tap));
        for (double now = fire; board.Camera.Frames.Count == 0; now += StepSeconds)
        {
            if (now > fire + LongestFrame) throw new InvalidOperationException($"No frame was taken at {draw.Start:u}: {draw}.");
            board.RunUntil(Us(now));
        }
        Frame frame = board.Camera.Frames[0];
        FrameAim aim = board.AimOf(board.Edges.First(e => e.Line == Line.Shutter && e.Closed).AtUs)!;
        double error = FrameLight.Stops(board.Sky!, frame, aim)!.Value, atBox = FrameLight.StopsAtBox(board.Sky!, frame, aim)!.Value;
        // The box closes its book on the frame when the run has ended.
        board.RunUntil(board.Time.NowUs + Us(StepSeconds));
        SensedLight sensor = board.Box!.Shore.Dawn.Sensor;
        bool ended = sensor.Series.Notes.End(0) is LightEnd.Enough or LightEnd.Longest or LightEnd.Shortest;
        return new PlayedFrame(draw, error, atBox, (frame.CloseUs - frame.OpenUs) / 1e6, draw.SunAt(frame.OpenUs / 1e6), ended);
    }

    /// <summary>Plans the presses that set the metered time, at <see cref="DawnDraw.MeteringAt"/>. Before them the box has a time one third shorter, and f/8.</summary>
    /// <param name="board">The board, which has just been switched on.</param>
    /// <param name="thirds">The metered time, thirds of a stop from 1 s.</param>
    internal static void Meter(Board board, int thirds)
    {
        board.Box!.Settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(thirds - 1), 0));
        double at = DawnDraw.MeteringAt - Next;
        // On LIGHT, which is home: into its first field, the metered time one third up, and back.
        foreach (Button button in new[] { Button.Select, Button.Up, Button.Back })
        {
            board.Press(button, Us(at), Us(Tap));
            at += Next;
        }
    }

    // As the photographer has set the box before: the glass on the lens, and what the box does about the light.
    private static void Prepare(Board board, LightHelp help)
    {
        BoxSettings settings = board.Box!.Settings;
        settings.Kit.PutOn(1 << settings.Kit.Find(Glass));
        board.Box.Shore.Settings.DawnOn = help != LightHelp.None;
    }

    internal static long Us(double seconds) => (long)Math.Round(seconds * 1e6);
}
