namespace Intervalometer.Screens.Nav;

/// <content>The ways out: a level up, and home.</content>
public sealed partial class FrontPanel
{
    private void OnBack()
    {
        if (_again.Shown) _again.Leave();
        else if (_field != NoField) _field = NoField;
        else if (_inFilter) LeaveFilter();
        else if (_inTaken) _inTaken = false;
        else if (_inBench) _inBench = false;
        else if (_inHand) _inHand = false;
        else if (Shown == _light) _onShore = true;
        else GoHome();
    }

    private void LeaveFilter()
    {
        _inFilter = false;
        _glass.HoldCursorInside();
        _field = 0;
    }

    private void GoHome()
    {
        if (_again.Shown) _again.Leave();
        _onShore = false;
        _inFilter = false;
        _inTaken = false;
        _inBench = false;
        _inHand = false;
        _field = NoField;
        _card = 0;
    }
}
