using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <summary>Works out from how long a button has been down whether it is held, and when it repeats. It has no clock; the time is handed in.</summary>
public sealed class KeyTimer
{
    /// <summary>A button held this long counts as held, µs.</summary>
    public const long HoldUs = 600_000;

    /// <summary>A button that stays down for this long counts as held still longer, µs.</summary>
    public const long HoldOnUs = 1_600_000;

    /// <summary>The time from the press to the first repeat, µs.</summary>
    public const long FirstRepeatUs = 450_000;

    /// <summary>The time from one repeat to the next, µs.</summary>
    public const long RepeatUs = 120_000;

    private const int Buttons = 6;

    private readonly long[] _downUs = new long[Buttons];
    private readonly long[] _repeatUs = new long[Buttons];
    private readonly bool[] _down = new bool[Buttons];
    private readonly bool[] _held = new bool[Buttons];
    private readonly bool[] _heldOn = new bool[Buttons];
    private readonly int[] _repeats = new int[Buttons];

    /// <summary>Handles a button that went down.</summary>
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

    /// <summary>Handles a button that came up. Returns true when it had not been down long enough to count as held.</summary>
    public bool Up(Button button)
    {
        int i = (int)button;
        bool shortPress = _down[i] && !_held[i];
        _down[i] = false;
        return shortPress;
    }

    /// <summary>Returns true when the button is down and not yet held. The rest of that press then has no effect.</summary>
    public bool Cut(Button button)
    {
        int i = (int)button;
        if (!_down[i] || _held[i]) return false;
        _held[i] = true;
        return true;
    }

    /// <summary>Ignores the rest of every press that is under way.</summary>
    public void Forget()
    {
        for (int i = 0; i < Buttons; i++) _down[i] = false;
    }

    /// <summary>True while the button is down and not yet held, so that it is not known yet what it will do.</summary>
    public bool Pending(Button button) => _down[(int)button] && !_held[(int)button];

    /// <summary>Returns true once in each press, when the button has been down for <see cref="HoldUs"/>.</summary>
    public bool Hold(Button button, long nowUs)
    {
        int i = (int)button;
        if (!_down[i] || _held[i] || nowUs - _downUs[i] < HoldUs) return false;
        _held[i] = true;
        return true;
    }

    /// <summary>Returns true once in each press, when the button was held and is still down after <see cref="HoldOnUs"/>.</summary>
    public bool HoldOn(Button button, long nowUs)
    {
        int i = (int)button;
        if (!_down[i] || !_held[i] || _heldOn[i] || nowUs - _downUs[i] < HoldOnUs) return false;
        _heldOn[i] = true;
        return true;
    }

    /// <summary>The number of the repeat that is due now; 0 when none is. A late call gives one repeat and never several at once.</summary>
    public int Repeat(Button button, long nowUs)
    {
        int i = (int)button;
        if (!_down[i] || nowUs < _repeatUs[i]) return 0;
        _repeatUs[i] = nowUs + RepeatUs;
        return ++_repeats[i];
    }
}
