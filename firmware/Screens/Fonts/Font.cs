namespace Intervalometer.Screens;

/// <summary>
/// A set of glyphs in the byte order of <see cref="Frame"/>: for each glyph its pages from the top, and for each page its
/// columns from the left, with bit 0 uppermost. The tables are generated from the drawings (*.txt) beside this file.
/// </summary>
/// <remarks>
/// The device keeps a table in its heap, but code in its flash. So the pixels of the tall fonts are code, and the
/// glyph that is being drawn is unpacked into one buffer that all fonts share. That saves 3.1 kB of the heap.
/// </remarks>
public sealed class Font
{
    /// <summary>The glyph number of a character that the font does not have.</summary>
    internal const int Missing = 255;

    // The fonts are created at first use, because a static initialiser must not read the statics of another class.
    private static byte[]? s_glyph;
    private static Font? s_small;
    private static Font? s_medium;
    private static Font? s_large;
    private static Font? s_huge;
    private static Font? s_icons;

    // The widest glyph takes 5 pages of 21 columns. Its first word may begin before it, and its last one may reach beyond it.
    private const int GlyphBytes = 5 * 21 + 14;

    private readonly Program _program;
    private readonly byte[] _bits;
    private readonly ushort[] _starts;
    private readonly ushort[] _signs;

    private Font(Program program, int height, int baseline, int gap, byte[] map, ushort[] signs, byte[] widths, ushort[] starts, byte[] bits)
    {
        _program = program;
        Height = height;
        Baseline = baseline;
        Gap = gap;
        Map = map;
        Widths = widths;
        _starts = starts;
        _bits = bits;
        _signs = signs;
    }

    /// <summary>7 rows of capitals in a box of 8: all of printable ASCII and the signs × ° ± · … ← ↑ → ↓.</summary>
    public static Font Small => s_small ??= new Font(Program.None, SmallFont.Height, SmallFont.Baseline, SmallFont.Gap, SmallFont.Map,
        SmallFont.Signs, SmallFont.Widths, SmallFont.Starts, SmallFont.Bits);

    /// <summary>10 rows of bold capitals in a box of 13, strokes of two pixels, for reading at arm's length in the dark.</summary>
    public static Font Medium => s_medium ??= new Font(Program.Medium, MediumFont.Height, MediumFont.Baseline, MediumFont.Gap, MediumFont.Map,
        MediumFont.Signs, MediumFont.Widths, MediumFont.Starts, MediumFont.Bits);

    /// <summary>Digits of 24 rows with thick strokes, and : . / s m + - and the space.</summary>
    public static Font Large => s_large ??= new Font(Program.Large, LargeFont.Height, LargeFont.Baseline, LargeFont.Gap, LargeFont.Map,
        LargeFont.Signs, LargeFont.Widths, LargeFont.Starts, LargeFont.Bits);

    /// <summary>Digits of 34 rows with very thick strokes, and : . / + - and the space.</summary>
    public static Font Huge => s_huge ??= new Font(Program.Huge, HugeFont.Height, HugeFont.Baseline, HugeFont.Gap, HugeFont.Map,
        HugeFont.Signs, HugeFont.Widths, HugeFont.Starts, HugeFont.Bits);

    /// <summary>The icons, in the order of <see cref="Icon"/>.</summary>
    internal static Font Icons => s_icons ??= new Font(Program.None, IconsFont.Height, IconsFont.Baseline, IconsFont.Gap, IconsFont.Map,
        IconsFont.Signs, IconsFont.Widths, IconsFont.Starts, IconsFont.Bits);

    /// <summary>How many rows the box of every glyph has.</summary>
    public int Height { get; }

    /// <summary>How many rows the box has above the foot of a capital, by which texts of two fonts can be aligned.</summary>
    public int Baseline { get; }

    /// <summary>Dark columns between two glyphs.</summary>
    public int Gap { get; }

    internal int Pages => (Height + 7) >> 3;

    internal byte[] Map { get; }

    internal byte[] Widths { get; }

    internal int MissingWidth => Height >> 1;

    private enum Program
    {
        None,
        Medium,
        Large,
        Huge,
    }

    /// <summary>Whether the font has a glyph for the character.</summary>
    public bool Has(char c) => Find(c) != Missing;

    /// <summary>How many columns a text takes, without a gap after its last glyph; 0 for an empty text.</summary>
    public int WidthOf(string text) => WidthOf(text, 0, text.Length);

    /// <summary>How many columns a part of a text takes, without a gap after its last glyph; 0 for an empty part.</summary>
    /// <param name="text">The text.</param>
    /// <param name="from">Index of the first character.</param>
    /// <param name="until">Index after the last character.</param>
    internal int WidthOf(string text, int from, int until)
    {
        if (until <= from) return 0;
        byte[] map = Map;
        byte[] widths = Widths;
        int mapped = map.Length;
        int gap = Gap;
        int width = -gap;
        for (; from < until; from++)
        {
            char c = text[from];
            int glyph = c < mapped ? map[c] : Find(c);
            width += (glyph == Missing ? MissingWidth : widths[glyph]) + gap;
        }
        return width;
    }

    /// <summary>How many columns a composed text takes, without a gap after its last glyph; 0 for an empty text.</summary>
    public int WidthOf(FrameText text)
    {
        int width = 0;
        char[] characters = text.Characters;
        int length = text.Length;
        for (int i = 0; i < length; i++)
        {
            int glyph = Find(characters[i]);
            width += (glyph == Missing ? MissingWidth : Widths[glyph]) + Gap;
        }
        return width == 0 ? 0 : width - Gap;
    }

    internal int Find(char c)
    {
        if (c < Map.Length) return Map[c];
        for (int i = 0; i < _signs.Length; i++)
        {
            if (_signs[i] == c) return Widths.Length - _signs.Length + i;
        }
        return Missing;
    }

    /// <summary>The pixels of a glyph. They are valid until the next call for any font.</summary>
    /// <param name="glyph">The glyph's number.</param>
    /// <param name="start">The index of its first page in the returned array.</param>
    internal byte[] BitsOf(int glyph, out int start)
    {
        int first = _starts[glyph];
        if (_program == Program.None)
        {
            start = first;
            return _bits;
        }
        byte[] into = s_glyph ??= new byte[GlyphBytes];
        start = first & 7;
        int word = first >> 3;
        int length = start + Widths[glyph] * Pages;
        for (int at = 0; at < length; at += 8, word++)
        {
            long eight = Word(word);
            int four = (int)eight;
            into[at] = (byte)four;
            into[at + 1] = (byte)(four >> 8);
            into[at + 2] = (byte)(four >> 16);
            into[at + 3] = (byte)(four >> 24);
            four = (int)(eight >> 32);
            into[at + 4] = (byte)four;
            into[at + 5] = (byte)(four >> 8);
            into[at + 6] = (byte)(four >> 16);
            into[at + 7] = (byte)(four >> 24);
        }
        return into;
    }

    private long Word(int index) =>
        _program == Program.Medium ? MediumFont.Word(index) : _program == Program.Large ? LargeFont.Word(index) : HugeFont.Word(index);
}
