using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>Draws the parts that the shore cards share: the caution, whose lines alternate at the bottom, and the request to set the clock.</summary>
public static class ShorePainter
{
    private const long LineUs = 3_000_000;

    // The sentences of TideCaution.Full, shortened so that each line can stand alone.
    private static readonly string[] CautionLines =
    {
        "Prediction of tide alone",
        "Surge, swell come higher",
        "Wind, rain not predicted",
        "Official tables first",
        "Ask coastguard, locals",
        "Watch water, leave early",
    };

    /// <summary>Draws the caution, one line at a time, into the last line of every screen that shows a tide or a time left.</summary>
    public static void Caution(Frame frame, long nowUs) => CautionAt(frame, 56, nowUs);

    /// <summary>Draws the caution at a given row.</summary>
    public static void CautionAt(Frame frame, int y, long nowUs) => frame.Text(LeftX, y, CautionLine(nowUs), Font.Small);

    /// <summary>The line of the caution that is shown at this time.</summary>
    public static string CautionLine(long nowUs)
    {
        // divisor: there are six lines.
        long line = nowUs / LineUs % CautionLines.Length;
        return CautionLines[(int)line];
    }

    /// <summary>Asks for the clock to be set in place of any answer while the time is not known. Returns true when it did.</summary>
    public static bool AsksForTime(Frame frame, ShoreDesk desk)
    {
        ShoreClock clock = desk.Clock;
        if (clock.IsSet) return false;
        CardPainter.Caution(frame, HeadlineY, "Set the clock");
        frame.Text(LeftX, Line3Y, Why(clock.Trust), Font.Small);
        frame.Text(LeftX, Line4Y, "No tide, sun or way back", Font.Small);
        frame.Text(LeftX, Line5Y, "until it is set in PLACE.", Font.Small);
        frame.Text(LeftX, HintY, "Official tables first.", Font.Small);
        return true;
    }

    /// <summary>Why there is no time, in words.</summary>
    public static string Why(ClockTrust trust) => trust switch
    {
        ClockTrust.Unread => "The clock was not read yet.",
        ClockTrust.Stopped => "The clock had stopped.",
        ClockTrust.NoAnswer => "No clock chip answers.",
        ClockTrust.Nonsense => "The clock holds no date.",
        _ => "",
    };

    /// <summary>Metres with one decimal.</summary>
    public static string Metres(double metres) => metres.ToString("F1") + " m";

    /// <summary>Centimetres as metres with one decimal.</summary>
    public static string Centimetres(int centimetres) => Metres(centimetres / 100.0);

    /// <summary>Weekday, day and time of a moment in local time: Fri 14 05:30.</summary>
    public static string DayTime(UtcInstant time, LocalTime offset) => DayTime(offset.ToLocal(time));

    /// <summary>The same for a time as it is printed in a table.</summary>
    public static string Printed(UtcInstant time) => DayTime(CivilTime.FromUtc(time));

    private static string DayTime(CivilTime local)
    {
        return TimeText.WeekdayName(local.Weekday) + " " + local.Day.ToString() + " " + TimeText.HourMinute(local);
    }

    /// <summary>The name of a low point, or "the path" when no low point decides.</summary>
    public static string PointName(CoastPlace place, int point) => point >= 0 && point < place.PathCount ? place.PathPoint(point).Name : "the path";
}
