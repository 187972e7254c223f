using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <content>The drill of the hand, which opens from CAMERA. While it is shown, a press of Mark marks no wave.</content>
public sealed partial class FrontPanel
{
    /// <summary>The drill of the hand, for tests and reports.</summary>
    public HandDrill Drill => _hand.Drill;

    private readonly HandCard _hand;
    private bool _drillBegins;

    private void BeginDrill()
    {
        _over = _hand;
        _drillBegins = true;
    }

    // Select begins the drill again. Returns true when the drill is shown.
    private bool BeginsAgain()
    {
        if (_over == _hand) _drillBegins = true;
        return _over == _hand;
    }

    private void HandPass(long nowUs)
    {
        bool shown = _over == _hand;
        if (shown && _link.State != RunState.Ready)
        {
            // A run, or the screen at its end, covers the drill, so the drill begins again after it.
            _drillBegins = true;
        }
        else if (_drillBegins)
        {
            _hand.Drill.Begin(nowUs);
            _drillBegins = false;
        }
        else if (shown) _hand.Drill.Pass(nowUs);
        _link.Drilling = shown && _link.State == RunState.Ready;
    }
}
