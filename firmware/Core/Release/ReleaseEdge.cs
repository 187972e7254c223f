namespace Intervalometer.Core.Release;

/// <summary>What an edge means for the frame it belongs to.</summary>
public enum EdgeStep
{
    /// <summary>Nothing: half-press, or the pulse that raises a mirror.</summary>
    None = 0,

    /// <summary>The shutter contact closes and a frame starts after the camera's lag.</summary>
    FrameStarts = 1,

    /// <summary>The shutter contact opens at the end of a frame's turn; a camera on its own dial may still be exposing.</summary>
    FrameReleased = 2,
}

/// <summary>One change of one contact at one time.</summary>
public readonly struct ReleaseEdge
{
    /// <summary>Creates an edge.</summary>
    /// <param name="atUs">When, µs on the board's clock.</param>
    /// <param name="line">Which contact.</param>
    /// <param name="closed">True to close the contact, false to open it.</param>
    /// <param name="step">What it means for its frame.</param>
    /// <param name="exposureUs">On a frame's start the planned exposure, µs; else 0.</param>
    public ReleaseEdge(long atUs, ReleaseLine line, bool closed, EdgeStep step, long exposureUs)
    {
        Step = step;
        ExposureUs = exposureUs;
        AtUs = atUs;
        Line = line;
        Closed = closed;
    }

    /// <summary>When, µs on the board's clock.</summary>
    public long AtUs { get; }

    /// <summary>Which contact.</summary>
    public ReleaseLine Line { get; }

    /// <summary>True to close the contact, false to open it.</summary>
    public bool Closed { get; }

    /// <summary>What it means for its frame.</summary>
    public EdgeStep Step { get; }

    /// <summary>On a frame's start the planned exposure, µs; else 0.</summary>
    public long ExposureUs { get; }
}
