using Intervalometer.VirtualBoard.Bus;
using SkiaSharp;

namespace Intervalometer.VirtualBoard.Display;

/// <summary>The glow of a panel's pixels.</summary>
public enum Glow
{
    /// <summary>Bluish white.</summary>
    White = 0,

    /// <summary>Dim amber.</summary>
    Amber = 1,

    /// <summary>Plain white on black, without gaps between the pixels, for print.</summary>
    Plain = 2,
}

/// <summary>Paints the display as a picture: whole-number scale, a thin dark gap between pixels, a dark margin around.</summary>
public static class DisplayPicture
{
    /// <summary>Paints the visible picture of the display on the bus as a PNG.</summary>
    public static byte[] Png(this DisplayChip chip) => Png(chip.Model);

    /// <summary>Paints the visible picture of the model as a PNG.</summary>
    /// <param name="model">The display.</param>
    /// <param name="scale">Picture pixels per display pixel, 1..32.</param>
    /// <param name="glow">Colour.</param>
    public static byte[] Png(Ssd1306Model model, int scale = 6, Glow glow = Glow.White) =>
        Png(model.Pixel, Ssd1306Model.Width, Ssd1306Model.Height, scale, glow, Brightness(model.Contrast));

    /// <summary>Paints any picture of one-bit pixels as a PNG.</summary>
    /// <param name="lit">The pixels.</param>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    /// <param name="scale">Picture pixels per display pixel, 1..32.</param>
    /// <param name="glow">Colour.</param>
    /// <param name="brightness">0 dark .. 1 full.</param>
    public static byte[] Png(PixelAt lit, int width, int height, int scale = 6, Glow glow = Glow.White, double brightness = 1)
    {
        if (scale < 1 || scale > 32) throw new ArgumentOutOfRangeException(nameof(scale), scale, "The scale must be 1 to 32 picture pixels per display pixel.");
        int margin = scale * 2;
        int gap = scale < 4 ? 0 : 1;
        using var bitmap = new SKBitmap(width * scale + 2 * margin, height * scale + 2 * margin, SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var canvas = new SKCanvas(bitmap);
        (SKColor on, SKColor off) = glow switch
        {
            Glow.Amber => (new SKColor(255, 168, 46), new SKColor(26, 18, 8)),
            Glow.Plain => (SKColors.White, SKColors.Black),
            _ => (new SKColor(214, 236, 255), new SKColor(12, 14, 18)),
        };
        double level = Math.Clamp(brightness, 0, 1);
        using var bright = new SKPaint();
        bright.Color = new SKColor(Mix(off.Red, on.Red, level), Mix(off.Green, on.Green, level), Mix(off.Blue, on.Blue, level));
        using var dark = new SKPaint();
        dark.Color = off;
        canvas.Clear(SKColors.Black);
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                canvas.DrawRect(margin + x * scale, margin + y * scale, scale - gap, scale - gap, lit(x, y) ? bright : dark);
            }
        }
        canvas.Flush();
        using var image = SKImage.FromBitmap(bitmap);
        using SKData data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    /// <summary>Paints the model and writes the PNG to a file, making its folder when there is none.</summary>
    public static void Save(Ssd1306Model model, string path, int scale = 6, Glow glow = Glow.White)
    {
        string? folder = Path.GetDirectoryName(Path.GetFullPath(path));
        if (folder != null) Directory.CreateDirectory(folder);
        File.WriteAllBytes(path, Png(model, scale, glow));
    }

    // The eye perceives brightness about as the square root of the light, so the lowest contrast is still visible.
    private static double Brightness(int contrast) => 0.35 + 0.65 * Math.Sqrt(contrast / 255.0);

    private static byte Mix(byte from, byte to, double part) => (byte)Math.Round(from + (to - from) * part);
}
