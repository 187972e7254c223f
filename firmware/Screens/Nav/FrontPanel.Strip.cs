using Intervalometer.Core.Link;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <content>The reminder to wipe the front glass, which counts as read only after it was drawn, and the confirmation of a mark.</content>
public sealed partial class FrontPanel
{
    private const long MarkTellUs = 2_000_000;

    private const int FootY = HintY - 1;
    private const int WordsY = 16;

    private const string WipeWords = "Wipe the front glass";

    private bool _wipeSeen;
    private long _markTellUntilUs = long.MinValue;

    // A press confirms the reminder only when it was on the display. A reminder that was not drawn yet stays.
    private void WipeRead(long atUs)
    {
        if (_wipeSeen && _shore.WipeDue) _shore.Wiped(atUs);
        _wipeSeen = false;
    }

    private void TellMark(long atUs) => _markTellUntilUs = atUs + MarkTellUs;

    private void StripPass(long nowUs)
    {
        if (_markTellUntilUs == long.MinValue || nowUs < _markTellUntilUs) return;
        _markTellUntilUs = long.MinValue;
        _dirty = true;
    }

    // Draws a picture in place of a card: for a moment how many waves are marked, or the reminder on any card but the first. A strip over the
    // card instead would take longer to draw, on the most costly cards, than a picture may.
    private bool DrawInstead(Frame frame, long nowUs)
    {
        if (nowUs < _markTellUntilUs && Shown != _waves)
        {
            CardPainter.Title(frame, "MARK");
            frame.Line.Clear().AddNumber(_link.Sea.MarkCount).Add(_link.Sea.MarkCount == 1 ? " wave" : " waves");
            frame.Text(LeftX, WordsY, frame.Line, Font.Medium);
            frame.Text(LeftX, ReasonY, "marked so far", Font.Medium);
            return true;
        }
        if (!_shore.WipeDue || Shown == _light || _field != NoField || _lock.Locked) return false;
        _wipeSeen = true;
        CardPainter.Title(frame, Shown.Name);
        frame.Text(LeftX, WordsY, "Wipe the", Font.Medium);
        frame.Text(LeftX, ReasonY - 1, "front glass", Font.Medium);
        frame.Text(LeftX, HintY, "Any button: go on", Font.Small);
        return true;
    }

    private void DrawStrip(Frame frame, long nowUs)
    {
        RunReport run = _link.Report;
        if (!_shore.WipeDue || _lock.Locked || AlarmOverCards || _notice.Shown || (Check.Shown && !run.Running)) return;
        if (run.Running)
        {
            // The strip covers the heading, but never in an exposure or under the alarm's band. In every third second the heading is shown.
            if (_shore.AlarmUp || nowUs < run.FrameEndUs) return;
            _wipeSeen = true;
            if (nowUs / 1_000_000 % 3 != 2) CardPainter.Strip(frame, HeadingY, WipeWords);
        }
        else if (_link.State != RunState.Ready || (Shown == _light && _field == NoField))
        {
            _wipeSeen = true;
            CardPainter.Strip(frame, FootY, WipeWords);
        }
    }
}
