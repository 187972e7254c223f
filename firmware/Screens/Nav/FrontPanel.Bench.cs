using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <content>The bench check, which opens from the BOX card: each button is counted, and Fire starts nothing.</content>
public sealed partial class FrontPanel
{
    private readonly BenchCard _bench;

    private void OpenBench(long nowUs)
    {
        _over = _bench;
        _bench.Open(nowUs);
        _bench.Saw(Button.Select);
    }

    // On this card Mark and Fire are only counted. The first Back is only counted too, and the second one leaves the card.
    private bool BenchTakes(Button button, bool down)
    {
        if (_over != _bench || !down || _link.State != Core.Run.RunState.Ready) return false;
        bool first = _bench.Saw(button);
        if (button == Button.Fire) _link.Decline();
        return button == Button.Fire || button == Button.Mark || (button == Button.Back && first);
    }
}
