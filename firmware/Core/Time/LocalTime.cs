namespace Intervalometer.Core.Time;

/// <summary>
/// Local time at a place: an offset from universal time, and up to two moments at which the clocks of the place change to another.
/// After the second the offset stays.
/// </summary>
/// <remarks>
/// A time of day that comes twice, when clocks go back, is taken as the first of the two: what is printed then is not expected too
/// late. One that never comes, when clocks go forward, is read with the offset of before.
/// </remarks>
public sealed class LocalTime
{
    private readonly int _before;
    private readonly long _firstSeconds;
    private readonly int _first;
    private readonly long _secondSeconds;
    private readonly int _second;

    /// <summary>An offset that never changes.</summary>
    public LocalTime(LocalOffset always)
        : this(always, new UtcInstant(UtcInstant.EndSeconds), always, new UtcInstant(UtcInstant.EndSeconds), always)
    {
    }

    /// <summary>An offset and two changes.</summary>
    /// <param name="before">The offset before the first change.</param>
    /// <param name="firstAt">When the clocks change first.</param>
    /// <param name="first">The offset from then on.</param>
    /// <param name="secondAt">When they change again, not before the first time.</param>
    /// <param name="second">The offset from then on.</param>
    public LocalTime(LocalOffset before, UtcInstant firstAt, LocalOffset first, UtcInstant secondAt, LocalOffset second)
    {
        _before = before.Minutes;
        _firstSeconds = firstAt.Seconds;
        _first = first.Minutes;
        _secondSeconds = secondAt.Seconds;
        _second = second.Minutes;
    }

    /// <summary>True when the clocks of the place change.</summary>
    public bool Changes => _firstSeconds < UtcInstant.EndSeconds;

    /// <summary>The offset before the first change.</summary>
    public LocalOffset Before => new LocalOffset(_before);

    /// <summary>When the clocks change, 0 or 1; behind the last day that is known when they do not.</summary>
    public UtcInstant ChangeAt(int change) => new UtcInstant(change == 0 ? _firstSeconds : _secondSeconds);

    /// <summary>The offset from a change on, 0 or 1.</summary>
    public LocalOffset OffsetFrom(int change) => new LocalOffset(change == 0 ? _first : _second);

    /// <summary>Minutes to add to universal time at an instant.</summary>
    public int MinutesAt(UtcInstant instant)
    {
        long seconds = instant.Seconds;
        return seconds < _firstSeconds ? _before : seconds < _secondSeconds ? _first : _second;
    }

    /// <summary>The offset at an instant.</summary>
    public LocalOffset At(UtcInstant instant) => new LocalOffset(MinutesAt(instant));

    /// <summary>Local date and time of an instant.</summary>
    public CivilTime ToLocal(UtcInstant instant) => CivilTime.FromUtc(instant.PlusMinutes(MinutesAt(instant)));

    /// <summary>The instant of a local date and time that is valid.</summary>
    public UtcInstant ToUtc(CivilTime local) => FromLocal(local.AsUtc());

    /// <summary>The instant at which the clocks of the place show what a clock in universal time shows at another.</summary>
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

    /// <summary>An offset that never changes.</summary>
    public static implicit operator LocalTime(LocalOffset always) => new LocalTime(always);
}
