namespace Intervalometer.Core.Link;

/// <summary>
/// Presses and releases of the buttons on their way from the release thread to the panel thread, in fixed memory. Each thread
/// writes one of the two counts.
/// </summary>
public sealed class PressRing
{
    /// <summary>The bits of a code that name the button.</summary>
    public const int ButtonBits = 7;

    /// <summary>Set when the button went down, clear when it came up.</summary>
    public const int Down = 8;

    /// <summary>The press has stopped a run, or called off a start: it must do nothing more.</summary>
    public const int Spent = 16;

    /// <summary>The press has started a run.</summary>
    public const int Started = 32;

    private const int Size = 32;

    private readonly long[] _atUs = new long[Size];
    private readonly byte[] _code = new byte[Size];
    private int _put;
    private int _taken;
    private int _asked;

    /// <summary>Events put in since the start.</summary>
    public int Put => _put;

    /// <summary>Events taken out since the start.</summary>
    public int Taken => _taken;

    /// <summary>What <see cref="Put"/> was after the last event that may change what Fire does.</summary>
    public int Asked => _asked;

    /// <summary>Called by the release thread: puts an event in. Lost when the ring is full, which only a panel thread that hangs can bring about.</summary>
    /// <param name="code">The button and the bits.</param>
    /// <param name="atUs">When it happened, µs.</param>
    /// <param name="asks">True when what Fire does may be another after it.</param>
    public void Add(int code, long atUs, bool asks)
    {
        if (_put - _taken >= Size) return;
        _atUs[_put % Size] = atUs;
        _code[_put % Size] = (byte)code;
        _put++;
        if (asks) _asked = _put;
    }

    /// <summary>Called by the panel thread: takes the oldest event. False when there is none.</summary>
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
