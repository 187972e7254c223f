namespace Intervalometer.VirtualBoard.Study;

/// <summary>How a study plays many boards at once.</summary>
public static class OnePerProcessor
{
    /// <summary>One board for each processor. Left to itself, the pool adds threads while boards play for long, and they take the PC from everything else.</summary>
    public static ParallelOptions Options { get; } = new() { MaxDegreeOfParallelism = Environment.ProcessorCount };
}
