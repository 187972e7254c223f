using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Screens.Cards;

/// <summary>The plan that Fire takes: its shape and its times.</summary>
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

    /// <inheritdoc/>
    public override int FieldCount => Plan.Shape switch
    {
        PlanShape.Single => 3,
        PlanShape.HeldDrive => 4,
        PlanShape.Bracket => 6,
        _ => 5,
    };

    private ShotPlan Plan => _settings.Plan;

    /// <inheritdoc/>
    public override string Label(int field) => field switch
    {
        0 => "Shape",
        1 => "Settle first",
        2 => "30 s and less timed by",
        3 => Plan.Shape == PlanShape.HeldDrive ? "Hold" : "Frames",
        4 => Plan.Shape == PlanShape.Series ? "Start to start" : "Gap between",
        _ => "Step",
    };

    /// <inheritdoc/>
    public override string Value(int field) => field switch
    {
        0 => ShapeText(Plan.Shape),
        1 => MicrosText(Plan.SettleUs),
        2 => _settings.AlwaysBulb ? "box (bulb)" : "dial",
        3 => Plan.Shape == PlanShape.HeldDrive ? MicrosText(Plan.HoldUs) : Plan.Frames.ToString(),
        4 => Plan.Shape == PlanShape.Series ? MicrosText(Plan.IntervalUs) : MicrosText(Plan.GapUs),
        _ => StepText(Plan),
    };

    /// <inheritdoc/>
    public override string Note(int field) => field switch
    {
        0 => ShapeNote(Plan.Shape),
        1 => "after Fire, hands off",
        2 => _settings.AlwaysBulb ? "camera on B throughout" : "camera on M to 30 s, B over",
        _ => "",
    };

    /// <inheritdoc/>
    public override void Change(int field, int direction, int repeats)
    {
        ShotPlan plan = Plan;
        int stride = Stride(repeats);
        switch (field)
        {
            case 0:
                plan.Shape = (PlanShape)Elementary.Clamp((int)plan.Shape + direction, 0, (int)PlanShape.Bracket);
                if (plan.Shape == PlanShape.Bracket) plan.Frames = 3;
                else if (plan.Shape == PlanShape.Burst && plan.Frames > ShotPlan.MostBurst) plan.Frames = ShotPlan.MostBurst;
                break;
            case 1:
                plan.SettleUs = MovedMs(plan.SettleUs, direction, 500 * stride, 0, 60_000);
                break;
            case 2:
                _settings.AlwaysBulb = !_settings.AlwaysBulb;
                break;
            case 3:
                if (plan.Shape == PlanShape.HeldDrive) plan.HoldUs = MovedMs(plan.HoldUs, direction, 100 * stride, 100, 60_000);
                else if (plan.Shape == PlanShape.Bracket) plan.Frames = Moved(plan.Frames, direction, 2, 3, 7) | 1;
                else plan.Frames = Moved(plan.Frames, direction, stride, 1, plan.Shape == PlanShape.Burst ? ShotPlan.MostBurst : ShotPlan.MostSeries);
                break;
            case 4:
                if (plan.Shape == PlanShape.Series) plan.IntervalUs = MovedMs(plan.IntervalUs, direction, 500 * stride, 500, 3_600_000);
                else plan.GapUs = MovedMs(plan.GapUs, direction, 100 * stride, 0, 60_000);
                break;
            default:
                plan.BracketThirds = Elementary.Clamp(plan.BracketThirds + direction, 1, 9);
                break;
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        ShotPlan plan = Plan;
        frame.Text(0, 12, Headline(plan), Font.Medium);
        frame.Text(0, 28, Detail(plan), Font.Small);
        string settle = "settle " + MicrosText(plan.SettleUs);
        frame.Text(0, 38, CardPainter.Shorter(settle + ", " + (_settings.AlwaysBulb ? "all on bulb" : "dial to 30 s"), settle), Font.Small);
        // A series keeps one exposure; what the light would ask of the next frame is for the photographer to weigh.
        double next = _shore.Dawn.Applies ? _shore.Dawn.NextSeconds : 0;
        if (next > 0) frame.Text(0, 47, "dawn: next frame " + Core.Exposure.ExposureText.Seconds(next), Font.Small);
        bool filled = _shore.Dawn.Fill(plan);
        string? fault = filled ? plan.FaultWithin(_settings.LimitSeconds) : "No exposure: see LIGHT";
        if (fault != null) fault = CardPainter.Shorter(fault, "Fire says why it cannot");
        frame.Text(0, 56, fault ?? "Fire starts: " + Core.Exposure.ExposureText.Seconds(plan.ExposureUs / 1e6), Font.Small);
    }

    private static string Headline(ShotPlan plan) => plan.Shape switch
    {
        PlanShape.Single => "One frame",
        PlanShape.Burst => "Burst of " + plan.Frames.ToString(),
        PlanShape.HeldDrive => "Held drive",
        PlanShape.Series => "Series of " + plan.Frames.ToString(),
        _ => "Bracket of " + plan.Frames.ToString(),
    };

    private static string Detail(ShotPlan plan) => plan.Shape switch
    {
        PlanShape.Single => "Select to change",
        PlanShape.Burst => CardPainter.Shorter(MicrosText(plan.GapUs) + " between frames", "gap " + MicrosText(plan.GapUs)),
        PlanShape.HeldDrive => "contact held " + MicrosText(plan.HoldUs),
        PlanShape.Series => "every " + MicrosText(plan.IntervalUs),
        _ => "in steps of " + StepText(plan) + ", on bulb",
    };

    // A step has no sign: it goes both ways.
    private static string StepText(ShotPlan plan) => Core.Exposure.ExposureText.Thirds(plan.BracketThirds).TrimStart('+') + " st";

    private static string ShapeText(PlanShape shape) => shape switch
    {
        PlanShape.Single => "one frame",
        PlanShape.Burst => "burst",
        PlanShape.HeldDrive => "held drive",
        PlanShape.Series => "series",
        _ => "bracket",
    };

    private static string ShapeNote(PlanShape shape) => shape switch
    {
        PlanShape.Burst => "each a gap after the last",
        PlanShape.HeldDrive => "camera on continuous drive",
        PlanShape.Series => "at a set interval",
        PlanShape.Bracket => "around the answer, on bulb",
        _ => "",
    };

    private static long MovedMs(long valueUs, int direction, int stepMs, int lowMs, int highMs) =>
        Moved((int)(valueUs / 1000), direction, stepMs, lowMs, highMs) * 1000L;
}
