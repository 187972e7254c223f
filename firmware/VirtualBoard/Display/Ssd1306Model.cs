namespace Intervalometer.VirtualBoard.Display;

/// <summary>stub</summary>
public sealed class Ssd1306Model
{
    public const int Width = 128, Height = 64;
    public int Contrast => 127;
    public bool Pixel(int x, int y) => false;
}
