namespace Intervalometer.Screens.Cards;

/// <summary>
/// One screen of settings: an overview, and fields that Select walks through and Up and Down change. A card draws into a
/// frame and cannot know where that frame is shown.
/// </summary>
public abstract class Card
{
    /// <summary>Name in the heading, in capitals.</summary>
    public abstract string Name { get; }

    /// <summary>How many fields it has now.</summary>
    public abstract int FieldCount { get; }

    /// <summary>Name of a field.</summary>
    public abstract string Label(int field);

    /// <summary>Value of a field as text.</summary>
    public abstract string Value(int field);

    /// <summary>One line about the field as it is set, or an empty string.</summary>
    public virtual string Note(int field) => "";

    /// <summary>Changes a field.</summary>
    /// <param name="field">Which.</param>
    /// <param name="direction">+1 for Up, -1 for Down.</param>
    /// <param name="repeats">0 for a fresh press, else how many repeats the button has made.</param>
    public abstract void Change(int field, int direction, int repeats);

    /// <summary>Draws the overview below the heading.</summary>
    public abstract void DrawOverview(Frame frame, long nowUs);

    /// <summary>True for a field that is changed on the overview itself, such as a place in a list.</summary>
    public virtual bool DrawsField(int field) => false;

    /// <summary>Time between redraws while nothing is pressed, µs; 0 when only presses change the picture.</summary>
    public virtual long RedrawUs => 0;

    /// <summary>A step that grows while a button is held: 1, then 5, then 25.</summary>
    protected static int Stride(int repeats) => repeats < 10 ? 1 : repeats < 25 ? 5 : 25;

    /// <summary>A value moved by a step and held inside its range, on whole multiples of the step.</summary>
    protected static int Moved(int value, int direction, int step, int low, int high)
    {
        int moved = value + direction * step;
        if (step > 1) moved = (direction > 0 ? moved : moved + step - 1) / step * step;
        return moved < low ? low : moved > high ? high : moved;
    }

    /// <summary>Milliseconds as seconds with one or two decimals, such as "0.30 s" or "12.0 s".</summary>
    protected static string SecondsText(int milliseconds)
    {
        double seconds = milliseconds / 1000.0;
        int size = milliseconds < 0 ? -milliseconds : milliseconds;
        return seconds.ToString(size >= 10_000 ? "F1" : "F2") + " s";
    }

    /// <summary>Microseconds as seconds.</summary>
    protected static string MicrosText(long microseconds) => SecondsText((int)(microseconds / 1000));

    /// <summary>On or off.</summary>
    protected static string OnOff(bool value) => value ? "on" : "off";
}
