using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>
/// The lock of the buttons. Holding Select while Back is pressed three times locks them, and the same unlocks them. In a bag one button may be
/// pressed, or two at once, but hardly one three times while another is held. While the buttons are locked, Fire starts nothing but still stops
/// a run, and no other button does anything.
/// </summary>
/// <remarks>The heading of a locked box is bright, and any press shows how to unlock it. A deep sleep keeps the lock. Switching the box on opens it, so that a worn button can lock nobody out.</remarks>
public sealed class KeyLock
{
    /// <summary>How many times Back must be pressed while Select is held.</summary>
    public const int Presses = 3;

    /// <summary>The longest time without a press that can be set for the buttons to lock by themselves, minutes. The box sleeps after ten.</summary>
    public const int MostMinutes = 9;

    // How long the way to unlock is shown after a press of a locked button, µs.
    private const long TellUs = 5_000_000;

    private const int SecondWordsY = 26;

    // One box for each press of Back, which is filled when it was pressed.
    private const int BoxY = 42;
    private const int BoxPitch = 16;
    private const int BoxColumns = 12;
    private const int BoxRows = 10;

    private readonly BoxSettings _settings;
    private bool _selectDown;
    private int _presses;
    private long _tellUntilUs = long.MinValue;
    private long _touchedUs;

    /// <summary>Creates the lock; the settings hold its state.</summary>
    public KeyLock(BoxSettings settings) => _settings = settings;

    /// <summary>True while the buttons are locked.</summary>
    public bool Locked => _settings.Locked;

    /// <summary>True while the screen shows how to unlock the buttons.</summary>
    public bool Tells { get; private set; }

    /// <summary>Locks or unlocks the buttons.</summary>
    /// <param name="locked">True to lock.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Set(bool locked, long nowUs)
    {
        _settings.Locked = locked;
        _selectDown = false;
        _presses = 0;
        _touchedUs = nowUs;
        Tell(locked, nowUs);
    }

    /// <summary>Handles a button that went down or came up. Returns true when the event belongs to the lock and must do nothing else.</summary>
    /// <param name="button">The button.</param>
    /// <param name="down">True when it went down.</param>
    /// <param name="atUs">When it happened, µs.</param>
    public bool Takes(Button button, bool down, long atUs)
    {
        _touchedUs = atUs;
        bool was = Locked;
        bool counts = _selectDown && button == Button.Back;
        if (button == Button.Select || (down && !counts))
        {
            _selectDown = down && button == Button.Select;
            _presses = 0;
        }
        if (counts && down) _presses++;
        if (_presses >= Presses) Set(!was, atUs);
        else if (was && down) Tell(true, atUs);
        return was || counts;
    }

    /// <summary>Locks the buttons when the box was left alone for long enough. Returns true when the picture has changed by that.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="busy">True while a run or an alarm is on; the waiting time begins after it.</param>
    public bool Pass(long nowUs, bool busy)
    {
        if (busy) _touchedUs = nowUs;
        if (!Locked && _settings.LockMinutes > 0 && nowUs - _touchedUs >= _settings.LockMinutes * 60_000_000L)
        {
            Set(true, nowUs);
            return true;
        }
        if (!Tells || nowUs < _tellUntilUs) return false;
        Tells = false;
        return true;
    }

    /// <summary>Draws the way to unlock over the whole frame. Allocates nothing.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="running">True while a run is on.</param>
    public void Draw(Frame frame, bool running)
    {
        Cards.CardPainter.Title(frame, "LOCKED");
        frame.Text(LeftX, HeadlineY, "Hold Select,", Font.Medium);
        frame.Text(LeftX, SecondWordsY, "Back 3 times", Font.Medium);
        for (int i = 0; i < Presses; i++)
        {
            frame.Rect(BoxPitch * i, BoxY, BoxColumns, BoxRows);
            if (i < _presses) frame.FillRect(BoxPitch * i + 2, BoxY + 2, BoxColumns - 4, BoxRows - 4);
        }
        frame.Text(LeftX, HintY, running ? "Fire stops the run" : "Fire starts nothing", Font.Small);
    }

    private void Tell(bool on, long nowUs)
    {
        Tells = on;
        _tellUntilUs = nowUs + TellUs;
    }
}
