namespace Intervalometer.Coast.Time;

/// <summary>
/// Local time at a place. It is an offset from universal time with up to two moments at which the clocks of the place change to another
/// offset, the last of which then stays. Or it is an offset with a rule by which the clocks change each year.
/// </summary>
/// <remarks>
/// A time of day that comes twice, when clocks go back, counts as the first of the two, so that nothing printed is expected too late. One
/// that never comes, when clocks go forward, is read with the offset before the change. With a rule, the changes of the year last asked
/// for are stored, so only one thread may use it at a time.
/// </remarks>
public sealed class LocalTime
{
    private readonly int _standard;
    private int _before;
    private long _firstSeconds;
    private int _first;
    private long _secondSeconds;
    private int _second;
    // The start and the end of the year for which the rule was worked out.
    private long _yearSeconds;
    private long _yearEndSeconds;

    /// <summary>Creates a local time whose offset never changes.</summary>
    public LocalTime(LocalOffset always)
        : this(always, new UtcInstant(UtcInstant.EndSeconds), always, new UtcInstant(UtcInstant.EndSeconds), always)
    {
    }

    /// <summary>Creates a local time with two changes.</summary>
    /// <param name="before">The offset before the first change.</param>
    /// <param name="firstAt">When the clocks change first.</param>
    /// <param name="first">The offset after the first change.</param>
    /// <param name="secondAt">When the clocks change again, not before the first time.</param>
    /// <param name="second">The offset after the second change.</param>
    public LocalTime(LocalOffset before, UtcInstant firstAt, LocalOffset first, UtcInstant secondAt, LocalOffset second)
    {
        _standard = _before = before.Minutes;
        _firstSeconds = firstAt.Seconds;
        _first = first.Minutes;
        _secondSeconds = secondAt.Seconds;
        _second = second.Minutes;
    }

    /// <summary>Creates a local time with a rule.</summary>
    /// <param name="standard">The offset in winter.</param>
    /// <param name="rule">When summer begins and ends.</param>
    public LocalTime(LocalOffset standard, SummerRule rule)
        : this(standard)
    {
        Rule = rule;
        if (rule != SummerRule.None) SetYear(new UtcInstant(0));
    }

    /// <summary>The rule by which the clocks change each year.</summary>
    public SummerRule Rule { get; }

    /// <summary>True when the clocks of the place change.</summary>
    public bool Changes => _firstSeconds < UtcInstant.EndSeconds;

    /// <summary>The offset before the first change; with a rule, the offset in winter.</summary>
    public LocalOffset Before => new LocalOffset(_standard);

    /// <summary>When the clocks change, for change 0 or 1; after the last known day when they do not. With a rule, in the year last asked for.</summary>
    public UtcInstant ChangeAt(int change) => new UtcInstant(change == 0 ? _firstSeconds : _secondSeconds);

    /// <summary>The offset after change 0 or 1.</summary>
    public LocalOffset OffsetFrom(int change) => new LocalOffset(change == 0 ? _first : _second);

    /// <summary>Minutes to add to universal time at an instant.</summary>
    public int MinutesAt(UtcInstant instant)
    {
        long seconds = instant.Seconds;
        if (Rule != SummerRule.None && (seconds < _yearSeconds || seconds >= _yearEndSeconds)) SetYear(instant);
        return seconds < _firstSeconds ? _before : seconds < _secondSeconds ? _first : _second;
    }

    /// <summary>The offset at an instant.</summary>
    public LocalOffset At(UtcInstant instant) => new LocalOffset(MinutesAt(instant));

    /// <summary>Local date and time of an instant.</summary>
    public CivilTime ToLocal(UtcInstant instant) => CivilTime.FromUtc(instant.PlusMinutes(MinutesAt(instant)));

    /// <summary>The instant of a local date and time that is valid.</summary>
    public UtcInstant ToUtc(CivilTime local) => FromLocal(local.AsUtc());

    /// <summary>The instant at which the clocks of the place show the time of day that a clock in universal time shows at the given instant.</summary>
    public UtcInstant FromLocal(UtcInstant shown)
    {
        long found = long.MaxValue;
        for (int i = 0; i < 3; i++)
        {
            int minutes = i == 0 ? _before : i == 1 ? _first : _second;
            UtcInstant at = shown.PlusMinutes(-minutes);
            if (MinutesAt(at) == minutes && at.Seconds < found) found = at.Seconds;
        }
        if (found != long.MaxValue) return new UtcInstant(found);
        bool atFirst = shown.PlusMinutes(-_before).Seconds < _firstSeconds + UtcInstant.SecondsPerDay;
        return shown.PlusMinutes(atFirst ? -_before : -_first);
    }

    /// <summary>The local midnight at or before an instant.</summary>
    public UtcInstant MidnightBefore(UtcInstant instant)
    {
        UtcInstant local = instant.PlusMinutes(MinutesAt(instant));
        return FromLocal(local.PlusSeconds(-local.SecondOfDay));
    }

    /// <summary>The local day that holds an instant, as days since 2000-01-01.</summary>
    public int DayOf(UtcInstant instant) => instant.PlusMinutes(MinutesAt(instant)).DayNumber;

    /// <summary>The same local time with every offset changed by so many minutes. The moments of its changes stay.</summary>
    public LocalTime Moved(int minutes)
    {
        if (Rule != SummerRule.None) return new LocalTime(new LocalOffset(_standard + minutes), Rule);
        return new LocalTime(new LocalOffset(_before + minutes), ChangeAt(0), new LocalOffset(_first + minutes), ChangeAt(1), new LocalOffset(_second + minutes));
    }

    /// <summary>A local time with this rule, or with none, whose clocks show the same as these at a moment.</summary>
    public LocalTime By(SummerRule rule, UtcInstant now)
    {
        LocalOffset here = At(now);
        LocalTime changed = new LocalTime(here, rule);
        return changed.MinutesAt(now) == here.Minutes ? changed : new LocalTime(new LocalOffset(here.Minutes - SummerTime.Minutes), rule);
    }

    /// <summary>A local time without a rule that has the two changes of this one's rule in the year of a moment, or in the next year when both are over.</summary>
    public LocalTime AsTwoChanges(UtcInstant now)
    {
        if (Rule != SummerRule.None)
        {
            SetYear(now);
            if (_secondSeconds <= now.Seconds) SetYear(now.PlusDays(366));
        }
        return new LocalTime(OffsetFrom(1), ChangeAt(0), OffsetFrom(0), ChangeAt(1), OffsetFrom(1));
    }

    private void SetYear(UtcInstant within)
    {
        int year = CivilTime.FromUtc(within).Year;
        _yearSeconds = CivilTime.DayNumber(year, 1, 1) * UtcInstant.SecondsPerDay;
        _yearEndSeconds = CivilTime.DayNumber(year + 1, 1, 1) * UtcInstant.SecondsPerDay;
        long begins = SummerTime.Begins(Rule, year, _standard).Seconds, ends = SummerTime.Ends(Rule, year, _standard).Seconds;
        int summer = new LocalOffset(_standard + SummerTime.Minutes).Minutes;
        // South of the equator the year begins and ends in summer time.
        bool north = begins < ends;
        _firstSeconds = north ? begins : ends;
        _secondSeconds = north ? ends : begins;
        _before = _second = north ? _standard : summer;
        _first = north ? summer : _standard;
    }

    /// <summary>An offset that never changes.</summary>
    public static implicit operator LocalTime(LocalOffset always) => new LocalTime(always);
}
