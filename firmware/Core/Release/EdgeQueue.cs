using System;

namespace Intervalometer.Core.Release;

/// <summary>
/// A first-in first-out queue of line edges in fixed memory. A whole frame is added at once, so that an edge which closes a contact is
/// never queued without the edge that opens it again.
/// </summary>
public sealed class EdgeQueue
{
    /// <summary>The most edges it holds. One frame takes at most <see cref="PlanCompiler.MostEdgesPerFrame"/>.</summary>
    public const int Capacity = 2 * PlanCompiler.MostEdgesPerFrame;

    private const int ClosesBit = 2;
    private const int StepShift = 2;

    private readonly long[] _atUs = new long[Capacity];
    // The lowest bit is the contact, the next bit says whether it closes, and the step stands above them.
    private readonly byte[] _what = new byte[Capacity];
    private readonly long[] _exposureUs = new long[Capacity];
    private int _head;

    /// <summary>How many edges wait, 0 to <see cref="Capacity"/>.</summary>
    public int Count { get; private set; }

    /// <summary>How many more edges fit.</summary>
    public int Free => Capacity - Count;

    /// <summary>Time of the next edge, µs; long.MaxValue when empty.</summary>
    public long NextUs => Count == 0 ? long.MaxValue : _atUs[_head];

    /// <summary>The contact of the next edge; meaningless when the queue is empty.</summary>
    public ReleaseLine NextLine => (ReleaseLine)(_what[_head] & 1);

    /// <summary>True when the next edge closes its contact; meaningless when the queue is empty.</summary>
    public bool NextCloses => (_what[_head] & ClosesBit) != 0;

    /// <summary>What the next edge means for its frame; meaningless when the queue is empty.</summary>
    public EdgeStep NextStep => (EdgeStep)(_what[_head] >> StepShift);

    /// <summary>The planned exposure, µs, when the next edge starts a frame; else 0.</summary>
    public long NextExposureUs => _exposureUs[_head];

    /// <summary>Drops every edge.</summary>
    public void Clear()
    {
        _head = 0;
        Count = 0;
    }

    /// <summary>Adds an edge behind those that wait. Its time must not be before that of the last one.</summary>
    /// <exception cref="InvalidOperationException">The queue is full, or the edge is out of order.</exception>
    public void Add(long atUs, ReleaseLine line, bool closed, EdgeStep step, long exposureUs)
    {
        if (Count == Capacity) throw new InvalidOperationException("edge queue full");
        int tail = _head + Count;
        if (tail >= Capacity) tail -= Capacity;
        if (Count > 0)
        {
            int last = tail == 0 ? Capacity - 1 : tail - 1;
            if (atUs < _atUs[last]) throw new InvalidOperationException("edge out of order");
        }
        _atUs[tail] = atUs;
        _what[tail] = (byte)((int)line | (closed ? ClosesBit : 0) | ((int)step << StepShift));
        _exposureUs[tail] = exposureUs;
        Count++;
    }

    /// <summary>Drops the next edge.</summary>
    /// <exception cref="InvalidOperationException">The queue is empty.</exception>
    public void Drop()
    {
        if (Count == 0) throw new InvalidOperationException("edge queue empty");
        _head++;
        if (_head == Capacity) _head = 0;
        Count--;
    }

    /// <summary>Moves every edge that waits.</summary>
    /// <param name="us">By how much, µs; below zero moves them forward.</param>
    public void Shift(long us)
    {
        int i = _head;
        for (int n = 0; n < Count; n++)
        {
            _atUs[i] += us;
            i++;
            if (i == Capacity) i = 0;
        }
    }

    /// <summary>Gives the one frame that has not started another exposure. The edges after its start move with its end.</summary>
    /// <param name="exposureUs">The exposure, µs.</param>
    public void Retime(long exposureUs)
    {
        long more = 0;
        int i = _head;
        for (int n = 0; n < Count; n++)
        {
            _atUs[i] += more;
            if (_what[i] >> StepShift == (int)EdgeStep.FrameStarts)
            {
                more = exposureUs - _exposureUs[i];
                _exposureUs[i] = exposureUs;
            }
            i++;
            if (i == Capacity) i = 0;
        }
    }

    /// <summary>When the next waiting frame is to start, µs; long.MaxValue when no frame waits.</summary>
    public long NextFrameUs
    {
        get
        {
            int i = _head;
            for (int n = 0; n < Count; n++)
            {
                if (_what[i] >> StepShift == (int)EdgeStep.FrameStarts) return _atUs[i];
                i++;
                if (i == Capacity) i = 0;
            }
            return long.MaxValue;
        }
    }

    /// <summary>True when an edge that opens this contact waits.</summary>
    public bool WillOpen(ReleaseLine line)
    {
        int i = _head;
        for (int n = 0; n < Count; n++)
        {
            if ((_what[i] & (ClosesBit | 1)) == (int)line) return true;
            i++;
            if (i == Capacity) i = 0;
        }
        return false;
    }
}
