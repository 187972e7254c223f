namespace Intervalometer.Core.Link;

/// <summary>
/// A queue of button events, presses and releases, from the release thread to the panel thread, in fixed memory. Each of the two counts
/// is written by one thread only.
/// </summary>
public sealed class PressRing
{
    /// <summary>The bits of an event's code that hold the button.</summary>
    public const int ButtonBits = 7;

    /// <summary>This bit is set when the button went down and clear when it came up.</summary>
    public const int Down = 8;

    /// <summary>The press has stopped a run or cancelled a start, so the panel must do nothing with it.</summary>
    public const int Spent = 16;

    /// <summary>The press has started a run.</summary>
    public const int Started = 32;

    private const int Size = 32;

    private readonly long[] _atUs = new long[Size];
    private readonly byte[] _code = new byte[Size];
    private int _put;
    private int _taken;
    private int _asked;

    /// <summary>How many events have been put in since the start.</summary>
    public int Put => _put;

    /// <summary>How many events have been taken out since the start.</summary>
    public int Taken => _taken;

    /// <summary>The value of <see cref="Put"/> after the last event that may change what Fire does.</summary>
    public int Asked => _asked;

    /// <summary>Puts an event in; the release thread calls it. An event is lost when the ring is full, which happens only when the panel thread hangs.</summary>
    /// <param name="code">The button and the bits above.</param>
    /// <param name="atUs">When the event happened, µs.</param>
    /// <param name="asks">True when the event may change what Fire does.</param>
    public void Add(int code, long atUs, bool asks)
    {
        if (_put - _taken >= Size) return;
        _atUs[_put % Size] = atUs;
        _code[_put % Size] = (byte)code;
        _put++;
        if (asks) _asked = _put;
    }

    /// <summary>Takes the oldest event out; the panel thread calls it. Returns false when there is none.</summary>
    public bool TryTake(out int code, out long atUs)
    {
        code = 0;
        atUs = 0;
        if (_taken == _put) return false;
        code = _code[_taken % Size];
        atUs = _atUs[_taken % Size];
        _taken++;
        return true;
    }
}
