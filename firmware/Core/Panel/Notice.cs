namespace Intervalometer.Core.Panel;

/// <summary>A message over everything until a button is pressed.</summary>
public sealed class Notice
{
    private string _text = "";

    /// <summary>True while a message is up.</summary>
    public bool Shown => _text.Length > 0;

    /// <summary>Shows a message.</summary>
    public void Show(string text) => _text = text;

    /// <summary>Takes it down.</summary>
    public void Hide() => _text = "";

    /// <summary>Draws it, broken into lines at its spaces.</summary>
    public void Draw(Frame frame)
    {
        frame.Icon(0, 0, Icon.Caution);
        frame.Text(16, 0, "CANNOT FIRE", Font.Small);
        frame.HLine(0, 9, Frame.Width);
        Cards.CardPainter.Paragraph(frame, 12, 48, _text);
        frame.Text(0, 56, "Any button: back", Font.Small);
    }
}
