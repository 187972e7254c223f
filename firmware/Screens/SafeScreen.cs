using Intervalometer.Settings.Faults;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens;

/// <summary>The only screen of the safe state: what happened, what no longer works, and what to do.</summary>
public static class SafeScreen
{
    /// <summary>Draws the screen over the whole frame.</summary>
    public static void Draw(Frame frame, FaultNote note)
    {
        frame.Icon(LeftX, HeadingY, Icon.Caution);
        frame.Text(BesideSignX, HeadingY, "BOX STOPPED ITSELF", Font.Small);
        frame.HLine(LeftX, RuleY, Frame.Width);
        frame.Text(LeftX, Line1Y, "Both contacts are open.", Font.Small);
        frame.Text(LeftX, Line2Y, "NO WAY-BACK ALARM: go by", Font.Small);
        frame.Text(LeftX, Line3Y, "watch and tide table.", Font.Small);
        frame.Text(LeftX, Line4Y, note.Times.ToString() + (note.Times == 1 ? " fault: " : " faults: ") + FaultNote.KindWords(note.Kind), Font.Small);
        frame.Text(LeftX, Line5Y, "in " + FaultNote.PlaceWords(note.Place) + ". Switch off and on.", Font.Small);
        frame.Text(LeftX, HintY, "Or fire from the camera.", Font.Small);
    }
}
