using Intervalometer.Coast.Time;
using Intervalometer.Core.Link;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <content>How bright the display is, and when it goes dark.</content>
public sealed partial class FrontPanel
{
    private readonly DisplayLight _display;

    /// <summary>The brightness of the display, 0 to 10, or <see cref="DisplayLight.Dark"/>.</summary>
    public int Brightness => _display.Level;

    /// <summary>True while the display is dark. The lamp then stays dark too, except for the alarm.</summary>
    public bool IsDark => _display.IsDark;

    // Draws the time of day into the heading of the first card, when it is known.
    private void HomeClock(Frame frame)
    {
        if (_shore.Clock.IsSet) frame.Text(SignX, HeadingY, TimeText.HourMinuteBefore(_shore.Now, _shore.Place.Offset), Font.Small);
    }

    // The display must not go dark over an alarm, a rhythm that needs a mark, or a press that may have been two.
    private void LightPass(long nowUs)
    {
        RunReport run = _link.Report;
        bool mayDarken = run.Running && !_shore.AlarmUp && run.State != RunState.AskMark && !run.PressHeldUp;
        if (_display.Pass(nowUs, _shore.IsNight, mayDarken)) _dirty = true;
    }
}
