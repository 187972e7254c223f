namespace Intervalometer.Core.Release;

/// <summary>
/// What the box must know of the camera. All times are in milliseconds, as a person sets them; the plan compiler turns them into
/// microseconds. The defaults are middling values for a camera in manual mode with a manual lens (common practice, no source). Measure
/// those of your own camera, with the settings of the virtual camera as a guide.
/// </summary>
public sealed class CameraProfile
{
    /// <summary>How long half-press is closed before the shutter contact closes, 0 to 5000 ms. This wakes the camera.</summary>
    public int HalfPressLeadMs { get; set; } = 300;

    /// <summary>The time from the closing of the shutter contact to the opening of the shutter, 0 to 1000 ms.</summary>
    public int ShutterLagMs { get; set; } = 60;

    /// <summary>The least time from the end of a frame to the next closing of the shutter contact, 40 to 5000 ms. The release circuit allows no less than 40 ms (<see cref="ReleaseLimits.MinimumGapUs"/>).</summary>
    public int MinimumGapMs { get; set; } = 200;

    /// <summary>How long the shutter contact stays closed for an exposure that the camera times itself, 30 to 1000 ms (<see cref="ReleaseLimits.MinimumClosureUs"/>).</summary>
    public int PulseMs { get; set; } = 120;

    /// <summary>True when the camera takes a dark frame of equal length after exposures of a second or more and cannot expose meanwhile.</summary>
    public bool DarkFrame { get; set; }

    /// <summary>True when the first press only raises the mirror and a second one exposes.</summary>
    public bool MirrorLockUp { get; set; }

    /// <summary>The time from the press that raises the mirror to the one that exposes, 200 to 10000 ms.</summary>
    public int MirrorSettleMs { get; set; } = 2000;

    /// <summary>Copies every value of another profile. Allocates nothing.</summary>
    public void CopyFrom(CameraProfile other)
    {
        HalfPressLeadMs = other.HalfPressLeadMs;
        ShutterLagMs = other.ShutterLagMs;
        MinimumGapMs = other.MinimumGapMs;
        PulseMs = other.PulseMs;
        DarkFrame = other.DarkFrame;
        MirrorLockUp = other.MirrorLockUp;
        MirrorSettleMs = other.MirrorSettleMs;
    }

    /// <summary>The shortest exposure after which the camera takes a dark frame, µs: one second (common practice, no source).</summary>
    public const long DarkFrameFromUs = 1_000_000;
}
