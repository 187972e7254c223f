namespace Intervalometer.Core.Release;

/// <summary>Where the player stands.</summary>
public enum PlayerState
{
    /// <summary>Nothing to play; both lines are open, or half-press is held on purpose.</summary>
    Idle = 0,

    /// <summary>Edges wait or play.</summary>
    Playing = 1,

    /// <summary>A plan has played to its end.</summary>
    Finished = 2,

    /// <summary>Stopped by the user; both lines were opened.</summary>
    Stopped = 3,

    /// <summary>Stopped by the player itself; both lines were opened. See <see cref="ReleasePlayer.Failure"/>.</summary>
    Failed = 4,
}

/// <summary>Why the player stopped by itself.</summary>
public enum PlayerFailure
{
    /// <summary>It did not.</summary>
    None = 0,

    /// <summary>An edge that closes a contact came up too late to be worth taking.</summary>
    TooLate = 1,

    /// <summary>The shutter contact was closed and nothing was queued to open it.</summary>
    NoOpeningEdge = 2,

    /// <summary>The limiter does not feed the couplers, so that no contact closes.</summary>
    LimiterOff = 3,
}
