using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Screens.Cards;

/// <summary>Home: the metered base, and the time it comes to through the glass, as large as it goes.</summary>
public sealed class LightCard : Card
{
    private const long ReminderUs = 3_000_000;

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
            fields.Value = ShutterText(_settings.Base.Shutter);
            fields.Note = "true " + ExposureText.TrueTime(_settings.Base.Shutter);
        }
        if (fields.Is("Correct bulb for dawn"))
        {
            _shore.Settings.DawnOn = fields.Switch(_shore.Settings.DawnOn);
            fields.Note = _shore.Clock.IsSet ? "from when the light was set" : "needs the time: see PLACE";
        }
        if (fields.Is("Aperture"))
        {
            if (fields.Changes)
            {
                _settings.StepAperture(direction);
                return;
            }
            fields.Value = "f/" + _settings.Base.Aperture.Label;
            fields.Note = "time follows: " + ShutterText(_settings.Base.Shutter);
        }
        if (fields.Is("ISO"))
        {
            if (fields.Changes)
            {
                _settings.StepIso(direction);
                return;
            }
            fields.Value = _settings.Base.Iso.Label;
            fields.Note = "time follows: " + ShutterText(_settings.Base.Shutter);
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

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        ExposureAnswer answer = _settings.Answer;
        MeteredBase metered = _settings.Base;
        DawnLight dawn = _shore.Dawn;
        if (dawn.Applies) DrawBulb(frame, dawn.Seconds, "DAWN", 12);
        else DrawAnswer(frame, answer, 12);
        string meteredLine = ShutterText(metered.Shutter) + " f/" + metered.Aperture.Label + " ISO " + metered.Iso.Label;
        frame.Text(0, 38, meteredLine, Font.Small);
        string stops = answer.FilterStops.Value == 0 ? "no glass: hold Select" : ExposureText.StopsOf(answer.FilterStops) + " stops of glass";
        if (metered.HandThirds != 0)
        {
            string trim = " " + ExposureText.Thirds(metered.HandThirds);
            stops = CardPainter.Shorter(stops + trim, ExposureText.StopsOf(answer.FilterStops) + " st of glass" + trim);
        }
        string dawnLine = DawnLine(dawn, answer);
        frame.Text(0, 47, dawnLine.Length > 0 ? dawnLine : stops, Font.Small);
        frame.Text(_shore.WipeDue ? 2 : 0, 56, _shore.WipeDue ? "Wipe the front glass" : BottomLine(answer, metered, nowUs), Font.Small);
        if (_shore.WipeDue) frame.InvertRect(0, 55, 128, 9);
    }

    /// <summary>Draws an answer 24 rows high: the time large, and who times it at the right.</summary>
    public static void DrawAnswer(Frame frame, ExposureAnswer answer, int y)
    {
        if (answer.Kind == ExposureKind.Refused)
        {
            frame.Icon(0, y, Icon.Caution);
            frame.Text(16, y - 2, answer.Refusal == ExposureRefusal.AboveLimit ? "Too long:" : "Too short:", Font.Medium);
            frame.Text(0, y + 12, ExposureText.Seconds(answer.Seconds), Font.Medium);
            return;
        }
        if (answer.Kind == ExposureKind.Dial)
        {
            frame.Text(0, y, answer.Dial.Label, Font.Large);
            frame.TextRight(128, y, "DIAL", Font.Medium);
            frame.TextRight(128, y + 16, ExposureText.Seconds(answer.Dial.Seconds), Font.Small);
            return;
        }
        DrawBulb(frame, answer.Seconds, "BULB", y);
    }

    // From 100 s the minutes are what a person counts; the seconds stand beside them.
    private static void DrawBulb(Frame frame, double seconds, string tag, int y)
    {
        bool minutes = seconds >= 100;
        frame.Text(0, y, minutes ? ExposureText.Clock(seconds) : seconds.ToString("F2"), Font.Large);
        frame.TextRight(128, y, tag, Font.Medium);
        frame.TextRight(128, y + 16, minutes ? ExposureText.Seconds(seconds) : "seconds", Font.Small);
    }

    // Empty while the light's change is not asked for.
    private static string DawnLine(DawnLight dawn, ExposureAnswer answer)
    {
        if (dawn.WantsReading) return "dawn: set the light anew";
        if (dawn.OutOfReach) return "dawn: no time reaches it";
        if (!dawn.Applies) return "";
        double stops = dawn.Stops;
        string line = (stops > 0 ? "+" : "") + stops.ToString("F2") + " st on " + ExposureText.Seconds(answer.Seconds);
        return CardPainter.Shorter("dawn: " + line, line);
    }

    private static string ShutterText(ShutterSetting shutter) => shutter.Index >= -5 ? shutter.Label + " s" : shutter.Label;

    private static string BottomLine(ExposureAnswer answer, MeteredBase metered, long nowUs)
    {
        if (answer.Kind == ExposureKind.Refused)
        {
            return answer.Refusal == ExposureRefusal.AboveLimit ? "Over the limit in BOX" : "Dial ends at 1/8000";
        }
        int shown = 1;
        int reminders = (int)answer.Reminders;
        for (int bit = 1; bit <= 16; bit <<= 1)
        {
            if ((reminders & bit) != 0) shown++;
        }
        long turn = nowUs / ReminderUs % shown;
        for (int bit = 1; bit <= 16 && turn > 0; bit <<= 1)
        {
            if ((reminders & bit) == 0) continue;
            turn--;
            if (turn == 0) return ShortReminder((ExposureReminders)bit);
        }
        string exact = ExposureText.TrueTime(metered.Shutter);
        return CardPainter.Shorter(metered.Shutter.Label + " is " + exact, exact);
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
