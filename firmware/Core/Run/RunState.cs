namespace Intervalometer.Core.Run;

/// <summary>What the box is doing with the camera.</summary>
public enum RunState
{
    /// <summary>It does nothing and is ready.</summary>
    Ready = 0,

    /// <summary>A plan plays, from its settling time to its last frame.</summary>
    Plan = 1,

    /// <summary>A run on the waves waits for the next mark.</summary>
    AwaitMark = 2,

    /// <summary>A run on the waves waits for the moment that was forecast, or for the end of the delay after the mark.</summary>
    AwaitWave = 3,

    /// <summary>A run on the waves is taking the frames of one wave.</summary>
    OnWave = 4,

    /// <summary>There is no forecast, or it is too old. Nothing fires until a wave is marked.</summary>
    AskMark = 5,

    /// <summary>The run came to its end.</summary>
    Done = 6,

    /// <summary>The user stopped the run.</summary>
    Stopped = 7,

    /// <summary>The box stopped the run by itself; both lines are open.</summary>
    Failed = 8,
}
