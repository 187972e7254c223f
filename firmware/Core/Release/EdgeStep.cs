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
