namespace Intervalometer.Screens;

/// <summary>
/// Where the screens draw, in pixels: rows from the upper edge down to the top of what is drawn, columns from the left edge. Below the heading
/// stand six lines of small letters, of which the last one is the hint. A large figure takes the place of the first three.
/// </summary>
public static class Layout
{
    /// <summary>The first column.</summary>
    public const int LeftX = 0;

    /// <summary>One past the last column: where a text ends that stands at the right edge.</summary>
    public const int RightX = Frame.Width;

    /// <summary>The column of a text beside a sign at the left edge.</summary>
    public const int BesideSignX = 16;

    /// <summary>The row of the heading.</summary>
    public const int HeadingY = 0;

    /// <summary>The row of the line under the heading.</summary>
    public const int RuleY = 9;

    /// <summary>The row of the first line.</summary>
    public const int Line1Y = 11;

    /// <summary>The row of the second line.</summary>
    public const int Line2Y = 20;

    /// <summary>The row of the third line.</summary>
    public const int Line3Y = 29;

    /// <summary>The row of the fourth line, which is the first one below a large figure.</summary>
    public const int Line4Y = 38;

    /// <summary>The row of the fifth line.</summary>
    public const int Line5Y = 47;

    /// <summary>The row of the last line, which says what the buttons do.</summary>
    public const int HintY = 56;

    /// <summary>How many rows a line of small letters takes.</summary>
    public const int LineRows = 9;

    /// <summary>The row of a large figure.</summary>
    public const int FigureY = Line1Y;

    /// <summary>The row of a small unit that stands on the foot of a large figure.</summary>
    public const int UnitY = 27;

    /// <summary>The row of a word in medium letters at the right of a large figure, under a small one.</summary>
    public const int UnderWordY = 21;

    /// <summary>The row of a headline in medium letters.</summary>
    public const int HeadlineY = 12;

    /// <summary>The row of small letters below a headline.</summary>
    public const int BelowHeadlineY = 28;

    /// <summary>The row of words that stand alone in medium letters while something is worked out.</summary>
    public const int AloneY = 20;

    /// <summary>The row of words in medium letters that say that there is nothing to show; the reason stands in small letters below.</summary>
    public const int NothingY = 14;

    /// <summary>The first row of a reason below words in medium letters.</summary>
    public const int ReasonY = 32;

    /// <summary>The second row of a reason below words in medium letters.</summary>
    public const int Reason2Y = 41;

    /// <summary>How many rows lower small letters begin beside medium ones, so that both stand on the same foot.</summary>
    public const int SmallDrop = 3;
}
