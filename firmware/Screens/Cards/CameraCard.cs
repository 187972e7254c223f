using Intervalometer.Core.Release;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Cards;

/// <summary>The camera on the cable.</summary>
public sealed class CameraCard : Card
{
    private readonly BoxSettings _settings;

    /// <summary>Creates the card.</summary>
    public CameraCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <inheritdoc/>
    public override string Name => "CAMERA";

    /// <inheritdoc/>
    public override int FieldCount => 7;

    private CameraProfile Camera => _settings.Camera;

    /// <inheritdoc/>
    public override string Label(int field) => field switch
    {
        0 => "Half-press lead",
        1 => "Shutter lag",
        2 => "Least gap",
        3 => "Press length on dial",
        4 => "Dark frame",
        5 => "Mirror lock-up",
        _ => "Mirror settles",
    };

    /// <inheritdoc/>
    public override string Value(int field) => field switch
    {
        0 => Camera.HalfPressLeadMs.ToString() + " ms",
        1 => Camera.ShutterLagMs.ToString() + " ms",
        2 => Camera.MinimumGapMs.ToString() + " ms",
        3 => Camera.PulseMs.ToString() + " ms",
        4 => OnOff(Camera.DarkFrame),
        5 => OnOff(Camera.MirrorLockUp),
        _ => Camera.MirrorSettleMs.ToString() + " ms",
    };

    /// <inheritdoc/>
    public override string Note(int field) => field switch
    {
        0 => "wakes a sleeping camera",
        1 => "contact to shutter open",
        4 => Camera.DarkFrame ? "next frame waits as long" : "off in the camera too?",
        5 => Camera.MirrorLockUp ? "two presses a frame" : "",
        _ => "",
    };

    /// <inheritdoc/>
    public override void Change(int field, int direction, int repeats)
    {
        CameraProfile camera = Camera;
        int stride = Stride(repeats);
        switch (field)
        {
            case 0: camera.HalfPressLeadMs = Moved(camera.HalfPressLeadMs, direction, 50 * stride, 0, 5000); break;
            case 1: camera.ShutterLagMs = Moved(camera.ShutterLagMs, direction, 5 * stride, 0, 1000); break;
            case 2: camera.MinimumGapMs = Moved(camera.MinimumGapMs, direction, 10 * stride, ReleaseLimits.MinimumGapUs / 1000, 5000); break;
            case 3: camera.PulseMs = Moved(camera.PulseMs, direction, 10 * stride, ReleaseLimits.MinimumClosureUs / 1000, 1000); break;
            case 4: camera.DarkFrame = !camera.DarkFrame; break;
            case 5: camera.MirrorLockUp = !camera.MirrorLockUp; break;
            default: camera.MirrorSettleMs = Moved(camera.MirrorSettleMs, direction, 100 * stride, 200, 10_000); break;
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        CardPainter.Row(frame, 11, "half-press lead", Value(0));
        CardPainter.Row(frame, 20, "shutter lag", Value(1));
        CardPainter.Row(frame, 29, "least gap", Value(2));
        CardPainter.Row(frame, 38, "dark frame", Value(4));
        CardPainter.Row(frame, 47, "mirror lock-up", Value(5));
        frame.Text(0, 56, "Select to change", Font.Small);
    }
}
