namespace Intervalometer.Core.Release;

/// <summary>What the player is doing.</summary>
public enum PlayerState
{
    /// <summary>There is nothing to play. Both lines are open, or half-press is held on purpose.</summary>
    Idle = 0,

    /// <summary>Edges wait or are being written.</summary>
    Playing = 1,

    /// <summary>A plan has played to its end.</summary>
    Finished = 2,

    /// <summary>The user has stopped it, and both lines were opened.</summary>
    Stopped = 3,

    /// <summary>The player has stopped by itself, and both lines were opened. See <see cref="ReleasePlayer.Failure"/>.</summary>
    Failed = 4,
}

/// <summary>Why the player has stopped by itself.</summary>
public enum PlayerFailure
{
    /// <summary>It has not stopped by itself.</summary>
    None = 0,

    /// <summary>An edge that closes a contact was reached later than <see cref="ReleasePlayer.LatestUs"/> after its time.</summary>
    TooLate = 1,

    /// <summary>The shutter contact was about to close and no edge was queued to open it.</summary>
    NoOpeningEdge = 2,

    /// <summary>The limiter does not feed the couplers, so no contact can close.</summary>
    LimiterOff = 3,
}
