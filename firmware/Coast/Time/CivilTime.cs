namespace Intervalometer.Coast.Time;

/// <summary>
/// A calendar date and a time of day, Gregorian, 2000 to 2099. The caller must know whether it is universal or local time;
/// <see cref="LocalOffset"/> converts between them.
/// </summary>
/// <remarks>
/// Every fourth year from 2000 to 2096 is a leap year (2000 is divisible by 400; 2100 lies outside), so the day count
/// needs no century rule here.
/// </remarks>
public readonly struct CivilTime
{
    /// <summary>Year, 2000 to 2099.</summary>
    public readonly int Year;

    /// <summary>Month, 1 to 12.</summary>
    public readonly int Month;

    /// <summary>Day of the month, 1 to 31.</summary>
    public readonly int Day;

    /// <summary>Hour, 0 to 23.</summary>
    public readonly int Hour;

    /// <summary>Minute, 0 to 59.</summary>
    public readonly int Minute;

    /// <summary>Second, 0 to 59.</summary>
    public readonly int Second;

    /// <summary>Stores the six fields as given. <see cref="IsValid"/> says whether they name a real date and time.</summary>
    public CivilTime(int year, int month, int day, int hour, int minute, int second)
    {
        Year = year;
        Month = month;
        Day = day;
        Hour = hour;
        Minute = minute;
        Second = second;
    }

    /// <summary>True when the fields name a date and time from 2000-01-01 to 2099-12-31.</summary>
    public bool IsValid =>
        Year >= 2000 && Year <= 2099 && Month >= 1 && Month <= 12 && Day >= 1 && Day <= DaysInMonth(Year, Month)
        && Hour >= 0 && Hour <= 23 && Minute >= 0 && Minute <= 59 && Second >= 0 && Second <= 59;

    /// <summary>Day of the week, 1 Monday to 7 Sunday (ISO 8601).</summary>
    public int Weekday => (DayNumber(Year, Month, Day) + 5) % 7 + 1;

    /// <summary>Days in a month of a year in 2000 to 2099; 0 for a month that does not exist.</summary>
    public static int DaysInMonth(int year, int month)
    {
        switch (month)
        {
            case 2: return year % 4 == 0 ? 29 : 28;
            case 4: case 6: case 9: case 11: return 30;
            default: return month >= 1 && month <= 12 ? 31 : 0;
        }
    }

    /// <summary>Days from 2000-01-01 to a date in 2000 to 2099.</summary>
    public static int DayNumber(int year, int month, int day)
    {
        int years = year - 2000;
        int days = years * 365 + (years + 3) / 4;
        for (int m = 1; m < month; m++) days += DaysInMonth(year, m);
        return days + day - 1;
    }

    /// <summary>The universal instant with these fields. Only for a value that <see cref="IsValid"/>.</summary>
    public UtcInstant AsUtc() =>
        new UtcInstant(DayNumber(Year, Month, Day) * UtcInstant.SecondsPerDay + Hour * 3600 + Minute * 60 + Second);

    /// <summary>The fields of an instant, in universal time. An instant before 2000 gives its first moment, one after 2099 its last.</summary>
    public static CivilTime FromUtc(UtcInstant instant)
    {
        long seconds = instant.Seconds;
        if (seconds < 0) seconds = 0;
        if (seconds >= UtcInstant.EndSeconds) seconds = UtcInstant.EndSeconds - 1;
        int days = (int)(seconds / UtcInstant.SecondsPerDay);
        int rest = (int)(seconds - days * UtcInstant.SecondsPerDay);
        int year = 2000 + days / 1461 * 4;
        days %= 1461;
        if (days >= 366)
        {
            days -= 366;
            year += 1 + days / 365;
            days %= 365;
        }
        int month = 1;
        while (days >= DaysInMonth(year, month))
        {
            days -= DaysInMonth(year, month);
            month++;
        }
        return new CivilTime(year, month, days + 1, rest / 3600, rest / 60 % 60, rest % 60);
    }
}
