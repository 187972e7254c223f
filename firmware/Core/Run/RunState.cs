namespace Intervalometer.Core.Run;

/// <summary>What the box is doing with the camera.</summary>
public enum RunState
{
    /// <summary>Nothing; ready.</summary>
    Ready = 0,

    /// <summary>A plan plays, from its settle delay to its last frame.</summary>
    Plan = 1,

    /// <summary>A run on the waves waits for the next mark.</summary>
    AwaitMark = 2,

    /// <summary>A run on the waves waits for a forecast or delayed moment.</summary>
    AwaitWave = 3,

    /// <summary>A run on the waves is taking the frames of one wave.</summary>
    OnWave = 4,

    /// <summary>The forecast has gone stale or was never there: nothing fires until a wave is marked.</summary>
    AskMark = 5,

    /// <summary>The run came to its end.</summary>
    Done = 6,

    /// <summary>The user stopped the run.</summary>
    Stopped = 7,

    /// <summary>The box stopped the run by itself; both lines are open.</summary>
    Failed = 8,
}
