using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The first card: the metered reading, and the exposure time through the filters, as large as possible.</summary>
public sealed class LightCard : Card
{
    private const long ReminderUs = 3_000_000;

    // A time between the dial figures 1/4 and 0.3, from which on the figures are in seconds.
    private const double PrintedInSeconds = 0.28;

    // Where the parts of a time stand below its upper row: a refused time, a time in medium letters, and the exact time at the right.
    private const int RefusedDrop = 12;
    private const int MediumDrop = 5;
    private const int ExactDrop = 16;

    // One of the two strokes of the sign for seconds.
    private const int StrokeColumns = 3;
    private const int StrokeRows = 9;

    private readonly BoxSettings _settings;
    private readonly ShoreDesk _shore;

    /// <summary>Creates the card.</summary>
    public LightCard(BoxSettings settings, ShoreDesk shore)
    {
        _settings = settings;
        _shore = shore;
    }

    /// <inheritdoc/>
    public override string Name => "LIGHT";

    /// <inheritdoc/>
    public override long RedrawUs => ReminderUs / 3;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        int direction = fields.Direction;
        if (fields.Is("Metered, no glass"))
        {
            if (fields.Changes)
            {
                _settings.StepShutter(direction);
                return;
            }
            fields.Value = _settings.Base.Shutter.Sign;
            fields.Note = "true " + ExposureText.TrueTime(_settings.Base.Shutter);
        }
        if (fields.Is("Correct bulb for dawn"))
        {
            _shore.Settings.DawnOn = fields.Switch(_shore.Settings.DawnOn);
            fields.Note = _shore.Clock.IsSet ? "from when it was metered" : "needs the time: see PLACE";
        }
        if (_shore.Dawn.Sensor.Fitted) SensorFields(fields);
        if (fields.Is("Aperture"))
        {
            if (fields.Changes)
            {
                _settings.StepAperture(direction);
                return;
            }
            fields.Value = "f/" + _settings.Base.Aperture.Label;
            fields.Note = "time follows: " + _settings.Base.Shutter.Sign;
        }
        if (fields.Is("ISO"))
        {
            if (fields.Changes)
            {
                _settings.StepIso(direction);
                return;
            }
            fields.Value = _settings.Base.Iso.Label;
            fields.Note = "time follows: " + _settings.Base.Shutter.Sign;
        }
        if (fields.Is("Trim by hand"))
        {
            if (fields.Changes)
            {
                _settings.StepHand(direction);
                return;
            }
            fields.Value = ExposureText.Thirds(_settings.Base.HandThirds) + " st";
            fields.Note = "+ is longer";
        }
    }

    private void SensorFields(FieldList fields)
    {
        if (fields.Is("Light sensor"))
        {
            _settings.Sensor = (SensorUse)fields.Moved((int)_settings.Sensor, 1, 0, (int)SensorUse.CarriesToo);
            if (fields.Changes) return;
            fields.Value = _settings.Sensor == SensorUse.Off ? "off" : _settings.Sensor == SensorUse.EndsFrames ? "ends frames" : "follows too";
            fields.Note = _settings.Sensor == SensorUse.CarriesToo ? "the answer moves with it" : "one frame on bulb, from 4 s";
        }
        if (fields.Is("Longer at most by"))
        {
            _settings.SensorThirds = fields.Moved(_settings.SensorThirds, 1, 1, BoxSettings.MostSensorThirds);
            if (fields.Changes) return;
            fields.Value = ExposureText.Thirds(_settings.SensorThirds).TrimStart('+') + " st";
            fields.Note = "when the light fades";
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        ExposureAnswer answer = _settings.Answer;
        MeteredBase metered = _settings.Base;
        DrawTime(frame, HeadlineY);
        string meteredLine = metered.Shutter.Sign + " f/" + metered.Aperture.Label + " ISO " + metered.Iso.Label;
        int end = frame.Text(LeftX, Line4Y, meteredLine, Font.Small);
        string stops = ExposureText.StopsOf(answer.FilterStops) + " st";
        if (answer.FilterStops.Value != 0 && end + 4 + Font.Small.WidthOf(stops) <= Frame.Width) frame.TextRight(RightX, Line4Y, stops, Font.Small);
        frame.Text(LeftX, Line5Y, TurningLine(metered, answer, nowUs), Font.Small);
        frame.Text(LeftX, HintY, GlanceLine.Line(_shore, nowUs), Font.Small);
    }

    /// <summary>Draws the exposure time that Fire takes, 24 rows high.</summary>
    public void DrawTime(Frame frame, int y)
    {
        ExposureAnswer answer = _settings.Answer;
        DawnLight dawn = _shore.Dawn;
        if (dawn.Applies) DrawBulb(frame, dawn.Seconds, "DAWN", y);
        else if (_settings.AlwaysBulb && answer.Kind == ExposureKind.Dial) DrawBulb(frame, answer.Seconds, "BULB", y);
        else DrawAnswer(frame, answer, y);
    }

    /// <summary>How the camera must be set, or why there is no exposure.</summary>
    public string CameraLine()
    {
        ExposureAnswer answer = _settings.Answer;
        if (answer.Kind == ExposureKind.Refused) return answer.Refusal == ExposureRefusal.AboveLimit ? "Over the limit in BOX" : "Dial ends at 1/8000";
        return "Set the camera: " + _settings.CameraDial(_settings.TimedByBox(_settings.Plan.Shape));
    }

    /// <summary>Draws an exposure 24 rows high: the time large, and at the right who times it.</summary>
    private static void DrawAnswer(Frame frame, ExposureAnswer answer, int y)
    {
        if (answer.Kind == ExposureKind.Refused)
        {
            CardPainter.Caution(frame, y - 2, answer.Refusal == ExposureRefusal.AboveLimit ? "Too long:" : "Too short:");
            frame.Text(LeftX, y + RefusedDrop, ExposureText.Seconds(answer.Seconds), Font.Medium);
            return;
        }
        if (answer.Kind == ExposureKind.Dial)
        {
            int end = DrawBeside(frame, answer.Dial.Label, "DIAL", ExposureText.Seconds(answer.Dial.Seconds), y);
            if (answer.Dial.Seconds > PrintedInSeconds) SecondsSign(frame, end + 2, y);
            return;
        }
        DrawBulb(frame, answer.Seconds, "BULB", y);
    }

    // The large font has no sign for seconds, so two strokes are drawn at the height of the digits' upper halves.
    private static void SecondsSign(Frame frame, int x, int y)
    {
        frame.FillRect(x, y, StrokeColumns, StrokeRows);
        frame.FillRect(x + 2 * StrokeColumns, y, StrokeColumns, StrokeRows);
    }

    // From 100 s on a person counts in minutes, so these are drawn large and the seconds stand beside them.
    private static void DrawBulb(Frame frame, double seconds, string tag, int y)
    {
        bool minutes = seconds >= 100;
        DrawBeside(frame, minutes ? ExposureText.Clock(seconds) : seconds.ToString("F2"), tag, minutes ? ExposureText.Seconds(seconds) : "seconds", y);
    }

    // Draws the time, and at the right who times it over the exact time. A time too long for the large digits beside them, such as 1/1000, is in medium ones.
    private static int DrawBeside(Frame frame, string time, string who, string exact, int y)
    {
        int whoWidth = Font.Medium.WidthOf(who);
        int exactWidth = Font.Small.WidthOf(exact);
        Font font = CardPainter.FontBeside(time, whoWidth > exactWidth ? whoWidth : exactWidth);
        int end = frame.Text(LeftX, font == Font.Large ? y : y + MediumDrop, time, font);
        frame.TextRight(RightX, y, who, Font.Medium);
        frame.TextRight(RightX, y + ExactDrop, exact, Font.Small);
        return end;
    }

    // What the correction for the dawn does; empty while it is off or not needed.
    private static string DawnLine(DawnLight dawn, ExposureAnswer answer)
    {
        if (dawn.WantsReading) return "dawn: meter again";
        if (dawn.OutOfReach) return "dawn: no time reaches it";
        if (!dawn.Applies) return "";
        double stops = dawn.Stops;
        string line = (stops > 0 ? "+" : "") + stops.ToString("F2") + " st on " + ExposureText.Seconds(answer.Seconds);
        return CardPainter.Shorter("dawn: " + line, line);
    }

    // The other lines, each of which is shown for some seconds: how to set the camera, the filters, the reminders, and the way to the shore cards. While an exposure
    // is corrected for the dawn, every second line says by how much.
    private string TurningLine(MeteredBase metered, ExposureAnswer answer, long nowUs)
    {
        if (answer.Kind == ExposureKind.Refused) return CameraLine();
        string dawn = DawnLine(_shore.Dawn, answer);
        int reminders = (int)answer.Reminders;
        long step = nowUs / ReminderUs;
        if (_shore.Dawn.Sensor.On)
        {
            if (step % 2 == 0) return SensorLine();
            step /= 2;
        }
        if (dawn.Length > 0)
        {
            if (step % 2 == 0) return dawn;
            step /= 2;
        }
        int lines = 3;
        for (int bit = 1; bit <= 16; bit <<= 1)
        {
            if ((reminders & bit) != 0) lines++;
        }
        // divisor: there are three lines at least.
        int line = (int)(step % lines);
        if (line-- == 0) return CameraLine();
        if (line-- == 0) return GlassLine(metered, answer);
        for (int bit = 1; bit <= 16; bit <<= 1)
        {
            if ((reminders & bit) != 0 && line-- == 0) return ShortReminder((ExposureReminders)bit);
        }
        return "Back: tide, sun, place";
    }

    // What the light has done since it was metered, or why the sensor cannot say.
    private string SensorLine()
    {
        SensedLight sensor = _shore.Dawn.Sensor;
        if (!sensor.Carries) return sensor.Words;
        ShutterSetting metered = _settings.Base.Shutter;
        string now = ShutterSetting.Nearest(metered.Seconds * Elementary.Exp2(-_settings.BrighterStops)).Sign;
        string at = _shore.Clock.IsSet ? " at " + TimeText.HourMinute(_shore.Place.Offset.ToLocal(_shore.Clock.Now(sensor.MeteredUs))) : "";
        return CardPainter.Shorter("metered " + metered.Sign + at + "; now " + now, metered.Sign + at + "; now " + now);
    }

    private static string GlassLine(MeteredBase metered, ExposureAnswer answer)
    {
        string stops = answer.FilterStops.Value == 0 ? "no glass: hold Select" : ExposureText.StopsOf(answer.FilterStops) + " stops of glass";
        if (metered.HandThirds == 0) return stops;
        string trim = " " + ExposureText.Thirds(metered.HandThirds);
        return CardPainter.Shorter(stops + trim, ExposureText.StopsOf(answer.FilterStops) + " st of glass" + trim);
    }

    private static string ShortReminder(ExposureReminders one) => one switch
    {
        ExposureReminders.CoverEyepiece => "Cover the eyepiece",
        ExposureReminders.LetSettle => "Let the tripod settle",
        ExposureReminders.GradLeftOff => "Sky still needs its grad",
        ExposureReminders.GradNotCounted => "Grad on, not counted",
        _ => "Beyond film table: bracket",
    };
}
