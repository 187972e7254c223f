using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <summary>Makes holds and repeats out of how long a button has been down. Holds no clock; it is told the time.</summary>
public sealed class KeyTimer
{
    /// <summary>A button held this long counts as held, µs.</summary>
    public const long HoldUs = 600_000;

    /// <summary>A button held on for this long has gone a step further, µs.</summary>
    public const long HoldOnUs = 1_600_000;

    /// <summary>From the press to the first repeat, µs.</summary>
    public const long FirstRepeatUs = 450_000;

    /// <summary>From repeat to repeat, µs.</summary>
    public const long RepeatUs = 120_000;

    private const int Buttons = 6;

    private readonly long[] _downUs = new long[Buttons];
    private readonly long[] _repeatUs = new long[Buttons];
    private readonly bool[] _down = new bool[Buttons];
    private readonly bool[] _held = new bool[Buttons];
    private readonly bool[] _heldOn = new bool[Buttons];
    private readonly int[] _repeats = new int[Buttons];

    /// <summary>A button went down.</summary>
    public void Down(Button button, long atUs)
    {
        int i = (int)button;
        _down[i] = true;
        _held[i] = false;
        _heldOn[i] = false;
        _downUs[i] = atUs;
        _repeatUs[i] = atUs + FirstRepeatUs;
        _repeats[i] = 0;
    }

    /// <summary>A button came up. True when it had not been down long enough to count as held.</summary>
    public bool Up(Button button)
    {
        int i = (int)button;
        bool shortPress = _down[i] && !_held[i];
        _down[i] = false;
        return shortPress;
    }

    /// <summary>True when the button is down and not yet held; the rest of that press then counts for nothing.</summary>
    public bool Cut(Button button)
    {
        int i = (int)button;
        if (!_down[i] || _held[i]) return false;
        _held[i] = true;
        return true;
    }

    /// <summary>Forgets what is down: the rest of those presses counts for nothing.</summary>
    public void Forget()
    {
        for (int i = 0; i < Buttons; i++) _down[i] = false;
    }

    /// <summary>True while the button is down and not yet held: what it will do is not known yet.</summary>
    public bool Pending(Button button) => _down[(int)button] && !_held[(int)button];

    /// <summary>True once a press, when the button has been down for the hold time.</summary>
    public bool Hold(Button button, long nowUs)
    {
        int i = (int)button;
        if (!_down[i] || _held[i] || nowUs - _downUs[i] < HoldUs) return false;
        _held[i] = true;
        return true;
    }

    /// <summary>True once a press, when the button was held and is still down after the longer time.</summary>
    public bool HoldOn(Button button, long nowUs)
    {
        int i = (int)button;
        if (!_down[i] || !_held[i] || _heldOn[i] || nowUs - _downUs[i] < HoldOnUs) return false;
        _heldOn[i] = true;
        return true;
    }

    /// <summary>The count of repeats when one is due now, else 0. Late calls give one repeat, never a burst of them.</summary>
    public int Repeat(Button button, long nowUs)
    {
        int i = (int)button;
        if (!_down[i] || nowUs < _repeatUs[i]) return 0;
        _repeatUs[i] = nowUs + RepeatUs;
        return ++_repeats[i];
    }
}
