using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>Firing on the backwash: the way of firing, its numbers, and what the marks have taught about this sea.</summary>
public sealed class WavesCard : Card
{
    private const string Never = "never";
    private const long WordsUs = 2_000_000;

    // The way of firing and the period, and below them the band of the waves or the chance.
    private const int WayY = 9;
    private const int PeriodRightX = 120;
    private const int BandY = 26;
    private const int ChanceY = 23;

    // The chance is as high as three lines that stand closer than usual; its unit is on its foot.
    private const int BackwashX = 58;
    private const int TightRows = 8;
    private const int PercentDrop = 11;

    private readonly BoxSettings _settings;
    private readonly RunLink _link;

    /// <summary>Creates the card.</summary>
    public WavesCard(BoxSettings settings, RunLink link)
    {
        _settings = settings;
        _link = link;
    }

    /// <inheritdoc/>
    public override string Name => "WAVES";

    /// <inheritdoc/>
    public override long RedrawUs => 250_000;

    private WaveOrder Order => _settings.Waves;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        WaveOrder order = Order;
        if (fields.Is("Fire"))
        {
            order.Way = (FiringWay)fields.Moved((int)order.Way, 1, 0, (int)FiringWay.OnArrival);
            if (fields.Changes) return;
            fields.Value = WayText(order.Way);
            int percent = _link.Sea.Percent((int)order.Way);
            fields.Note = percent < 0 ? WayNote(order.Way) : percent.ToString() + " % on backwash here";
        }
        bool onMark = order.Way == FiringWay.OnMark;
        if (fields.Is(onMark || order.Way == FiringWay.AfterMark ? "Delay after the mark" : "Open, from the turn"))
        {
            if (fields.Changes)
            {
                ChangeMoment(order, fields);
                return;
            }
            fields.Value = MomentText(order);
            fields.Note = onMark ? "fires at once" : order.BestMoment ? "likeliest on backwash" : "lag is made up for";
        }
        if (fields.Is("Frames on each wave")) order.FramesPerWave = fields.Number(order.FramesPerWave, 1, 1, 9, "");
        if (fields.Is("Gap between them")) order.GapMs = fields.Seconds(order.GapMs, 100, 0, 5000);
        if (fields.Is("Every wave number"))
        {
            order.EveryWave = fields.Number(order.EveryWave, 1, 1, 9, "");
            if (!fields.Changes) fields.Note = order.EveryWave == 1 ? "fires on every one" : "lets " + (order.EveryWave - 1).ToString() + " go by";
        }
        if (fields.Is("Stop after waves"))
        {
            order.Waves = fields.Number(order.Waves, 1, 0, 99, "");
            if (order.Waves == 0) fields.Value = Never;
        }
        if (fields.Is("Stop after minutes"))
        {
            order.Minutes = fields.Number(order.Minutes, fields.Stride, 0, 240, "");
            if (order.Minutes == 0) fields.Value = Never;
        }
    }

    /// <summary>Sets the way of firing that the card recommends; changes nothing while it recommends none.</summary>
    public void TakeAdvice(long nowUs)
    {
        int better = Better(nowUs);
        if (better >= 0) Order.Way = (FiringWay)better;
    }

    // The way that is better than the present one; -1 when there is none, and also while the rhythm is old, because then it must be marked first.
    private int Better(long nowUs)
    {
        SeaReport rhythm = _link.Sea;
        int best = rhythm.Recommended;
        return best == (int)Order.Way || (rhythm.Ready && rhythm.Stale(nowUs)) ? -1 : best;
    }

    private static string MomentText(WaveOrder order)
    {
        if (order.Way == FiringWay.OnMark) return "none";
        if (order.BestMoment) return "best";
        if (order.Way == FiringWay.AfterMark) return SecondsText(order.DelayMs);
        return (order.FromTurnMs > 0 ? "+" : "") + SecondsText(order.FromTurnMs);
    }

    // The value below the smallest number is "best".
    private static void ChangeMoment(WaveOrder order, FieldList fields)
    {
        if (order.Way == FiringWay.OnMark) return;
        bool after = order.Way == FiringWay.AfterMark;
        bool down = fields.Direction < 0;
        if (order.BestMoment)
        {
            if (down) return;
            order.BestMoment = false;
            if (after) order.DelayMs = 0;
            else order.FromTurnMs = -3000;
            return;
        }
        if (down && (after ? order.DelayMs == 0 : order.FromTurnMs == -3000)) order.BestMoment = true;
        else if (after) order.DelayMs = fields.Moved(order.DelayMs, 100 * fields.Stride, 0, 20_000);
        else order.FromTurnMs = fields.Moved(order.FromTurnMs + 3000, 100 * fields.Stride, 0, 8000) - 3000;
    }

    /// <summary>Asks for advice while the card is shown. The release thread works it out, a little in each of its passes.</summary>
    /// <param name="shown">True while the card is shown.</param>
    public void Think(bool shown)
    {
        // divisor: a constant
        double soonest = PlanCompiler.SoonestOpenUs(_settings.Camera, true) / 1e6;
        _link.WantAdvice(shown ? SpanSeconds : 0, soonest, Order.HandLagMs / 1000.0, Order.HandSpreadMs / 1000.0);
    }

    /// <summary>True when the order depends on advice that has not been worked out yet for the present settings.</summary>
    public bool AwaitsAdvice =>
        UsesBestDelay && (_link.Sea.AdvisedMarks != _link.Sea.MarkCount || _link.Sea.AdvisedSeconds != SpanSeconds);

    /// <summary>The best delay after the mark where that was chosen, otherwise the delay that was set, ms.</summary>
    public int DelayMs => UsesBestDelay ? (int)(_link.Sea.BestDelaySeconds * 1000) : Order.DelayMs;

    private bool UsesBestDelay => Order.Way == FiringWay.AfterMark && Order.BestMoment;

    // The time from the first opening to the last closing of the shutter on one wave.
    private double SpanSeconds => _settings.Answer.OpenSeconds * Order.FramesPerWave + Order.GapMs / 1000.0 * (Order.FramesPerWave - 1);

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        SeaReport rhythm = _link.Sea;
        frame.Text(LeftX, WayY, WayText(Order.Way), Font.Medium);
        if (rhythm.Ready)
        {
            frame.NumberRight(PeriodRightX, WayY, (long)(rhythm.PeriodSeconds * 10 + 0.5), 1, Font.Medium);
            frame.TextRight(RightX, WayY + SmallDrop, "s", Font.Small);
        }
        // For an old rhythm no chance is shown, and the words about it need the room.
        bool old = rhythm.Ready && rhythm.Stale(nowUs);
        bool doubtful = rhythm.Doubtful && !old;
        int percent = old ? -1 : rhythm.Percent((int)Order.Way);
        if (percent >= 0 && !doubtful) DrawChance(frame, rhythm, percent, nowUs);
        else
        {
            WaveBand.Draw(frame, BandY, rhythm, 0, nowUs);
            frame.Text(LeftX, Line5Y, old ? "The rhythm is old: mark again" : doubtful ? "doubtful" : Rhythm(rhythm), Font.Small);
            if (percent >= 0) frame.TextRight(RightX, Line5Y, percent.ToString() + " % on backwash", Font.Small);
        }
        frame.Text(LeftX, HintY, Bottom(rhythm, old, percent, nowUs), Font.Small);
    }

    // How steadily the waves come, and what the bars above the line mean. Before that is known, how many marks are missing.
    private static string Rhythm(SeaReport sea)
    {
        string words = Steadiness.Words(sea.SteadinessIndex);
        if (sea.Ready) return CardPainter.Shorter(words + ", bar: backwash", words);
        int missing = WaveRhythm.MarksNeeded - sea.MarkCount;
        return missing > 1 ? "needs " + missing.ToString() + " more marks" : missing > 0 ? "needs 1 more mark" : "rhythm " + words;
    }

    // Draws the chance as large as possible, and below it the chances of up to two other ways. For a moment after a mark the line confirms the mark instead.
    private void DrawChance(Frame frame, SeaReport sea, int percent, long nowUs)
    {
        DrawNumber(frame, ChanceY, percent, sea, FramesThatFit(sea), Order.FramesPerWave);
        frame.Line.Clear();
        if (nowUs - sea.LastMarkUs < WordsUs) frame.Line.Add("Marked: ").AddNumber(sea.MarkCount).Add(" waves");
        else
        {
            int shown = 0;
            for (int way = 0; way < FiringAdvice.Count && shown < 2; way++)
            {
                if (way == (int)Order.Way || sea.Percent(way) < 0) continue;
                if (shown++ > 0) frame.Line.Add(", ");
                frame.Line.Add(ShortWay((FiringWay)way)).Add(' ').AddNumber(sea.Percent(way)).Add(" %");
            }
        }
        frame.Text(LeftX, Line5Y, frame.Line, Font.Small);
    }

    /// <summary>Draws a chance in large figures. Beside it stand how long the backwash lasts, and the exposure or the frames that fit nine times in ten. Allocates nothing.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="y">The top row of 24.</param>
    /// <param name="percent">The chance, per cent.</param>
    /// <param name="sea">What the marks have taught about the waves.</param>
    /// <param name="fit">How many frames fit.</param>
    /// <param name="frames">How many frames are wanted on each wave.</param>
    internal static void DrawNumber(Frame frame, int y, int percent, SeaReport sea, int fit, int frames)
    {
        int right = frame.Number(0, y, percent, 0, Font.Large);
        frame.Text(right + 1, y + PercentDrop, "%", Font.Medium);
        frame.Text(BackwashX, y, "on backwash,", Font.Small);
        frame.Line.Clear().Add("lasts ").AddNumber((long)(sea.BackwashSeconds * 10 + 0.5), 1).Add(" s,");
        frame.Text(BackwashX, y + TightRows, frame.Line, Font.Small);
        frame.Line.Clear();
        if (frames > 1) frame.Line.AddNumber(fit < frames ? fit : frames).Add(" of ").AddNumber(frames).Add(" fit");
        else if (sea.LongestSeconds < 0.1) frame.Line.Add("nothing fits");
        else frame.Line.Add("fits ").AddNumber((long)(sea.LongestSeconds * 10), 1).Add(" s");
        frame.Text(BackwashX, y + 2 * TightRows, frame.Line, Font.Small);
    }

    /// <summary>
    /// Whether one had better mark the turn than the arrival. That is so unless the chance of a frame fired on arrivals is known to be within
    /// three points of the chance of one fired after the mark, because an arrival does not tell how far its wave will run.
    /// </summary>
    /// <param name="sea">What the marks have taught about the waves.</param>
    /// <param name="arrivalPercent">The chance on arrivals, per cent; -1 when it is not known.</param>
    public static bool TurnIsSurer(SeaReport sea, int arrivalPercent)
    {
        int marked = sea.Percent(FiringAdvice.AfterMark);
        return sea.Doubtful || marked < 0 || arrivalPercent < marked - PointsThatMatter;
    }

    /// <summary>The advice to mark the turn.</summary>
    internal const string TurnIsSurerWords = "Surer here: mark the turn";

    private const int PointsThatMatter = 3;

    // What is most worth knowing. Where there are two such things, they alternate every two seconds.
    private string Bottom(SeaReport rhythm, bool old, int percent, long nowUs)
    {
        bool odd = nowUs / WordsUs % 2 != 0;
        if (Order.Way == FiringWay.OnArrival && !odd && TurnIsSurer(rhythm, percent)) return TurnIsSurerWords;
        if (!rhythm.Ready || old) return "Mark as each wave turns";
        if (rhythm.Doubtful) return "Mark only where it turns";
        if (!rhythm.Timed) return odd ? HoldWords : "Fire starts";
        int fit = FramesThatFit(rhythm);
        // A chance from few backwashes rests on luck, so the card goes on asking for more, as the run does.
        bool asks = rhythm.AsksForLengths && odd;
        if ((percent >= 0 && rhythm.Recommended < 0 && !asks) || (fit < Order.FramesPerWave && Order.FramesPerWave > 1 && odd)) return TooLong(fit);
        int best = Better(nowUs);
        // Whether to use arrivals whose chance looks as good as a marked turn's is left to the person.
        if (best < 0 || Order.Way == FiringWay.OnArrival) return asks ? HoldWords : "Fire starts";
        return odd ? "Hold Select to take it" : "Better: " + WayText((FiringWay)best) + ", " + rhythm.Percent(best).ToString() + " %";
    }

    private const string HoldWords = "Hold Mark as it runs back";

    /// <summary>
    /// Whether a run says of the coming frame that the exposure is too long, because its chance is below <see cref="FiringAdvice.LeastPercent"/>.
    /// </summary>
    /// <param name="percent">The chance that the run shows, per cent; -1 for none.</param>
    public static bool IsTooLong(int percent) => percent >= 0 && percent < FiringAdvice.LeastPercent;

    /// <summary>What is said when no way of firing is recommended, because the exposure is too long for this sea.</summary>
    internal const string TooLongWords = "Too long: expose shorter";

    private string TooLong(int fit)
    {
        if (fit < 1 || fit >= Order.FramesPerWave) return TooLongWords;
        return "Too long: " + fit.ToString() + " of " + Order.FramesPerWave.ToString() + " frames fit";
    }

    private int FramesThatFit(SeaReport rhythm) => FramesThatFit(rhythm, _settings);

    /// <summary>How many frames, with their gaps, fit on the backwash nine times in ten.</summary>
    internal static int FramesThatFit(SeaReport sea, BoxSettings settings)
    {
        // divisor: a constant
        double gap = settings.Waves.GapMs / 1000.0;
        double frame = Elementary.Max(settings.Answer.OpenSeconds + gap, 0.001);
        // divisor: at least 0.001
        return (int)((sea.LongestSeconds + gap) / frame);
    }

    private static string ShortWay(FiringWay way) => way switch
    {
        FiringWay.OnMark => "mark",
        FiringWay.AfterMark => "after",
        FiringWay.OnRhythm => "rhythm",
        _ => "arrival",
    };

    private static string WayText(FiringWay way) => way switch
    {
        FiringWay.OnMark => "on mark",
        FiringWay.AfterMark => "after mark",
        FiringWay.OnRhythm => "on rhythm",
        _ => "on arrival",
    };

    private static string WayNote(FiringWay way) => way switch
    {
        FiringWay.OnMark => "your press is the release",
        FiringWay.AfterMark => "a delay after your press",
        FiringWay.OnRhythm => "at the turns it expects",
        _ => "mark arrival, fires at turn",
    };
}
