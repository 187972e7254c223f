namespace Intervalometer.Core.Release;

/// <summary>What an edge means for the frame it belongs to.</summary>
public enum EdgeStep
{
    /// <summary>It means nothing for a frame: it belongs to half-press or to the pulse that raises the mirror.</summary>
    None = 0,

    /// <summary>The shutter contact closes, and a frame starts after the camera's lag.</summary>
    FrameStarts = 1,

    /// <summary>The shutter contact opens after a frame. A camera that times the frame by its own dial may still be exposing.</summary>
    FrameReleased = 2,
}
