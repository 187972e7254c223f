namespace Intervalometer.Coast.Time;

/// <summary>
/// A fixed difference of local time from universal time, in minutes, -720 to +840, positive to the east. A place whose clocks change
/// has a <see cref="LocalTime"/>.
/// </summary>
public readonly struct LocalOffset
{
    /// <summary>The least offset, minutes.</summary>
    public const int LeastMinutes = -720;

    /// <summary>The largest offset, minutes.</summary>
    public const int MostMinutes = 840;

    /// <summary>Minutes to add to universal time.</summary>
    public readonly int Minutes;

    /// <summary>Creates an offset of that many minutes, limited to -720 to +840.</summary>
    public LocalOffset(int minutes) => Minutes = minutes < LeastMinutes ? LeastMinutes : minutes > MostMinutes ? MostMinutes : minutes;

    /// <summary>Local date and time of an instant.</summary>
    public CivilTime ToLocal(UtcInstant instant) => CivilTime.FromUtc(instant.PlusMinutes(Minutes));

    /// <summary>The instant of a local date and time that is valid.</summary>
    public UtcInstant ToUtc(CivilTime local) => local.AsUtc().PlusMinutes(-Minutes);

    /// <summary>The local midnight at or before an instant.</summary>
    public UtcInstant MidnightBefore(UtcInstant instant)
    {
        UtcInstant local = instant.PlusMinutes(Minutes);
        return instant.PlusSeconds(-local.SecondOfDay);
    }
}
