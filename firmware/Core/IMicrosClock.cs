namespace Intervalometer.Core;

/// <summary>A monotonic clock in microseconds since the board started. It is always handed in, because Core has no clock of its own.</summary>
public interface IMicrosClock
{
    /// <summary>Microseconds since the board started, never decreasing, 0 or above.</summary>
    long NowUs { get; }
}
