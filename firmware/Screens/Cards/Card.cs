namespace Intervalometer.Screens.Cards;

/// <summary>
/// One screen of settings: an overview, and fields that Select walks through and Up and Down change. A card draws into a
/// frame and cannot know where that frame is shown.
/// </summary>
public abstract class Card
{
    /// <summary>Name in the heading, in capitals.</summary>
    public abstract string Name { get; }

    /// <summary>Says every field, in the order in which Select walks through them.</summary>
    public abstract void Fields(FieldList fields);

    /// <summary>Draws the overview below the heading.</summary>
    public abstract void DrawOverview(Frame frame, long nowUs);

    /// <summary>Time between redraws while nothing is pressed, µs; 0 when only presses change the picture.</summary>
    public virtual long RedrawUs => 0;

    /// <summary>Milliseconds as seconds with one or two decimals, such as "0.30 s" or "12.0 s".</summary>
    internal static string SecondsText(int milliseconds)
    {
        double seconds = milliseconds / 1000.0;
        int size = milliseconds < 0 ? -milliseconds : milliseconds;
        return seconds.ToString(size >= 10_000 ? "F1" : "F2") + " s";
    }

    /// <summary>Microseconds as seconds.</summary>
    internal static string MicrosText(long microseconds) => SecondsText((int)(microseconds / 1000));

    /// <summary>On or off.</summary>
    internal static string OnOff(bool value) => value ? "on" : "off";
}
