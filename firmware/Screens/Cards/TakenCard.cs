using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>
/// The last frames, newest first: when, how long, through what filters, in what light, and where in the wave. After the frames since the box
/// was switched on come those that its memory has kept.
/// </summary>
public sealed class TakenCard : Card
{
    /// <summary>How many frames are remembered with their filters and light.</summary>
    public const int Kept = 16;

    private const int NoWave = -1;
    // Below the headline of a frame that the light sensor touched stand two more lines of medium letters.
    private const int TouchedY = 27;
    private const int TouchedLightY = 42;

    private const string Keys = "Up, Down: newer, older";

    private readonly RunLink _link;
    private readonly ShoreDesk _shore;
    private readonly KeptFrames _earlier;

    // Filters and light in hundredths of a stop, and the time since the water turned in tenths of a second.
    private readonly short[] _glass = new short[Kept];
    private readonly short[] _light = new short[Kept];
    private readonly short[] _wave = new short[Kept];
    private int _noted;
    private int _back;

    /// <summary>Creates the card.</summary>
    /// <param name="link">The source of the frames since the box was switched on.</param>
    /// <param name="shore">The source of the time of day.</param>
    /// <param name="earlier">The source of the frames from before that.</param>
    public TakenCard(RunLink link, ShoreDesk shore, KeptFrames earlier)
    {
        _earlier = earlier;
        _link = link;
        _shore = shore;
    }

    /// <inheritdoc/>
    public override string Name => Count == 0 ? "TAKEN" : "TAKEN " + (_back + 1).ToString() + "/" + Count.ToString();

    /// <inheritdoc/>
    public override long RedrawUs => _earlier.Waits ? 100_000 : 5_000_000;

    private int Fresh => _noted < Kept ? _noted : Kept;

    private int Count => Fresh + _earlier.Count;

    /// <summary>Notes the filters and the light for new frames. Call it in every pass; it allocates nothing.</summary>
    public void Watch(BoxSettings settings, long nowUs)
    {
        if (_noted == _link.Frames.Total) return;
        short glass = (short)(settings.Kit.EffectiveStops.Value * 100 + 0.5);
        double light = settings.Base.Ev100 * 100;
        short light100 = (short)(light < 0 ? light - 0.5 : light + 0.5);
        _back = 0;
        for (; _noted < _link.Frames.Total; _noted++)
        {
            if (!_link.Frames.Has(_noted)) continue;
            _glass[_noted % Kept] = glass;
            _light[_noted % Kept] = light100;
            _wave[_noted % Kept] = WaveAt(_link.Frames.StartUs(_noted));
        }
    }

    /// <summary>The card has no fields, because Up and Down go through the frames.</summary>
    public override void Fields(FieldList fields)
    {
    }

    /// <summary>Goes to another frame; Up goes towards the newest.</summary>
    public void Step(int direction) => _back = Elementary.Clamp(_back - direction, 0, Count > 0 ? Count - 1 : 0);

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        if (Count == 0)
        {
            frame.Text(LeftX, NothingY, "No frame yet", Font.Medium);
            frame.Text(LeftX, ReasonY, "since the box was turned on,", Font.Small);
            frame.Text(LeftX, Reason2Y, "and none in its memory", Font.Small);
            return;
        }
        if (_back >= Fresh)
        {
            Earlier(frame, _back - Fresh);
            return;
        }
        FrameRing frames = _link.Frames;
        int index = _noted - 1 - _back;
        Length(frame.Line.Clear(), frames.ExposureUs(index));
        int end = frame.Text(LeftX, HeadlineY, frame.Line, Font.Medium);
        string when = When(frames.StartUs(index), nowUs);
        // How long ago it was, which is told without a clock, may be too long for the larger letters.
        bool large = end + 2 + Font.Medium.WidthOf(when) <= Frame.Width;
        frame.TextRight(RightX, large ? HeadlineY : HeadlineY + 2, when, large ? Font.Medium : Font.Small);
        int at = index % Kept;
        LightNotes notes = _shore.Dawn.Sensor.Series.Notes;
        SeriesLight from = notes.From(index);
        int value = notes.Thousandths(index);
        if (Touched(frame, notes.End(index), from, value, notes.PlannedUs(index), from == SeriesLight.None ? _light[at] : _light[at] + value, How(frames, index))) return;
        Glass(frame, _glass[at], _light[at]);
        frame.Text(LeftX, Line4Y, Wave(_wave[at], frames.ExposureUs(index)), Font.Small);
        frame.Text(LeftX, Line5Y, How(frames, index), Font.Small);
        frame.Text(LeftX, HintY, Keys, Font.Small);
    }

    // Draws a frame that the light sensor has touched: why it ended, the light that it got and what was planned; in a series, from what its time was
    // taken and the light. Returns false for any other frame.
    private static bool Touched(Frame frame, LightEnd end, SeriesLight from, int thousandths, long plannedUs, int light, string how)
    {
        if (from != SeriesLight.None)
        {
            frame.Text(LeftX, TouchedY, SensedLight.FromWords(from), Font.Medium);
            frame.Line.Clear().Add("Light: EV ").AddNumber(light / 10, 1);
            frame.Text(LeftX, TouchedLightY, frame.Line, Font.Medium);
            frame.Text(LeftX, HintY, how.Length > 0 ? how : Keys, Font.Small);
            return true;
        }
        if (end == LightEnd.None) return false;
        frame.Text(LeftX, TouchedY, SensedLight.EndWords(end), Font.Medium);
        frame.Line.Clear().Add("Light ").Add(end == LightEnd.Estimated ? "about " : "").AddNumber(thousandths / 10).Add(" %");
        frame.Text(LeftX, TouchedLightY, frame.Line, Font.Medium);
        Length(frame.Line.Clear().Add("planned "), plannedUs);
        frame.Text(LeftX, HintY, frame.Line, Font.Small);
        frame.TextRight(RightX, HintY, end == LightEnd.Stopped ? "" : how, Font.Small);
        return true;
    }

    // Draws the filters and the light, both in hundredths of a stop.
    private static void Glass(Frame frame, int glass, int light)
    {
        frame.Line.Clear().AddNumber(glass, 2).Add(" st of glass, EV ").AddNumber(light / 10, 1);
        frame.Text(LeftX, BelowHeadlineY, frame.Line, Font.Small);
    }

    private void Earlier(Frame frame, int back)
    {
        if (!_earlier.Has(back))
        {
            frame.Text(LeftX, HintY, Keys, Font.Small);
            frame.Text(LeftX, NothingY, _earlier.Waits ? "reading it" : "cannot be read", Font.Medium);
            return;
        }
        LogEntry entry = _earlier.Entry;
        Length(frame.Line.Clear(), entry.ExposureUs);
        frame.Text(LeftX, HeadlineY, frame.Line, Font.Medium);
        string day = "before this start";
        if (entry.HasUtc)
        {
            CivilTime local = _shore.Place.Offset.ToLocal(new UtcInstant(entry.StartUtcSeconds));
            frame.TextRight(RightX, HeadlineY, TimeText.HourMinute(local), Font.Medium);
            day = TimeText.ShortDate(local);
        }
        if (Touched(frame, entry.End, entry.From, entry.CollectedThousandths, entry.PlannedUs, entry.LightHundredths, entry.CutShort ? "stopped, " + day : day)) return;
        Glass(frame, entry.StopsHundredths, entry.LightHundredths);
        frame.Text(LeftX, Line4Y, entry.WaveThousandths < 0 ? "no rhythm was known" : (entry.WaveThousandths / 10).ToString() + " % into a wave from its turn", Font.Small);
        string how = entry.CutShort ? ", stopped" : entry.LateSteps == FrameRing.Doubt ? ", length in doubt" : "";
        frame.Text(LeftX, Line5Y, day + how, Font.Small);
        frame.Text(LeftX, HintY, Keys, Font.Small);
    }

    /// <summary>Adds a length of time in seconds, or in minutes from 100 s on.</summary>
    public static void Length(FrameText line, long microseconds)
    {
        if (microseconds < 100_000) line.AddNumber((microseconds + 50) / 100, 1).Add(" ms");
        else if (microseconds < 10_000_000) line.AddNumber((microseconds + 5_000) / 10_000, 2).Add(" s");
        else if (microseconds < 100_000_000) line.AddNumber((microseconds + 50_000) / 100_000, 1).Add(" s");
        else line.AddSeconds((microseconds + 500_000) / 1_000_000);
    }

    private string When(long startUs, long nowUs)
    {
        if (_shore.Clock.IsSet) return TimeText.HourMinuteBefore(_shore.Clock.Now(startUs), _shore.Place.Offset);
        long minutes = (nowUs - startUs) / 60_000_000;
        return minutes.ToString() + " min ago";
    }

    // The time between the last turn of the water and the opening of the shutter, in tenths of a second.
    private short WaveAt(long startUs)
    {
        SeaReport sea = _link.Sea;
        if (!sea.Ready || sea.PeriodSeconds <= 0) return NoWave;
        double into = Elementary.Wrap(startUs - sea.LastMarkUs, sea.PeriodSeconds * 1e6);
        return (short)(into / 100_000);
    }

    private string Wave(int tenths, long exposureUs)
    {
        if (tenths == NoWave) return "no rhythm was known";
        string after = (tenths / 10.0).ToString("F1") + " s after a turn";
        if (!_link.Sea.Timed) return after;
        bool within = tenths * 100_000.0 + exposureUs <= _link.Sea.BackwashSeconds * 1e6;
        return within ? after + ": backwash" : after + ", beyond";
    }

    private static string How(FrameRing frames, int index)
    {
        if (frames.CutShort(index)) return "stopped before its end";
        int late = frames.Late(index);
        if (late == FrameRing.Doubt) return "its length is in doubt";
        return late == 0 ? "" : (late * FrameRing.LateStepUs / 1e6).ToString("F2") + " s late";
    }
}
