using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The way back: the time left by prediction, as large as possible. Its fields are the alarm and the low points.</summary>
public sealed class PathCard : Card
{
    private readonly ShoreDesk _desk;

    /// <summary>Creates the card.</summary>
    public PathCard(ShoreDesk desk) => _desk = desk;

    /// <inheritdoc/>
    public override string Name => _desk.AlarmOn ? "PATH, alarm on" : "PATH, alarm off";

    /// <inheritdoc/>
    public override long RedrawUs => 1_000_000;

    private ShoreSettings Settings => _desk.Settings;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (fields.Is("Way-back alarm"))
        {
            // A button that is held must not switch the alarm off again.
            if (fields.Changes && fields.Repeats == 0) _desk.SetAlarm(!_desk.AlarmOn);
            if (fields.Changes) return;
            fields.Value = OnOff(_desk.AlarmOn);
            fields.Note = AlarmNote();
            fields.AskTwice = _desk.AlarmOn;
        }
        if (fields.Is("Low points on the path"))
        {
            if (fields.Changes)
            {
                Settings.SetPointCount(fields.Moved(Settings.PointCount, 1, 0, ShoreSettings.MostPoints));
                return;
            }
            fields.Value = Settings.PointCount.ToString();
            fields.Note = "where the sea cuts it";
            fields.AskTwice = true;
        }
        if (fields.IsAmong(3 * Settings.PointCount)) Point(fields, fields.Part / 3, fields.Part % 3);
    }

    // Each low point has three fields.
    private void Point(FieldList fields, int point, int part)
    {
        int flood = Settings.FloodCentimetres(point), walk = Settings.WalkMinutes(point), margin = Settings.MarginCentimetres(point);
        if (fields.Changes)
        {
            if (part == 0) flood = fields.Moved(flood + 500, 10, 0, 2500) - 500;
            else if (part == 1) walk = fields.Moved(walk, 1, 0, 600);
            else margin = fields.Moved(margin, 10, 0, 500);
            Settings.SetPoint(point, flood, walk, margin);
            return;
        }
        fields.Label = Settings.PointName(point) + (part == 0 ? " floods at" : part == 1 ? ", walk" : ", margin");
        fields.Value = part == 0 ? ShorePainter.Centimetres(flood) : part == 1 ? walk.ToString() + " min" : ShorePainter.Centimetres(margin);
        fields.AskTwice = true;
        fields.Note = part == 0 ? "height of tide" : part == 1 ? "from the stand, in the dark" : margin < 50 && _desk.Place.Tide is PrintedTide ? "a table wants 0.5 m" : "for waves and doubt";
    }

    private string AlarmNote()
    {
        if (!_desk.Clock.IsSet) return "the clock is not set";
        CivilTime local = _desk.Place.Offset.ToLocal(_desk.Now);
        return (_desk.AlarmOn ? "it is " : "on: is it ") + TimeText.ShortDate(local) + " " + TimeText.HourMinute(local) + (_desk.AlarmOn ? "" : "?");
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        if (ShorePainter.AsksForTime(frame, _desk)) return;
        CoastPlace place = _desk.Place;
        UtcInstant now = _desk.Now;
        WayBackResult way = _desk.Way;
        if (place.PathCount == 0) Words(frame, "No low point", "Select: type in where", "the sea cuts your path.");
        else if (_desk.ClockMoved) Words(frame, "Clock moved", "Check it in PLACE, then", "alarm off and on here.");
        else if (!_desk.WayReady) frame.Text(LeftX, AloneY, "working it out", Font.Medium);
        else if (way.State == WayBackState.Uncertain) Words(frame, "Tide not known", "Treat the way back", "as closing.");
        else if (way.State == WayBackState.CutOff) Words(frame, "CUT OFF", ShorePainter.PointName(place, way.Point) + " is cut until", "about " + TimeText.HourMinute(way.ChangesAt, place.Offset) + ", by prediction.");
        else Time(frame, place, way, now);
        ShorePainter.Caution(frame, nowUs);
    }

    /// <summary>Writes the time left in whole minutes, rounded down, such as 42, or with hours such as 1:07.</summary>
    public static void Left(FrameText line, long seconds)
    {
        long minutes = seconds < 0 ? 0 : seconds / 60;
        line.Clear();
        if (minutes < 60) line.AddNumber(minutes);
        else line.AddNumber(minutes / 60).Add(':').AddNumber(minutes % 60, 0, 2);
    }

    private static void Time(Frame frame, CoastPlace place, WayBackResult way, UtcInstant now)
    {
        long left = way.SecondsLeft(now);
        if (left <= 0)
        {
            Words(frame, "PAST: GO NOW", "Leave-by time was " + TimeText.HourMinuteBefore(way.LeaveBy, place.Offset) + ".", Cut(place, way));
            return;
        }
        Left(frame.Line, left);
        int end = frame.Text(LeftX, FigureY, frame.Line, Font.Large);
        frame.Text(end + 3, UnitY, left < 3600 ? "min" : "h", Font.Small);
        frame.TextRight(RightX, Line1Y, "leave by", Font.Small);
        frame.TextRight(RightX, UnderWordY, TimeText.HourMinuteBefore(way.LeaveBy, place.Offset), Font.Medium);
        if (way.State == WayBackState.Open)
        {
            frame.Text(LeftX, Line4Y, Cut(place, way), Font.Small);
            frame.Text(LeftX, Line5Y, TideAllowance.Words(place), Font.Small);
        }
        else if (way.State == WayBackState.DataEnds)
        {
            frame.Text(LeftX, Line4Y, "tide not known after " + TimeText.HourMinuteBefore(way.ChangesAt, place.Offset), Font.Small);
            frame.Text(LeftX, Line5Y, "treated as its coming", Font.Small);
        }
        else
        {
            frame.Text(LeftX, Line4Y, "no low point cut before", Font.Small);
            frame.Text(LeftX, Line5Y, ShorePainter.DayTime(way.ChangesAt, place.Offset) + ", predicted", Font.Small);
        }
    }

    private static string Cut(CoastPlace place, WayBackResult way) =>
        ShorePainter.PointName(place, way.Point) + " cut " + TimeText.HourMinuteBefore(way.ChangesAt, place.Offset);

    private static void Words(Frame frame, string large, string first, string second)
    {
        CardPainter.Caution(frame, HeadlineY + 1, large);
        frame.Text(LeftX, ReasonY, first, Font.Small);
        frame.Text(LeftX, Reason2Y + 1, second, Font.Small);
    }
}
