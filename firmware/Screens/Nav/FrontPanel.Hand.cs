using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <content>The drill of the hand, behind CAMERA: while it is shown, Mark marks no wave.</content>
public sealed partial class FrontPanel
{
    /// <summary>The drill of the hand, for tests and reports.</summary>
    public HandDrill Drill => _hand.Drill;

    private readonly HandCard _hand;
    private bool _inHand;
    private bool _drillBegins;

    private void BeginDrill()
    {
        _inHand = true;
        _drillBegins = true;
    }

    // Select begins the drill again. True when it is shown.
    private bool BeginsAgain()
    {
        if (_inHand) _drillBegins = true;
        return _inHand;
    }

    private void TurnHand(long nowUs)
    {
        if (_inHand && _link.State != RunState.Ready)
        {
            // A run, or its end, is over it: it begins again.
            _drillBegins = true;
        }
        else if (_drillBegins)
        {
            _hand.Drill.Begin(nowUs);
            _drillBegins = false;
        }
        else if (_inHand) _hand.Drill.Turn(nowUs);
        _link.Drilling = _inHand && _link.State == RunState.Ready;
    }
}
