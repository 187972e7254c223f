using System;

namespace Intervalometer.Screens;

/// <summary>
/// A picture of 128 x 64 one-bit pixels, stored the way the display chip stores it: 8 pages of 128 bytes, one byte for
/// each column of 8 rows, bit 0 uppermost.
/// </summary>
/// <remarks>
/// Written for an interpreter: the work is done in whole bytes, and in the runtime's own block copies where possible.
/// Drawing allocates nothing, and throws for nothing but a text that is null. Pixels outside the picture are dropped and counted, so that a test
/// can fail on them. Columns run 0..127 from the left, rows 0..63 from the top; right and bottom edges are exclusive.
/// </remarks>
public sealed partial class Frame
{
    /// <summary>Columns in the picture.</summary>
    public const int Width = 128;

    /// <summary>Rows in the picture.</summary>
    public const int Height = 64;

    /// <summary>Bands of eight rows, which the display chip calls pages.</summary>
    public const int Pages = 8;

    private readonly byte[] _bits = new byte[Width * Pages];
    // A hash of what the display holds for each page; a copy would take 1 kB of the device's heap.
    private readonly long[] _sent = new long[Pages];

    // For each page, one past the last column that may hold a lit pixel. The columns from there on are known to be dark.
    private readonly int[] _inkEnd = new int[Pages];

    // One bit for each page: it was drawn on since it was last compared, and the hash in _sent is what the display holds.
    private int _touched;
    private int _known;
    private long _sum;
    private int _summed = -1;

    /// <summary>How many pixels since construction should have been drawn outside the picture.</summary>
    public int ClippedPixels { get; private set; }

    /// <summary>How many drawing calls since construction (for text, how many glyphs) lost pixels outside the picture.</summary>
    public int Clips { get; private set; }

    /// <summary>Makes every pixel dark.</summary>
    public void Clear()
    {
        Array.Clear(_bits, 0, Width * Pages);
        for (int page = 0; page < Pages; page++)
        {
            if (_inkEnd[page] == 0) continue;
            _inkEnd[page] = 0;
            _touched |= 1 << page;
        }
        _summed = -1;
    }

    /// <summary>True when the pixel is lit; false outside the picture.</summary>
    public bool Pixel(int x, int y)
    {
        if (x < 0 || y < 0 || x >= Width || y >= Height) return false;
        return ((_bits[((y >> 3) << 7) + x] >> (y & 7)) & 1) != 0;
    }

    /// <summary>Lights one pixel.</summary>
    public void SetPixel(int x, int y)
    {
        if (x < 0 || y < 0 || x >= Width || y >= Height)
        {
            Lose(1);
            return;
        }
        int page = y >> 3;
        _bits[(page << 7) + x] |= (byte)(1 << (y & 7));
        Ink(page, x + 1);
    }

    /// <summary>Makes one pixel dark.</summary>
    public void ClearPixel(int x, int y)
    {
        if (x < 0 || y < 0 || x >= Width || y >= Height)
        {
            Lose(1);
            return;
        }
        int page = y >> 3;
        _bits[(page << 7) + x] &= (byte)~(1 << (y & 7));
        _touched |= 1 << page;
        _summed = -1;
    }

    /// <summary>Lights a line of <paramref name="length"/> pixels from (x, y) to the right.</summary>
    public void HLine(int x, int y, int length) => Area(x, y, length, 1, PenLight);

    /// <summary>Lights a line of <paramref name="length"/> pixels from (x, y) downwards.</summary>
    public void VLine(int x, int y, int length) => Area(x, y, 1, length, PenLight);

    /// <summary>Lights every <paramref name="step"/>-th pixel of a line from (x, y) to the right; step at least 1.</summary>
    public void Dots(int x, int y, int length, int step)
    {
        if (step < 1) step = 1;
        for (int i = 0; i < length; i += step) SetPixel(x + i, y);
    }

    /// <summary>Lights a filled rectangle.</summary>
    public void FillRect(int x, int y, int width, int height) => Area(x, y, width, height, PenLight);

    /// <summary>Makes a filled rectangle dark.</summary>
    public void ClearRect(int x, int y, int width, int height) => Area(x, y, width, height, PenDark);

    /// <summary>Turns every pixel of a rectangle into its opposite: a highlight over what was drawn before.</summary>
    public void InvertRect(int x, int y, int width, int height) => Area(x, y, width, height, PenInvert);

    /// <summary>Lights the outline, one pixel thick, of a rectangle.</summary>
    public void Rect(int x, int y, int width, int height)
    {
        if (width <= 0 || height <= 0) return;
        Area(x, y, width, 1, PenLight);
        if (height > 1) Area(x, y + height - 1, width, 1, PenLight);
        if (height > 2)
        {
            Area(x, y + 1, 1, height - 2, PenLight);
            if (width > 1) Area(x + width - 1, y + 1, 1, height - 2, PenLight);
        }
    }

    /// <summary>
    /// Draws a bar in an outline, filled from the left by <paramref name="part"/> of <paramref name="whole"/>. A part below 0 counts as 0, and one
    /// above the whole as the whole; a whole of 0 or less draws an empty bar.
    /// </summary>
    /// <param name="x">Left edge of the outline.</param>
    /// <param name="y">Top edge of the outline.</param>
    /// <param name="width">Outline width; the filling has 4 columns less.</param>
    /// <param name="height">Outline height; the filling has 4 rows less, or 2 less below a height of 6.</param>
    /// <param name="part">How much is done, in any unit; up to 2^53 or so.</param>
    /// <param name="whole">How much there is to do, in the same unit.</param>
    public void Progress(int x, int y, int width, int height, long part, long whole)
    {
        Rect(x, y, width, height);
        if (whole <= 0 || part <= 0) return;
        if (part > whole) part = whole;
        int gap = height < 6 ? 1 : 2;
        int filled = (int)(part * (double)(width - 2 * gap) / whole + 0.5);
        Area(x + gap, y + gap, filled, height - 2 * gap, PenLight);
    }

    /// <summary>True when a page (0..7) differs from what the display last acknowledged, or when that is not known.</summary>
    /// <remarks>It hashes only a page that was drawn on since the last answer, and only as far as there are lit pixels.</remarks>
    public bool PageChanged(int page)
    {
        int bit = 1 << page;
        if ((_known & bit) == 0) return true;
        if ((_touched & bit) == 0) return false;
        _sum = SumOf(page);
        _summed = page;
        if (_sum != _sent[page]) return true;
        _touched &= ~bit;
        return false;
    }

    /// <summary>Copies the 128 bytes of a page (0..7) into <paramref name="target"/> from <paramref name="offset"/> on.</summary>
    public void CopyPage(int page, byte[] target, int offset) => Array.Copy(_bits, page << 7, target, offset, Width);

    /// <summary>Notes that the display has acknowledged the page (0..7) as it is now.</summary>
    public void MarkSent(int page)
    {
        _sent[page] = _summed == page ? _sum : SumOf(page);
        _known |= 1 << page;
        _touched &= ~(1 << page);
    }

    /// <summary>Notes that it is not known what the display holds, as after it lost power. Every page then counts as changed.</summary>
    public void ForgetSent() => _known = 0;

    private const int PenDark = 0;
    private const int PenLight = 1;
    private const int PenInvert = 2;

    // Every four columns are multiplied by a power of an odd number, so that dark columns at the end add nothing. Two different pages have
    // the same hash once in 10^19.
    private long SumOf(int page)
    {
        byte[] bits = _bits;
        int i = page << 7;
        int end = i + _inkEnd[page];
        long sum = 0;
        long power = 1;
        for (; i < end; i += 4)
        {
            long four = bits[i] | (bits[i + 1] << 8) | (bits[i + 2] << 16) | (bits[i + 3] << 24);
            sum += four * power;
            power *= 6364136223846793005L;
        }
        return sum;
    }

    private void Ink(int page, int end)
    {
        _touched |= 1 << page;
        _summed = -1;
        if (_inkEnd[page] < end) _inkEnd[page] = end;
    }

    private void Lose(int pixels)
    {
        ClippedPixels += pixels;
        Clips++;
    }

    // For a smaller width a loop is as cheap as block copies.
    private const int FewestCopied = 16;

    // Writes the same byte over and over where all is dark: the first ones in a loop, the rest as block copies of what is there.
    private void Repeat(byte column, int at, int width)
    {
        byte[] bits = _bits;
        int done = FewestCopied >> 1;
        for (int i = at; i < at + done; i++) bits[i] = column;
        while (done < width)
        {
            int more = width - done < done ? width - done : done;
            Array.Copy(bits, at, bits, at + done, more);
            done += more;
        }
    }

    private void Area(int x, int y, int width, int height, int pen)
    {
        if (width <= 0 || height <= 0) return;
        if (x < 0 || y < 0 || x + width > Width || y + height > Height)
        {
            int right = x + width > Width ? Width : x + width;
            int bottom = y + height > Height ? Height : y + height;
            int left = x < 0 ? 0 : x;
            int top = y < 0 ? 0 : y;
            if (right <= left || bottom <= top)
            {
                Lose(width * height);
                return;
            }
            Lose(width * height - (right - left) * (bottom - top));
            x = left;
            y = top;
            width = right - left;
            height = bottom - top;
        }
        byte[] bits = _bits;
        int last = y + height - 1;
        int lastPage = last >> 3;
        for (int page = y >> 3; page <= lastPage; page++)
        {
            int mask = 0xFF;
            if (page == y >> 3) mask &= 0xFF << (y & 7);
            if (page == lastPage) mask &= 0xFF >> (7 - (last & 7));
            mask &= 0xFF;
            int i = (page << 7) + x;
            int end = i + width;
            if (pen == PenLight)
            {
                if (width >= FewestCopied && (mask == 0xFF || x >= _inkEnd[page])) Repeat((byte)mask, i, width);
                else for (; i < end; i++) bits[i] |= (byte)mask;
                Ink(page, x + width);
            }
            else if (pen == PenDark)
            {
                if (mask == 0xFF) Array.Clear(bits, i, width);
                else for (; i < end; i++) bits[i] &= (byte)~mask;
                _touched |= 1 << page;
                _summed = -1;
            }
            else
            {
                for (; i < end; i++) bits[i] ^= (byte)mask;
                Ink(page, x + width);
            }
        }
    }
}
