namespace Intervalometer.Screens;

/// <content>Compiled for the PC alone, so that the device pays nothing for it.</content>
public sealed partial class Frame
{
    /// <summary>
    /// How many pixels of glyphs and icons, since construction, were drawn over lit ones: text on text, or text on a line, which nobody can read. A
    /// test fails on them. The top row of a glyph does not count, because in a list it may touch the foot of a letter in the row above.
    /// </summary>
    public int CoveredPixels { get; private set; }

    partial void CountCovered(byte[] source, int from, int width, int pages, int x, int y)
    {
        for (int p = 0; p < pages; p++)
        {
            for (int column = 0; column < width; column++)
            {
                int rows = source[from + p * width + column];
                for (int row = p == 0 ? 1 : 0; rows >> row != 0; row++)
                {
                    if (((rows >> row) & 1) != 0 && Pixel(x + column, y + p * 8 + row)) CoveredPixels++;
                }
            }
        }
    }
}
