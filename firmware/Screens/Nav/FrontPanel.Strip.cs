using Intervalometer.Core.Link;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;

namespace Intervalometer.Screens.Nav;

/// <content>A strip over any picture: the reminder to wipe the front glass, which counts as read only when it was seen, and what a mark has done.</content>
public sealed partial class FrontPanel
{
    private const long MarkTellUs = 2_000_000;

    private const int FootY = 55;

    private bool _wipeSeen;
    private long _markTellUntilUs = long.MinValue;

    // A press reads the reminder when it was on the display; one that was not drawn yet stays.
    private void WipeRead(long atUs)
    {
        if (_wipeSeen && _shore.WipeDue) _shore.Wiped(atUs);
        _wipeSeen = false;
    }

    private void TellMark(long atUs) => _markTellUntilUs = atUs + MarkTellUs;

    private void TurnStrip(long nowUs)
    {
        if (_markTellUntilUs == long.MinValue || nowUs < _markTellUntilUs) return;
        _markTellUntilUs = long.MinValue;
        _dirty = true;
    }

    private void DrawStrip(Frame frame, long nowUs)
    {
        _wipeSeen = false;
        RunReport run = _link.Report;
        if (_lock.Locked || AlarmOverCards || _notice.Shown || (Check.Shown && !run.Running)) return;
        if (run.Running)
        {
            // Over the heading and never in an exposure; the alarm's band comes first. Every third second the heading shows.
            if (!_shore.WipeDue || _shore.AlarmUp || nowUs < run.FrameEndUs) return;
            _wipeSeen = true;
            if (nowUs / 1_000_000 % 3 != 2) CardPainter.Strip(frame, 0, "Wipe the front glass");
        }
        else if (nowUs < _markTellUntilUs && _link.State == RunState.Ready && Shown != _waves)
        {
            frame.Line.Clear().Add("Wave marked: ").AddNumber(_link.Sea.MarkCount).Add(" counted");
            CardPainter.Strip(frame, FootY, frame.Line);
        }
        else if (_shore.WipeDue)
        {
            _wipeSeen = true;
            CardPainter.Strip(frame, FootY, "Wipe the front glass");
        }
    }
}
