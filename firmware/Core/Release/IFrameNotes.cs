namespace Intervalometer.Core.Release;

/// <summary>Records what became of the frames, as the contacts were written and not as it was planned.</summary>
public interface IFrameNotes
{
    /// <summary>A run begins, and the figures of the run before it are dropped.</summary>
    void BeginRun();

    /// <summary>Records a frame after which the shutter contact has opened. Allocates nothing.</summary>
    /// <param name="startUs">When the shutter opened, which is the closing of the contact plus the camera's lag, µs.</param>
    /// <param name="exposureUs">How long the shutter was open, µs; the planned time when the camera's own dial times it.</param>
    /// <param name="lateUs">How much later than planned the contact closed, µs.</param>
    /// <param name="overUs">How much longer than planned the shutter was open, or the contact was held, µs.</param>
    /// <param name="cutShort">True when a stop ended the exposure.</param>
    /// <param name="doubtful">True when the board stood still so long that its limiter may have opened the contact.</param>
    void Add(long startUs, long exposureUs, long lateUs, long overUs, bool cutShort, bool doubtful);
}
