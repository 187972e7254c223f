namespace Intervalometer.VirtualBoard.Camera;

/// <summary>How long the sensor stays open, and who decides.</summary>
public enum CameraDial
{
    /// <summary>The camera times the exposure itself, as set on its dial.</summary>
    Timed,
    /// <summary>Bulb: open for as long as the contact is closed.</summary>
    Bulb,
}

/// <summary>A manual camera. Times are estimates of a typical body (common practice, no source), all adjustable.</summary>
public sealed record CameraOptions
{
    /// <summary>Dial position.</summary>
    public CameraDial Dial { get; init; } = CameraDial.Bulb;

    /// <summary>True time of the dial's setting, s (a dial that reads 1/60 gives 2^-6), above 0.</summary>
    public double DialSeconds { get; init; } = 1;

    /// <summary>From the contact closing to the sensor opening, ms; in bulb also from the contact opening to the sensor closing.</summary>
    public double LagMs { get; init; } = 60;

    /// <summary>A contact must keep its new state this long to count, ms; less than the lag.</summary>
    public double DebounceMs { get; init; } = 5;

    /// <summary>Time to wake after the first contact, ms.</summary>
    public double WakeMs { get; init; } = 200;

    /// <summary>Falls asleep after this long without a contact or exposure, s.</summary>
    public double SleepAfterSeconds { get; init; } = 60;

    /// <summary>True when the shutter contact does nothing unless half-press is closed too.</summary>
    public bool NeedsHalfPress { get; init; } = true;

    /// <summary>Held contact takes frame after frame (dial mode only).</summary>
    public bool Continuous { get; init; }

    /// <summary>Frames a second at most while held.</summary>
    public double FramesPerSecond { get; init; } = 3;

    /// <summary>First press raises the mirror, second exposes.</summary>
    public bool MirrorLockUp { get; init; }

    /// <summary>A raised mirror drops again by itself after this, s.</summary>
    public double MirrorDropsSeconds { get; init; } = 30;

    /// <summary>Frames that fit the buffer, 1 or more.</summary>
    public int BufferFrames { get; init; } = 12;

    /// <summary>Time to store one frame, s.</summary>
    public double StoreSeconds { get; init; } = 0.8;

    /// <summary>After an exposure of 1 s or longer the camera takes an equally long dark frame and ignores presses.</summary>
    public bool DarkFrame { get; init; }
}
