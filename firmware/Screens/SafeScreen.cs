using Intervalometer.Settings.Faults;

namespace Intervalometer.Screens;

/// <summary>The only screen of the safe state: what happened, what no longer works, and what to do.</summary>
public static class SafeScreen
{
    /// <summary>Draws the screen over the whole frame.</summary>
    public static void Draw(Frame frame, FaultNote note)
    {
        frame.Icon(0, 0, Icon.Caution);
        frame.Text(16, 0, "BOX STOPPED ITSELF", Font.Small);
        frame.HLine(0, 9, Frame.Width);
        frame.Text(0, 11, "Both contacts are open.", Font.Small);
        frame.Text(0, 20, "NO WAY-BACK ALARM: go by", Font.Small);
        frame.Text(0, 29, "watch and tide table.", Font.Small);
        frame.Text(0, 38, note.Times.ToString() + (note.Times == 1 ? " fault: " : " faults: ") + FaultNote.KindWords(note.Kind), Font.Small);
        frame.Text(0, 47, "in " + FaultNote.PlaceWords(note.Place) + ". Switch off and on.", Font.Small);
        frame.Text(0, 56, "Or fire from the camera.", Font.Small);
    }
}
