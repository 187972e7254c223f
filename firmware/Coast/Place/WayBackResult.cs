using Intervalometer.Coast.Time;

namespace Intervalometer.Coast.Place;

/// <summary>What the prediction says about the way back.</summary>
public enum WayBackState
{
    /// <summary>The clock or the tide is not known at present. Nothing can be said, and the alarm is on.</summary>
    Uncertain,

    /// <summary>There is time until <see cref="WayBackResult.LeaveBy"/>.</summary>
    Open,

    /// <summary>The tide is not known far enough ahead. The water is assumed to come when the known tide ends.</summary>
    DataEnds,

    /// <summary>No low point is cut within the hours examined. The water is assumed to come at their end.</summary>
    BeyondHorizon,

    /// <summary>The leave-by time is past, but by prediction no low point is cut yet.</summary>
    PastLeaveBy,

    /// <summary>A low point is cut now.</summary>
    CutOff,
}

/// <summary>The way back as it was worked out at one moment. It is a prediction only; see <see cref="Tide.TideCaution"/>.</summary>
public readonly struct WayBackResult
{
    /// <summary>What the prediction says.</summary>
    public readonly WayBackState State;

    /// <summary>When it was worked out.</summary>
    public readonly UtcInstant WorkedOutAt;

    /// <summary>The last moment to set off, by prediction. It means nothing when the state is <see cref="WayBackState.Uncertain"/>.</summary>
    public readonly UtcInstant LeaveBy;

    /// <summary>When the deciding point is cut. For <see cref="WayBackState.CutOff"/>, the time from which every point is clear again, or the horizon.</summary>
    public readonly UtcInstant ChangesAt;

    /// <summary>The index of the low point that decides, or -1.</summary>
    public readonly int Point;

    /// <summary>A result.</summary>
    public WayBackResult(WayBackState state, UtcInstant workedOutAt, UtcInstant leaveBy, UtcInstant changesAt, int point)
    {
        State = state;
        WorkedOutAt = workedOutAt;
        LeaveBy = leaveBy;
        ChangesAt = changesAt;
        Point = point;
    }

    /// <summary>Seconds from a time to the leave-by time, negative when that is past; 0 when the state is uncertain or cut off.</summary>
    public long SecondsLeft(UtcInstant now) =>
        State == WayBackState.Uncertain || State == WayBackState.CutOff ? 0 : LeaveBy.SecondsSince(now);

    /// <summary>The result in one line, which has at most 21 characters unless a name is long.</summary>
    public string Line(CoastPlace place, UtcInstant now)
    {
        if (State == WayBackState.Uncertain) return "TIDE OR TIME UNSURE";
        if (State == WayBackState.CutOff) return "CUT OFF: " + PointName(place);
        string at = TimeText.HourMinuteBefore(LeaveBy, place.Offset);
        if (State == WayBackState.PastLeaveBy || LeaveBy <= now) return "PAST " + at + ": GO NOW";
        return "Leave by " + at;
    }

    /// <summary>The result in a sentence.</summary>
    public string Sentence(CoastPlace place, UtcInstant now)
    {
        string at = TimeText.HourMinuteBefore(LeaveBy, place.Offset);
        string changes = TimeText.HourMinuteBefore(ChangesAt, place.Offset);
        switch (State)
        {
            case WayBackState.Uncertain:
                return "The clock or the tide is not known now: treat the way back as closing.";
            case WayBackState.CutOff:
                return "By prediction " + PointName(place) + " is already cut, until about " + changes + ". Call the coastguard if you are behind it.";
            case WayBackState.PastLeaveBy:
                return "The leave-by time " + at + " is past: go now. By prediction " + PointName(place) + " is cut at " + changes + ".";
            case WayBackState.DataEnds:
                return "Leave by " + at + ": the tide is not known after " + changes + ".";
            case WayBackState.BeyondHorizon:
                return "By prediction no low point is cut before " + changes + ".";
            default:
                return "Leave by " + at + ", in " + TimeText.Span(LeaveBy.SecondsSince(now)) + ": by prediction " + PointName(place) + " is cut at " + changes + " (" + TideAllowance.Words(place) + ").";
        }
    }

    private string PointName(CoastPlace place) => Point >= 0 && Point < place.PathCount ? place.PathPoint(Point).Name : "the path";
}
