namespace Intervalometer.Screens.Cards;

/// <summary>
/// One screen of settings. It has an overview, and fields through which Select goes and which Up and Down change. A card draws into a
/// frame and does not know where that frame is shown.
/// </summary>
public abstract class Card
{
    /// <summary>The name in the heading, in capitals.</summary>
    public abstract string Name { get; }

    /// <summary>Lists every field in the order in which Select goes through them.</summary>
    public abstract void Fields(FieldList fields);

    /// <summary>Draws the overview below the heading.</summary>
    public abstract void DrawOverview(Frame frame, long nowUs);

    /// <summary>The time between redraws while nothing is pressed, µs; 0 when only presses change the picture.</summary>
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

    /// <summary>The text of a switch.</summary>
    internal static string OnOff(bool value) => value ? "on" : "off";
}
