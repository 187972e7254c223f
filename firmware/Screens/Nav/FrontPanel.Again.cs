using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;

namespace Intervalometer.Screens.Nav;

/// <content>After a run: the next frame, the same or longer or shorter, with two presses; and the list of the frames that were taken.</content>
public sealed partial class FrontPanel
{
    private readonly AgainScreen _again;

    /// <summary>The frames from before the box was switched on. The store keeper reads them from the memory.</summary>
    public KeptFrames Earlier { get; } = new KeptFrames();

    private bool AgainOverCards => _again.Shown && _link.State == RunState.Ready;

    // At the end of a run Up offers a frame one stop longer, Down one stop shorter, and Select the same again.
    private bool OpensAgain(Button button)
    {
        if (button == Button.Mark) return false;
        _again.Open(button == Button.Up ? AgainScreen.FirstThirds : button == Button.Down ? -AgainScreen.FirstThirds : 0);
        return true;
    }

    private void AgainPass(long nowUs)
    {
        if (_again.Shown && _link.Report.Running) _again.Took();
        _taken.Watch(_settings, nowUs);
    }
}
