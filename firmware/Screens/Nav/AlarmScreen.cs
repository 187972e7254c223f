using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Screens.Nav;

/// <summary>Shows the way-back alarm: as a screen of its own over any card, and as a band over the heading of a run. The band allocates nothing.</summary>
public sealed class AlarmScreen
{
    private const int BandRows = 10;
    private const long BlinkUs = 500_000;

    private readonly ShoreDesk _desk;

    /// <summary>Creates the screen.</summary>
    public AlarmScreen(ShoreDesk desk) => _desk = desk;

    /// <summary>The time between redraws while the alarm is shown, µs.</summary>
    public const long RedrawUs = BlinkUs;

    /// <summary>Draws the whole screen.</summary>
    public void Draw(Frame frame, long nowUs)
    {
        WayBackLevel level = _desk.Level;
        WayBackResult way = _desk.Way;
        CoastPlace place = _desk.Place;
        frame.TextCentre(0, 128, 1, Word(level), Font.Medium);
        if (nowUs / BlinkUs % 2 == 0) frame.InvertRect(0, 0, 128, 14);
        else frame.HLine(0, 13, 128);
        if (level == WayBackLevel.PackUpSoon || level == WayBackLevel.Warning)
        {
            PathCard.Left(frame.Line, way.SecondsLeft(_desk.Now));
            int end = frame.Text(0, 17, frame.Line, Font.Large);
            frame.Text(end + 3, 33, "min", Font.Small);
            frame.TextRight(128, 17, "leave by", Font.Small);
            frame.TextRight(128, 27, TimeText.HourMinuteBefore(way.LeaveBy, place.Offset), Font.Medium);
        }
        else
        {
            frame.Text(0, 18, First(level, way, place), Font.Small);
            frame.Text(0, 28, Second(level, way, place), Font.Small);
        }
        ShorePainter.CautionAt(frame, 46, nowUs);
        frame.Text(0, 56, "Any button: quiet 5 min", Font.Small);
    }

    /// <summary>Draws the band over the heading. In every third second the heading is shown.</summary>
    public void Band(Frame frame, long nowUs)
    {
        if (nowUs / 1_000_000 % 3 == 2) return;
        WayBackLevel level = _desk.Level;
        frame.ClearRect(0, 0, 128, BandRows);
        frame.Text(3, 1, Word(level), Font.Small);
        if (level == WayBackLevel.PackUpSoon || level == WayBackLevel.Warning)
        {
            PathCard.Left(frame.Line, _desk.Way.SecondsLeft(_desk.Now));
            frame.Line.Add(" min");
            frame.TextRight(125, 1, frame.Line, Font.Small);
        }
        frame.InvertRect(0, 0, 128, BandRows);
    }


    private static string Word(WayBackLevel level) => level switch
    {
        WayBackLevel.PackUpSoon => "PACK UP SOON",
        WayBackLevel.Warning => "PACK UP NOW",
        WayBackLevel.Leave => "LEAVE NOW",
        WayBackLevel.CutOff => "CUT OFF",
        _ => "TIDE UNSURE",
    };

    private string First(WayBackLevel level, WayBackResult way, CoastPlace place)
    {
        if (level == WayBackLevel.CutOff) return ShorePainter.PointName(place, way.Point) + " is cut";
        if (level == WayBackLevel.Leave) return "Leave-by time was " + TimeText.HourMinuteBefore(way.LeaveBy, place.Offset) + ".";
        if (!_desk.Clock.IsSet) return ShorePainter.Why(_desk.Clock.Trust);
        if (_desk.ClockMoved) return "The clock was moved.";
        return place.PathCount == 0 ? "No low point is typed in." : "The tide is not known.";
    }

    private static string Second(WayBackLevel level, WayBackResult way, CoastPlace place)
    {
        if (level == WayBackLevel.CutOff) return "Coastguard: call if behind it.";
        if (level == WayBackLevel.Leave) return ShorePainter.PointName(place, way.Point) + " cut " + TimeText.HourMinuteBefore(way.ChangesAt, place.Offset);
        return "Act as if the sea comes.";
    }
}
