using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Screens.Cards;

/// <summary>
/// The line that says what comes next this morning and in how long: the time to leave, first light, sunrise, sunset, or the turn of the tide,
/// whichever is soonest. In the last half minute before it is due, it is a wipe of the front glass. Nothing hides a time to leave that is past
/// or less than half an hour away. Minutes are rounded down, so that nothing comes sooner than the line says.
/// </summary>
public static class GlanceLine
{
    // A wipe counts as what comes next only when it is due within this time, µs. A wipe every two minutes would otherwise hide everything else.
    private const long WipeSoonUs = 30_000_000;

    /// <summary>How long a line is shown when lines alternate, µs.</summary>
    public const long LineUs = 3_000_000;

    /// <summary>
    /// The line at this moment. A path that is cut alternates with what comes next, and the caution alternates with anything about a tide or
    /// the time to leave.
    /// </summary>
    public static string Line(ShoreDesk desk, long nowUs)
    {
        long part = nowUs / LineUs % 3;
        bool cut = desk.Clock.IsSet && desk.WayReady && desk.Way.State == WayBackState.CutOff;
        if (cut && part == 0) return "CUT OFF: see PATH";
        string next = Next(desk, nowUs, out bool ofTheSea);
        return part == 2 && (ofTheSea || cut) ? ShorePainter.CautionLine(nowUs / 3) : next;
    }

    /// <summary>What comes next, in words.</summary>
    /// <param name="desk">The shore side, with the place, the clock and what follows from them.</param>
    /// <param name="nowUs">The board's clock, µs.</param>
    /// <param name="ofTheSea">True when the words are about a tide or the time to leave, beside which the caution must stand.</param>
    public static string Next(ShoreDesk desk, long nowUs, out bool ofTheSea)
    {
        WayBackResult way = desk.Way;
        bool known = desk.Clock.IsSet && desk.WayReady;
        UtcInstant present = desk.Now;
        long left = way.SecondsLeft(present);
        ofTheSea = true;
        bool closes = known && (way.State == WayBackState.Open || way.State == WayBackState.DataEnds || way.State == WayBackState.PastLeaveBy);
        if (closes && left <= 0) return "LEAVE NOW: see PATH";
        if (closes && left < ShoreDesk.PackUpSoonMinutes * 60) return "Leave in " + TimeText.Span(left);
        ofTheSea = false;
        long wipeUs = desk.WipeInUs(nowUs);
        if (wipeUs >= 0 && wipeUs <= WipeSoonUs) return "Wipe the glass in " + (wipeUs / 1_000_000).ToString() + " s";
        if (!desk.Clock.IsSet) return "No clock: Back, then PLACE";
        long now = present.Seconds;
        string what = "";
        long seconds = long.MaxValue;
        if (closes) ofTheSea = Sooner("Leave", left, ref what, ref seconds);
        SunSheet sun = desk.Sun;
        bool changed = false;
        if (sun.Done && sun.Civil.Happens) changed |= Sooner("First light", sun.Civil.Time.Seconds - now, ref what, ref seconds);
        if (sun.Done && sun.Rise.Happens) changed |= Sooner("Sunrise", sun.Rise.Time.Seconds - now, ref what, ref seconds);
        if (sun.Done && sun.Set.Happens) changed |= Sooner("Sunset", sun.Set.Time.Seconds - now, ref what, ref seconds);
        if (changed) ofTheSea = false;
        TideCurve? curve = desk.Curve;
        for (int i = 0; curve != null && i < curve.TurnCount; i++)
        {
            long turn = curve.TurnSeconds(i) - now;
            if (turn < 0) continue;
            if (Sooner(curve.TurnIsHigh(i) ? "High water" : "Low water", turn, ref what, ref seconds)) ofTheSea = true;
            break;
        }
        return what.Length == 0 ? "" : what + " in " + TimeText.Span(seconds);
    }

    // Past events do not count, and of the coming ones the soonest does.
    private static bool Sooner(string name, long inSeconds, ref string what, ref long seconds)
    {
        if (inSeconds < 0 || inSeconds >= seconds) return false;
        what = name;
        seconds = inSeconds;
        return true;
    }
}
