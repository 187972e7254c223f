using System;

namespace Intervalometer.Screens;

/// <content>Text, numbers and icons.</content>
public sealed partial class Frame
{
    // How the glyphs of a text are put into the picture: pixel by pixel without what lies outside (Cut), merged with what is there (Merged),
    // or copied where nothing is there yet (Copied). One number holds this, because every local makes the device's stack frame larger.
    private const int Cut = 0;
    private const int Merged = 1;
    private const int Copied = 2;

    private readonly FrameText _number = new FrameText();

    /// <summary>A text to compose and then draw at once. All screens share it, because one for each would take 150 bytes of the device's heap. <see cref="Number"/> and similar methods overwrite it.</summary>
    public FrameText Line => _number;

    /// <summary>How many characters since construction had no glyph in their font. Each was drawn as an empty box.</summary>
    public int MissingGlyphs { get; private set; }

    /// <summary>
    /// Lights the pixels of a text whose box has its upper left corner at (x, y), and leaves what is under it. It is fastest when
    /// y is a multiple of 8 and nothing was drawn to the right of x in those pages since <see cref="Clear"/>.
    /// </summary>
    /// <returns>The column after the last one of the text.</returns>
    public int Text(int x, int y, string text, Font font) => Run(text, null, 0, text.Length, x, y, font);

    /// <summary>As <see cref="Text(int, int, string, Font)"/>, for a part of a text, which need not be copied.</summary>
    /// <param name="x">Left edge.</param>
    /// <param name="y">Top edge of the font's box.</param>
    /// <param name="text">The text.</param>
    /// <param name="from">Index of the first character.</param>
    /// <param name="until">Index after the last character.</param>
    /// <param name="font">The font.</param>
    /// <returns>The column after the last one of the part.</returns>
    public int Text(int x, int y, string text, int from, int until, Font font) => Run(text, null, from, until, x, y, font);

    /// <summary>As <see cref="Text(int, int, string, Font)"/>, for a text composed without allocating.</summary>
    /// <returns>The column after the last one of the text.</returns>
    public int Text(int x, int y, FrameText text, Font font) => Run(null, text.Characters, 0, text.Length, x, y, font);

    /// <summary>Draws a text that ends before the column <paramref name="right"/>.</summary>
    /// <returns>The first column of the text.</returns>
    public int TextRight(int right, int y, string text, Font font)
    {
        int x = right - font.WidthOf(text);
        Run(text, null, 0, text.Length, x, y, font);
        return x;
    }

    /// <summary>Draws a composed text that ends before the column <paramref name="right"/>.</summary>
    /// <returns>The first column of the text.</returns>
    public int TextRight(int right, int y, FrameText text, Font font)
    {
        int x = right - font.WidthOf(text);
        Run(null, text.Characters, 0, text.Length, x, y, font);
        return x;
    }

    /// <summary>Draws a text in the middle between the columns <paramref name="left"/> and <paramref name="right"/> (exclusive).</summary>
    /// <returns>The first column of the text.</returns>
    public int TextCentre(int left, int right, int y, string text, Font font)
    {
        int x = left + ((right - left - font.WidthOf(text)) >> 1);
        Run(text, null, 0, text.Length, x, y, font);
        return x;
    }

    /// <summary>Draws a composed text in the middle between the columns <paramref name="left"/> and <paramref name="right"/> (exclusive).</summary>
    /// <returns>The first column of the text.</returns>
    public int TextCentre(int left, int right, int y, FrameText text, Font font)
    {
        int x = left + ((right - left - font.WidthOf(text)) >> 1);
        Run(null, text.Characters, 0, text.Length, x, y, font);
        return x;
    }

    /// <summary>Draws a whole number divided by ten to the power <paramref name="decimals"/>: 1234 with 2 is 12.34. Allocates nothing.</summary>
    /// <param name="x">Left edge.</param>
    /// <param name="y">Top edge of the font's box.</param>
    /// <param name="value">The digits.</param>
    /// <param name="decimals">Digits after the point, 0..9.</param>
    /// <param name="font">A font that has digits, point and minus.</param>
    /// <returns>The column after the last one of the number.</returns>
    public int Number(int x, int y, long value, int decimals, Font font)
    {
        _number.Clear();
        _number.AddNumber(value, decimals);
        return Text(x, y, _number, font);
    }

    /// <summary>As <see cref="Number"/>, ending before the column <paramref name="right"/>.</summary>
    /// <returns>The first column of the number.</returns>
    public int NumberRight(int right, int y, long value, int decimals, Font font)
    {
        _number.Clear();
        _number.AddNumber(value, decimals);
        return TextRight(right, y, _number, font);
    }

    /// <summary>As <see cref="Number"/>, in the middle between the columns <paramref name="left"/> and <paramref name="right"/> (exclusive).</summary>
    /// <returns>The first column of the number.</returns>
    public int NumberCentre(int left, int right, int y, long value, int decimals, Font font)
    {
        _number.Clear();
        _number.AddNumber(value, decimals);
        return TextCentre(left, right, y, _number, font);
    }

    /// <summary>Draws an icon, at most 8 rows high, with its upper left corner at (x, y).</summary>
    /// <returns>The column after the last one of the icon.</returns>
    public int Icon(int x, int y, Icon icon)
    {
        Font font = Font.Icons;
        int glyph = (int)icon;
        int width = font.Widths[glyph];
        int height = font.Height;
        byte[] source = font.BitsOf(glyph, out int start);
        if (x < 0 || y < 0 || x + width > Width || y + height > Height) BlitCut(source, start, width, font.Pages, x, y);
        else
        {
            CountCovered(source, start, width, font.Pages, x, y);
            Blit(source, start, width, font.Pages, x, y);
            InkRows(y, height, x + width);
        }
        return x + width;
    }

    // Exactly one of text and characters is given.
    private int Run(string? text, char[]? characters, int from, int until, int x, int y, Font font)
    {
        byte[] map = font.Map;
        byte[] widths = font.Widths;
        int mapped = map.Length;
        int gap = font.Gap;
        int pages = font.Pages;
        int row = (y >> 3) << 7;
        int way = y < 0 || y + font.Height > Height ? Cut : (y & 7) == 0 && x >= 0 ? Copied : Merged;
        for (int p = 0; p < pages && way == Copied; p++)
        {
            if (x < _inkEnd[(y >> 3) + p]) way = Merged;
        }
        for (int i = from; i < until; i++)
        {
            char c = text != null ? text[i] : characters![i];
            int glyph = c < mapped ? map[c] : font.Find(c);
            if (glyph == Font.Missing)
            {
                MissingGlyphs++;
                Rect(x, y, font.MissingWidth, font.Height);
                x += font.MissingWidth + gap;
                continue;
            }
            int width = widths[glyph];
            byte[] source = font.BitsOf(glyph, out int start);
            if (way == Cut || x < 0 || x + width > Width)
            {
                BlitCut(source, start, width, pages, x, y);
            }
            else if (way == Copied)
            {
                Array.Copy(source, start, _bits, row + x, width);
                for (int p = 1; p < pages; p++) Array.Copy(source, start + p * width, _bits, row + x + (p << 7), width);
            }
            else
            {
                CountCovered(source, start, width, pages, x, y);
                Blit(source, start, width, pages, x, y);
            }
            x += width + gap;
        }
        if (until > from) x -= gap;
        if (way != Cut) InkRows(y, font.Height, x > Width ? Width : x);
        return x;
    }

    // Nothing on the device. On a PC it counts what a glyph covers; see Frame.Covered.cs.
    partial void CountCovered(byte[] source, int from, int width, int pages, int x, int y);

    private void InkRows(int y, int height, int end)
    {
        int last = (y + height - 1) >> 3;
        for (int page = y >> 3; page <= last; page++) Ink(page, end);
    }

    // Lights a glyph that lies wholly inside the picture, eight rows of a column at a time. The caller notes the ink.
    private void Blit(byte[] source, int from, int width, int pages, int x, int y)
    {
        byte[] bits = _bits;
        int at = ((y >> 3) << 7) + x;
        int factor = 1 << (y & 7);
        for (int p = 0; p < pages; p++)
        {
            int end = from + width;
            if (factor == 1)
            {
                for (; from < end; from++, at++) bits[at] = (byte)(bits[at] | source[from]);
            }
            else
            {
                for (; from < end; from++, at++)
                {
                    int column = source[from] * factor;
                    if (column == 0) continue;
                    bits[at] = (byte)(bits[at] | column);
                    column >>= 8;
                    // The rest of the column goes to the page below. A glyph inside the picture has none below the last page.
                    if (column != 0) bits[at + Width] = (byte)(bits[at + Width] | column);
                }
            }
            at += Width - width;
        }
    }

    // As Blit, for a glyph whose box reaches outside the picture. It counts the lit pixels that are lost, and notes the ink.
    private void BlitCut(byte[] source, int from, int width, int pages, int x, int y)
    {
        byte[] bits = _bits;
        int lost = 0;
        for (int p = 0; p < pages; p++)
        {
            int page = (y >> 3) + p;
            for (int px = x; px < x + width; px++, from++)
            {
                int column = source[from] << (y & 7);
                for (int at = page; column != 0; at++, column >>= 8)
                {
                    int rows = column & 0xFF;
                    if (rows == 0) continue;
                    if (px >= 0 && px < Width && at >= 0 && at < Pages)
                    {
                        bits[(at << 7) + px] |= (byte)rows;
                        Ink(at, px + 1);
                        continue;
                    }
                    for (; rows != 0; rows &= rows - 1) lost++;
                }
            }
        }
        if (lost > 0) Lose(lost);
    }
}
