using System.Text;

namespace Intervalometer.VirtualBoard.Display;

/// <summary>Whether the pixel in a column and a row is lit.</summary>
public delegate bool PixelAt(int x, int y);

/// <summary>Pictures of one-bit pixels as text, for tests and terminals.</summary>
public static class AsciiPicture
{
    /// <summary>One character a pixel, '#' lit and '.' dark, one line a row, each ended by a line feed.</summary>
    public static string Full(PixelAt lit, int width, int height)
    {
        var text = new StringBuilder((width + 1) * height);
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++) text.Append(lit(x, y) ? '#' : '.');
            text.Append('\n');
        }
        return text.ToString();
    }

    /// <summary>Two rows in each line, as half blocks, so that the picture keeps its shape in a terminal.</summary>
    public static string HalfBlocks(PixelAt lit, int width, int height)
    {
        var text = new StringBuilder((width + 1) * (height + 1) / 2);
        for (int y = 0; y < height; y += 2)
        {
            for (int x = 0; x < width; x++)
            {
                bool upper = lit(x, y);
                bool lower = y + 1 < height && lit(x, y + 1);
                text.Append(upper ? lower ? '\u2588' : '\u2580' : lower ? '\u2584' : ' ');
            }
            text.Append('\n');
        }
        return text.ToString();
    }

    /// <summary>What the eye sees of the model, one character a pixel.</summary>
    public static string Full(Ssd1306Model model) => Full(model.Pixel, Ssd1306Model.Width, Ssd1306Model.Height);

    /// <summary>What the eye sees of the model, in half blocks.</summary>
    public static string HalfBlocks(Ssd1306Model model) => HalfBlocks(model.Pixel, Ssd1306Model.Width, Ssd1306Model.Height);
}
