using Intervalometer.Core;

namespace Intervalometer.VirtualBoard.Pins;

/// <summary>Every change of every line, in time order. A repeated state is not a change and is not kept.</summary>
public sealed class LineLog(IMicrosClock clock)
{
    private readonly bool[] _now = new bool[Enum.GetValues<Line>().Length];
    private readonly List<LineChange> _changes = [];

    /// <summary>All changes so far. Every line began at 0.</summary>
    public IReadOnlyList<LineChange> Changes => _changes;

    /// <summary>The present state of a line.</summary>
    public bool this[Line line] => _now[(int)line];

    /// <summary>Records the present state of a line.</summary>
    public void Set(Line line, bool on)
    {
        if (_now[(int)line] == on) return;
        _now[(int)line] = on;
        _changes.Add(new LineChange(clock.NowUs, line, on));
    }
}
