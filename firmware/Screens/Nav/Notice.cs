using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>A message that covers the cards until a button is pressed.</summary>
public sealed class Notice
{
    private string _text = "";
    private string _title = "";

    /// <summary>True while a message is shown.</summary>
    public bool Shown => _text.Length > 0;

    /// <summary>True when the press that closes the message does its own work as well.</summary>
    public bool Passing { get; private set; }

    /// <summary>Shows why Fire starts nothing.</summary>
    public void Show(string text) => Show("CANNOT FIRE", text, false);

    /// <summary>Shows a message.</summary>
    /// <param name="title">The heading, in capitals.</param>
    /// <param name="text">The message.</param>
    /// <param name="passing">True when the press that closes the message does its own work as well.</param>
    public void Show(string title, string text, bool passing)
    {
        _title = title;
        _text = text;
        Passing = passing;
    }

    /// <summary>Closes the message.</summary>
    public void Hide() => _text = "";

    /// <summary>Draws the message, broken into lines at its spaces.</summary>
    public void Draw(Frame frame)
    {
        frame.Icon(LeftX, HeadingY, Icon.Caution);
        frame.Text(BesideSignX, HeadingY, _title, Font.Small);
        Cards.CardPainter.Rule(frame);
        Cards.CardPainter.Paragraph(frame, HeadlineY, HeadlineY + 4 * LineRows, _text);
        frame.Text(LeftX, HintY, Passing ? "Any button: go on" : "Any button: back", Font.Small);
    }
}
