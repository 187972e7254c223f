using Intervalometer.Core.Link;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;

namespace Intervalometer.Screens.Nav;

/// <content>The reminder to wipe the front glass, which counts as read only when it was seen, and what a mark has done.</content>
public sealed partial class FrontPanel
{
    private const long MarkTellUs = 2_000_000;

    private const int FootY = 55;

    private const string WipeWords = "Wipe the front glass";

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

    // A picture of its own in place of a card: what a mark has done, for a moment, or the reminder on any card but home. A strip
    // over the dearest of the cards would take longer to draw than a picture may.
    private bool DrawInstead(Frame frame, long nowUs)
    {
        if (nowUs < _markTellUntilUs && Shown != _waves)
        {
            frame.Text(0, 0, "MARK", Font.Small);
            frame.HLine(0, 9, Frame.Width);
            frame.Line.Clear().AddNumber(_link.Sea.MarkCount).Add(_link.Sea.MarkCount == 1 ? " wave" : " waves");
            frame.Text(0, 16, frame.Line, Font.Medium);
            frame.Text(0, 32, "marked so far", Font.Medium);
            return true;
        }
        if (!_shore.WipeDue || Shown == _light || _field != NoField || _lock.Locked) return false;
        _wipeSeen = true;
        frame.Text(0, 0, Shown.Name, Font.Small);
        frame.HLine(0, 9, Frame.Width);
        frame.Text(0, 16, "Wipe the", Font.Medium);
        frame.Text(0, 31, "front glass", Font.Medium);
        frame.Text(0, 56, "Any button: go on", Font.Small);
        return true;
    }

    private void DrawStrip(Frame frame, long nowUs)
    {
        RunReport run = _link.Report;
        if (!_shore.WipeDue || _lock.Locked || AlarmOverCards || _notice.Shown || (Check.Shown && !run.Running)) return;
        if (run.Running)
        {
            // Over the heading and never in an exposure; the alarm's band comes first. Every third second the heading shows.
            if (_shore.AlarmUp || nowUs < run.FrameEndUs) return;
            _wipeSeen = true;
            if (nowUs / 1_000_000 % 3 != 2) CardPainter.Strip(frame, 0, WipeWords);
        }
        else if (_link.State != RunState.Ready || (Shown == _light && _field == NoField))
        {
            _wipeSeen = true;
            CardPainter.Strip(frame, FootY, WipeWords);
        }
    }
}
