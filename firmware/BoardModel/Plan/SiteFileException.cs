namespace Intervalometer.VirtualBoard.Plan;

/// <summary>What is wrong with a line of a site file.</summary>
/// <param name="Line">Its number from 1; 0 when the whole file is meant.</param>
/// <param name="Words">Where, what, and what to do, in one line.</param>
public sealed record SiteMistake(int Line, string Words);

/// <summary>A site file that cannot be used. The message has one line for each mistake, in the order of the file.</summary>
public sealed class SiteFileException : Exception
{
    /// <summary>All mistakes of a file.</summary>
    public SiteFileException(IReadOnlyList<SiteMistake> mistakes) : base(string.Join('\n', mistakes.Select(mistake => mistake.Words))) => Mistakes = mistakes;

    /// <summary>A mistake that belongs to no line.</summary>
    public SiteFileException(string message) : this([new SiteMistake(0, OneLine.Of(message))])
    {
    }

    /// <summary>Every mistake.</summary>
    public IReadOnlyList<SiteMistake> Mistakes { get; }

    /// <summary>The first mistake, and how many follow, in one line.</summary>
    public string Short => Mistakes.Count == 1 ? Mistakes[0].Words : $"{Mistakes[0].Words} Mistakes besides: {Mistakes.Count - 1}.";
}
