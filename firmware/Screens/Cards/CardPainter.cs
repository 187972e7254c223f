using Intervalometer.Core.Exposure;

namespace Intervalometer.Screens.Cards;

/// <summary>Draws the parts that all cards share: heading, rows, and the large view of one field.</summary>
public static class CardPainter
{
    /// <summary>Draws the heading: the card's name, and a row with one dash for each card of the ring, of which the present one is thick. The dashes take at most 54 columns.</summary>
    public static void Heading(Frame frame, string name, int index, int count)
    {
        frame.Text(0, 0, name, Font.Small);
        // divisor: a ring has cards, and here there are more than six.
        int pitch = count <= 6 ? 9 : 54 / count;
        for (int i = 0; i < count; i++)
        {
            int x = Frame.Width - (count - i) * pitch;
            if (i == index) frame.FillRect(x + 1, 2, pitch - 2, 4);
            else frame.HLine(x + 1, 4, pitch - 2);
        }
    }

    /// <summary>Draws a sign of 20 columns: an exclamation mark and a cell that is low or empty.</summary>
    public static void LowBattery(Frame frame, int x, bool empty)
    {
        frame.Text(x, 0, "!", Font.Small);
        frame.Rect(x + 5, 0, 13, 7);
        frame.VLine(x + 18, 2, 3);
        if (!empty) frame.FillRect(x + 7, 2, 2, 3);
    }

    /// <summary>Draws a bright strip of 9 rows over what is there.</summary>
    public static void Strip(Frame frame, int y, string text)
    {
        frame.ClearRect(0, y, Frame.Width, 9);
        frame.Text(2, y + 1, text, Font.Small);
        frame.InvertRect(0, y, Frame.Width, 9);
    }

    /// <summary>Draws a row with a name at the left and its value at the right.</summary>
    public static void Row(Frame frame, int y, string name, string value)
    {
        frame.Text(0, y, name, Font.Small);
        frame.TextRight(128, y, value, Font.Small);
    }

    /// <summary>Draws a text in small lines, broken at its spaces, from one row down to the last that may be used. Text that does not fit is dropped.</summary>
    public static void Paragraph(Frame frame, int y, int lastY, string text)
    {
        int from = 0;
        while (from < text.Length && y <= lastY)
        {
            int until = Fitting(text, from);
            frame.Text(0, y, text, from, until, Font.Small);
            from = until;
            while (from < text.Length && text[from] == ' ') from++;
            y += 9;
        }
    }

    /// <summary>Draws below the heading of a card whose part was given up for lack of memory what is missing and what still works.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="what">The part, which goes into "Not enough memory for ...".</param>
    public static void GivenUp(Frame frame, string what)
    {
        frame.Icon(0, 14, Icon.Caution);
        frame.Text(16, 12, "Given up", Font.Medium);
        Paragraph(frame, 28, 46, "Not enough memory for " + what + "; the exposure, stop and alarm work.");
    }

    /// <summary>The first of two texts when it fits into a small line, otherwise the second.</summary>
    public static string Shorter(string text, string instead) => Font.Small.WidthOf(text) <= Frame.Width ? text : instead;

    /// <summary>The exposure in one small line. A refusal stands there without its remedy, which the LIGHT card shows.</summary>
    public static string AnswerLine(ExposureAnswer answer)
    {
        if (answer.Kind == ExposureKind.Refused) return answer.Refusal == ExposureRefusal.AboveLimit ? "-> over the limit in BOX" : "-> under the dial's 1/8000";
        return Shorter("-> " + ExposureText.Line(answer), "-> Bulb " + ExposureText.Clock(answer.Seconds));
    }

    // How far the text fits, found word by word so that no character is measured twice.
    private static int Fitting(string text, int from)
    {
        Font font = Font.Small;
        int length = text.Length, fits = from, width = 0;
        while (fits < length)
        {
            int end = fits + 1;
            while (end < length && text[end] != ' ') end++;
            width += font.WidthOf(text, fits, end) + (fits > from ? font.Gap : 0);
            if (width > Frame.Width) break;
            fits = end;
        }
        return fits > from ? fits : length;
    }

    /// <summary>Draws one field as large as possible beside an upward and a downward arrow, with a note and a line below.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="name">The card's name.</param>
    /// <param name="fields">The list that holds the field.</param>
    /// <param name="place">The number of the field and of all fields, such as "2/7".</param>
    /// <param name="bottom">The line at the bottom.</param>
    public static void Field(Frame frame, string name, FieldList fields, string place, string bottom)
    {
        frame.Text(0, 0, name, Font.Small);
        frame.TextRight(128, 0, place, Font.Small);
        frame.HLine(0, 9, Frame.Width);
        frame.Text(0, 12, fields.Label, Font.Small);
        string value = fields.Value;
        bool large = Fits(value, Font.Large, 110);
        frame.Icon(0, 26, Icon.Up);
        frame.Icon(0, 36, Icon.Down);
        if (large) frame.Text(14, 22, value, Font.Large);
        else frame.Text(14, 28, value, Font.Medium);
        // A note that needs two lines, such as what is wrong with a value, also takes the last line.
        string note = fields.Note;
        bool wide = Font.Small.WidthOf(note) > Frame.Width;
        Paragraph(frame, 47, wide ? 56 : 47, note);
        if (!wide) frame.Text(0, 56, bottom, Font.Small);
    }

    /// <summary>The font for a figure at the left edge: the large one when what stands at the right edge beside it leaves the room, else the medium one.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="beside">The width of what stands beside it, pixels.</param>
    public static Font FontBeside(string figure, int beside) => Font.Large.WidthOf(figure) + 2 + beside <= Frame.Width ? Font.Large : Font.Medium;

    private static bool Fits(string text, Font font, int width)
    {
        for (int i = 0; i < text.Length; i++)
        {
            if (!font.Has(text[i])) return false;
        }
        return font.WidthOf(text) <= width;
    }
}
