using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The plan that Fire starts: its shape and its times.</summary>
public sealed class FramesCard : Card
{
    private readonly BoxSettings _settings;
    private readonly ShoreDesk _shore;

    /// <summary>Creates the card.</summary>
    public FramesCard(BoxSettings settings, ShoreDesk shore)
    {
        _settings = settings;
        _shore = shore;
    }

    /// <inheritdoc/>
    public override string Name => "FRAMES";

    private ShotPlan Plan => _settings.Plan;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        ShotPlan plan = Plan;
        int stride = fields.Stride;
        if (fields.Is("Shape"))
        {
            if (fields.Changes)
            {
                ChangeShape(plan, fields);
                return;
            }
            fields.Value = ShapeText(plan.Shape);
            fields.Note = ShapeNote(plan.Shape);
        }
        if (fields.Is("Settle first"))
        {
            plan.SettleUs = Seconds(fields, plan.SettleUs, 500 * stride, 0, 60_000);
            fields.Note = "after Fire, hands off";
        }
        if (fields.Is("30 s and less timed by"))
        {
            bool always = ShotPlan.AlwaysBoxTimed(plan.Shape);
            if (fields.Changes)
            {
                if (!always) _settings.AlwaysBulb = !_settings.AlwaysBulb;
                return;
            }
            bool bulb = always || _settings.AlwaysBulb;
            fields.Value = bulb ? "box (bulb)" : "dial";
            fields.Note = always ? "always so here: camera B" : bulb ? "camera on B throughout" : "camera on M to 30 s, B over";
        }
        PlanShape shape = plan.Shape;
        if (shape == PlanShape.HeldDrive)
        {
            if (fields.Is("Hold")) plan.HoldUs = Seconds(fields, plan.HoldUs, 100 * stride, 100, 60_000);
            return;
        }
        if (shape == PlanShape.Single || shape == PlanShape.ByHand) return;
        if (fields.Is("Frames"))
        {
            if (shape == PlanShape.Bracket) plan.Frames = fields.Moved(plan.Frames, 2, 3, 7) | 1;
            else plan.Frames = fields.Moved(plan.Frames, stride, 1, shape == PlanShape.Burst ? ShotPlan.MostBurst : ShotPlan.MostSeries);
            if (fields.Changes) return;
            fields.Value = plan.Frames.ToString();
        }
        if (ShotPlan.MayFollow(shape) && _shore.Dawn.Sensor.Fitted && fields.Is("Follow the light by"))
        {
            _settings.SeriesTenths = fields.Moved(_settings.SeriesTenths, 1, 0, BoxSettings.MostSeriesTenths);
            if (fields.Changes) return;
            fields.Value = _settings.SeriesTenths == 0 ? "no" : (_settings.SeriesTenths / 10.0).ToString("F1") + " st";
            fields.Note = "at most, frame to frame";
        }
        if (shape == PlanShape.Series)
        {
            if (fields.Is("Start to start")) plan.IntervalUs = Seconds(fields, plan.IntervalUs, 500 * stride, 500, 3_600_000);
            return;
        }
        if (fields.Is("Gap between")) plan.GapUs = Seconds(fields, plan.GapUs, 100 * stride, 0, 60_000);
        if (shape == PlanShape.Bracket && fields.Is("Step"))
        {
            plan.BracketThirds = fields.Moved(plan.BracketThirds, 1, 1, 9);
            if (fields.Changes) return;
            fields.Value = StepText(plan);
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        ShotPlan plan = Plan;
        frame.Text(LeftX, HeadlineY, Headline(plan), Font.Medium);
        frame.Text(LeftX, BelowHeadlineY, Detail(plan), Font.Small);
        string settle = "settle " + MicrosText(plan.SettleUs);
        frame.Text(LeftX, Line4Y, CardPainter.Shorter(settle + ", " + (_settings.AlwaysBulb || ShotPlan.AlwaysBoxTimed(plan.Shape) ? "all on bulb" : "dial to 30 s"), settle), Font.Small);
        bool filled = _shore.Dawn.Fill(plan);
        // Without a light sensor a series keeps one exposure. Whether the next frame should have what the changing light calls for is left to the photographer.
        double next = _shore.Dawn.Applies ? _shore.Dawn.NextSeconds : 0;
        if (plan.FollowsUpToUs > 0) frame.Text(LeftX, Line5Y, _shore.Dawn.Sensor.BeforeWords, Font.Small);
        else if (next <= 0) frame.Text(LeftX, Line5Y, "Held Select: frames taken", Font.Small);
        else frame.Text(LeftX, Line5Y, "dawn: next frame " + Core.Exposure.ExposureText.Seconds(next), Font.Small);
        string? fault = filled ? plan.FaultWithin(_settings.LimitSeconds) : "No exposure: see LIGHT";
        if (fault != null) fault = CardPainter.Shorter(fault, "Fire says why it cannot");
        bool byHand = plan.Shape == PlanShape.ByHand;
        long exposureUs = byHand || plan.ByLight ? plan.AnswerUs : plan.ExposureUs;
        string starts = byHand ? "Fire opens; answer: " : plan.ByLight ? "Light ends it: " : "Fire starts: ";
        frame.Text(LeftX, HintY, fault ?? starts + Core.Exposure.ExposureText.Seconds(exposureUs / 1e6), Font.Small);
    }

    private static string Headline(ShotPlan plan) => plan.Shape switch
    {
        PlanShape.Single => "One frame",
        PlanShape.Burst => "Burst of " + plan.Frames.ToString(),
        PlanShape.HeldDrive => "Held drive",
        PlanShape.Series => "Series of " + plan.Frames.ToString(),
        PlanShape.ByHand => "Timed by hand",
        _ => "Bracket of " + plan.Frames.ToString(),
    };

    private static string Detail(ShotPlan plan) => plan.Shape switch
    {
        PlanShape.Single => "Select to change",
        PlanShape.Burst => CardPainter.Shorter(MicrosText(plan.GapUs) + " between frames", "gap " + MicrosText(plan.GapUs)),
        PlanShape.HeldDrive => "contact held " + MicrosText(plan.HoldUs),
        PlanShape.Series => "every " + MicrosText(plan.IntervalUs),
        PlanShape.ByHand => "Fire opens, Fire closes",
        _ => "in steps of " + StepText(plan) + ", on bulb",
    };

    // A step goes both ways, so it is shown without a sign.
    private static string StepText(ShotPlan plan) => Core.Exposure.ExposureText.Thirds(plan.BracketThirds).TrimStart('+') + " st";

    private static string ShapeText(PlanShape shape) => shape switch
    {
        PlanShape.Single => "one frame",
        PlanShape.Burst => "burst",
        PlanShape.HeldDrive => "held drive",
        PlanShape.Series => "series",
        PlanShape.ByHand => "by hand",
        _ => "bracket",
    };

    private static string ShapeNote(PlanShape shape) => shape switch
    {
        PlanShape.Burst => "each a gap after the last",
        PlanShape.HeldDrive => "camera on continuous drive",
        PlanShape.Series => "at a set interval",
        PlanShape.Bracket => "around the answer, on bulb",
        PlanShape.ByHand => "Fire opens, Fire closes",
        _ => "",
    };

    private static void ChangeShape(ShotPlan plan, FieldList fields)
    {
        plan.Shape = (PlanShape)fields.Moved((int)plan.Shape, 1, 0, (int)PlanShape.ByHand);
        if (plan.Shape == PlanShape.Bracket) plan.Frames = 3;
        else if (plan.Shape == PlanShape.Burst && plan.Frames > ShotPlan.MostBurst) plan.Frames = ShotPlan.MostBurst;
    }

    // A time that is stored in microseconds and changed in whole milliseconds.
    private static long Seconds(FieldList fields, long micros, int stepMs, int lowMs, int highMs)
    {
        int milliseconds = fields.Seconds((int)(micros / 1000), stepMs, lowMs, highMs);
        return fields.Changes ? milliseconds * 1000L : micros;
    }
}
