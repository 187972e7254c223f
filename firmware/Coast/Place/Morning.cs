using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Place;

/// <summary>What is wanted of a morning or an evening: that the tide falls through a band of heights near sunrise or sunset.</summary>
public readonly struct MorningWish
{
    /// <summary>Minutes before sunrise (sunset) at which the window opens, 0 to 180.</summary>
    public readonly int BeforeMinutes;

    /// <summary>Minutes after sunrise (sunset) at which the window closes, 0 to 180.</summary>
    public readonly int AfterMinutes;

    /// <summary>Upper edge of the band, metres above the place's datum.</summary>
    public readonly double HighMetres;

    /// <summary>Lower edge of the band, metres above the place's datum.</summary>
    public readonly double LowMetres;

    /// <summary>The shortest working time that counts, 5 to 360 minutes.</summary>
    public readonly int WorkMinutes;

    /// <summary>True to list mornings.</summary>
    public readonly bool Mornings;

    /// <summary>True to list evenings.</summary>
    public readonly bool Evenings;

    /// <summary>Creates a wish. A value outside its range becomes the nearer end, and the two heights are put in order.</summary>
    public MorningWish(int beforeMinutes, int afterMinutes, double highMetres, double lowMetres, int workMinutes, bool mornings, bool evenings)
    {
        BeforeMinutes = Elementary.Clamp(beforeMinutes, 0, 180);
        AfterMinutes = Elementary.Clamp(afterMinutes, 0, 180);
        HighMetres = Elementary.Max(highMetres, lowMetres);
        LowMetres = Elementary.Min(highMetres, lowMetres);
        WorkMinutes = Elementary.Clamp(workMinutes, 5, 360);
        Mornings = mornings;
        Evenings = evenings;
    }
}

/// <summary>One morning or evening that fits a wish. Its times hold to five minutes, and only as far as the prediction does.</summary>
public sealed class Morning
{
    // The times are kept as seconds, because on the device a struct in a field is an object of its own.
    private long _sun;
    private long _workStart;
    private long _workEnd;
    private long _setOff;
    private long _leaveBy;

    internal Morning()
    {
    }

    /// <summary>True for an evening.</summary>
    public bool IsEvening { get; internal set; }

    /// <summary>Sunrise, or sunset for an evening.</summary>
    public UtcInstant Sun => new UtcInstant(_sun);

    /// <summary>Azimuth of the sun then, degrees from true north.</summary>
    public double SunAzimuthDegrees { get; internal set; }

    /// <summary>When work can begin: the tide falls inside the band, and the path was clear for the walk in.</summary>
    public UtcInstant WorkStart => new UtcInstant(_workStart);

    /// <summary>When work ends: the tide leaves the band or turns, the window closes, or it is time to leave.</summary>
    public UtcInstant WorkEnd => new UtcInstant(_workEnd);

    /// <summary>When to set off from the car or bed.</summary>
    public UtcInstant SetOffAt => new UtcInstant(_setOff);

    /// <summary>The last moment to set off on the way back, by prediction, up to ten minutes sooner than <see cref="WayBackResult.LeaveBy"/> of that day, because the tide is read every five minutes here. It means nothing unless <see cref="PathCloses"/>.</summary>
    public UtcInstant LeaveBy => new UtcInstant(_leaveBy);

    /// <summary>True when the tide cuts the path within the time that was examined.</summary>
    public bool PathCloses { get; internal set; }

    /// <summary>The height of tide at the beginning of work, metres.</summary>
    public double FromMetres { get; internal set; }

    /// <summary>The height of tide at the end of work, metres.</summary>
    public double ToMetres { get; internal set; }

    /// <summary>The rank: the minutes of work, less a quarter of the minutes between the middle of the work and sunrise or sunset, plus a quarter of the spare minutes on the path (at most an hour counts).</summary>
    public double Score { get; internal set; }

    /// <summary>The working time in whole minutes.</summary>
    public int WorkMinutes => (int)((_workEnd - _workStart) / 60);

    /// <summary>Sets the times, each in seconds as <see cref="UtcInstant.Seconds"/>.</summary>
    internal void SetTimes(long sun, long setOff, long workStart, long workEnd, long leaveBy)
    {
        _sun = sun;
        _setOff = setOff;
        _workStart = workStart;
        _workEnd = workEnd;
        _leaveBy = leaveBy;
    }

    /// <summary>Why this morning or evening is listed, in words.</summary>
    public string Reason(LocalTime offset)
    {
        string text = "tide falls " + FromMetres.ToString("F1") + " to " + ToMetres.ToString("F1") + " m "
            + TimeText.HourMinute(WorkStart, offset) + "-" + TimeText.HourMinute(WorkEnd, offset)
            + (IsEvening ? ", sunset " : ", sunrise ") + TimeText.HourMinute(Sun, offset);
        if (PathCloses) return text + ", leave by " + TimeText.HourMinuteBefore(LeaveBy, offset);
        return text + ", path not cut in that time";
    }
}
