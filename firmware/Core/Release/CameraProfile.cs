namespace Intervalometer.Core.Release;

/// <summary>
/// What the box must know of the camera on the other end. All times in milliseconds as a person sets them; the planner
/// turns them into microseconds. Defaults are middling values for a camera in manual mode with a manual lens (common
/// practice, no source); measure your own with the virtual camera's settings as a guide.
/// </summary>
public sealed class CameraProfile
{
    /// <summary>Half-press before the shutter contact, 0 to 5000 ms: wakes the camera.</summary>
    public int HalfPressLeadMs { get; set; } = 300;

    /// <summary>From the shutter contact closing to the shutter opening, 0 to 1000 ms.</summary>
    public int ShutterLagMs { get; set; } = 60;

    /// <summary>Least time from a frame's end to the next closing of the shutter contact, 40 to 5000 ms; the release circuit needs no less (<see cref="ReleaseLimits.MinimumGapUs"/>).</summary>
    public int MinimumGapMs { get; set; } = 200;

    /// <summary>How long the shutter contact stays closed for an exposure that the camera times itself, 30 to 1000 ms (<see cref="ReleaseLimits.MinimumClosureUs"/>).</summary>
    public int PulseMs { get; set; } = 120;

    /// <summary>True when the camera takes a dark frame of equal length after exposures of a second or more, and is busy meanwhile.</summary>
    public bool DarkFrame { get; set; }

    /// <summary>True when a first press only raises the mirror and a second one exposes.</summary>
    public bool MirrorLockUp { get; set; }

    /// <summary>From the mirror-raising press to the exposing one, 200 to 10000 ms.</summary>
    public int MirrorSettleMs { get; set; } = 2000;

    /// <summary>Takes over every value of another profile. Allocates nothing.</summary>
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

    /// <summary>Shortest exposure that takes a dark frame, µs: one second (common practice, no source).</summary>
    public const long DarkFrameFromUs = 1_000_000;
}
