namespace Intervalometer.Core.Release;

/// <summary>Takes what became of the frames, from the writes of the contacts and not from the plan.</summary>
public interface IFrameNotes
{
    /// <summary>A run begins: what is told of the frames is of this run.</summary>
    void BeginRun();

    /// <summary>The shutter contact has opened after a frame. Allocates nothing.</summary>
    /// <param name="startUs">When the shutter opened: the contact's closing and the camera's lag, µs.</param>
    /// <param name="exposureUs">How long it was open, µs; as planned when the camera's own dial times it.</param>
    /// <param name="lateUs">How much later than planned the contact closed, µs.</param>
    /// <param name="overUs">How much longer than planned the shutter was open, or the contact held, µs.</param>
    /// <param name="cutShort">True when the exposure was stopped.</param>
    /// <param name="doubtful">True when the board stood still so long that its limiter may have opened the contact.</param>
    void Add(long startUs, long exposureUs, long lateUs, long overUs, bool cutShort, bool doubtful);
}
