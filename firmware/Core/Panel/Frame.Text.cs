using System;

namespace Intervalometer.Core.Panel;

/// <content>Text, numbers and icons.</content>
public sealed partial class Frame
{
    private readonly FrameText _number = new FrameText();

    /// <summary>Characters that a font had no glyph for, since construction; each was drawn as an empty box.</summary>
    public int MissingGlyphs { get; private set; }

    /// <summary>
    /// Lights the pixels of a text whose box has its upper left corner at (x, y); what lies under it stays. Fastest when
    /// y is a multiple of 8 and nothing was drawn to the right of x in those pages since <see cref="Clear"/>.
    /// </summary>
    /// <returns>The column after the last one of the text.</returns>
    public int Text(int x, int y, string text, Font font) => Run(text, null, text.Length, x, y, font);

    /// <summary>As <see cref="Text(int, int, string, Font)"/>, for a text composed without allocating.</summary>
    /// <returns>The column after the last one of the text.</returns>
    public int Text(int x, int y, FrameText text, Font font) => Run(null, text.Characters, text.Length, x, y, font);

    /// <summary>Draws a text that ends before the column <paramref name="right"/>.</summary>
    /// <returns>The first column of the text.</returns>
    public int TextRight(int right, int y, string text, Font font)
    {
        int x = right - font.WidthOf(text);
        Run(text, null, text.Length, x, y, font);
        return x;
    }

    /// <summary>Draws a composed text that ends before the column <paramref name="right"/>.</summary>
    /// <returns>The first column of the text.</returns>
    public int TextRight(int right, int y, FrameText text, Font font)
    {
        int x = right - font.WidthOf(text);
        Run(null, text.Characters, text.Length, x, y, font);
        return x;
    }

    /// <summary>Draws a text in the middle between the columns <paramref name="left"/> and <paramref name="right"/> (exclusive).</summary>
    /// <returns>The first column of the text.</returns>
    public int TextCentre(int left, int right, int y, string text, Font font)
    {
        int x = left + ((right - left - font.WidthOf(text)) >> 1);
        Run(text, null, text.Length, x, y, font);
        return x;
    }

    /// <summary>Draws a composed text in the middle between the columns <paramref name="left"/> and <paramref name="right"/> (exclusive).</summary>
    /// <returns>The first column of the text.</returns>
    public int TextCentre(int left, int right, int y, FrameText text, Font font)
    {
        int x = left + ((right - left - font.WidthOf(text)) >> 1);
        Run(null, text.Characters, text.Length, x, y, font);
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
        Blit(font, glyph, x, y);
        return x + width;
    }

    // Exactly one of text and characters is given.
    private int Run(string? text, char[]? characters, int count, int x, int y, Font font)
    {
        byte[] map = font.Map;
        byte[] widths = font.Widths;
        ushort[] starts = font.Starts;
        byte[] source = font.Bits;
        byte[] bits = _bits;
        int gap = font.Gap;
        int pages = font.Pages;
        int page = y >> 3;
        bool quick = (y & 7) == 0 && x >= 0 && y >= 0 && y + font.Height <= Height;
        if (quick)
        {
            for (int p = 0; p < pages; p++) quick &= x >= _inkEnd[page + p];
        }
        int at = (page << 7) + x;
        for (int i = 0; i < count; i++)
        {
            char c = text != null ? text[i] : characters![i];
            int glyph = c < 128 ? map[c] : font.Find(c);
            if (glyph == Font.Missing)
            {
                MissingGlyphs++;
                Rect(x, y, font.MissingWidth, font.Height);
                x += font.MissingWidth + gap;
                at += font.MissingWidth + gap;
                continue;
            }
            int width = widths[glyph];
            if (quick && x + width <= Width)
            {
                int start = starts[glyph];
                Array.Copy(source, start, bits, at, width);
                for (int p = 1; p < pages; p++) Array.Copy(source, start + p * width, bits, at + (p << 7), width);
            }
            else
            {
                Blit(font, glyph, x, y);
            }
            width += gap;
            x += width;
            at += width;
        }
        if (count > 0) x -= gap;
        if (quick)
        {
            int end = x > Width ? Width : x;
            for (int p = 0; p < pages; p++) Ink(page + p, end);
        }
        return x;
    }

    private void Blit(Font font, int glyph, int x, int y)
    {
        int width = font.Widths[glyph];
        if (x < 0 || y < 0 || x + width > Width || y + font.Height > Height)
        {
            BlitCut(font, glyph, x, y);
            return;
        }
        byte[] source = font.Bits;
        byte[] bits = _bits;
        int from = font.Starts[glyph];
        int shift = y & 7;
        int page = y >> 3;
        int end = x + width;
        for (int p = 0; p < font.Pages; p++, page++)
        {
            int at = (page << 7) + x;
            int stop = at + width;
            Ink(page, end);
            if (shift == 0)
            {
                for (; at < stop; at++, from++) bits[at] |= source[from];
            }
            else if (page == Pages - 1)
            {
                for (; at < stop; at++, from++) bits[at] |= (byte)(source[from] << shift);
            }
            else
            {
                for (; at < stop; at++, from++)
                {
                    int column = source[from] << shift;
                    bits[at] |= (byte)column;
                    bits[at + Width] |= (byte)(column >> 8);
                }
                Ink(page + 1, end);
            }
        }
    }

    // The slow way, for a glyph whose box leaves the picture: pixel by pixel, counting the lit ones that are lost.
    private void BlitCut(Font font, int glyph, int x, int y)
    {
        int width = font.Widths[glyph];
        int lost = 0;
        for (int row = 0; row < font.Height; row++)
        {
            for (int column = 0; column < width; column++)
            {
                if (!font.Lit(glyph, column, row)) continue;
                int px = x + column;
                int py = y + row;
                if (px < 0 || py < 0 || px >= Width || py >= Height) lost++;
                else SetPixel(px, py);
            }
        }
        if (lost > 0) Lose(lost);
    }
}
