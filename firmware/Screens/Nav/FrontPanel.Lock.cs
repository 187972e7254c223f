using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <content>The lock of the buttons, and the question before a change that must not happen by a slip.</content>
public sealed partial class FrontPanel
{
    private readonly KeyLock _lock;

    // The field about which the panel has asked. The next press changes it.
    private int _asked = NoField;

    // True from the press that made the panel ask to the next press.
    private bool _asking;

    // The field that Select held puts back, until the field is left, and the value that it had before its first change.
    private int _undoField = NoField;
    private int _undoValue;

    /// <summary>True while the buttons are locked.</summary>
    public bool Locked => _lock.Locked;

    /// <summary>Begins the start check at power-on. After a deep sleep the lock is as it was; switching the box on opens it.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="woken">True after a deep sleep.</param>
    public void Begin(long nowUs, bool woken)
    {
        Check.Begin(nowUs, woken);
        _lock.Set(woken && _settings.Locked, nowUs);
        _link.Locked = _lock.Locked;
    }

    // Returns true when the lock has handled the event.
    private bool LockTakes(Button button, bool down, long atUs)
    {
        if (!_lock.Takes(button, down, atUs)) return false;
        _link.Locked = _lock.Locked;
        _keys.Forget();
        if (down && button == Button.Fire) _link.Decline();
        return true;
    }

    private void LockPass(long nowUs)
    {
        if (!_lock.Pass(nowUs, _link.Busy || _shore.AlarmUp)) return;
        _link.Locked = _lock.Locked;
        _preparedUs = long.MinValue / 2;
        _dirty = true;
    }

    private void DrawLock(Frame frame)
    {
        bool running = _link.Report.Running;
        if (_lock.Tells && !_shore.AlarmUp)
        {
            frame.Clear();
            _lock.Draw(frame, running);
        }
        else if (_shore.AlarmUp && !running) CardPainter.Strip(frame, FootY, "Locked: Select + Back x3");
        else if (!running) frame.InvertRect(LeftX, HeadingY, Frame.Width, RuleY);
    }

    // Handles Up or Down in a field. A field that asks before it changes can be put back as long as it is shown.
    private void ChangeField(int direction, int repeats)
    {
        if (AsksFirst(repeats)) return;
        bool first = _asked == _field && _undoField != _field;
        _fields.Change(Shown, _field, direction, repeats);
        if (!first || _fields.Before == FieldList.Nothing) return;
        _undoField = _field;
        _undoValue = _fields.Before;
    }

    // Returns true when there was something to put back.
    private bool PutsFieldBack()
    {
        if (_field == NoField || _undoField != _field) return false;
        _fields.PutBack(Shown, _field, _undoValue);
        LeaveField();
        return true;
    }

    private void LeaveField()
    {
        _undoField = NoField;
        _asked = NoField;
        _asking = false;
    }

    // The first press on a field that must not change by a slip only asks. Holding that press does nothing more.
    private bool AsksFirst(int repeats)
    {
        if (repeats > 0) return _asking;
        _asking = false;
        _fields.Ask(Shown, _field);
        if (!_fields.AskTwice || _asked == _field) return false;
        _asked = _field;
        _asking = true;
        return true;
    }
}
