using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The place and its clock. Select held opens the name of the place.</summary>
public sealed class PlaceCard : Card
{
    // The last line and the hint at the name alternate at this interval, µs.
    private const long HintUs = 3_000_000;

    // The rows below the name of the place.
    private const int DatumY = 26;
    private const int PositionY = 35;
    private const int TimeY = 46;

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

    // The date and time that are being typed; before the first change, the present time.
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
                SetClock(fields);
                return;
            }
            fields.Value = _typing ? "press up" : "is set";
            fields.AskTwice = _typing;
            fields.Note = ClockNote();
        }
        Position(fields);
        OtherFields(fields);
    }

    // The offset comes before the time, because the time is typed as the clocks of the place show it. All offsets of the place move together.
    private void Offset(FieldList fields)
    {
        LocalTime local = Settings.Offset;
        if (fields.Changes)
        {
            int minutes = local.At(_desk.Now).Minutes;
            Settings.SetOffset(local.Moved(fields.Moved(minutes, 15, LocalOffset.LeastMinutes, LocalOffset.MostMinutes) - minutes));
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
        if (fields.Is("Clocks change by")) ChangesBy(fields);
        if (ByHand && fields.IsAmong(6)) OneChange(fields, fields.Part / 3, fields.Part % 3);
    }

    private void Position(FieldList fields)
    {
        int latitude = Settings.LatitudeHundredths, longitude = Settings.LongitudeHundredths;
        int step = fields.Direction * (fields.Repeats < 10 ? 5 : fields.Repeats < 25 ? 50 : 500);
        if (fields.Is("Latitude"))
        {
            if (fields.Changes) Settings.SetPosition(latitude + step, longitude);
            fields.Value = Degrees(latitude, "N", "S");
            fields.Note = "up is north";
        }
        if (fields.Is("Longitude"))
        {
            if (fields.Changes) Settings.SetPosition(latitude, longitude + step);
            fields.Value = Degrees(longitude, "E", "W");
            fields.Note = "up is east";
        }
    }

    /// <summary>Hundredths of a degree as degrees with the letter of the hemisphere.</summary>
    public static string Degrees(int hundredths, string positive, string negative)
    {
        int size = hundredths < 0 ? -hundredths : hundredths;
        return (size / 100.0).ToString("F2") + "° " + (hundredths < 0 ? negative : positive);
    }

    private bool ByHand => Settings.Offset.Changes && Settings.Offset.Rule == SummerRule.None;

    // One can choose no change, a rule, or two changes set by hand. What the clocks show at present stays as it is.
    private void ChangesBy(FieldList fields)
    {
        LocalTime local = Settings.Offset;
        int now = ByHand ? SummerTime.Count : (int)local.Rule;
        if (fields.Changes)
        {
            int chosen = fields.Moved(now, 1, 0, SummerTime.Count);
            if (chosen == now) return;
            if (chosen < SummerTime.Count) Settings.SetOffset(local.By((SummerRule)chosen, _desk.Now));
            else Settings.SetOffset(local.AsTwoChanges(_desk.Now));
            return;
        }
        fields.Value = ByHand ? "two dates" : SummerTime.Name(local.Rule);
        fields.Note = ByHand ? "set them below" : SummerTime.Source(local.Rule);
        fields.AskTwice = _desk.Clock.IsSet;
    }

    // A change of the clocks has three fields: its day, its hour, and the offset from then on.
    private void OneChange(FieldList fields, int change, int part)
    {
        LocalTime local = Settings.Offset;
        UtcInstant at = local.ChangeAt(change);
        LocalOffset then = local.OffsetFrom(change);
        if (fields.Changes)
        {
            if (part == 2) then = new LocalOffset(then.Minutes + 15 * fields.Direction);
            else at = part == 0 ? at.PlusDays(fields.Direction * fields.Stride) : at.PlusHours(fields.Direction);
            LocalTime changed = change == 0
                ? new LocalTime(local.Before, at, then, local.ChangeAt(1), local.OffsetFrom(1))
                : new LocalTime(local.Before, local.ChangeAt(0), local.OffsetFrom(0), at, then);
            // The second change must stay after the first, and both in the years that the box knows.
            if (changed.ChangeAt(0) < changed.ChangeAt(1) && at.IsValid) Settings.SetOffset(changed);
            return;
        }
        CivilTime utc = CivilTime.FromUtc(at);
        fields.Label = (change == 0 ? "First change: " : "Second change: ") + (part == 0 ? "day" : part == 1 ? "hour" : "then UTC");
        fields.Value = part == 0 ? TimeText.ShortDate(utc) : part == 1 ? TimeText.HourMinute(utc) : TimeText.Offset(then);
        fields.Note = utc.Year.ToString() + "; universal time";
        fields.AskTwice = _desk.Clock.IsSet;
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        bool wide = Font.Medium.WidthOf(Settings.Name) > Frame.Width;
        frame.Text(LeftX, wide ? Line1Y + SmallDrop : Line1Y, Settings.Name, wide ? Font.Small : Font.Medium);
        frame.Text(LeftX, DatumY, _desk.Place.DatumText, Font.Small);
        frame.Text(LeftX, PositionY, Degrees(Settings.LatitudeHundredths, "N", "S") + "  " + Degrees(Settings.LongitudeHundredths, "E", "W"), Font.Small);
        if (_typing)
        {
            frame.Text(LeftX, TimeY, "NOT SET: " + TimeText.ShortDate(_typed) + " " + TimeText.HourMinute(_typed), Font.Small);
        }
        else if (_desk.Clock.IsSet)
        {
            CivilTime local = Settings.Offset.ToLocal(_desk.Now);
            string offset = TimeText.Offset(Settings.Offset.At(_desk.Now));
            int end = frame.Text(LeftX, TimeY, TimeText.ShortDate(local) + " " + TimeText.HourMinute(local), Font.Small);
            bool room = end + 3 + Font.Small.WidthOf("UTC" + offset) <= Frame.Width;
            frame.TextRight(RightX, TimeY, room ? "UTC" + offset : offset, Font.Small);
        }
        else
        {
            frame.Text(LeftX, TimeY, ShorePainter.Why(_desk.Clock.Trust), Font.Small);
        }
        if (nowUs / HintUs % 2 == 1)
        {
            frame.Text(LeftX, HintY, "Held Select: the name", Font.Small);
            return;
        }
        string wipe = Settings.SprayMinutes == 0 ? "no wipe" : "wipe " + Settings.SprayMinutes.ToString();
        string switches = "alarm " + OnOff(_desk.AlarmOn) + " dawn " + OnOff(Settings.DawnOn) + " " + wipe;
        frame.Text(LeftX, HintY, Settings.SprayMinutes == 0 ? switches : CardPainter.Shorter(switches + " min", switches), Font.Small);
    }

    // Handles one part of the date and time. What is typed takes effect only when the clock is set to it.
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

    // Sets the clock. If it was set before, the change can be undone by moving it back as far.
    private void SetClock(FieldList fields)
    {
        if (fields.PutsBack)
        {
            _desk.Clock.SetByHand(_desk.Now.PlusSeconds(fields.Back), _desk.NowUs);
            return;
        }
        if (fields.Direction < 0 || fields.Repeats > 0 || !_typing) return;
        UtcInstant to = Settings.Offset.ToUtc(_typed);
        long moved = _desk.Now.SecondsSince(to);
        if (_desk.Clock.IsSet && moved > -int.MaxValue && moved < int.MaxValue) fields.Before = (int)moved;
        _desk.Clock.SetByHand(to, _desk.NowUs);
        _typing = false;
    }

    private static int Round(int value, int count) => count <= 0 ? 0 : (value + count) % count;
}
