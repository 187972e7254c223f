using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Contacts that record every change in fixed memory.</summary>
public sealed class NotedLines : IReleaseLines
{
    /// <summary>The most changes that can be recorded.</summary>
    public const int Capacity = 512;

    private readonly long[] _atUs = new long[Capacity];
    private readonly int[] _code = new int[Capacity];

    /// <summary>The time that is recorded with a change, µs.</summary>
    public long NowUs { get; set; }

    /// <summary>How many changes were recorded.</summary>
    public int Count { get; private set; }

    /// <summary>True while half-press is closed.</summary>
    public bool HalfPress { get; private set; }

    /// <summary>True while the shutter contact is closed.</summary>
    public bool Shutter { get; private set; }

    /// <summary>When change number <paramref name="index"/> happened, µs.</summary>
    public long AtUs(int index) => _atUs[index];

    /// <summary>What happened: "H+" half-press closed, "H-" opened, "S+" shutter closed, "S-" opened.</summary>
    public string What(int index) => _code[index] switch { 0 => "H-", 1 => "H+", 2 => "S-", _ => "S+" };

    /// <summary>The time of the n-th change of the shutter contact.</summary>
    public long ShutterEdgeUs(int n)
    {
        int seen = 0;
        for (int i = 0; i < Count; i++)
        {
            if (_code[i] < 2) continue;
            if (seen == n) return _atUs[i];
            seen++;
        }
        return -1;
    }

    /// <summary>All changes in a row, such as "H+ S+ S- H-".</summary>
    public string Story()
    {
        string story = "";
        for (int i = 0; i < Count; i++) story += (i > 0 ? " " : "") + What(i);
        return story;
    }

    /// <inheritdoc/>
    public void Set(ReleaseLine line, bool closed)
    {
        bool shutter = line == ReleaseLine.Shutter;
        if (shutter) Shutter = closed;
        else HalfPress = closed;
        Note((shutter ? 2 : 0) + (closed ? 1 : 0));
    }

    /// <inheritdoc/>
    public void OpenAll()
    {
        if (Shutter) Note(2);
        if (HalfPress) Note(0);
        Shutter = false;
        HalfPress = false;
    }

    private void Note(int code)
    {
        if (Count == Capacity) return;
        _atUs[Count] = NowUs;
        _code[Count] = code;
        Count++;
    }
}

/// <summary>A run desk on recording lines, stepped through time as a release loop does.</summary>
public sealed class Bench
{
    /// <summary>Time of one pass away from edges, µs.</summary>
    public const long TickUs = 10_000;

    /// <summary>Creates the bench with all delays at 0, so that edges fall on their planned times.</summary>
    public Bench()
    {
        Lines = new NotedLines();
        Link = new RunLink(Lines);
        Desk = Link.Desk;
        Desk.Player.WriteAheadUs = 0;
        Desk.Player.CloseDelayUs = 0;
        Desk.Player.OpenDelayUs = 0;
    }

    /// <summary>The contacts.</summary>
    public NotedLines Lines { get; }

    /// <summary>The link, with its panel side free for a test.</summary>
    public RunLink Link { get; }

    /// <summary>The desk.</summary>
    public RunDesk Desk { get; }

    /// <summary>The time, µs.</summary>
    public long NowUs { get; private set; }

    /// <summary>Runs to a time: a pass every tick, and one at every edge.</summary>
    public void RunTo(long untilUs)
    {
        while (NowUs < untilUs)
        {
            long next = NowUs + TickUs;
            long edge = Desk.NextEdgeUs;
            if (edge > NowUs && edge < next) next = edge;
            if (next > untilUs) next = untilUs;
            NowUs = next;
            Lines.NowUs = next;
            Link.Pass(next);
        }
    }

    /// <summary>Nothing runs for a while, as when the bus hangs; then comes a pass.</summary>
    public void StandStill(long us)
    {
        NowUs += us;
        Lines.NowUs = NowUs;
        Link.StoodStill(NowUs, us);
        Link.Pass(NowUs);
    }

    /// <summary>Marks a wave now.</summary>
    public void Mark()
    {
        Link.Mark(NowUs, NowUs);
        Link.Pass(NowUs);
    }

    /// <summary>Presses Mark now and lets it go after a while.</summary>
    public void HoldMark(long forUs)
    {
        Mark();
        RunTo(NowUs + forUs);
        Link.MarkReleased(forUs);
    }

    /// <summary>Marks waves at a steady period, the first at a given time.</summary>
    public void MarkSteadily(long firstUs, long periodUs, int marks)
    {
        for (int i = 0; i < marks; i++)
        {
            RunTo(firstUs + i * periodUs);
            Mark();
        }
    }
}
