using Intervalometer.Core.Exposure;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>Draws the parts that all cards share: heading, rows, and the large view of one field.</summary>
public static class CardPainter
{
    // The dashes of the ring and the arrows, all at the right of the heading.
    private const int DashY = 4;
    private const int HeadingUpX = 110;
    private const int HeadingDownX = 119;

    /// <summary>Draws the heading: the card's name, and a row with one dash for each card of the ring, of which the present one is thick. The dashes take at most 54 columns.</summary>
    public static void Heading(Frame frame, string name, int index, int count)
    {
        frame.Text(LeftX, HeadingY, name, Font.Small);
        // divisor: a ring has cards, and here there are more than six.
        int pitch = count <= 6 ? 9 : 54 / count;
        for (int i = 0; i < count; i++)
        {
            int x = Frame.Width - (count - i) * pitch;
            if (i == index) frame.FillRect(x + 1, DashY - 2, pitch - 2, 4);
            else frame.HLine(x + 1, DashY, pitch - 2);
        }
    }

    /// <summary>Draws the heading of a screen that belongs to no ring, and the line under it.</summary>
    public static void Title(Frame frame, string title)
    {
        frame.Text(LeftX, HeadingY, title, Font.Small);
        Rule(frame);
    }

    /// <summary>Draws the line under the heading.</summary>
    public static void Rule(Frame frame) => frame.HLine(LeftX, RuleY, Frame.Width);

    /// <summary>Draws an upward and a downward arrow at the end of the heading.</summary>
    public static void Arrows(Frame frame)
    {
        frame.Icon(HeadingUpX, HeadingY, Icon.Up);
        frame.Icon(HeadingDownX, HeadingY, Icon.Down);
    }

    /// <summary>Draws a headline in medium letters beside the sign of caution.</summary>
    public static void Caution(Frame frame, int y, string text)
    {
        frame.Icon(LeftX, y + 2, Icon.Caution);
        frame.Text(BesideSignX, y, text, Font.Medium);
    }

    /// <summary>Draws a sign of 20 columns: an exclamation mark and a cell that is low or empty.</summary>
    public static void LowBattery(Frame frame, int x, bool empty)
    {
        frame.Text(x, HeadingY, "!", Font.Small);
        frame.Rect(x + 5, 0, 13, 7);
        frame.VLine(x + 18, 2, 3);
        if (!empty) frame.FillRect(x + 7, 2, 2, 3);
    }

    /// <summary>Draws a bright strip, as high as a line, over what is there.</summary>
    public static void Strip(Frame frame, int y, string text)
    {
        frame.ClearRect(LeftX, y, Frame.Width, LineRows);
        frame.Text(2, y + 1, text, Font.Small);
        frame.InvertRect(LeftX, y, Frame.Width, LineRows);
    }

    /// <summary>Draws a row with a name at the left and its value at the right.</summary>
    public static void Row(Frame frame, int y, string name, string value)
    {
        frame.Text(LeftX, y, name, Font.Small);
        frame.TextRight(RightX, y, value, Font.Small);
    }

    /// <summary>Draws a text in small lines, broken at its spaces, from one row down to the last that may be used. Text that does not fit is dropped.</summary>
    public static void Paragraph(Frame frame, int y, int lastY, string text)
    {
        int from = 0;
        while (from < text.Length && y <= lastY)
        {
            int until = Fitting(text, from);
            frame.Text(LeftX, y, text, from, until, Font.Small);
            from = until;
            while (from < text.Length && text[from] == ' ') from++;
            y += LineRows;
        }
    }

    /// <summary>Draws below the heading of a card whose part was given up for lack of memory what is missing and what still works.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="what">The part, which goes into "Not enough memory for ...".</param>
    public static void GivenUp(Frame frame, string what)
    {
        Caution(frame, HeadlineY, "Given up");
        Paragraph(frame, BelowHeadlineY, BelowHeadlineY + 2 * LineRows, "Not enough memory for " + what + "; the exposure, stop and alarm work.");
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

    // The view of one field: its name, two arrows, and its value beside them.
    private const int LabelY = 12;
    private const int UpY = 26;
    private const int DownY = 36;
    private const int ValueX = 14;
    private const int LargeValueY = 22;
    private const int ValueY = 28;

    /// <summary>Draws one field as large as possible beside an upward and a downward arrow, with a note and a line below.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="name">The card's name.</param>
    /// <param name="fields">The list that holds the field.</param>
    /// <param name="place">The number of the field and of all fields, such as "2/7".</param>
    /// <param name="bottom">The line at the bottom.</param>
    public static void Field(Frame frame, string name, FieldList fields, string place, string bottom)
    {
        frame.Text(LeftX, HeadingY, name, Font.Small);
        frame.TextRight(RightX, HeadingY, place, Font.Small);
        Rule(frame);
        frame.Text(LeftX, LabelY, fields.Label, Font.Small);
        string value = fields.Value;
        bool large = Fits(value, Font.Large, 110);
        frame.Icon(LeftX, UpY, Icon.Up);
        frame.Icon(LeftX, DownY, Icon.Down);
        if (large) frame.Text(ValueX, LargeValueY, value, Font.Large);
        else frame.Text(ValueX, ValueY, value, Font.Medium);
        // A note that needs two lines, such as what is wrong with a value, also takes the last line.
        string note = fields.Note;
        bool wide = Font.Small.WidthOf(note) > Frame.Width;
        Paragraph(frame, 47, wide ? 56 : 47, note);
        if (!wide) frame.Text(LeftX, HintY, bottom, Font.Small);
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
