namespace Intervalometer.Coast.Time;

/// <summary>
/// A moment in universal time, in whole seconds since 2000-01-01 00:00:00 UTC. Valid from then to 2099-12-31 23:59:59,
/// the span a DS3231 clock and a two-digit year can hold. Leap seconds are not counted, as on every civil clock.
/// </summary>
public readonly struct UtcInstant
{
    /// <summary>Seconds in a day.</summary>
    public const long SecondsPerDay = 86400;

    /// <summary>The first second after the valid span: 36525 days after its start.</summary>
    public const long EndSeconds = 36525 * SecondsPerDay;

    private readonly long _seconds;

    /// <summary>Creates a moment so many seconds after 2000-01-01 00:00 UTC. A value outside the valid span is kept, and <see cref="IsValid"/> is then false.</summary>
    public UtcInstant(long secondsSince2000) => _seconds = secondsSince2000;

    /// <summary>Seconds since 2000-01-01 00:00 UTC.</summary>
    public long Seconds => _seconds;

    /// <summary>True inside 2000-01-01 to 2099-12-31.</summary>
    public bool IsValid => _seconds >= 0 && _seconds < EndSeconds;

    /// <summary>Whole days since 2000-01-01, rounded down.</summary>
    public int DayNumber
    {
        get
        {
            long day = _seconds / SecondsPerDay;
            if (_seconds < 0 && day * SecondsPerDay != _seconds) day--;
            return (int)day;
        }
    }

    /// <summary>Seconds since the UTC midnight before, 0 to 86399.</summary>
    public int SecondOfDay => (int)(_seconds - DayNumber * SecondsPerDay);

    /// <summary>Julian date in universal time: days since noon on 1 January 4713 BC, for positions of the sun and moon (2000-01-01 00:00 is 2451544.5).</summary>
    public double JulianDate => 2451544.5 + _seconds / 86400.0;

    /// <summary>The moment that many seconds later (or earlier, when negative).</summary>
    public UtcInstant PlusSeconds(long seconds) => new UtcInstant(_seconds + seconds);

    /// <summary>The moment that many minutes later (or earlier, when negative).</summary>
    public UtcInstant PlusMinutes(long minutes) => new UtcInstant(_seconds + minutes * 60);

    /// <summary>The moment that many hours later (or earlier, when negative).</summary>
    public UtcInstant PlusHours(long hours) => new UtcInstant(_seconds + hours * 3600);

    /// <summary>The moment that many days of 86400 s later (or earlier, when negative).</summary>
    public UtcInstant PlusDays(long days) => new UtcInstant(_seconds + days * SecondsPerDay);

    /// <summary>Seconds from <paramref name="earlier"/> to this moment; negative when this one comes first.</summary>
    public long SecondsSince(UtcInstant earlier) => _seconds - earlier._seconds;

    /// <summary>True when this moment comes before the other.</summary>
    public static bool operator <(UtcInstant a, UtcInstant b) => a._seconds < b._seconds;

    /// <summary>True when this moment comes after the other.</summary>
    public static bool operator >(UtcInstant a, UtcInstant b) => a._seconds > b._seconds;

    /// <summary>True when this moment is not after the other.</summary>
    public static bool operator <=(UtcInstant a, UtcInstant b) => a._seconds <= b._seconds;

    /// <summary>True when this moment is not before the other.</summary>
    public static bool operator >=(UtcInstant a, UtcInstant b) => a._seconds >= b._seconds;
}
