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
        int y = 12;
        string left = _text;
        while (left.Length > 0 && y <= 48)
        {
            int take = Fitting(left);
            frame.Text(0, y, left.Substring(0, take), Font.Small);
            left = left.Substring(take).TrimStart(' ');
            y += 9;
        }
        frame.Text(0, 56, "Any button: back", Font.Small);
    }

    private static int Fitting(string text)
    {
        int fits = 0;
        for (int i = 1; i <= text.Length; i++)
        {
            bool wordEnds = i == text.Length || text[i] == ' ';
            if (!wordEnds) continue;
            if (Font.Small.WidthOf(text.Substring(0, i)) > Frame.Width) break;
            fits = i;
        }
        return fits > 0 ? fits : text.Length;
    }
}
