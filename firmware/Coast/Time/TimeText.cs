namespace Intervalometer.Coast.Time;

/// <summary>Dates, times and durations as short text. No custom formats are used, because the device has none.</summary>
public static class TimeText
{
    /// <summary>Two digits, 0 to 99.</summary>
    public static string TwoDigits(int value) => value < 10 ? "0" + value.ToString() : value.ToString();

    /// <summary>Time of day as 07:05.</summary>
    public static string HourMinute(CivilTime time) => TwoDigits(time.Hour) + ":" + TwoDigits(time.Minute);

    /// <summary>Local time of day to the nearest minute, as 07:05.</summary>
    public static string HourMinute(UtcInstant instant, LocalTime local) => HourMinute(local.ToLocal(instant.PlusSeconds(30)));

    /// <summary>Local time of day rounded down to the minute, as 07:05: for a time by which something must be done.</summary>
    public static string HourMinuteBefore(UtcInstant instant, LocalTime local) => HourMinute(local.ToLocal(instant));

    /// <summary>Date as 2026-03-07 (ISO 8601).</summary>
    public static string IsoDate(CivilTime time) => time.Year.ToString() + "-" + TwoDigits(time.Month) + "-" + TwoDigits(time.Day);

    /// <summary>Date as Sat 7 Mar.</summary>
    public static string ShortDate(CivilTime time) => WeekdayName(time.Weekday) + " " + time.Day.ToString() + " " + MonthName(time.Month);

    /// <summary>Three letters for a weekday, 1 Monday to 7 Sunday; empty outside.</summary>
    public static string WeekdayName(int weekday) => weekday switch
    {
        1 => "Mon",
        2 => "Tue",
        3 => "Wed",
        4 => "Thu",
        5 => "Fri",
        6 => "Sat",
        7 => "Sun",
        _ => "",
    };

    /// <summary>Three letters for a month, 1 to 12; empty outside.</summary>
    public static string MonthName(int month) => month switch
    {
        1 => "Jan",
        2 => "Feb",
        3 => "Mar",
        4 => "Apr",
        5 => "May",
        6 => "Jun",
        7 => "Jul",
        8 => "Aug",
        9 => "Sep",
        10 => "Oct",
        11 => "Nov",
        12 => "Dec",
        _ => "",
    };

    /// <summary>The offset as +01:00 or -03:30.</summary>
    public static string Offset(LocalOffset offset)
    {
        int minutes = offset.Minutes < 0 ? -offset.Minutes : offset.Minutes;
        return (offset.Minutes < 0 ? "-" : "+") + TwoDigits(minutes / 60) + ":" + TwoDigits(minutes % 60);
    }

    /// <summary>A length of time in whole minutes rounded towards zero, as 2 h 05 min, 45 min or -5 min. Rounding down never promises a minute that does not exist.</summary>
    public static string Span(long seconds)
    {
        string sign = seconds <= -60 ? "-" : "";
        long minutes = (seconds < 0 ? -seconds : seconds) / 60;
        if (minutes < 60) return sign + minutes.ToString() + " min";
        return sign + (minutes / 60).ToString() + " h " + TwoDigits((int)(minutes % 60)) + " min";
    }
}
