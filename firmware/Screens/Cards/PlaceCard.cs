using Intervalometer.Core.Time;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Screens.Cards;

/// <summary>The place and its clock.</summary>
public sealed class PlaceCard : Card
{
    private const string Letters = " ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.+-/";

    private const int FieldYear = 0;
    private const int FieldMonth = 1;
    private const int FieldDay = 2;
    private const int FieldHour = 3;
    private const int FieldMinute = 4;
    private const int FieldSet = 5;
    private const int FieldOffset = 6;
    private const int FieldSpray = 7;
    private const int FieldName = 8;

    private readonly ShoreDesk _desk;
    private CivilTime _typed;
    private bool _typing;

    /// <summary>Creates the card.</summary>
    public PlaceCard(ShoreDesk desk) => _desk = desk;

    /// <inheritdoc/>
    public override string Name => "PLACE";

    /// <inheritdoc/>
    public override int FieldCount => FieldName + ShoreSettings.LongestName;

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
    public override string Label(int field) => field switch
    {
        FieldYear => "Clock: year",
        FieldMonth => "Clock: month",
        FieldDay => "Clock: day",
        FieldHour => "Clock: hour, local",
        FieldMinute => "Clock: minute",
        FieldSet => "Set the clock to this",
        FieldOffset => "Local time is UTC",
        FieldSpray => "Wipe the front glass every",
        _ => "Name, letter " + (field - FieldName + 1).ToString(),
    };

    /// <inheritdoc/>
    public override string Value(int field)
    {
        CivilTime typed = Typed;
        switch (field)
        {
            case FieldYear: return typed.Year.ToString();
            case FieldMonth: return TimeText.MonthName(typed.Month);
            case FieldDay: return typed.Day.ToString();
            case FieldHour: return TimeText.TwoDigits(typed.Hour);
            case FieldMinute: return TimeText.TwoDigits(typed.Minute);
            case FieldSet: return _typing ? "press up" : "is set";
            case FieldOffset: return TimeText.Offset(Settings.Offset);
            case FieldSpray: return Settings.SprayMinutes == 0 ? "never" : Settings.SprayMinutes.ToString() + " min";
            default:
                int at = field - FieldName;
                return at < Settings.Name.Length && Settings.Name[at] != ' ' ? Settings.Name.Substring(at, 1) : "space";
        }
    }

    /// <inheritdoc/>
    public override string Note(int field)
    {
        if (field <= FieldSet)
        {
            if (!_typing && !_desk.Clock.IsSet) return ShorePainter.Why(_desk.Clock.Trust);
            CivilTime typed = Typed;
            return (_typing ? "new " : "now ") + TimeText.ShortDate(typed) + " " + typed.Year.ToString() + " " + TimeText.HourMinute(typed);
        }
        if (field == FieldOffset) return "no summer rule: set it";
        if (field == FieldSpray) return "never in an exposure";
        return "now: " + Settings.Name;
    }

    /// <inheritdoc/>
    public override void Change(int field, int direction, int repeats)
    {
        if (field < FieldSet) Type(field, direction, repeats);
        else if (field == FieldSet) SetClock(direction, repeats);
        else if (field == FieldOffset) Settings.SetOffset(new LocalOffset(Settings.Offset.Minutes + 15 * direction));
        else if (field == FieldSpray) Settings.SprayMinutes = Moved(Settings.SprayMinutes, direction, 1, 0, 30);
        else ChangeLetter(field - FieldName, direction);
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        _typing = false;
        bool wide = Font.Medium.WidthOf(Settings.Name) > Frame.Width;
        frame.Text(0, wide ? 14 : 11, Settings.Name, wide ? Font.Small : Font.Medium);
        frame.Text(0, 26, _desk.Place.DatumText, Font.Small);
        frame.Text(0, 35, SunCard.Degrees(Settings.LatitudeHundredths, "N", "S") + "  " + SunCard.Degrees(Settings.LongitudeHundredths, "E", "W"), Font.Small);
        if (_desk.Clock.IsSet)
        {
            CivilTime local = Settings.Offset.ToLocal(_desk.Now);
            string offset = TimeText.Offset(Settings.Offset);
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

    private void Type(int field, int direction, int repeats)
    {
        CivilTime t = Typed;
        int year = t.Year, month = t.Month, day = t.Day, hour = t.Hour, minute = t.Minute;
        if (field == FieldYear) year = Moved(year, direction, 1, 2026, 2099);
        else if (field == FieldMonth) month = Round(month - 1 + direction, 12) + 1;
        else if (field == FieldDay) day = Round(day - 1 + direction, CivilTime.DaysInMonth(year, month)) + 1;
        else if (field == FieldHour) hour = Round(hour + direction, 24);
        else minute = Round(minute + direction * (repeats < 10 ? 1 : 5), 60);
        int days = CivilTime.DaysInMonth(year, month);
        _typed = new CivilTime(year, month, day > days ? days : day, hour, minute, 0);
        _typing = true;
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
        string name = Settings.Name;
        while (name.Length <= at) name += " ";
        int letter = Letters.IndexOf(name[at]) + direction;
        if (letter < 0) letter = Letters.Length - 1;
        if (letter >= Letters.Length) letter = 0;
        string changed = (name.Substring(0, at) + Letters.Substring(letter, 1) + name.Substring(at + 1)).TrimEnd(' ');
        Settings.SetName(changed.Length == 0 ? "A" : changed);
    }
}
