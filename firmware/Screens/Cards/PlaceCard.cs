using Intervalometer.Core.Time;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Screens.Cards;

/// <summary>The place and its clock.</summary>
public sealed class PlaceCard : Card
{
    private readonly ShoreDesk _desk;
    private CivilTime _typed;
    private bool _typing;

    /// <summary>Creates the card.</summary>
    public PlaceCard(ShoreDesk desk) => _desk = desk;

    /// <inheritdoc/>
    public override string Name => "PLACE";

    /// <inheritdoc/>
    public override long RedrawUs => 1_000_000;

    private ShoreSettings Settings => _desk.Settings;

    // What is being typed; before a first change, the present.
    private CivilTime Typed
    {
        get
        {
            if (_typing) return _typed;
            if (_desk.Clock.IsSet) return Settings.Offset.ToLocal(_desk.Now);
            return new CivilTime(2026, 1, 1, 0, 0, 0);
        }
    }

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (fields.Is("Local time is UTC")) Offset(fields);
        CivilTime typed = Typed;
        int year = typed.Year, month = typed.Month, day = typed.Day, hour = typed.Hour, minute = typed.Minute;
        if (fields.Is("Clock: year"))
        {
            year = fields.Number(year, 1, 2026, 2099, "");
            Type(fields, year, month, day, hour, minute);
        }
        if (fields.Is("Clock: month"))
        {
            month = Round(month - 1 + fields.Direction, 12) + 1;
            if (!fields.Changes) fields.Value = TimeText.MonthName(month);
            Type(fields, year, month, day, hour, minute);
        }
        if (fields.Is("Clock: day"))
        {
            day = Round(day - 1 + fields.Direction, CivilTime.DaysInMonth(year, month)) + 1;
            if (!fields.Changes) fields.Value = day.ToString();
            Type(fields, year, month, day, hour, minute);
        }
        if (fields.Is("Clock: hour, local"))
        {
            hour = Round(hour + fields.Direction, 24);
            if (!fields.Changes) fields.Value = TimeText.TwoDigits(hour);
            Type(fields, year, month, day, hour, minute);
        }
        if (fields.Is("Clock: minute"))
        {
            minute = Round(minute + fields.Direction * (fields.Repeats < 10 ? 1 : 5), 60);
            if (!fields.Changes) fields.Value = TimeText.TwoDigits(minute);
            Type(fields, year, month, day, hour, minute);
        }
        if (fields.Is("Set the clock to this"))
        {
            if (fields.Changes)
            {
                SetClock(fields.Direction, fields.Repeats);
                return;
            }
            fields.Value = _typing ? "press up" : "is set";
            fields.AskTwice = _typing;
            fields.Note = ClockNote();
        }
        OtherFields(fields);
    }

    // Asked before the time, which is typed as the clocks of the place show it. Set by hand it holds until it is set again.
    private void Offset(FieldList fields)
    {
        LocalTime local = Settings.Offset;
        if (fields.Changes)
        {
            Settings.SetOffset(new LocalOffset(local.MinutesAt(_desk.Now) + 15 * fields.Direction));
            return;
        }
        fields.Value = TimeText.Offset(local.At(_desk.Now));
        fields.AskTwice = _desk.Clock.IsSet;
        fields.Note = local.Changes ? "changes by itself" : "no summer rule: set it";
    }

    private void OtherFields(FieldList fields)
    {
        if (fields.Is("Wipe the front glass every"))
        {
            Settings.SprayMinutes = fields.Number(Settings.SprayMinutes, 1, 0, 30, " min");
            if (Settings.SprayMinutes == 0) fields.Value = "never";
            fields.Note = "never in an exposure";
        }
        if (fields.IsAmong(ShoreSettings.LongestName))
        {
            if (fields.Changes)
            {
                ChangeLetter(fields.Part, fields.Direction);
                return;
            }
            NameLetters.Tell(fields, Settings.Name);
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        bool wide = Font.Medium.WidthOf(Settings.Name) > Frame.Width;
        frame.Text(0, wide ? 14 : 11, Settings.Name, wide ? Font.Small : Font.Medium);
        frame.Text(0, 26, _desk.Place.DatumText, Font.Small);
        frame.Text(0, 35, SunCard.Degrees(Settings.LatitudeHundredths, "N", "S") + "  " + SunCard.Degrees(Settings.LongitudeHundredths, "E", "W"), Font.Small);
        if (_typing)
        {
            frame.Text(0, 46, "NOT SET: " + TimeText.ShortDate(_typed) + " " + TimeText.HourMinute(_typed), Font.Small);
        }
        else if (_desk.Clock.IsSet)
        {
            CivilTime local = Settings.Offset.ToLocal(_desk.Now);
            string offset = TimeText.Offset(Settings.Offset.At(_desk.Now));
            int end = frame.Text(0, 46, TimeText.ShortDate(local) + " " + TimeText.HourMinute(local), Font.Small);
            bool room = end + 3 + Font.Small.WidthOf("UTC" + offset) <= Frame.Width;
            frame.TextRight(128, 46, room ? "UTC" + offset : offset, Font.Small);
        }
        else
        {
            frame.Text(0, 46, ShorePainter.Why(_desk.Clock.Trust), Font.Small);
        }
        string wipe = Settings.SprayMinutes == 0 ? "no wipe" : "wipe " + Settings.SprayMinutes.ToString();
        string switches = "alarm " + OnOff(_desk.AlarmOn) + " dawn " + OnOff(Settings.DawnOn) + " " + wipe;
        frame.Text(0, 56, Settings.SprayMinutes == 0 ? switches : CardPainter.Shorter(switches + " min", switches), Font.Small);
    }

    // A part of the clock: what is typed counts when the clock is set to it.
    private void Type(FieldList fields, int year, int month, int day, int hour, int minute)
    {
        if (fields.Changes)
        {
            int days = CivilTime.DaysInMonth(year, month);
            _typed = new CivilTime(year, month, day > days ? days : day, hour, minute, 0);
            _typing = true;
            return;
        }
        fields.Note = ClockNote();
    }

    private string ClockNote()
    {
        if (!_typing && !_desk.Clock.IsSet) return ShorePainter.Why(_desk.Clock.Trust);
        CivilTime typed = Typed;
        return (_typing ? "new " : "now ") + TimeText.ShortDate(typed) + " " + typed.Year.ToString() + " " + TimeText.HourMinute(typed);
    }

    private void SetClock(int direction, int repeats)
    {
        if (direction < 0 || repeats > 0 || !_typing) return;
        _desk.Clock.SetByHand(Settings.Offset.ToUtc(_typed), _desk.NowUs);
        _typing = false;
    }

    private static int Round(int value, int count) => count <= 0 ? 0 : (value + count) % count;

    private void ChangeLetter(int at, int direction)
    {
        string changed = NameLetters.Moved(Settings.Name, at, direction);
        Settings.SetName(changed.Length == 0 ? "A" : changed);
    }
}
