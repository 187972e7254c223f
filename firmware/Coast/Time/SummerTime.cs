namespace Intervalometer.Coast.Time;

/// <summary>A law by which the clocks of a country go forward by an hour in spring and back in autumn, year after year.</summary>
public enum SummerRule
{
    /// <summary>No rule: the offset stays, or changes at moments that a person has set.</summary>
    None,

    /// <summary>Last Sunday in March to last Sunday in October, 01:00 UTC: Directive 2000/84/EC of the European Union, articles 2 and 3; the same in the United Kingdom.</summary>
    Europe,

    /// <summary>Second Sunday in March to first Sunday in November, 02:00 on the clock: Energy Policy Act of 2005 of the United States, section 110; the same in most of Canada.</summary>
    UnitedStates,

    /// <summary>Last Sunday in September, 02:00 standard time, to first Sunday in April, the same hour: New Zealand, Time Act 1974 and the Daylight Time Order 2007 (from memory).</summary>
    NewZealand,

    /// <summary>First Sunday in October, 02:00 standard time, to first Sunday in April, the same hour: south-east Australia, Standard Time Act 1987 of New South Wales as changed in 2007 (from memory).</summary>
    Australia,
}

/// <summary>When the clocks change by a <see cref="SummerRule"/>. The rules are those in force from 2009 on. Laws may change; then the two changes are set by hand.</summary>
public static class SummerTime
{
    /// <summary>How many rules there are, none included.</summary>
    public const int Count = 5;

    /// <summary>Minutes by which the clocks go forward.</summary>
    public const int Minutes = 60;

    /// <summary>A short word for a rule, for the display.</summary>
    public static string Name(SummerRule rule)
    {
        string name = rule switch
        {
            SummerRule.Europe => "EU",
            SummerRule.UnitedStates => "US",
            SummerRule.NewZealand => "NZ",
            SummerRule.Australia => "AU",
            _ => "none",
        };
        return name;
    }

    /// <summary>The law behind a rule, as a site file names it; empty for none.</summary>
    public static string Source(SummerRule rule)
    {
        string source = rule switch
        {
            SummerRule.Europe => "Directive 2000/84/EC",
            SummerRule.UnitedStates => "Energy Policy Act 2005",
            SummerRule.NewZealand => "NZ Time Act 1974",
            SummerRule.Australia => "NSW Standard Time 1987",
            _ => "",
        };
        return source;
    }

    /// <summary>When the clocks go forward in a year, 2000 to 2099. It has no meaning for <see cref="SummerRule.None"/>.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="year">The year.</param>
    /// <param name="standardMinutes">Standard time less universal time, minutes.</param>
    public static UtcInstant Begins(SummerRule rule, int year, int standardMinutes)
    {
        int day = rule switch
        {
            SummerRule.Europe => 3501,
            SummerRule.UnitedStates => 3202,
            SummerRule.NewZealand => 9502,
            _ => 10102,
        };
        return At(day, year, rule == SummerRule.Europe ? 0 : standardMinutes);
    }

    /// <summary>When the clocks go back in a year. It has no meaning for <see cref="SummerRule.None"/>.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="year">The year.</param>
    /// <param name="standardMinutes">Standard time less universal time, minutes.</param>
    public static UtcInstant Ends(SummerRule rule, int year, int standardMinutes)
    {
        int day = rule switch
        {
            SummerRule.Europe => 10501,
            SummerRule.UnitedStates => 11101,
            _ => 4102,
        };
        return At(day, year, rule == SummerRule.Europe ? 0 : standardMinutes);
    }

    // The code holds the month in thousands, the number of the Sunday in hundreds (5 for the last), and below that the hour in standard time.
    private static UtcInstant At(int code, int year, int offsetMinutes)
    {
        int month = code / 1000, sunday = code / 100 % 10, hour = code % 100;
        int day = sunday == 5 ? CivilTime.DaysInMonth(year, month) - 6 : 7 * sunday - 6;
        int days = CivilTime.DayNumber(year, month, day);
        // 2000-01-01 was a Saturday. This adds the days to the first Sunday on or after that day.
        days += (7 - (days + 6) % 7) % 7;
        return new UtcInstant(days * UtcInstant.SecondsPerDay + hour * 3600 - offsetMinutes * 60);
    }
}
