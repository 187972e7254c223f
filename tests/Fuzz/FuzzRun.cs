using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.Tests.Fuzz;

/// <summary>An input that a target handled wrongly: what happened, and the shortest input found for it.</summary>
internal sealed record Finding(string What, byte[] Input)
{
    public override string ToString() => $"{What}\n    input: {Convert.ToBase64String(Input)}\n    as text: {Text()}";

    private string Text() => new([.. Input.Take(200).Select(b => b is >= 32 and < 127 ? (char)b : '.')]);
}

/// <summary>A search for inputs that break a target. It runs in this process, repeats exactly for the same seed, and is guided by the branches that inputs take.</summary>
internal sealed class FuzzRun
{
    /// <summary>An input that takes more of the processor than this has hung, s; nothing here takes more than milliseconds. A busy PC does not count.</summary>
    private const double HungSeconds = 5;

    private const int MostFindings = 20;

    private readonly Dice _dice;
    private readonly FuzzTarget _target;
    private readonly Mutator _mutator;
    private readonly bool _led;
    private readonly CoverageMap _map = new();
    private readonly List<byte[]> _corpus = [];
    private readonly Dictionary<string, Finding> _findings = [];

    /// <summary>Begins with the seed inputs.</summary>
    /// <param name="target">The target.</param>
    /// <param name="seed">The same seed gives the same search.</param>
    /// <param name="led">False keeps no inputs on the way, so that the search is random, for comparison.</param>
    public FuzzRun(FuzzTarget target, ulong seed, bool led = true)
    {
        _target = target;
        _led = led;
        _dice = new Dice(seed);
        _mutator = new Mutator(_dice, target.Words, target.Longest);
        foreach (byte[] input in target.Seeds)
        {
            _corpus.Add(input);
            Try(input);
        }
        SeedBranches = Branches;
        SeedInputs = _corpus.Count;
    }

    /// <summary>Branches that the seeds take.</summary>
    public int SeedBranches { get; }

    /// <summary>How many seeds there are.</summary>
    public int SeedInputs { get; }

    /// <summary>Branches that all inputs so far take.</summary>
    public int Branches => _map.Branches;

    /// <summary>Inputs kept.</summary>
    public int Inputs => _corpus.Count;

    /// <summary>Inputs tried.</summary>
    public long Tries { get; private set; }

    /// <summary>What went wrong, one of each kind.</summary>
    public IReadOnlyCollection<Finding> Findings => _findings.Values;

    /// <summary>Tries this many inputs.</summary>
    public void Try(long inputs)
    {
        for (long i = 0; i < inputs && _findings.Count < MostFindings; i++)
        {
            byte[] input = _mutator.Change(Pick(), Pick());
            if (Try(input) && _led) _corpus.Add(input);
        }
    }

    /// <summary>The result of a run in one line.</summary>
    public string Summary => $"{_target.Name}: {Tries} inputs, {SeedBranches} branches by {SeedInputs} seeds, {Branches} by {Inputs} inputs, {_findings.Count} findings";

    // Half of the time one of the newest inputs is taken, because what was just found leads further.
    private byte[] Pick()
    {
        int last = _corpus.Count - 1;
        long from = _dice.Whole(0, 1) == 0 ? Math.Max(0, last - 15) : 0;
        return _corpus[(int)_dice.Whole(from, last)];
    }

    private bool Try(byte[] input)
    {
        Tries++;
        _map.Begin();
        TimeSpan began = Environment.CpuUsage.TotalTime;
        string? what = _target.Take(input);
        bool fresh = _map.End();
        double seconds = (Environment.CpuUsage.TotalTime - began).TotalSeconds;
        if (what is null && seconds > HungSeconds) what = $"took {seconds:F0} s of the processor";
        if (what is not null && (!_findings.TryGetValue(what, out Finding? known) || input.Length < known.Input.Length))
            _findings[what] = new Finding(what, input);
        return fresh;
    }
}
