using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Screens.Cards;

/// <summary>
/// What comes next this morning and in how long: the time to leave, first light, sunrise, sunset, or the turn of the tide, whichever is
/// soonest; and a wipe of the front glass in the last half minute before it. Minutes are rounded down, so that nothing comes sooner than it says.
/// </summary>
public static class GlanceLine
{
    // Less than this before a wipe is due it is what comes next, µs: a wipe every two minutes would hide all else.
    private const long WipeSoonUs = 30_000_000;

    /// <summary>How long a line stands where two take turns, µs.</summary>
    public const long TurnUs = 3_000_000;

    /// <summary>Draws it in one small line, and the caution in turn with it when it tells a tide or the time to leave.</summary>
    public static void Draw(Frame frame, int y, ShoreDesk desk, long nowUs)
    {
        string next = Next(desk, nowUs, out bool ofTheSea);
        if (ofTheSea && nowUs / TurnUs % 2 == 1) ShorePainter.CautionAt(frame, y, nowUs / 2);
        else frame.Text(0, y, next, Font.Small);
    }

    /// <summary>The line in words.</summary>
    /// <param name="desk">Knows the place, the clock and what follows from them.</param>
    /// <param name="nowUs">The board's clock, µs.</param>
    /// <param name="ofTheSea">True when it tells a tide or the time to leave, which the caution belongs to.</param>
    public static string Next(ShoreDesk desk, long nowUs, out bool ofTheSea)
    {
        ofTheSea = false;
        long wipeUs = desk.WipeInUs(nowUs);
        if (wipeUs >= 0 && wipeUs <= WipeSoonUs) return "Wipe the glass in " + (wipeUs / 1_000_000).ToString() + " s";
        if (!desk.Clock.IsSet) return "No clock: Back, then PLACE";
        UtcInstant present = desk.Now;
        long now = present.Seconds;
        string what = "";
        long seconds = long.MaxValue;
        WayBackResult way = desk.Way;
        if (desk.WayReady && way.State == WayBackState.Open) Sooner("Leave", way.SecondsLeft(present), ref what, ref seconds);
        ofTheSea = what.Length > 0;
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

    // What is past does not come any more; of what is to come the soonest counts.
    private static bool Sooner(string name, long inSeconds, ref string what, ref long seconds)
    {
        if (inSeconds < 0 || inSeconds >= seconds) return false;
        what = name;
        seconds = inSeconds;
        return true;
    }
}
