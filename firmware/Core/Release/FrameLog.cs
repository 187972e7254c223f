namespace Intervalometer.Core.Release;

/// <summary>The last frames as planned, in fixed memory: when the shutter was to open and for how long.</summary>
public sealed class FrameLog
{
    /// <summary>Frames kept.</summary>
    public const int Capacity = 64;

    private readonly long[] _startUs = new long[Capacity];
    private readonly long[] _exposureUs = new long[Capacity];

    /// <summary>Frames noted since the board started.</summary>
    public int Total { get; private set; }

    /// <summary>Notes a frame. Allocates nothing.</summary>
    /// <param name="startUs">When the shutter is planned to open, µs.</param>
    /// <param name="exposureUs">The planned exposure, µs.</param>
    public void Add(long startUs, long exposureUs)
    {
        int at = Total % Capacity;
        _startUs[at] = startUs;
        _exposureUs[at] = exposureUs;
        Total++;
    }

    /// <summary>True when frame <paramref name="index"/> (0 = first since start) is still kept.</summary>
    public bool Has(int index) => index >= 0 && index < Total && index >= Total - Capacity;

    /// <summary>Planned opening of a kept frame, µs.</summary>
    public long StartUs(int index) => _startUs[index % Capacity];

    /// <summary>Planned exposure of a kept frame, µs.</summary>
    public long ExposureUs(int index) => _exposureUs[index % Capacity];

    /// <summary>Planned opening of the last frame, µs; 0 when there is none.</summary>
    public long LastStartUs => Total == 0 ? 0 : StartUs(Total - 1);

    /// <summary>Planned exposure of the last frame, µs; 0 when there is none.</summary>
    public long LastExposureUs => Total == 0 ? 0 : ExposureUs(Total - 1);

    /// <summary>Planned end of the last frame's exposure, µs; 0 when there is none.</summary>
    public long LastEndUs => Total == 0 ? 0 : StartUs(Total - 1) + ExposureUs(Total - 1);
}
