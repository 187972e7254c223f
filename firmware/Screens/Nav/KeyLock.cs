using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <summary>
/// The lock of the buttons. Select held while Back is pressed three times locks them, and the same unlocks them: a bag presses one
/// button, or two at once, but not one in turn under another. While they are locked Fire starts nothing and still stops, and
/// nothing else does anything, in a bag or under a sleeve.
/// </summary>
/// <remarks>The heading of a locked box is bright; a press says what unlocks it. A deep sleep keeps the lock. Switching the box on opens it, so that a worn button can lock nobody out.</remarks>
public sealed class KeyLock
{
    /// <summary>How often Back is pressed while Select is held.</summary>
    public const int Turns = 3;

    /// <summary>The most minutes without a press after which the buttons lock by themselves; the box sleeps after ten.</summary>
    public const int MostMinutes = 9;

    // How long a press of a locked button shows what unlocks it, µs.
    private const long TellUs = 5_000_000;

    private readonly BoxSettings _settings;
    private bool _selectDown;
    private int _turns;
    private long _tellUntilUs = long.MinValue;
    private long _touchedUs;

    /// <summary>Creates the lock, as the settings say.</summary>
    public KeyLock(BoxSettings settings) => _settings = settings;

    /// <summary>True while the buttons are locked.</summary>
    public bool Locked => _settings.Locked;

    /// <summary>True while the screen says what unlocks it.</summary>
    public bool Tells { get; private set; }

    /// <summary>Locks or unlocks.</summary>
    /// <param name="locked">True to lock.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Set(bool locked, long nowUs)
    {
        _settings.Locked = locked;
        _selectDown = false;
        _turns = 0;
        _touchedUs = nowUs;
        Tell(locked, nowUs);
    }

    /// <summary>A button went down or came up. True when the press is the lock's, and does nothing else.</summary>
    /// <param name="button">Which.</param>
    /// <param name="down">True for down.</param>
    /// <param name="atUs">When, µs.</param>
    public bool Takes(Button button, bool down, long atUs)
    {
        _touchedUs = atUs;
        bool was = Locked;
        bool turn = _selectDown && button == Button.Back;
        if (button == Button.Select || (down && !turn))
        {
            _selectDown = down && button == Button.Select;
            _turns = 0;
        }
        if (turn && down) _turns++;
        if (_turns >= Turns) Set(!was, atUs);
        else if (was && down) Tell(true, atUs);
        return was || turn;
    }

    /// <summary>Locks when the box was left alone for long enough. True when that has changed the picture.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="busy">True while a run or an alarm is on: the wait begins after it.</param>
    public bool Turn(long nowUs, bool busy)
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

    /// <summary>Draws what unlocks it over the whole frame. Allocates nothing.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="running">True while a run is on.</param>
    public void Draw(Frame frame, bool running)
    {
        frame.Text(0, 0, "LOCKED", Font.Small);
        frame.HLine(0, 9, Frame.Width);
        frame.Text(0, 12, "Hold Select,", Font.Medium);
        frame.Text(0, 26, "Back 3 times", Font.Medium);
        for (int i = 0; i < Turns; i++)
        {
            frame.Rect(16 * i, 42, 12, 10);
            if (i < _turns) frame.FillRect(16 * i + 2, 44, 8, 6);
        }
        frame.Text(0, 56, running ? "Fire stops the run" : "Fire starts nothing", Font.Small);
    }

    private void Tell(bool on, long nowUs)
    {
        Tells = on;
        _tellUntilUs = nowUs + TellUs;
    }
}
