namespace Intervalometer.Screens.Nav;

/// <content>The ways out: one level up, and home to the first card.</content>
public sealed partial class FrontPanel
{
    private void OnBack()
    {
        LeaveField();
        if (_again.Shown) _again.Leave();
        else if (_field != NoField) _field = NoField;
        else if (_over == _filter) LeaveFilter();
        else if (_over != null) _over = null;
        else if (Shown == _light) _onShore = true;
        else GoHome();
    }

    private void LeaveFilter()
    {
        _filter.Leave();
        _over = null;
        _glass.HoldCursorInside();
        _field = 0;
    }

    private void GoHome()
    {
        if (_again.Shown) _again.Leave();
        LeaveField();
        if (_over == _filter) LeaveFilter();
        _onShore = false;
        _over = null;
        _field = NoField;
        _card = 0;
    }
}
