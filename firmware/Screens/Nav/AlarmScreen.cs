using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>Shows the way-back alarm: as a screen of its own over any card, and as a band over the heading of a run. The band allocates nothing.</summary>
public sealed class AlarmScreen
{
    private const int BandRows = 10;
    private const int BandMargin = 3;

    // The word of the alarm takes the first rows of its screen. What the word means stands below, and the caution over the last line.
    private const int WordRows = 14;
    private const int MinutesY = 17;
    private const int FirstY = 18;
    private const int SecondY = 28;
    private const int CautionY = 46;

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
        frame.TextCentre(LeftX, RightX, 1, Word(level), Font.Medium);
        if (nowUs / BlinkUs % 2 == 0) frame.InvertRect(LeftX, HeadingY, Frame.Width, WordRows);
        else frame.HLine(LeftX, WordRows - 1, Frame.Width);
        if (level == WayBackLevel.PackUpSoon || level == WayBackLevel.Warning)
        {
            PathCard.Left(frame.Line, way.SecondsLeft(_desk.Now));
            int end = frame.Text(LeftX, MinutesY, frame.Line, Font.Large);
            frame.Text(end + 3, MinutesY + UnitY - FigureY, "min", Font.Small);
            frame.TextRight(RightX, MinutesY, "leave by", Font.Small);
            frame.TextRight(RightX, MinutesY + UnderWordY - FigureY, TimeText.HourMinuteBefore(way.LeaveBy, place.Offset), Font.Medium);
        }
        else
        {
            frame.Text(LeftX, FirstY, First(level, way, place), Font.Small);
            frame.Text(LeftX, SecondY, Second(level, way, place), Font.Small);
        }
        ShorePainter.CautionAt(frame, CautionY, nowUs);
        frame.Text(LeftX, HintY, "Any button: quiet 5 min", Font.Small);
    }

    /// <summary>Draws the band over the heading. In every third second the heading is shown.</summary>
    public void Band(Frame frame, long nowUs)
    {
        if (nowUs / 1_000_000 % 3 == 2) return;
        WayBackLevel level = _desk.Level;
        frame.ClearRect(LeftX, HeadingY, Frame.Width, BandRows);
        frame.Text(LeftX + BandMargin, 1, Word(level), Font.Small);
        if (level == WayBackLevel.PackUpSoon || level == WayBackLevel.Warning)
        {
            PathCard.Left(frame.Line, _desk.Way.SecondsLeft(_desk.Now));
            frame.Line.Add(" min");
            frame.TextRight(RightX - BandMargin, 1, frame.Line, Font.Small);
        }
        frame.InvertRect(LeftX, HeadingY, Frame.Width, BandRows);
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
