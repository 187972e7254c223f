using Intervalometer.Core.Release;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The times and habits of the camera on the cable.</summary>
public sealed class CameraCard : Card
{
    private const string Ms = " ms";

    private readonly BoxSettings _settings;

    /// <summary>Creates the card.</summary>
    public CameraCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <inheritdoc/>
    public override string Name => "CAMERA";

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        CameraProfile camera = _settings.Camera;
        int stride = fields.Stride;
        if (fields.Is("Half-press lead"))
        {
            camera.HalfPressLeadMs = fields.Number(camera.HalfPressLeadMs, 50 * stride, 0, 5000, Ms);
            fields.Note = "wakes a sleeping camera";
        }
        if (fields.Is("Shutter lag"))
        {
            camera.ShutterLagMs = fields.Number(camera.ShutterLagMs, 5 * stride, 0, 1000, Ms);
            fields.Note = "contact to shutter open";
        }
        if (fields.Is("Least gap")) camera.MinimumGapMs = fields.Number(camera.MinimumGapMs, 10 * stride, ReleaseLimits.MinimumGapUs / 1000, 5000, Ms);
        if (fields.Is("Press length on dial")) camera.PulseMs = fields.Number(camera.PulseMs, 10 * stride, ReleaseLimits.MinimumClosureUs / 1000, 1000, Ms);
        if (fields.Is("Dark frame"))
        {
            camera.DarkFrame = fields.Switch(camera.DarkFrame);
            fields.Note = camera.DarkFrame ? "next frame waits as long" : "off in the camera too?";
        }
        if (fields.Is("Mirror lock-up"))
        {
            camera.MirrorLockUp = fields.Switch(camera.MirrorLockUp);
            if (camera.MirrorLockUp) fields.Note = "two presses a frame";
        }
        if (fields.Is("Mirror settles")) camera.MirrorSettleMs = fields.Number(camera.MirrorSettleMs, 100 * stride, 200, 10_000, Ms);
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        CameraProfile camera = _settings.Camera;
        CardPainter.Row(frame, Line1Y, "half-press lead", camera.HalfPressLeadMs.ToString() + Ms);
        CardPainter.Row(frame, Line2Y, "shutter lag", camera.ShutterLagMs.ToString() + Ms);
        CardPainter.Row(frame, Line3Y, "least gap", camera.MinimumGapMs.ToString() + Ms);
        CardPainter.Row(frame, Line4Y, "dark frame", OnOff(camera.DarkFrame));
        CardPainter.Row(frame, Line5Y, "mirror lock-up", OnOff(camera.MirrorLockUp));
        frame.Text(LeftX, HintY, "Hold Select: your hand", Font.Small);
    }
}
